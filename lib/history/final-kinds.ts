/** The kinds of finals that a history can have: who is in one, and what counts. */
import { DISCIPLINES, FOLLOW_UP_CODES, withFollowUps } from '../apparatus.js';
import type { PastRoutine } from './routine.js';

export const FINALS = ['all-around', 'team', 'apparatus'] as const;
/** A kind of final: `all-around`, `team` or `apparatus`. */
export type FinalName = (typeof FINALS)[number];

/** Who is in a final, and by which rules. */
export interface FinalField {
  /** The apparatus of an apparatus final; null for the others. */
  readonly on: string | null;
  /** The contest as a meet file has it. */
  readonly contest: string;
  /** Stations, in Olympic order. */
  readonly codes: readonly string[];
  /** By gymnast or, of a team final, by team: their routines, in the order of the history. */
  readonly contenders: ReadonlyMap<string, readonly PastRoutine[]>;
  /** How many scores of qualification are taken on an apparatus, where the order follows it. */
  readonly counting: number;
}

/** Everything that is particular to a kind of final. */
export interface FinalKind {
  readonly name: FinalName;
  /** Whether each contender goes up once, one after another, in an order that is drawn. */
  readonly isDrawn: boolean;
  /** Whose a routine is in it. */
  readonly whose: (routine: PastRoutine) => string | null;
  /** The finals in one round of a competition. */
  readonly fields: (routines: readonly PastRoutine[]) => FinalField[];
}

/** Fewer contenders are no contest. */
const FEWEST = 4;
/** More are no apparatus final: eight are, and nine started at some. */
const MOST_ON_APPARATUS = 12;
/** More of one team on an apparatus are no line-up of a final: six is the most there has been. */
const MOST_UP = 6;

const gymnastOf = (r: PastRoutine) => r.gymnast;

const allAround: FinalKind = {
  name: 'all-around',
  isDrawn: false,
  whose: gymnastOf,
  fields: (routines) => {
    const codes = codesOf(routines);
    // Specialists in such a round are no contenders of it.
    const contenders = grouped(routines, gymnastOf, (hers) =>
      codes.every((code) => hers.some((r) => r.apparatus === code)),
    );
    if (contenders.size < FEWEST) return [];
    const first = isOn(codes);
    return [
      {
        on: null,
        contest: '{ kind: all-around, ties: [] }',
        codes,
        contenders: new Map([...contenders].map(([id, hers]) => [id, hers.filter(first)])),
        counting: Number.POSITIVE_INFINITY,
      },
    ];
  },
};

const team: FinalKind = {
  name: 'team',
  isDrawn: false,
  whose: (r) => r.noc,
  fields: (routines) => {
    const codes = codesOf(routines);
    const own = routines.filter(isOn(codes));
    const contenders = grouped(
      own,
      (r) => r.noc,
      (theirs) => codes.every((code) => theirs.some((r) => r.apparatus === code)),
    );
    const sizes = [...contenders.values()].flatMap((theirs) =>
      codes.map((code) => theirs.filter((r) => r.apparatus === code).length),
    );
    const up = Math.max(0, ...sizes);
    if (contenders.size < FEWEST || up > MOST_UP) return [];
    const count = countingOf(mostCommon(sizes));
    const contest = `{ kind: team, up: ${up}, count: ${count}, ties: [] }`;
    return [{ on: null, contest, codes, contenders, counting: count }];
  },
};

const apparatus: FinalKind = {
  name: 'apparatus',
  isDrawn: true,
  whose: gymnastOf,
  fields: (routines) =>
    codesOf(routines).flatMap((on): FinalField[] => {
      const second = followUpOf(on);
      const has = (hers: readonly PastRoutine[], code: string) =>
        hers.some((r) => r.apparatus === code);
      const here = routines.filter((r) => r.apparatus === on || r.apparatus === second);
      const all = grouped(here, gymnastOf, (hers) => has(hers, on));
      const both = [...all].filter(([, hers]) => second !== null && has(hers, second));
      // With two vaults whoever has only one is no contender.
      const isTwo = both.length * 2 > all.size;
      const contenders = isTwo
        ? new Map(both)
        : new Map([...all].map(([id, hers]) => [id, hers.filter((r) => r.apparatus === on)]));
      if (contenders.size < FEWEST || contenders.size > MOST_ON_APPARATUS) return [];
      // To resolve ties of two vaults to come takes a hundred times as long, and they are rare.
      const rules = isTwo ? ', vaults: 2, ties: []' : '';
      return [
        {
          on,
          contest: `{ kind: apparatus, on: ${on}${rules} }`,
          codes: [on],
          contenders,
          counting: 1,
        },
      ];
    }),
};

export const FINAL_KINDS: Readonly<Record<FinalName, FinalKind>> = {
  'all-around': allAround,
  team,
  apparatus,
};

function codesOf([first]: readonly PastRoutine[]): string[] {
  return first === undefined ? [] : DISCIPLINES[first.discipline].apparatus.map(([code]) => code);
}

/** What is done right after it; null where nothing is. */
function followUpOf(code: string): string | null {
  const [, second] = withFollowUps([{ code, name: code, limit: null, follows: null }]);
  return second?.code ?? null;
}

function isOn(codes: readonly string[]): (r: PastRoutine) => boolean {
  return (r) => codes.includes(r.apparatus) && !FOLLOW_UP_CODES.includes(r.apparatus);
}

/** By whose they are, those who have what it takes, in the order of the history. */
function grouped(
  routines: readonly PastRoutine[],
  whose: (r: PastRoutine) => string | null,
  isIn: (theirs: readonly PastRoutine[]) => boolean,
): Map<string, PastRoutine[]> {
  const groups = new Map<string, PastRoutine[]>();
  for (const r of routines) {
    const key = whose(r);
    if (key === null) continue;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [r]);
    else group.push(r);
  }
  return new Map([...groups].filter(([, theirs]) => isIn(theirs)));
}

/** Three up three count, four three, five four, six five: the formats there have been. */
function countingOf(up: number): number {
  return up <= 3 ? up : up - 1;
}

function mostCommon(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  const [first = 1] = [...counts].sort(([a, n], [b, m]) => m - n || b - a)[0] ?? [];
  return first;
}
