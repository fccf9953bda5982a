import type { Command } from 'commander';
import { openBoard, readHistoryFile } from '../../lib/files/index.js';
import { standings } from '../../lib/index.js';
import { addCaution, addMeetOptions, answerFrom, type MeetOptions } from '../context.js';
import type { Fed } from '../live/feed.js';
import { endWith } from '../terminal.js';

interface Options extends MeetOptions {
  readonly history?: string;
}

/** Exit codes of a feed with lines that were not recorded. */
const BAD_INPUT = 2;
const COULD_NOT_WRITE = 3;

/** The lines have their answers; this is for whoever sees only how it ended. */
function sayRefused({ lines, refused }: Fed): void {
  const of = `${refused} of ${lines} ${lines === 1 ? 'line' : 'lines'}`;
  const rest = lines === refused ? 'nothing is recorded' : 'the others are recorded';
  process.stderr.write(`lastrotation: ${of} ${refused === 1 ? 'was' : 'were'} refused; ${rest}\n`);
}

/** `makeProgram` makes the command anew, for a question asked at the prompt. */
export function addLive(program: Command, makeProgram: () => Command): void {
  const command = program
    .command('live')
    .summary('one prompt for the whole evening, or a feed of scores')
    .description(
      'On a terminal: one prompt that stays open. Type a score and read what it changed and what the next up need; type a name to see what she needs; ask anything else in the words of the commands. Whatever looks odd is asked back. From a pipe: one score on each line, as CSV in the columns of the score log, as JSON, or as it is typed, and one JSON answer for each; exit code 2 when a line was refused. All of it goes into the score log, and what another desk records is shown at once.',
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
  score-feed | lastrotation live    gymnast,apparatus,score,d,e,nd,note
  echo ade beam 13.0 | lastrotation live`,
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
    const fed = await feed({ contest: options.contest, board, history }, process.stdin);
    if (fed.refused === 0) return;
    sayRefused(fed);
    endWith(fed.isUnwritten ? COULD_NOT_WRITE : BAD_INPUT);
  });
}
