/** The contests of a meet: their rules, and everyone they rank. */
import { apparatusWritten } from '../apparatus.js';
import { badUsage } from '../error.js';
import {
  type AdvanceRules,
  type ContestRules,
  gymnastOf,
  isWithdrawn,
  type Meet,
  ownStations,
  type Routine,
} from '../meet/meet.js';
import { lettersOf } from '../meet/names.js';
import { didYouMean, nearest } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import { apparatusMend, isNearApparatus } from '../meet/which-apparatus.js';
import type { Contender, ContenderDraft } from '../rules/contender.js';
import type { ContestKind } from '../rules/contests/contest-kind.js';
import { CONTEST_KINDS, RANKING_ON_APPARATUS } from '../rules/contests/index.js';
import { TIE_RULES, type TieRuleName } from '../rules/ties/index.js';
import type { TieRule } from '../rules/ties/tie-rule.js';
import { carriedBy } from '../rules/totals.js';
import { SCORING_SYSTEMS } from '../scoring.js';

export interface Contest {
  readonly id: string;
  readonly kind: ContestKind;
  /** The first that decides. */
  readonly ties: readonly TieRule<TieRuleName>[];
  readonly medals: number;
  /** Whether they are won in it, and not only the right to go on. */
  readonly givesMedals: boolean;
  /** Null where nobody advances from it. */
  readonly advance: AdvanceRules | null;
  /** In start order. */
  readonly contenders: readonly Contender[];
}

/** Everyone whom a contest of these rules ranks, in start order. */
export function buildContest(meet: Meet, rules: ContestRules): Contest {
  const { id, settings, medals, givesMedals, advance } = rules;
  const kind = CONTEST_KINDS.find((k) => k.name === rules.kind);
  if (kind === undefined) throw new RangeError(`no kind of contest ${rules.kind}`);
  const contenders = kind
    .contenders(meet, settings, carriedBy(rules))
    .map(withRoutines)
    .filter((c) => !isNamed(meet, c));
  const first = (c: Contender) => c.routines[0] ?? meet.routines.length;
  contenders.sort((a, b) => first(a) - first(b));
  return { id, kind, medals, givesMedals, advance, contenders, ties: rules.ties.map(tieRule) };
}

/** Whether it is one who was still to be named, and by now is somebody else. */
function isNamed(meet: Meet, { id, routines }: Contender): boolean {
  const isPlaceholder = gymnastOf(meet, id)?.unnamed === true;
  return isPlaceholder && routines.length > 0 && routines.every((i) => meet.replaced[i] === true);
}

function withRoutines(draft: ContenderDraft): Contender {
  const { id, name, team, carried, parts, outByDns } = draft;
  const routines: number[] = [];
  for (const part of parts) for (const i of part.routines) routines.push(i);
  routines.sort((a, b) => a - b);
  return { id, name, team, carried, parts, routines, outByDns };
}

function tieRule(name: string): TieRule<TieRuleName> {
  const rule = TIE_RULES.find((r) => r.name === name);
  if (rule === undefined) throw new RangeError(`no tie rule ${name}`);
  return rule;
}

/** The routines a contest counts, by index. */
export function routinesCounted({ contenders }: Pick<Contest, 'contenders'>): ReadonlySet<number> {
  return new Set(contenders.flatMap((c) => c.routines));
}

/** Whether a medal is something to ask about: not where only the winner has one, nor where everybody has. */
export function hasMedalsToWin({ contenders, medals, givesMedals }: Contest): boolean {
  return givesMedals && medals > 1 && contenders.length > medals;
}

/**
 * The contest a question is about: the meet's first when none is named, one of its own by id, or
 * the ranking on an apparatus of the meet by its code. Every answer begins here, so here a meet that
 * was put together by hand is refused.
 */
export function findContest(meet: Meet, id: string | null | undefined): Contest {
  requireSound(meet);
  const rules = findRules(meet, id);
  if (rules !== undefined) return buildContest(meet, rules);
  throw badUsage('unknown-contest', `there is no contest "${id}"`, mendOf(meet, id ?? ''));
}

/** By the ids of the contests, or by the apparatus there may be a ranking on. */
function mendOf(meet: Meet, id: string): string {
  const stations = ownStations(meet);
  const ids = meet.contests.map((c) => c.id);
  const isSeveral = apparatusWritten(stations, id).length > 1;
  if (nearest(id, ids) === null && (isSeveral || isNearApparatus(id, stations))) {
    return apparatusMend(id, stations, 'choose from');
  }
  const known = [...new Set([...ids, ...stations.map((a) => a.code)])];
  return didYouMean(id, known, 'choose from');
}

/**
 * The id of the first contest of a meet with something to come; of the first where it is all over. In an
 * afternoon of finals it is the one that is on.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * contestUnderWay(meet) // → 'all-around'
 */
export function contestUnderWay(meet: Meet): string {
  requireSound(meet);
  const isOpen = (rules: ContestRules) =>
    buildContest(meet, rules).contenders.some((c) => {
      const isOut = c.outByDns && c.routines.some((i) => isWithdrawn(meet.results[i]));
      return !isOut && c.routines.some((i) => meet.results[i] === null);
    });
  const found = meet.contests.find(isOpen) ?? meet.contests[0];
  return found?.id ?? '';
}

/** The contest that a routine counts in: the first of the meet, or the first that counts it. */
export function contestCounting(meet: Meet, routine: Routine | undefined): Contest {
  const counts = ({ contenders }: Contest) =>
    routine !== undefined && contenders.some((c) => c.routines.includes(routine.index));
  const first = findContest(meet, null);
  if (counts(first)) return first;
  return meet.contests.map((rules) => buildContest(meet, rules)).find(counts) ?? first;
}

function findRules(meet: Meet, id: string | null | undefined): ContestRules | undefined {
  if (id == null) return meet.contests[0];
  const own = meet.contests.find((c) => c.id === id);
  if (own !== undefined) return own;
  const alike = meet.contests.filter((c) => lettersOf(c.id) === lettersOf(id));
  if (alike.length === 1) return alike[0];
  const [apparatus, ...others] = apparatusWritten(ownStations(meet), id);
  if (apparatus === undefined || others.length > 0) return undefined;
  const { code } = apparatus;
  return meet.contests.find((c) => c.id === code) ?? rankingOn(meet, code);
}

/** The rules for the ranking on one apparatus tonight, whether or not the meet declares it. */
function rankingOn({ apparatus, medals, scoring }: Meet, code: string): ContestRules {
  const kind = RANKING_ON_APPARATUS;
  const settings = kind.settingsFrom({ on: code }, apparatus, () => {});
  if (settings === null) throw new RangeError(`no apparatus ${code}`);
  const ties = SCORING_SYSTEMS[scoring.system].breaksTies ? kind.tiesByDefault(settings) : [];
  return {
    id: code,
    kind: kind.name,
    settings,
    ties,
    medals,
    givesMedals: true,
    carried: null,
    advance: null,
  };
}
