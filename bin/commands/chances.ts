import type { Command } from 'commander';
import { writeMadeFile } from '../../lib/files/index.js';
import {
  addCaution,
  addMeetOptions,
  answer,
  badUsage,
  type MeetOptions,
  meetAndLogOf,
  numberOption,
  refuseUnused,
  seedOption,
} from '../context.js';
import { PICTURE } from '../page-assets.js';
import { progressLine } from '../progress.js';

interface Options extends MeetOptions {
  readonly sample?: string;
  readonly seed?: string;
  readonly dayForm?: string;
  readonly precision?: string;
  readonly through?: boolean;
  readonly svg?: string;
  readonly draws?: string;
}

export function addChances(program: Command): void {
  const command = program
    .command('chances')
    .argument(
      '[who]',
      'a gymnast or team, by id or part of the name: her chances by her next score',
    )
    .summary('who can still win, and how likely is every place?')
    .description(
      'Who can still win and who can still medal, how likely every place is, the medals in order, and what the next routines do to the title. With a name: her chances by her next score. All of it is worked out from the ranges, and they are opinions.',
    )
    .option('--through', 'only who goes through, at once, however many compete')
    .option('--sample <n>', 'play so many meets at random instead of working it out')
    .option(
      '--draws <file>',
      'write every meet of --sample as CSV: draw (counted from 1), id, total, place',
    )
    .option('--seed <n>', 'any whole number; the same one gives the same answer')
    .option(
      '--day-form <share>',
      'how far the routines one gymnast has to come go together, from 0 (not at all) to 1',
    )
    .option('--precision <chance>', 'play at random until no standard error is larger than this')
    .option('--svg <file>', 'draw it into a file as well: the field, or with a name her routine')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation chances                          the whole field
  lastrotation chances adeyemi                  hers, by her next score
  lastrotation chances --contest team --json
  lastrotation chances --through                who goes through, and who is on the edge
  lastrotation chances adeyemi --svg hers.svg   a picture for a document or a screen
  lastrotation chances --day-form 0.06 --seed 7
  lastrotation chances --sample 10000 --seed 7 --draws draws.csv   each meet drawn, for sums of your own`,
    );
  addMeetOptions(addCaution(command)).action(async (who: string | undefined, options: Options) => {
    const { advancing, chances, chancesPicture, drawsAsCsv, namedContender, reports } =
      await import('../../lib/index.js');
    refuseAside(who, options);
    const { meet, sources } = meetAndLogOf(options);
    if (options.through === true) {
      const value = advancing(meet, options);
      await answer(options, 'advancing', meet.scoring.decimals, value, () =>
        reports.advancing(meet, value),
      );
      return;
    }
    const progress = progressLine(isDrawn(options) ? 'meets drawn' : 'steps');
    const named = who === undefined ? null : namedContender(meet, who, options);
    const draws = options.draws === undefined ? null : drawsAsCsv(meet.scoring.decimals);
    const value = chances(meet, named, {
      contest: options.contest,
      sample: numberOption('--sample', options.sample),
      seed: seedOption(options.seed),
      dayForm: numberOption('--day-form', options.dayForm),
      precision: numberOption('--precision', options.precision),
      onProgress: progress.show,
      onDraw: draws?.add,
    });
    progress.clear();
    if (options.draws !== undefined && draws !== null) {
      const begins = 'draw,id,';
      writeMadeFile(options.draws, draws.text(), sources, { option: '--draws', begins });
    }
    if (options.svg !== undefined) {
      const { contest } = options;
      const { routinePicture } = await import('../../lib/index.js');
      const picture =
        named === null ? chancesPicture(meet, value) : routinePicture(meet, named, { contest });
      writeMadeFile(options.svg, picture, sources, PICTURE);
    }
    await answer(options, 'chances', meet.scoring.decimals, value, () =>
      reports.chances(meet, value, named),
    );
  });
}

/** Whether meets are drawn at random. */
function isDrawn({ sample, precision, dayForm }: Options): boolean {
  const share = numberOption('--day-form', dayForm) ?? 0;
  return sample !== undefined || precision !== undefined || share !== 0;
}

/** So many meets make a file of some hundred megabytes. */
const MOST_DRAWS = 250_000;

/** Only what a sample of a known size draws is written, and no more than a program can read. */
function refuseDraws({ sample }: Options): void {
  const count = numberOption('--sample', sample);
  if (count === null || count === undefined) {
    throw badUsage('--draws needs to know how many meets', 'add --sample 10000, or leave it out');
  }
  if (count > MOST_DRAWS) {
    const mend = `add --sample ${MOST_DRAWS} at most`;
    throw badUsage(`${count} meets are too many for a file`, mend);
  }
}

/** What the rest of the line makes meaningless. */
function refuseAside(who: string | undefined, options: Options): void {
  if (options.through === true) {
    const drawn = ['sample', 'seed', 'dayForm', 'precision', 'svg', 'draws'] as const;
    const beside = drawn.find((option) => options[option] !== undefined);
    const flag = beside === 'dayForm' ? 'day-form' : beside;
    if (flag !== undefined) refuseUnused(`--${flag}`, 'it is not for --through', 'leave one out');
    if (who !== undefined) {
      throw badUsage(
        `--through is about everybody, not about "${who}" alone`,
        'leave the name out, or --through',
      );
    }
  }
  if (options.draws !== undefined) refuseDraws(options);
  if (seedOption(options.seed) !== null && !isDrawn(options)) {
    const why = 'nothing is played at random';
    refuseUnused('--seed', why, 'add --sample 100000, or leave it out');
  }
}
