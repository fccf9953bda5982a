import { type Command, Option } from 'commander';
import { readHistoryFile, writeMadeFile } from '../../lib/files/index.js';
import { addCaution, addMeetOptions, answer, type MeetOptions, meetAndLogOf } from '../context.js';
import { PICTURE } from '../page-assets.js';
import { progressLine } from '../progress.js';
import { safe, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly history?: string;
  readonly csv?: boolean;
  readonly all?: boolean;
  readonly svg?: string;
}

export function addStory(program: Command): void {
  const command = program
    .command('story')
    .summary('how did the evening go, and where did it turn?')
    .description(
      'The evening in retrospect, or so far: the chances after every score, each from what was known then, where it turned, how close it came and what was unlikely about it.',
    )
    .option('--history <file>', 'past results: since when she has not been as good')
    .option('--all', 'every score, and everyone in contention')
    .addOption(
      new Option('--csv', 'a row for every score and contender, for a spreadsheet').conflicts(
        'json',
      ),
    )
    .option('--svg <file>', 'draw it into a file as well')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation story                            where it turned, how close it came
  lastrotation story --all                      every score
  lastrotation story --contest bars --history results.csv
  lastrotation story --csv > chances.csv
  lastrotation story --svg evening.svg          a picture for a report`,
    );
  addMeetOptions(addCaution(command)).action(async (options: Options) => {
    const { reports, story, storyAsCsv, storyPicture } = await import('../../lib/index.js');
    const { meet, log, sources } = meetAndLogOf(options);
    const history = options.history === undefined ? null : readHistoryFile(options.history);
    const progress = progressLine('rows of the log');
    const value = story(meet, log, {
      contest: options.contest,
      history,
      onProgress: progress.show,
    });
    progress.clear();
    if (options.svg !== undefined) {
      writeMadeFile(options.svg, storyPicture(meet, value), sources, PICTURE);
    }
    if (options.csv === true) {
      const lines = storyAsCsv(value, meet.scoring.decimals).trimEnd().split('\n');
      for (const line of lines) writeLine(safe(line));
      return;
    }
    await answer(options, 'story', meet.scoring.decimals, value, () =>
      reports.story(meet, value, { all: options.all === true }),
    );
  });
}
