/** All-around rounds of a history, to be gone through rotation by rotation. */
import { DISCIPLINES, type DisciplineCode, FOLLOW_UP_CODES } from '../apparatus.js';
import { rank } from '../contest/board.js';
import { findContest } from '../contest/contest.js';
import { type Meet, NO_RANGE, type Range } from '../meet/meet.js';
import { completeRanges } from '../meet/ranges.js';
import { derived } from '../meet/sound.js';
import { type Entry, entryOf } from '../rules/entry.js';
import { readMeet } from '../rules/reading.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Decimals, formatScore } from '../score.js';
import type { FittedRange } from './fit.js';
import type { History } from './history.js';
import { isBefore, type Round } from './round.js';
import type { PastRoutine } from './routine.js';

/** One all-around final with everybody who did every apparatus in it. */
export interface AllAroundRound {
  readonly discipline: DisciplineCode;
  readonly competition: string;
  readonly date: string;
  readonly round: Round;
  /** In the order of the history. */
  readonly gymnasts: readonly string[];
  /** Whether the history says in which rotation a routine was, or the order is assumed. */
  readonly order: 'known' | 'assumed';
  readonly rotations: number;
  /** The whole round, every score recorded. */
  readonly meet: Meet;
}

/** Fewer are no contest. */
const FEWEST = 4;

/** Every all-around final of the history, in order of date. */
export function allAroundRounds(history: History): AllAroundRound[] {
  const groups = new Map<string, PastRoutine[]>();
  for (const r of history.routines) {
    if (r.round.contest !== 'all-around' || r.round.stage !== 'final') continue;
    const key = [r.discipline, r.date, r.competition, r.round.name].join('\n');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [r]);
    else group.push(r);
  }
  return [...groups.values()]
    .flatMap((routines) => roundOf(routines, history) ?? [])
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}

function roundOf(routines: readonly PastRoutine[], history: History): AllAroundRound | null {
  const { discipline, competition, date, round } = routines[0]!;
  const codes: readonly string[] = DISCIPLINES[discipline].apparatus.map(([code]) => code);
  const byGymnast = new Map<string, Map<string, PastRoutine>>();
  for (const r of routines) {
    const hers = byGymnast.get(r.gymnast) ?? new Map<string, PastRoutine>();
    hers.set(r.apparatus, r);
    byGymnast.set(r.gymnast, hers);
  }
  // Specialists in such a round are no contenders of it.
  const whole = [...byGymnast].filter(([, hers]) => codes.every((code) => hers.has(code)));
  if (whole.length < FEWEST) return null;
  const field = new Map(whole);
  const gymnasts = [...field.keys()];
  const isKnown = whole.every(([, hers]) => codes.every((c) => hers.get(c)!.rotation !== null));
  const schedule = isKnown
    ? knownRotations(field, codes)
    : assumedOrder(gymnasts, codes, qualified(history, discipline, competition));
  const meet = meetOf(discipline, codes, field, schedule, history.decimals);
  const rotations = meet.rotations.length;
  const order = isKnown ? 'known' : 'assumed';
  return { discipline, competition, date, round, gymnasts, order, rotations, meet };
}

/** Whether a routine was over when the round began: done on an earlier day, or in an earlier round of the competition. */
export function wasKnownTo(
  { discipline, competition, date, round }: AllAroundRound,
  routine: PastRoutine,
): boolean {
  if (routine.date < date) return true;
  return (
    routine.discipline === discipline &&
    routine.competition === competition &&
    isBefore(routine.round, round)
  );
}

/** The totals of qualification at the same competition, the best first. */
function qualified(
  { routines }: History,
  discipline: DisciplineCode,
  competition: string,
): Map<string, number> {
  const totals = new Map<string, number>();
  for (const r of routines) {
    if (r.discipline !== discipline || r.competition !== competition) continue;
    if (r.round.stage !== 'qualification' || FOLLOW_UP_CODES.includes(r.apparatus)) continue;
    totals.set(r.gymnast, (totals.get(r.gymnast) ?? 0) + r.score);
  }
  return totals;
}

/** Lines of a meet file: `groups:` or `rotations:`. */
type Schedule = string;

