import type { Command } from 'commander';
import {
  addCaution,
  addMeetOptions,
  answer,
  type MeetOptions,
  meetOf,
  numberOption,
  seedOption,
} from '../context.js';
import { progressLine } from '../progress.js';

interface Options extends MeetOptions {
  readonly sample?: string;
  readonly seed?: string;
  readonly dayForm?: string;
  readonly precision?: string;
}

export function addChances(program: Command): void {
  const command = program
    .command('chances')
    .argument('[who]', 'a gymnast (or team), by id or any part of the name: her curve')
    .summary('how likely every place is; medals in order; what is at stake')
    .description(
      'How likely every place is, by everyone’s ranges: to win, for a medal, the median total; the medals in order; who can still win; what is at stake in the routines to come. With a name: her chances by her next score. The ranges are opinions, and so are the chances that are calculated from them.',
    )
    .option('--sample <n>', 'draw this many meets instead of computing')
    .option('--seed <n>', 'a whole number; the same seed gives the same answer')
    .option('--day-form <share>', 'how much a gymnast’s own routines go together, 0 to 1')
    .option('--precision <chance>', 'draw until no standard error is larger')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation chances                          the whole field
  lastrotation chances adeyemi                  hers, by her next score
  lastrotation chances --contest team --json
  lastrotation chances --day-form 0.3 --seed 7`,
    );
  addMeetOptions(addCaution(command)).action(async (who: string | undefined, options: Options) => {
    const { chances, namedContender, reports } = await import('../../lib/index.js');
    const meet = meetOf(options);
    const { sample, precision, dayForm } = options;
    const isDrawn = [sample, precision, dayForm].some((option) => option !== undefined);
    const progress = progressLine(isDrawn ? 'meets drawn' : 'steps');
    const named = who === undefined ? null : namedContender(meet, who, options);
    const value = chances(meet, named, {
      contest: options.contest,
      sample: numberOption('--sample', options.sample),
      seed: seedOption(options.seed),
      dayForm: numberOption('--day-form', options.dayForm),
      precision: numberOption('--precision', options.precision),
      onProgress: progress.show,
    });
    progress.clear();
    await answer(options, 'chances', meet.scoring.decimals, value, () =>
      reports.chances(meet, value, named),
    );
  });
}
