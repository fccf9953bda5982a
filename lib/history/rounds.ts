/** The finals of a history, to be gone through rotation by rotation. */
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { type DisciplineCode, FOLLOW_UP_CODES } from '../apparatus.js';
import { rank } from '../contest/board.js';
import { findContest } from '../contest/contest.js';
import { type Meet, NO_RANGE, type Range } from '../meet/meet.js';
import { completeRanges } from '../meet/ranges.js';
import { derived } from '../meet/sound.js';
import { type Entry, entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { daysBetween, LONGEST_COMPETITION } from './date.js';
import { FINAL_KINDS, type FinalField, type FinalKind, type FinalName } from './final-kinds.js';
import {
  assumedGroups,
  type FinalPlan,
  knownRotations,
  meetOf,
  oneAfterAnother,
} from './final-meet.js';
import type { FittedRange } from './fit.js';
import type { History } from './history.js';
import { isBefore, type Round } from './round.js';
import type { PastRoutine } from './routine.js';

/** One final with everybody who did all of it. */
export interface PastFinal {
  readonly contest: FinalName;
  /** The apparatus of an apparatus final; null for the others. */
  readonly on: string | null;
  readonly discipline: DisciplineCode;
  readonly competition: string;
  readonly date: string;
  readonly round: Round;
  /** In the order of the history, as those of the meet. */
  readonly gymnasts: readonly string[];
  /** Whoever is ranked, by gymnast or by team of the meet. */
  readonly contenders: readonly string[];
  /** Whether the history says in which rotation a routine was, or the order is assumed, or drawn. */
  readonly order: 'known' | 'assumed' | 'drawn';
  /** Of an apparatus final every contender is one. */
  readonly rotations: number;
  /** The whole round, every score recorded. */
  readonly meet: Meet;
}

export interface FindOptions {
  /** Which kinds of finals; only all-around without. */
  readonly contests?: readonly FinalName[];
  readonly discipline?: DisciplineCode | null;
  /** Only finals on this day and later. */
  readonly since?: string | null;
  /** Of the order that is drawn; 1 without. */
  readonly seed?: number;
}

/** A final without its meet, of which a long history has more than there is room for. */
export type FinalFacts = Omit<PastFinal, 'meet'>;

/** What of a final is kept when its boards have been judged. */
export function withoutMeet({ meet: _, ...facts }: PastFinal): FinalFacts {
  return facts;
}

/** A final that was found, and what makes its meet. */
export interface FoundFinal {
  readonly date: string;
  readonly replayed: () => PastFinal;
}

/** The finals of the history, in order of date. */
export function finalsOf(history: History, options: FindOptions = {}): PastFinal[] {
  return findFinals(history, options).map(({ replayed }) => replayed());
}

/** The same, each to be made when it is its turn. */
export function findFinals(history: History, options: FindOptions = {}): FoundFinal[] {
  const { contests = ['all-around'], discipline = null, since = null, seed = 1 } = options;
  const rounds = new Map<string, PastRoutine[]>();
  const isAsked = (r: PastRoutine) =>
    r.round.stage === 'final' &&
    contests.some((name) => name === r.round.contest) &&
    (discipline === null || r.discipline === discipline) &&
    (since === null || r.date >= since);
  for (const r of history.routines) {
    if (!isAsked(r)) continue;
    const key = [r.discipline, r.date, r.competition, r.round.name].join('\n');
    const round = rounds.get(key);
    if (round === undefined) rounds.set(key, [r]);
    else round.push(r);
  }
  const before = qualifications(history);
  return [...rounds.values()]
    .flatMap((routines) => {
      const name = routines[0]?.round.contest ?? 'all-around';
      const kind = FINAL_KINDS[name];
      return kind.fields(routines).map((field) => ({
        date: routines[0]?.date ?? '',
        replayed: () => finalOf(kind, field, history, before, seed),
      }));
    })
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}

/** Every all-around final of the history, in order of date. */
export function allAroundRounds(history: History): PastFinal[] {
  return finalsOf(history);
}

function finalOf(
  kind: FinalKind,
  field: FinalField,
  history: History,
  before: Qualifications,
  seed: number,
): PastFinal {
  const { contenders } = field;
  const gymnasts = gymnastsIn(kind, field);
  const first = [...gymnasts.values()][0]?.routines[0];
  if (first === undefined) throw new RangeError('a final without routines');
  const { discipline, competition, date, round } = first;
  const written = knownRotations(gymnasts);
  // Where all go up one after another, a rotation they share says nothing.
  const isShared = kind.isDrawn && written !== null && written.count < gymnasts.size;
  const known = isShared ? null : (written?.text ?? null);
  const schedule =
    known ??
    (field.on !== null && kind.isDrawn
      ? oneAfterAnother(
          drawn(gymnasts.size, seed, [discipline, competition, date, round.name, field.on]),
          field.on,
        )
      : assumedGroups(field, gymnasts, qualified(kind, field, first, before)));
  const { scoring, decimals } = history;
  const meet = meetOf({ discipline, scoring, decimals, field, gymnasts, schedule });
  return {
    contest: kind.name,
    on: field.on,
    ...{ discipline, competition, date, round },
    gymnasts: [...gymnasts.keys()],
    contenders: [...contenders.keys()],
    order: known !== null ? 'known' : kind.isDrawn ? 'drawn' : 'assumed',
    rotations: meet.rotations.length,
    meet,
  };
}

function gymnastsIn(kind: FinalKind, { contenders }: FinalField): FinalPlan['gymnasts'] {
  const found = new Map<string, { routines: PastRoutine[]; team: string | null }>();
  for (const [id, theirs] of contenders) {
    for (const r of theirs) {
      const team = kind.name === 'team' ? id : null;
      const hers = found.get(r.gymnast) ?? { routines: [], team };
      hers.routines.push(r);
      found.set(r.gymnast, hers);
    }
  }
  return found;
}

/** An order of so many that nothing but the seed and the name of the final decides. */
function drawn(count: number, seed: number, name: readonly string[]): number[] {
  const random = xoroshiro128plus(hashOf(`${seed}\n${name.join('\n')}`));
  const order = Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const j = uniformInt(random, 0, i);
    [order[i], order[j]] = [order[j] ?? 0, order[i] ?? 0];
  }
  return order;
}

