/** The contests of a meet file, their rules, and the apparatus that they make part of the meet. */
import { type Apparatus, DISCIPLINES, NEUTRAL_WORDS, SECOND_VAULT, VAULT } from '../apparatus.js';
import { SCORING_SYSTEMS, type TieDefaults } from '../scoring.js';
import { type Checking, complain } from './checking.js';
import type { ContestRules } from './meet.js';
import { didYouMean } from './problems.js';
import { type ContestDocument, entriesOf } from './schema.js';

const DEFAULT_MEDALS = 3;

/** The apparatus of the discipline, in its order. */
export function disciplineApparatus({ document }: Checking): Apparatus[] {
  const { discipline } = document;
  if (typeof discipline === 'string') {
    return DISCIPLINES[discipline].apparatus.map(([code, name]) => ({ code, name, limit: null }));
  }
  return entriesOf(discipline).map(([, a]) => ({
    code: a.code,
    name: a.name ?? a.code,
    limit: a.limit ?? null,
  }));
}

export function disciplineWords({ document }: Checking): { she: string; her: string } {
  const { discipline } = document;
  return typeof discipline === 'string' ? DISCIPLINES[discipline].words : NEUTRAL_WORDS;
}

export function medalsOf({ document }: Checking): number {
  return document.medals ?? DEFAULT_MEDALS;
}

export function readContests(checking: Checking): ContestRules[] {
  const { document } = checking;
  const codes = disciplineApparatus(checking).map((a) => a.code);
  const contests: ContestRules[] = [];
  const given = entriesOf(document.contests);
  const byDefault: [number, ContestDocument][] = [[0, { kind: 'all-around' }]];
  for (const [i, contest] of given.length > 0 ? given : byDefault) {
    const rules = readContest(checking, contest, ['contests', i], codes);
    if (rules === null) continue;
    if (contests.some((c) => c.id === rules.id)) {
      complain(
        checking,
        'error',
        'contest-twice',
        ['contests', i],
        `two contests have the id ${rules.id}`,
        'give one of them an id of its own: id: …',
      );
    } else contests.push(rules);
  }
  return contests;
}

function readContest(
  checking: Checking,
  contest: ContestDocument,
  path: readonly (string | number)[],
  codes: readonly string[],
): ContestRules | null {
  const defaults: TieDefaults = SCORING_SYSTEMS[checking.scoring.system].ties;
  const own = contest.ties?.filter((t) => t !== null);
  const medals = contest.medals ?? medalsOf(checking);
  const rest = (idByDefault: string) => ({ id: contest.id ?? idByDefault, medals });
  switch (contest.kind) {
    case 'all-around': {
      const ties = own ?? checking.document.ties?.filter((t) => t !== null);
      return { ...rest('all-around'), kind: 'all-around', ties: ties ?? defaults['all-around'] };
    }
    case 'team':
      if (contest.count > contest.up) {
        complain(
          checking,
          'error',
          'wrong-value',
          [...path, 'count'],
          `${contest.count} scores count but only ${contest.up} are up`,
          'let count be at most up',
        );
      }
      return {
        ...rest('team'),
        kind: 'team',
        up: contest.up,
        count: Math.min(contest.count, contest.up),
        ties: own ?? defaults.team,
      };
    case 'apparatus': {
      const vaults = contest.vaults === 2 ? 2 : 1;
      if (!codes.includes(contest.on)) {
        complain(
          checking,
          'error',
          'unknown-apparatus',
          [...path, 'on'],
          `apparatus ${contest.on} is not one of the discipline`,
          didYouMean(contest.on, codes, 'one of'),
        );
        return null;
      }
      if (vaults === 2 && contest.on !== VAULT) {
        complain(
          checking,
          'error',
          'wrong-value',
          [...path, 'vaults'],
          `two vaults on ${contest.on}`,
          'vaults: 2 is for on: VT',
        );
        return null;
      }
      const ties = own ?? defaults[vaults === 2 ? 'two-vaults' : 'apparatus'];
      return { ...rest(contest.on), kind: 'apparatus', on: contest.on, vaults, ties };
    }
  }
}

/** The rules for the ranking on one apparatus tonight, whether or not the meet declares it. */
export function apparatusRanking(
  system: keyof typeof SCORING_SYSTEMS,
  code: string,
  medals: number,
): ContestRules {
  return {
    id: code,
    kind: 'apparatus',
    on: code,
    vaults: 1,
    ties: SCORING_SYSTEMS[system].ties.apparatus,
    medals,
  };
}

/** The apparatus of the meet: those its contests count; the second vault right after the first. */
export function meetApparatus(checking: Checking, contests: readonly ContestRules[]): Apparatus[] {
  const everything = contests.some((c) => c.kind !== 'apparatus');
  const counted = new Set(contests.map((c) => (c.kind === 'apparatus' ? c.on : '')));
  const twoVaults = contests.some((c) => c.kind === 'apparatus' && c.vaults === 2);
  return disciplineApparatus(checking)
    .filter((a) => everything || counted.has(a.code))
    .flatMap((a) =>
      a.code === VAULT && twoVaults
        ? [a, { ...a, code: SECOND_VAULT, name: `second ${a.name}` }]
        : [a],
    );
}
