/** `claim`: a statement put to the test, with the words it deserves. */

import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import { type Contest, findContest } from '../contest/contest.js';
import { standings } from '../contest/standings.js';
import { findContender } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import type { History } from '../history/history.js';
import { type Precedents, precedentsOf } from '../history/precedents.js';
import type { Meet } from '../meet/meet.js';
import { holdIn, noHold } from '../needs/hold.js';
import {
  type AskedTarget,
  type ParsedTarget,
  parseTarget,
  type Target,
  targetText,
} from '../needs/target.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Asked, fieldChance, placesAsked, type WithinBounds, withinError } from './asked.js';
import { type Claimed, understand } from './phrases.js';
import { isScale, SCALES, type ScaleName, wordFor } from './scales.js';
import { type NotTried, type Stressed, type Stresses, stressesOf, TOGETHER } from './stressed.js';
import { turning, type Verdict, verdictOn } from './verdict.js';

/** What is claimed, and by which scale it is judged. */
export interface ClaimOptions {
  /** Id of a contest, or the code of an apparatus; the first contest of the meet without it. */
  readonly contest?: string | null | undefined;
  /** `win` without it; `medal`, `advance`, `place:3`, `hold`, `beat:NAME`. */
  readonly to?: AskedTarget | null | undefined;
  /**
   * What was said: "almost impossible", "5%", "1 in 20"; without it no verdict, only the word it
   * deserves.
   */
  readonly phrase?: string | null | undefined;
  /** `efsa` without it. */
  readonly scale?: string | null | undefined;
  /** Where precedents are looked for. */
  readonly history?: History | null | undefined;
  /** Told how many of so many chances have been worked out. */
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
}