/** FNV-1a, 32 bits. */
export function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  }
  return hash | 0;
}

/** Routines of qualification by competition. */
type Qualifications = ReadonlyMap<string, readonly PastRoutine[]>;

const competitionOf = (r: Pick<PastRoutine, 'discipline' | 'competition'>) =>
  `${r.discipline}\n${r.competition}`;

function qualifications({ routines }: History): Qualifications {
  const found = new Map<string, PastRoutine[]>();
  for (const r of routines) {
    if (r.round.stage !== 'qualification' || FOLLOW_UP_CODES.includes(r.apparatus)) continue;
    const key = competitionOf(r);
    const those = found.get(key);
    if (those === undefined) found.set(key, [r]);
    else those.push(r);
  }
  return found;
}

/** The totals of qualification at the same competition: of a team the best scores of each apparatus. */
function qualified(
  { whose }: FinalKind,
  { counting }: FinalField,
  first: PastRoutine,
  before: Qualifications,
): Map<string, number> {
  const scores = new Map<string, Map<string, number[]>>();
  for (const r of before.get(competitionOf(first)) ?? []) {
    const id = whose(r);
    if (id === null || Math.abs(daysBetween(r.date, first.date)) > LONGEST_COMPETITION) continue;
    const theirs = scores.get(id) ?? new Map<string, number[]>();
    scores.set(id, theirs);
    theirs.set(r.apparatus, [...(theirs.get(r.apparatus) ?? []), r.score]);
  }
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const best = (values: readonly number[]) => [...values].sort((a, b) => b - a).slice(0, counting);
  return new Map(
    [...scores].map(([id, of]) => [id, sum([...of.values()].map((values) => sum(best(values))))]),
  );
}

/** Whether a routine was over when the final began: done on an earlier day, or in an earlier round of the competition. */
export function wasKnownTo(final: PastFinal, routine: PastRoutine): boolean {
  return routine.date < final.date || isEarlierRound(final, routine);
}

/** Whether a routine is of an earlier round of the same competition, whatever its date. */
export function isEarlierRound(
  {
    discipline,
    competition,
    date,
    round,
  }: Pick<PastFinal, 'discipline' | 'competition' | 'date' | 'round'>,
  routine: PastRoutine,
): boolean {
  return (
    routine.discipline === discipline &&
    routine.competition === competition &&
    isBefore(routine.round, round) &&
    Math.abs(daysBetween(routine.date, date)) <= LONGEST_COMPETITION
  );
}

/** Ids of whoever is ranked, by contender of the final. */
function rankedIds(meet: Meet): string[] {
  const { kind } = findContest(meet, null);
  return (kind.ranks === 'teams' ? meet.teams : meet.gymnasts).map((c) => c.id);
}

/** Where everyone is in such a meet, by contender of the final; a contest has its contenders in start order. */
export function entriesIn(meet: Meet): Entry[] {
  const performances = recordedPerformances(meet);
  const entries = new Map(
    findContest(meet, null).contenders.map((c) => [c.id, entryOf(c, performances)]),
  );
  return rankedIds(meet).flatMap((id) => entries.get(id) ?? []);
}

/** The total of everyone at the end, and the place. By contender of the final. */
export function finalBoard({ meet }: Pick<PastFinal, 'meet'>): { total: number; place: number }[] {
  const { rows } = rank(findContest(meet, null), recordedPerformances(meet));
  const byId = new Map(rows.map((r) => [r.entry.contender.id, r]));
  return rankedIds(meet).flatMap((id) => {
    const row = byId.get(id);
    if (row === undefined) return [];
    return [{ total: row.entry.total, place: row.place ?? rows.length }];
  });
}

/** By routine: the range that was known before the final. */
export function rangesBefore({ meet, gymnasts }: PastFinal, rangesOf: RangesOf): Range[] {
  const at = new Map(meet.gymnasts.map((g, i) => [g.id, i]));
  return meet.routines.map(({ gymnast, apparatus }): Range => {
    const known = rangesOf(gymnasts[at.get(gymnast) ?? -1] ?? '')?.[apparatus];
    if (known === undefined) return NO_RANGE;
    const { low, likely, high, falls, d } = known;
    return { low, likely, high, falls, d, within: null, from: 'file' };
  });
}

/** The round as it stood after a rotation, with the ranges that were known before it. */
export function asItStood({ meet }: PastFinal, rotation: number, given: readonly Range[]): Meet {
  const results = meet.results.map((r, k) =>
    (meet.routines[k]?.rotation ?? 0) <= rotation ? r : null,
  );
  const then = derived(meet, { given, results });
  return derived(then, { ranges: completeRanges(then) });
}

/** A range from results or from a file, where parts may be missing. */
export type GivenRange = Pick<FittedRange, 'd'> & {
  readonly [part in 'low' | 'likely' | 'high' | 'falls']: FittedRange[part] | null;
};

/** The ranges of a gymnast, by apparatus; none of whom nothing is known. */
export type RangesOf = (gymnast: string) => Readonly<Record<string, GivenRange>> | undefined;
