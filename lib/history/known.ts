/** What was known before a day, or before a final: the routines, and ranges made from them. */
import { type Called, calledIn, type DisciplineCode } from '../apparatus.js';
import { LastRotationError } from '../error.js';
import { readRangesDocument } from '../meet/document.js';
import { type Problem, plain, report } from '../meet/problems.js';
import { wrongRange } from '../meet/ranges.js';
import type { Source } from '../meet/read.js';
import { usualCeiling } from '../scoring.js';
import { type FittedRange, fitRanges, tellsOfScores } from './fit.js';
import type { History } from './history.js';
import { type Usual, usualOf } from './pool.js';
import { type GivenRange, isEarlierRound, type PastFinal, type RangesOf } from './rounds.js';
import type { PastRoutine } from './routine.js';

/**
 * What ranges are made from: results of earlier days and of earlier rounds of the competition (`rounds`), of
 * earlier days alone (`days`), or a ranges file, the same for every final.
 */
export type RangesFrom = 'rounds' | 'days' | Source;

/** Up to so many rows what is usual is worked out for every day and final anew. */
const FEW_ROWS = 25_000;
/**
 * Beyond that it hardly moves, and is worked out from the first so many rows, the first so many times as many, and
 * so on: whatever was asked before, the same day has the same.
 */
const MORE = 1.2;

type Ranges = Readonly<Record<string, FittedRange>>;

export interface Known {
  /** Ranges of some gymnasts from what was done before a day, and what was known `also`. */
  readonly ranges: (
    discipline: DisciplineCode,
    date: string,
    gymnasts: Iterable<string>,
    also?: readonly PastRoutine[],
    /** The one that is going on: what was shown in it so far is the freshest there is. */
    competition?: string | null,
  ) => Map<string, Ranges>;
  /** Routines of earlier rounds of a competition that were not on an earlier day. */
  readonly earlierRounds: (final: PastFinal) => readonly PastRoutine[];
}

/** Looks a history through once, so that asking for many days takes little. */
export function knownIn(history: History): Known {
  const byGymnast = new Map<string, PastRoutine[]>();
  const byMeet = new Map<string, PastRoutine[]>();
  for (const r of history.routines) {
    if (!tellsOfScores(r)) continue;
    push(byGymnast, `${r.discipline}\n${r.gymnast}`, r);
    push(byMeet, `${r.discipline}\n${r.competition}`, r);
  }
  const usual = usualBefore(history);
  return {
    ranges: (discipline, date, gymnasts, also = [], competition = null) => {
      const known = new Set(also);
      const routines = [...new Set(gymnasts)].flatMap(
        (g) =>
          byGymnast.get(`${discipline}\n${g}`)?.filter((r) => r.date < date || known.has(r)) ?? [],
      );
      if (routines.length === 0) return new Map();
      const fitted = fitRanges(
        { ...history, routines },
        {
          ...{ before: date, competition, also: (r) => known.has(r) },
          usual: usual(discipline, date, also, routines),
        },
      );
      return new Map(fitted.map((f) => [f.id, f.ranges]));
    },
    earlierRounds: (final) =>
      (byMeet.get(`${final.discipline}\n${final.competition}`) ?? []).filter(
        (r) => r.date >= final.date && isEarlierRound(final, r),
      ),
  };
}

function push<T>(groups: Map<string, T[]>, key: string, value: T): void {
  const group = groups.get(key);
  if (group === undefined) groups.set(key, [value]);
  else group.push(value);
}

/** What was usual in a discipline before a day. */
function usualBefore(history: History) {
  const all = new Map<DisciplineCode, PastRoutine[]>();
  for (const r of history.routines) if (tellsOfScores(r)) push(all, r.discipline, r);
  for (const of of all.values())
    of.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : a.line - b.line));
  const kept = new Map<DisciplineCode, { usual: Usual; of: string }>();
  return (
    discipline: DisciplineCode,
    date: string,
    also: readonly PastRoutine[],
    asked: readonly PastRoutine[],
  ): Usual => {
    const routines = all.get(discipline) ?? [];
    const count = firstFrom(routines, date);
    const usualFrom = (first: number, more: readonly PastRoutine[]): Usual => {
      const of = [first, ...more.map((r) => r.line)].join();
      const last = kept.get(discipline);
      if (last?.of === of) return last.usual;
      const usual = usualOf([...routines.slice(0, first), ...more], history.decimals);
      kept.set(discipline, { usual, of });
      return usual;
    };
    if (count <= FEW_ROWS) return usualFrom(count, also);
    const steps = Math.floor(Math.log(count / FEW_ROWS) / Math.log(MORE));
    const usual = usualFrom(Math.min(Math.floor(FEW_ROWS * MORE ** steps), count), []);
    const isKnown = asked.every((r) => usual.pools.has(`${discipline} ${r.apparatus}`));
    return isKnown ? usual : usualFrom(count, also);
  };
}

/** How many of routines in order of date are before a day. */
function firstFrom(routines: readonly PastRoutine[], date: string): number {
  let [low, high] = [0, routines.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((routines[middle]?.date ?? '') < date) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The ranges before a final, by gymnast. Throws where a ranges file cannot be read. */
export function rangesFor(
  history: History,
  known: Known,
  from: RangesFrom,
): (final: PastFinal) => RangesOf {
  if (typeof from === 'object') {
    const of = fileRanges(from, history);
    return () => of;
  }
  return (final) => {
    const { discipline, date, gymnasts } = final;
    const found =
      from === 'rounds'
        ? known.ranges(discipline, date, gymnasts, known.earlierRounds(final), final.competition)
        : known.ranges(discipline, date, gymnasts);
    return (gymnast) => found.get(gymnast);
  };
}

/** A ranges file does not say for which discipline it is. */
const EVERY_APPARATUS: readonly Called[] = [
  ...new Map([...calledIn('wag'), ...calledIn('mag')].map((a) => [a.code, a])).values(),
];

/** The ranges of a file, for gymnasts by their names. */
export function fileRanges({ file, text }: Source, { decimals, scoring }: History): RangesOf {
  const problems: Problem[] = [];
  const entries = readRangesDocument(text, decimals, EVERY_APPARATUS, { file, problems });
  const limits = { decimals, ceiling: usualCeiling(scoring, decimals) };
  const byName = new Map<string, Readonly<Record<string, GivenRange>>>();
  for (const { gymnast, ranges, lineOf } of entries) {
    const given = Object.entries(ranges).map(([code, parts]): [string, GivenRange] => {
      const { low = null, likely = null, high = null, falls = null, d = null } = parts;
      for (const [message, mend] of wrongRange({ low, likely, high }, limits, null)) {
        const what = `${code} of ${gymnast}: ${message}`;
        report({ file, problems }, 'error', 'wrong-range', lineOf([code]), what, mend);
      }
      return [code, { low, likely, high, falls, d }];
    });
    byName.set(plain(gymnast), Object.fromEntries(given));
  }
  const wrong = problems.find((p) => p.severity === 'error');
  if (wrong !== undefined) {
    const { message, code, line, mend } = wrong;
    throw new LastRotationError(message, { kind: 'file', code, file, line, mend });
  }
  return (gymnast) => byName.get(plain(gymnast));
}
