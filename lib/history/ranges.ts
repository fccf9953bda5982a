/** `ranges`: the ranges a history suggests, and the file that a meet can name. */
import type { DisciplineCode } from '../apparatus.js';
import { badUsage, noAnswer } from '../error.js';
import { didYouMean, plain } from '../meet/problems.js';
import { type Decimals, formatScore } from '../score.js';
import { readDate } from './date.js';
import { type Fitted, type FittedRange, fitRanges, tellsOfScores } from './fit.js';
import type { History } from './history.js';
import type { LeftOut } from './routine.js';

/** Of whose results ranges are made. */
export interface RangesOptions {
  /** Only what was done before this day, `2023-01-01`. */
  readonly before?: string | null | undefined;
  /** The competition that is going on, by any part of its name: its rounds so far count most. */
  readonly competition?: string | null | undefined;
  /** Only results of this one; all without it. */
  readonly discipline?: DisciplineCode | null | undefined;
  /** Only these, by any part of the name; all without. */
  readonly gymnasts?: readonly string[];
}

/** Ranges that were made from results. */
export interface Ranges {
  /** In the order in which the history has them first. */
  readonly gymnasts: readonly Fitted[];
  /** Rows that were not used, in the order of the file. */
  readonly leftOut: readonly LeftOut[];
  /** What was understood, but is worth knowing. */
  readonly notes: readonly LeftOut[];
}

/**
 * Ranges per gymnast and apparatus.
 * @param history - As `readHistory` gave it.
 * @param options - Whose results, and up to when.
 * @throws `no-results`: nothing is left to make ranges from
 * @throws `unknown-gymnast`: a name of `gymnasts` fits nobody
 * @throws `unknown-competition`: `competition` is nowhere in the history, or fits more than one
 * @throws `wrong-date`: `before` is no date
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quillmore,wag,2024-05-01,Quay Cup,final,FX,13.4`;
 * const history = readHistory({ file: 'results.csv', text });
 * ranges(history, { gymnasts: ['quillmore'] }).gymnasts[0]?.ranges.FX?.likely // → 12780
 */
export function ranges(history: History, options: RangesOptions = {}): Ranges {
  const before = options.before == null ? null : dateOf(options.before);
  const competition =
    options.competition == null ? null : competitionOf(history, options.competition);
  const all = fitRanges(history, { before, competition, discipline: options.discipline ?? null });
  const names = options.gymnasts ?? [];
  const gymnasts = names.length === 0 ? all : names.flatMap((name) => named(name, all));
  if (gymnasts.length === 0) {
    throw noAnswer(
      'no-results',
      `there are no results${before === null ? '' : ` before ${before}`}`,
    );
  }
  return { gymnasts: [...new Set(gymnasts)], leftOut: leftOutOf(history), notes: history.notes };
}

/** Rows that cannot be used, and those that make no range though they count in their meet. */
function leftOutOf({ routines, leftOut, decimals }: History): LeftOut[] {
  const why = `${formatScore(0, decimals)} says nothing for a range: an invalid vault, or a routine broken off`;
  const nothing = routines.filter((r) => !tellsOfScores(r)).map(({ line }) => ({ line, why }));
  return [...leftOut, ...nothing].sort((a, b) => a.line - b.line);
}

/** The one competition that is meant, as the history calls it. */
function competitionOf({ routines }: History, name: string): string {
  const all = [...new Set(routines.map((r) => r.competition))];
  const exact = all.filter((c) => plain(c) === plain(name));
  const found = exact.length > 0 ? exact : all.filter((c) => plain(c).includes(plain(name)));
  const [only, other] = found;
  if (only !== undefined && other === undefined) return only;
  const [message, mend] =
    only === undefined
      ? [`is nowhere in the history`, didYouMean(name, all, 'write it as the history does')]
      : [`may be ${only} or ${other}`, 'write the whole name'];
  throw badUsage('unknown-competition', `--competition: ${name} ${message}`, mend);
}

function dateOf(text: string): string {
  const read = readDate(text);
  if ('date' in read) return read.date;
  throw badUsage('wrong-date', `--before: ${read.why}`, 'write it like 2023-01-01');
}

function named(name: string, all: readonly Fitted[]): Fitted[] {
  const exact = all.filter((g) => plain(g.id) === plain(name));
  const found = exact.length > 0 ? exact : all.filter((g) => plain(g.id).includes(plain(name)));
  if (found.length > 0) return found;
  const mend = didYouMean(
    name,
    all.map((g) => g.id),
    'to see who is there, leave the name out',
  );
  throw noAnswer('unknown-gymnast', `nobody in the history is called ${name}`, mend);
}

/** How a file begins that the tool may write over. */
export const MADE_BY_RANGES = '# Ranges made by lastrotation from results.';

/**
 * A ranges file, as `ranges:` of a meet file names it.
 * @param made - As `ranges` gave them.
 * @param decimals - Those of the history: `history.decimals`.
 * @returns YAML.
 * @throws `both-disciplines`: somebody stands in both disciplines, and a file is for one
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const text = `${columns}\nAda Quillmore,wag,2024-05-01,Quay Cup,final,FX,13.4`;
 * const history = readHistory({ file: 'results.csv', text });
 * rangesFile(ranges(history), history.decimals).includes('"Ada Quillmore":') // → true
 */
export function rangesFile({ gymnasts }: Ranges, decimals: Decimals): string {
  // They are whole hundredths, and three decimals suit every meet.
  const show = (score: number) => formatScore(decimals === 4 ? score / 10 : score, 3);
  const met = new Set<string>();
  const twice = gymnasts.find(({ id }) => met.size === met.add(id).size);
  if (twice !== undefined) {
    throw badUsage(
      'both-disciplines',
      `${twice.id} is in both disciplines, and a ranges file is for one`,
      'choose with --discipline wag or mag',
    );
  }
  const line = (
    code: string,
    { low, likely, high, falls, d, within, results, fell }: FittedRange,
  ) => {
    const parts = [
      `low: ${show(low)}`,
      `likely: ${show(likely)}`,
      `high: ${show(high)}`,
      `falls: ${falls}`,
      ...(d === null ? [] : [`d: ${show(d)}`]),
      `within: ${show(within)}`,
    ];
    return `  ${code}: { ${parts.join(', ')} } # ${resultsInWords(results, fell)}`;
  };
  const blocks = gymnasts.map(({ id, ranges: of }) =>
    [`${key(id)}:`, ...Object.entries(of).map(([code, range]) => line(code, range))].join('\n'),
  );
  return `${MADE_BY_RANGES}\n# Falls are inferred. A range written in the meet file wins over these.\n${blocks.join('\n')}\n`;
}

/** "6 results, 1 fall" */
export function resultsInWords(results: number, fell: number): string {
  const falls = fell === 0 ? 'no fall' : fell === 1 ? '1 fall' : `${fell} falls`;
  return `${results} ${results === 1 ? 'result' : 'results'}, ${falls}`;
}

/** A key of YAML that stays a text, whatever it looks like. */
function key(id: string): string {
  return /^[a-z][\w-]*$/i.test(id) && !/^(true|false|yes|no|on|off|null|y|n)$/i.test(id)
    ? id
    : JSON.stringify(id);
}
