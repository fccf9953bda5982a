import type { Command } from 'commander';
import { openBoard, readHistoryFile } from '../../lib/files/index.js';
import { standings } from '../../lib/index.js';
import { addCaution, addMeetOptions, answerFrom, type MeetOptions } from '../context.js';

interface Options extends MeetOptions {
  readonly history?: string;
}

/** `makeProgram` makes the command anew, for a question asked at the prompt. */
export function addLive(program: Command, makeProgram: () => Command): void {
  const command = program
    .command('live')
    .summary('one prompt for the whole evening, or a feed of scores')
    .description(
      'On a terminal: one prompt that stays open. Type a score and read what it changed and what the next up need; type a name to see what she needs; ask anything else in the words of the commands. Whatever looks odd is asked back. From a pipe: one score on each line, as CSV in the columns of the score log or as JSON, and one JSON answer for each. All of it goes into the score log, and what another desk records is shown at once.',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation live
  › ade 13.566                      her next routine
  › ade floor 13.566 d5.6 nd0.1     with D and a deduction
  › ade 13.666 inquiry              corrects her last score
  › ade                             what she needs; ade gold: to win
  › outcomes ade                    any question
  › undo                            takes the last row back
  score-feed | lastrotation live    gymnast,apparatus,score,d,e,nd,note`,
    );
  command.option('--history <file>', 'past results: since when she has not been as good');
  addMeetOptions(addCaution(command)).action(async (options: Options) => {
    const history = options.history === undefined ? null : readHistoryFile(options.history);
    const board = openBoard(options.meet);
    // A contest that does not exist is said now, and not after the first score.
    standings(board.meet(), { contest: options.contest });
    if (process.stdin.isTTY) {
      answerFrom(() => {
        const { value, stale } = board.look();
        return { files: value, stale };
      });
      const { prompt } = await import('../live/prompt.js');
      await prompt(
        { meetPath: options.meet, contest: options.contest, board, history },
        async (words) => {
          await makeProgram().parseAsync(words, { from: 'user' });
        },
      );
      return;
    }
    const { feed } = await import('../live/feed.js');
    await feed({ contest: options.contest, board, history }, process.stdin);
  });
}