/** What a statement about somebody's chances is worth. */
export interface Claim {
  /** The id of the contest it is about; null where two equals are meant. */
  readonly contest: string | null;
  /** Id of whom it is about; null where two equals are meant. */
  readonly contender: string | null;
  /** `pass the one ahead` where two equals are meant. */
  readonly target: Target | 'pass the one ahead';
  /** Of the target, as the ranges are. */
  readonly chance: Chance;
  /** A bound on how wrong it can be. */
  readonly error: Chance;
  /** The lowest and the highest that it and the stressed chances can be. */
  readonly chanceLow: Chance;
  /** The other end of that. */
  readonly chanceHigh: Chance;
  /** `upper`: it is the chance to pass one rival, and to win cannot be likelier. */
  readonly bound: 'upper' | null;
  /** Whose words are used. */
  readonly scale: ScaleName;
  /** The word of the scale for the chance; null where it has none. */
  readonly term: string | null;
  /** The words it lies between then. */
  readonly between: readonly [string | null, string | null] | null;
  /** As it was put; null without one. */
  readonly phrase: string | null;
  /** The band the phrase claims, and what of it was read as that. */
  readonly claimed: Claimed | null;
  /** Whether the phrase says it rightly; null without one. */
  readonly verdict: Verdict | null;
  /** Which stresses change the verdict, each said after "if". */
  readonly dependsOn: readonly string[];
  /** The chance when one thing is otherwise than the ranges say, one by one and together. */
  readonly stresses: readonly Stressed[];
  /** What was not tried, and why not. */
  readonly notTried: readonly NotTried[];
  /** How often it has been done before; null without a history, or where nobody was that far behind. */
  readonly precedent: Precedents | null;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/**
 * The chance of a target, how it moves under stress, and whether a phrase says it rightly.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param who - An id, or any part of a name that fits only one; in a team contest a team, or one of its
 *   gymnasts.
 * @param options - What is claimed; without it that she wins.
 * @throws `nothing-to-come`: a rival is to be beaten, and she has finished
 * @throws `unknown-phrase`, `unknown-scale`: the phrase is no word of the scale and no number, or there is no
 *   such scale
 * @throws `wrong-score`: a total that is none
 * @throws `wrong-target`: a claim is about places and rivals; or herself to beat
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `out` (she has withdrawn), `no-place` (she has no place to hold yet)
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const { verdict, term } = claim(meet, 'brondt', { phrase: 'almost impossible' });
 * [verdict, term] // → ['overstated', 'unlikely']
 */
export function claim(meet: Meet, who: string, options: ClaimOptions = {}): Claim {
  const contest = findContest(meet, options.contest);
  const { contender } = findContender(meet, contest, who);
  const entry = entryOf(contender, recordedPerformances(meet));
  if (entry.out)
    throw noAnswer('out', `${contender.name} has withdrawn, and is out of ${contest.id}`);
  const target = parseTarget(meet, contest, options.to ?? 'win');
  if (target.kind === 'beat' && target.id === contender.id) {
    throw badUsage(
      'wrong-target',
      `${contender.name} cannot beat ${contender.name}`,
      'name a rival: beat:NAME',
    );
  }
  const asked: Asked = {
    contest,
    id: contender.id,
    target: target.kind === 'hold' ? placeHeld(meet, contest, contender) : target,
  };
  const hers = new Set(contender.parts.flatMap((p) => p.routines));
  const isHers = (i: number) => hers.has(i);
  const read = readOptions(options);
  const { chance, error } = fieldChance(meet, asked);
  const subject = contest.kind.ranks === 'teams' ? 'it' : meet.words.she;
  const plain = withinError(chance, error);
  const stresses = stressesOf(
    meet,
    asked,
    { who: subject, isHers, chance: plain },
    options.onProgress,
  );
  return {
    contest: contest.id,
    contender: contender.id,
    target: targetText(meet, target),
    bound: null,
    precedent: options.history ? precedentsFor(meet, asked, options.history) : null,
    ...judged(plain, stresses, read),
    error,
    caution: CAUTION,
  };
}

/** The place that is to be held now, which no stress moves. */
function placeHeld(meet: Meet, contest: Contest, contender: Contender): ParsedTarget {
  const hold = holdIn(meet, contest, contender.id);
  if (hold === null) throw noHold(meet, contest, contender);
  return { kind: 'place', place: hold.place };
}

export interface Read {
  readonly scale: ScaleName;
  readonly phrase: string | null;
  readonly claimed: Claimed | null;
}

/** The scale and the phrase, before anything is worked out. */
export function readOptions({ scale: name = 'efsa', phrase = null }: ClaimOptions): Read {
  const scale = name ?? 'efsa';
  if (!isScale(scale)) {
    const all = Object.keys(SCALES).join(', ');
    throw badUsage('unknown-scale', `there is no scale "${scale}"`, `choose from: ${all}`);
  }
  return { scale, phrase, claimed: phrase === null ? null : understand(phrase, SCALES[scale]) };
}

/** What follows from a chance and its stresses. */
/**
 * What holds must hold under every stress; what is wrong under each by itself is not made right by all of
 * them at once.
 */
function verdictFor(
  scale: (typeof SCALES)[ScaleName],
  claimed: Claimed,
  plain: WithinBounds,
  stresses: Stresses['stresses'],
): Verdict {
  const rangesOf = (some: readonly WithinBounds[]) => some.flatMap((c) => [c.low, c.high]);
  const single = stresses.filter((s) => !TOGETHER.includes(s.what));
  const verdict = verdictOn(scale, claimed, rangesOf([plain, ...single]));
  return verdict === 'holds' ? verdictOn(scale, claimed, rangesOf([plain, ...stresses])) : verdict;
}

export function judged(
  plain: WithinBounds,
  { stresses, notTried }: Stresses,
  { scale, phrase, claimed }: Read,
) {
  const { chance } = plain;
  const within = Math.min(Math.max(chance, plain.low), plain.high);
  const all = [plain, ...stresses].flatMap((c) => [c.low, c.high]);
  const { term, between } = wordFor(SCALES[scale], chance);
  const verdict = claimed === null ? null : verdictFor(SCALES[scale], claimed, plain, stresses);
  const turns =
    claimed === null || verdict !== 'borderline'
      ? []
      : stresses.map((s) =>
          turning(SCALES[scale], claimed, within, [s.low, s.high]).includes(true),
        );
  return {
    chance,
    chanceLow: Math.min(chance, ...all),
    chanceHigh: Math.max(chance, ...all),
    scale,
    term: term?.term ?? null,
    between:
      between === null ? null : ([between[0]?.term ?? null, between[1]?.term ?? null] as const),
    phrase,
    claimed,
    verdict,
    dependsOn: stresses.flatMap((s, i) => (turns[i] ? [s.what] : [])),
    stresses,
    notTried,
  };
}

/**
 * Who was as far behind the same place with as many routines left. On the board where the one in that
 * place has as many to come, else by projected totals. Null where there is no such gap.
 */
function precedentsFor(meet: Meet, asked: Asked, history: History): Precedents | null {
  const { discipline } = meet;
  const place = placesAsked(meet, asked);
  if (discipline === null || place === null || !asked.contest.kind.isLikeAllAroundFinals)
    return null;
  // Where a fall costs something else, others' cases are none.
  if (history.scoring !== meet.scoring.system) return null;
  const { rows } = standings(meet, { contest: asked.contest.id });
  const hers = rows.find((r) => r.id === asked.id)!;
  const others = rows.filter((r) => r !== hers);
  const gapTo = (totalOf: (row: (typeof rows)[number]) => number) =>
    (others.map(totalOf).sort((a, b) => b - a)[place - 1] ?? 0) - totalOf(hers);
  const isEven = others.every((r) => r.done === hers.done);
  const behind = gapTo((r) => (isEven ? r.total : (r.projected ?? r.total)));
  const remaining = hers.toCome.length;
  if (behind <= 0 || remaining === 0) return null;
  const { decimals } = meet.scoring;
  return precedentsOf(history, { discipline, behind, decimals, remaining, place });
}
