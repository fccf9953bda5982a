/** `claim`: a statement put to the test, with the words it deserves. */

import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import { chances } from '../chances/chances.js';
import { type ContestModel, modelOf } from '../chances/model.js';
import { type PlaceChances, placeChances } from '../chances/place-chances.js';
import { samplePlaces, samplingOf } from '../chances/sampled/sampled.js';
import { sumOfFirst } from '../chances/sweep/places.js';
import { type Contest, findContest } from '../contest/contest.js';
import { routinesToCome, standings } from '../contest/standings.js';
import { findContender } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import type { History } from '../history/history.js';
import { type Precedents, precedentsOf } from '../history/precedents.js';
import type { Meet } from '../meet/meet.js';
import { holdIn, noHold } from '../needs/hold.js';
import { meanOf } from '../needs/likely.js';
import {
  type AskedTarget,
  type ParsedTarget,
  parseTarget,
  type Target,
  targetText,
} from '../needs/target.js';
import { targetByScore } from '../needs/target-curve.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Claimed, understand } from './phrases.js';
import { isScale, SCALES, type ScaleName, wordFor } from './scales.js';
import { type Stress, stressed, stressPairs } from './stresses.js';
import { turning, type Verdict, verdictOn } from './verdict.js';

export interface ClaimOptions {
  readonly contest?: string | null | undefined;
  /** `win` without it; `medal`, `advance`, `place:3`, `hold`, `beat:NAME`. */
  readonly to?: AskedTarget | null | undefined;
  readonly phrase?: string | null | undefined;
  /** `efsa` without it. */
  readonly scale?: string | null | undefined;
  /** Where precedents are looked for. */
  readonly history?: History | null | undefined;
  /** Told how many of so many chances have been worked out. */
  readonly onProgress?: ((done: number, of: number) => void) | undefined;
}

/** The chance when something is otherwise than the ranges say. */
export interface Stressed {
  readonly what: string;
  readonly chance: Chance;
}

