/**
 * The one abstraction behind every contest: a contender's total is what was carried in plus a sum
 * of parts, each the best few of its routines or the cut mean of its two. Standings and needs know
 * only that.
 */
import { SECOND_VAULT, VAULT } from '../apparatus.js';
import { badUsage } from '../error.js';
import { apparatusRanking } from '../meet/contest-rules.js';
import { type ContestRules, type Gymnast, type Meet, routineOf } from '../meet/meet.js';
import { didYouMean } from '../meet/problems.js';
import type { Score } from '../score.js';
import type { TieRule } from '../scoring.js';

/** `best`: the sum of the best `count` scores. `mean`: the average of two, cut to the unit. */
export type PartRule =
  | { readonly kind: 'best'; readonly count: number }
  | { readonly kind: 'mean' };

export interface Part {
  readonly apparatus: string;
  readonly rule: PartRule;
  /** Indices of routines. */
  readonly routines: readonly number[];
}

/** Whoever a contest ranks: a gymnast or a team. */
export interface Contender {
  readonly id: string;
  readonly name: string;
  /** The team of a gymnast; null for a team. */
  readonly team: string | null;
  readonly carried: Score;
  readonly parts: readonly Part[];
  /** All its routines that the contest counts, in the order they go up. */
  readonly routines: readonly number[];
  /** Whether one DNS or DNF puts it out of the contest. */
  readonly outByDns: boolean;
}

/** How many of its scores a part will drop. */
export function scoresDropped({ rule, routines }: Part): number {
  return rule.kind === 'best' ? Math.max(routines.length - rule.count, 0) : 0;
}

export interface Contest {
  readonly id: string;
  readonly kind: ContestRules['kind'];
  readonly ties: readonly TieRule[];
  readonly medals: number;
  /** In start order. */
  readonly contenders: readonly Contender[];
}

type Draft = Omit<Contender, 'routines'>;

function best(meet: Meet, count: number, apparatus: string, gymnasts: readonly Gymnast[]): Part {
  const routines: number[] = [];
  for (const { id } of gymnasts) {
    const routine = routineOf(meet, id, apparatus);
    if (routine !== undefined) routines.push(routine.index);
  }
  return { apparatus, rule: { kind: 'best', count }, routines };
}

function single(gymnast: Gymnast, carried: Score, parts: readonly Part[]): Draft {
  const { id, name, team } = gymnast;
  return { id, name, team, carried, parts, outByDns: true };
}

/** A kind of contest: whom it ranks, and by which parts. */
const KINDS: {
  readonly [K in ContestRules['kind']]: (
    meet: Meet,
    rules: Extract<ContestRules, { kind: K }>,
  ) => Draft[];
} = {
  'all-around': (meet) => {
    const apparatus = firstVaultOnly(meet);
    return meet.gymnasts.flatMap((g) => {
      const hers = apparatus.filter((code) => g.on.includes(code));
      if (g.carried === 0 && hers.length < apparatus.length) return [];
      const parts = hers.map((code) => best(meet, 1, code, [g]));
      return single(g, g.carried, parts);
    });
  },
  apparatus: (meet, { on, vaults }) => {
    const codes = vaults === 2 ? [VAULT, SECOND_VAULT] : [on];
    return meet.gymnasts
      .filter((g) => codes.every((code) => g.on.includes(code)))
      .map((g) => {
        const routines = codes.flatMap((code) => routineOf(meet, g.id, code)?.index ?? []);
        const rule: PartRule = vaults === 2 ? { kind: 'mean' } : { kind: 'best', count: 1 };
        return single(g, 0, [{ apparatus: on, rule, routines }]);
      });
  },
  team: (meet, { count }) =>
    meet.teams.map((t) => {
      const members = meet.gymnasts.filter((g) => g.team === t.id);
      const parts = firstVaultOnly(meet).map((code) =>
        best(
          meet,
          count,
          code,
          members.filter((g) => g.on.includes(code)),
        ),
      );
      return { id: t.id, name: t.name, team: null, carried: t.carried, parts, outByDns: false };
    }),
};

/** Only the first vault counts for all-around and team (31 of 31 in the open data). */
function firstVaultOnly(meet: Meet): string[] {
  return meet.apparatus.map((a) => a.code).filter((code) => code !== SECOND_VAULT);
}

export function buildContest(meet: Meet, rules: ContestRules): Contest {
  const drafts = (KINDS[rules.kind] as (meet: Meet, rules: ContestRules) => Draft[])(meet, rules);
  const contenders = drafts.map(({ id, name, team, carried, parts, outByDns }): Contender => {
    const routines: number[] = [];
    for (const part of parts) for (const i of part.routines) routines.push(i);
    routines.sort((a, b) => a - b);
    return { id, name, team, carried, parts, routines, outByDns };
  });
  const first = (c: Contender) => c.routines[0] ?? meet.routines.length;
  contenders.sort((a, b) => first(a) - first(b));
  return {
    id: rules.id,
    kind: rules.kind,
    ties: rules.ties,
    medals: rules.medals,
    contenders,
  };
}

/**
 * The contest a question is about: the meet's first when none is named, one of its own by id, or
 * the ranking on an apparatus of the meet by its code.
 */
export function findContest(meet: Meet, id: string | null | undefined): Contest {
  const rules = findRules(meet, id);
  if (rules !== undefined) return buildContest(meet, rules);
  const known = [...new Set([...meet.contests.map((c) => c.id), ...firstVaultOnly(meet)])];
  throw badUsage(
    'unknown-contest',
    `there is no contest "${id}"`,
    didYouMean(id ?? '', known, 'one of'),
  );
}

function findRules(meet: Meet, id: string | null | undefined): ContestRules | undefined {
  if (id == null) return meet.contests[0];
  const own = meet.contests.find((c) => c.id === id);
  if (own !== undefined) return own;
  const alike = meet.contests.filter((c) => c.id.toLowerCase() === id.toLowerCase());
  if (alike.length === 1) return alike[0];
  const code = firstVaultOnly(meet).find((c) => c === id.toUpperCase());
  return code === undefined ? undefined : apparatusRanking(meet.scoring.system, code, meet.medals);
}
