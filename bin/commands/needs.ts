import type { Command } from 'commander';
import type { NeedsOptions, NeedsSheet, When } from '../../lib/index.js';
import {
  addCaution,
  addQuestionOptions,
  answer,
  badUsage,
  meetOf,
  numberOption,
  oneOf,
  type QuestionOptions,
  questionOf,
  refuseUnusedRest,
  scoreOption,
} from '../context.js';

interface Options extends QuestionOptions {
  readonly for?: string;
  readonly margin?: string;
  readonly chance?: string | true;
  readonly why?: boolean;
  readonly safe?: boolean;
}

export function addNeeds(program: Command): void {
  const command = program
    .command('needs')
    .argument(
      '[who...]',
      'a gymnast or team, by id or part of the name; then, if wanted, an apparatus and what for; without one, everyone',
    )
    .summary('what does she need to lead, to win, to medal, to hold on?')
    .description(
      'What a gymnast needs in her next routine: the lowest real score that does it, the score that ties, her chance of it, and the score to beat. Without a name: a row for everyone still to come.',
    )
    .option(
      '--for <target>',
      'just this: lead, win, medal, hold, gold, silver, bronze, "top 8", place:3, beat:NAME or total:57.000',
    )
    .option('--margin <score>', 'to be ahead by this much')
    .option('--chance [p]', 'the score that gives her this chance of each (default: 50%)')
    .option('--why', 'show the boards that prove it')
    .option('--safe', 'from which score on nobody can pass her, and who is the last threat')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation needs adeyemi                    the sheet for her next routine
  lastrotation needs                            one row for everyone still to come
  lastrotation needs adeyemi floor gold         what she needs on floor to win
  lastrotation needs adeyemi --for medal --rivals high
  lastrotation needs adeyemi --for "top 8" --on floor
  lastrotation needs adeyemi --for beat:brondt --why
  lastrotation needs adeyemi --for win --chance 50%
  lastrotation needs adeyemi --safe             when nobody can pass her any more
  lastrotation needs adeyemi --on floor --d 5.6 --contest floor`,
    );
  addQuestionOptions(addCaution(command)).action(async (words: string[], options: Options) => {
    const { namedTarget, needChances, needs, needsOfAll, readAsked, reports } = await import(
      '../../lib/index.js'
    );
    const meet = meetOf(options);
    const named = readAsked(meet, words, options);
    const { who } = named;
    const target = oneOf('for', named.for, options.for);
    const margin = scoreOption(meet, '--margin', options.margin);
    const asked: NeedsOptions = {
      ...questionOf(meet, options),
      on: oneOf('on', named.on, options.on),
      for: target === undefined ? null : namedTarget(meet, target, options),
      margin,
      chance: numberOption('--chance', options.chance === true ? '0.5' : options.chance),
      why: options.why,
      safe: options.safe,
    };
    if (options.safe) refuseBesideSafe(asked);
    if (who === null) {
      const [single] = (['on', 'd', 'safe'] as const).filter((o) => asked[o] != null);
      if (single !== undefined) {
        throw badUsage(
          `--${single} goes with the name of a gymnast`,
          'name her: lastrotation needs NAME …',
        );
      }
      const all = needsOfAll(meet, asked);
      refuseUnusedRest(options, whensOf(all.gymnasts));
      await answer(options, 'needsOfAll', meet.scoring.decimals, all, () =>
        reports.needsOfAll(meet, all, asked.chance, margin),
      );
      return;
    }
    // The chances with every score are printed too: once they are known, the score for a chance is one of those.
    if (!options.json && asksForChance(asked)) {
      needChances(meet, needs(meet, who, { ...asked, chance: null }), asked);
    }
    const sheet = needs(meet, who, asked);
    refuseUnusedRest(options, whensOf([sheet]));
    await answer(options, 'needs', meet.scoring.decimals, sheet, () => {
      const isTold = asked.chance !== null || areQuick(sheet);
      const often = isTold ? needChances(meet, sheet, asked) : null;
      return reports.needs(meet, sheet, { often, chance: asked.chance, margin });
    });
  });
}

function whensOf(sheets: readonly Pick<NeedsSheet, 'needs'>[]): When[] {
  return sheets.flatMap(({ needs }) => needs.map((need) => need.when));
}

/** What is safe is one question: to the end, whatever the others do. */
function refuseBesideSafe(asked: NeedsOptions): void {
  const beside = (['for', 'when', 'rivals', 'rest', 'margin', 'chance', 'why', 'd'] as const).find(
    (option) => asked[option] != null,
  );
  if (beside === undefined) return;
  throw badUsage(`--safe and --${beside} are two questions`, 'ask one');
}

/**
 * Whether the score for a chance is asked for, in the meet as it is: what is known of a meet is kept, and with another D
 * each answer has a meet of its own.
 */
function asksForChance({ chance = null, d = null }: NeedsOptions): boolean {
  return chance !== null && chance > 0 && chance <= 1 && d === null;
}

/** So many routines of hers to come that chances are there before she has saluted. */
const FEW = 2;

/** Whether chances are said unasked: to a person, and where they take no time. */
function areQuick({ toCome }: { readonly toCome: readonly string[] }): boolean {
  return process.stdout.isTTY === true && toCome.length <= FEW;
}