function knownRotations(
  field: ReadonlyMap<string, ReadonlyMap<string, PastRoutine>>,
  codes: readonly string[],
): Schedule {
  const ids = [...field.keys()];
  const rotations = new Map<number, Map<string, string[]>>();
  for (const [i, id] of ids.entries()) {
    for (const code of codes) {
      const rotation = field.get(id)!.get(code)!.rotation!;
      const stations = rotations.get(rotation) ?? new Map<string, string[]>();
      stations.set(code, [...(stations.get(code) ?? []), idOf(i)]);
      rotations.set(rotation, stations);
    }
  }
  const lines = [...rotations]
    .sort(([a], [b]) => a - b)
    .map(([, stations]) => {
      const orders = [...stations].map(([code, order]) => `${code}: [${order.join(', ')}]`);
      return `  - { ${orders.join(', ')} }`;
    });
  return `rotations:\n${lines.join('\n')}\n`;
}

/**
 * Without the order: groups by place in qualification where the competition has one, the best on the
 * first apparatus (common practice: women four groups, men six); else everyone apparatus by
 * apparatus in Olympic order.
 */
function assumedOrder(
  gymnasts: readonly string[],
  codes: readonly string[],
  totals: ReadonlyMap<string, number>,
): Schedule {
  const known = gymnasts.filter((g) => totals.has(g)).length;
  if (known * 2 < gymnasts.length) return '';
  const ranked = gymnasts
    .map((g, i) => ({ i, total: totals.get(g) ?? -1 }))
    .sort((a, b) => b.total - a.total || a.i - b.i);
  const size = Math.ceil(ranked.length / codes.length);
  const lines = codes.flatMap((code, k) => {
    const group = ranked.slice(k * size, (k + 1) * size).map(({ i }) => idOf(i));
    return group.length === 0 ? [] : [`  - { start: ${code}, order: [${group.join(', ')}] }`];
  });
  return `groups:\n${lines.join('\n')}\n`;
}

/** Codes of a history may be anything; ids are plain. */
function idOf(i: number): string {
  return `g${i}`;
}

/** In these meets ties stand, so that places can be counted exactly whatever is to come. */
function meetOf(
  discipline: DisciplineCode,
  codes: readonly string[],
  field: ReadonlyMap<string, ReadonlyMap<string, PastRoutine>>,
  schedule: Schedule,
  decimals: Decimals,
): Meet {
  const ids = [...field.keys()];
  const text = [
    `discipline: ${discipline}`,
    'scoring: open',
    `decimals: ${decimals}`,
    'ties: []',
    'gymnasts:',
    ...ids.map((_, i) => `  - { id: ${idOf(i)} }`),
    schedule,
  ].join('\n');
  const rows = ids.flatMap((id, i) =>
    codes.map((code) => {
      const { score } = field.get(id)!.get(code)!;
      return `${idOf(i)},${code},${formatScore(score, decimals)}`;
    }),
  );
  const log = `gymnast,apparatus,score\n${rows.join('\n')}\n`;
  const { meet, problems } = readMeet({
    meet: { file: 'round', text },
    log: { file: 'scores', text: log },
  });
  if (meet === null) throw new RangeError(problems[0]?.message);
  return meet;
}

/** Where everyone is in such a meet. By gymnast of the meet; a contest has its contenders in start order. */
export function entriesIn(meet: Meet): Entry[] {
  const performances = recordedPerformances(meet);
  const entries = new Map(
    findContest(meet, null).contenders.map((c) => [c.id, entryOf(c, performances)]),
  );
  return meet.gymnasts.map((g) => entries.get(g.id)!);
}

/** The total of everyone at the end, and the place. By gymnast of the round. */
export function finalBoard({ meet }: AllAroundRound): { total: number; place: number }[] {
  const { rows } = rank(findContest(meet, null), recordedPerformances(meet));
  const byId = new Map(rows.map((r) => [r.entry.contender.id, r]));
  return meet.gymnasts.map((g) => {
    const row = byId.get(g.id)!;
    return { total: row.entry.total, place: row.place ?? rows.length };
  });
}

/** The round as it stood after a rotation, with the ranges that were known before it. */
export function asItStood(
  { meet, gymnasts }: AllAroundRound,
  rotation: number,
  rangesOf: (gymnast: string) => Readonly<Record<string, FittedRange>> | undefined,
): Meet {
  const at = new Map(meet.gymnasts.map((g, i) => [g.id, i]));
  const given = meet.routines.map(({ gymnast, apparatus }): Range => {
    const fitted = rangesOf(gymnasts[at.get(gymnast)!]!)?.[apparatus];
    if (fitted === undefined) return NO_RANGE;
    const { low, likely, high, falls, d, within } = fitted;
    return { low, likely, high, falls, d, within, from: 'file' };
  });
  const results = meet.results.map((r, i) => (meet.routines[i]!.rotation <= rotation ? r : null));
  const then = derived(meet, { given, results });
  return derived(then, { ranges: completeRanges(then) });
}
