import { type Command, Option } from 'commander';
import { readHistoryFile, writeRangesFile } from '../../lib/files/index.js';
import { answer } from '../context.js';
import { progressLine } from '../progress.js';

interface Options {
  readonly before?: string;
  readonly competition?: string;
  readonly discipline?: 'wag' | 'mag';
  readonly into?: string;
  readonly json?: boolean;
}

export function addRanges(program: Command): void {
  program
    .command('ranges')
    .argument(
      '<history>',
      'a CSV: gymnast,discipline,date,competition,round,apparatus,score,d,e,nd',
    )
    .argument('[gymnasts...]', 'only these, by part of the name')
    .summary('what does each of them usually score? from past results')
    .description(
      'What each gymnast can be expected to score, from what she has scored: low, likely, high and the chance of a fall, ready to paste into a meet file. Recent results count for more; where there are few, what is usual on the apparatus counts too, and the range is wider. Which routines had a fall is worked out from the scores.',
    )
    .option('--before <date>', 'only results before this day, such as 2023-01-01')
    .option('--competition <name>', 'the one that is going on: its rounds so far count most')
    .addOption(new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']))
    .option('--into <file>', 'write a ranges file; the meet file names it with `ranges:`')
    .option('--json', 'the same, for programs')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation ranges results.csv                      everyone, as YAML to paste
  lastrotation ranges results.csv adeyemi --before 2026-10-01
  lastrotation ranges results.csv --competition "Harbour Cup" --into harbour.ranges.yaml
  lastrotation ranges results.csv --discipline wag --into harbour.ranges.yaml`,
    )
    .action(async (path: string, names: string[], options: Options) => {
      const { ranges, reports } = await import('../../lib/index.js');
      const reading = progressLine('thousandths of the history read');
      const history = readHistoryFile(path, reading.show);
      reading.clear();
      const { before, competition, discipline, into } = options;
      const made = ranges(history, { before, competition, discipline, gymnasts: names });
      if (into !== undefined) writeRangesFile(into, made, history);
      await answer(options, 'ranges', history.decimals, made, () =>
        reports.ranges(history, made, into ?? null),
      );
    });
}