export interface Claim {
  readonly contest: string | null;
  readonly contender: string | null;
  /** `pass the one ahead` where two equals are meant. */
  readonly target: Target | 'pass the one ahead';
  readonly chance: Chance;
  /** A bound on how wrong it can be. */
  readonly error: Chance;
  /** The lowest and the highest of it and of the stressed chances. */
  readonly chanceLow: Chance;
  readonly chanceHigh: Chance;
  /** `upper`: it is the chance to pass one rival, and to win cannot be likelier. */
  readonly bound: 'upper' | null;
  readonly scale: ScaleName;
  /** The word of the scale for the chance; null where it has none. */
  readonly term: string | null;
  /** The words it lies between then. */
  readonly between: readonly [string | null, string | null] | null;
  readonly phrase: string | null;
  /** The band the phrase claims, and what of it was read as that. */
  readonly claimed: Claimed | null;
  readonly verdict: Verdict | null;
  /** Which stresses change the verdict, each said after "if". */
  readonly dependsOn: readonly string[];
  readonly stresses: readonly Stressed[];
  /** How often it has been done before; null without a history, or where nobody was that far behind. */
  readonly precedent: Precedents | null;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** How much a gymnast's routines go together, and how that is sampled. */
const DAY_FORM = { dayForm: 0.3, sample: 100_000, seed: 1 };

/**
 * The chance of a target, how it moves under stress, and whether a phrase says it rightly. Throws
 * when `who` is nobody or out, when the target has no chance, and when the phrase or the scale is
 * not known.
 * @example
 * const { verdict, term } = claim(meet, 'brandt', { phrase: 'almost impossible' });
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
  const about = { who: contest.kind.ranks === 'teams' ? 'it' : meet.words.she, isHers };
  const stresses = stressesOf(meet, asked, about, options.onProgress);
  return {
    contest: contest.id,
    contender: contender.id,
    target: targetText(meet, target),
    bound: null,
    precedent: options.history ? precedentsFor(meet, asked, options.history) : null,
    ...judged(chance, stresses, read),
    error,
    caution: CAUTION,
  };
}

/** Whose chance of what. */
interface Asked {
  readonly contest: Contest;
  readonly id: string;
  readonly target: ParsedTarget;
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
export function judged(
  chance: number,
  stresses: readonly Stressed[],
  { scale, phrase, claimed }: Read,
) {
  const all = [chance, ...stresses.map((s) => s.chance)];
  const { term, between } = wordFor(SCALES[scale], chance);
  const verdict = claimed === null ? null : verdictOn(SCALES[scale], claimed, all);
  const turns =
    claimed === null || verdict !== 'borderline'
      ? []
      : turning(SCALES[scale], claimed, chance, all.slice(1));
  return {
    chance,
    chanceLow: Math.min(...all),
    chanceHigh: Math.max(...all),
    scale,
    term: term?.term ?? null,
    between:
      between === null ? null : ([between[0]?.term ?? null, between[1]?.term ?? null] as const),
    phrase,
    claimed,
    verdict,
    dependsOn: stresses.flatMap((s, i) => (turns[i] ? [s.what] : [])),
    stresses,
  };
}

/** The chance that `chances` gives, to the last digit. */
function fieldChance(meet: Meet, asked: Asked): { chance: number; error: number } {
  if (asked.target.kind === 'beat') return chanceToBeat(meet, asked);
  const count = placesAsked(meet, asked);
  const { contenders, error } = chances(meet, null, { contest: asked.contest.id });
  const { win, medal, advance, places } = contenders.find((c) => c.id === asked.id)!;
  const { medals } = asked.contest;
  if (count === null) return { chance: advance ?? 0, error };
  return {
    chance: count === 1 ? win : count === medals ? medal : sumOfFirst(places, count),
    error,
  };
}

/** The same where ranges are stressed. */
function chanceIn(meet: Meet, asked: Asked): number {
  if (asked.target.kind === 'beat') return chanceToBeat(meet, asked).chance;
  const model = modelOf(meet, findContest(meet, asked.contest.id));
  const found = placeChances(model, { advance: asked.target.kind === 'advance' });
  return chanceAmong(meet, model, found, asked);
}

/** Of what is asked, from the chances of everyone in a contest. */
function chanceAmong(
  meet: Meet,
  { entrants }: ContestModel,
  { places, advance }: Pick<PlaceChances, 'places' | 'advance'>,
  asked: Asked,
): number {
  const at = entrants.findIndex((e) => e.contender.id === asked.id);
  const count = placesAsked(meet, asked);
  return count === null ? (advance?.[at] ?? 0) : sumOfFirst(places[at] ?? [], count);
}

/** One of the first how many places; null where it is about going on, or one rival. */
function placesAsked(meet: Meet, { contest, target }: Asked): number | null {
  switch (target.kind) {
    case 'win':
    case 'lead':
      return 1;
    case 'medal':
      return contest.medals;
    case 'place':
      return target.place;
    case 'beat':
    case 'advance':
      return null;
    default:
      throw badUsage(
        'wrong-target',
        `a claim is about places and rivals, not about "${targetText(meet, target)}"`,
        'ask for win, medal, advance, place:3, hold or beat:NAME',
      );
  }
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

function chanceToBeat(
  meet: Meet,
  { contest, id, target }: Asked,
): { chance: number; error: number } {
  if (target.kind !== 'beat') throw new RangeError('no rival');
  const contender = contest.contenders.find((c) => c.id === id)!;
  const [routine] = routinesToCome(entryOf(contender, recordedPerformances(meet)));
  if (routine === undefined) {
    throw noAnswer(
      'nothing-to-come',
      `${contender.name} has finished`,
      `ask the other way round: claim ${target.id} --to beat:${id}`,
    );
  }
  const { points, error } = targetByScore(meet, contest, {
    contender: id,
    routine,
    target: { beat: target.id },
    when: 'end',
    margin: 0,
  });
  return { chance: meanOf(points) ?? 0, error };
}

/** One at a time, all that help and all that hurt together, and with day form. */
export function stressesOf(
  meet: Meet,
  asked: Asked,
  { who, isHers }: { readonly who: string; readonly isHers: (routine: number) => boolean },
  onProgress: ClaimOptions['onProgress'],
): Stressed[] {
  if (meet.results.every((r) => r !== null)) return [];
  const pairs = stressPairs(meet, who, isHers);
  const canSample = asked.target.kind !== 'beat';
  const of = pairs.length * 2 + 2 + (canSample ? 1 : 0);
  let done = 0;
  const ask = (stresses: readonly Stress[]) => {
    const chance = chanceIn(stressed(meet, stresses), asked);
    onProgress?.(++done, of);
    return chance;
  };
  const found = pairs.map((pair) =>
    pair.map((stress) => ({ stress, what: stress.what, chance: ask([stress]) })),
  );
  const better = (sign: number) =>
    found.map((pair) => pair.reduce((a, b) => (sign * b.chance > sign * a.chance ? b : a)).stress);
  const all: Stressed[] = found.flat().map(({ what, chance }) => ({ what, chance }));
  all.push({ what: 'all that hurts comes together', chance: ask(better(-1)) });
  all.push({ what: 'all that helps comes together', chance: ask(better(1)) });
  if (canSample) all.push({ what: 'good and bad days count', chance: withDayForm(meet, asked) });
  onProgress?.(of, of);
  return all;
}

function withDayForm(meet: Meet, asked: Asked): number {
  const model = modelOf(meet, findContest(meet, asked.contest.id));
  return chanceAmong(meet, model, samplePlaces(model, samplingOf(DAY_FORM)!), asked);
}
