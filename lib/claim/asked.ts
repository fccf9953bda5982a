/** The chance a claim is about: computed, with other ranges, and with good and bad days. */
import { type Chances, chances } from '../chances/chances.js';
import { type ContestModel, modelOf } from '../chances/model.js';
import type { PlaceChances } from '../chances/place-chances.js';
import { samplingOf } from '../chances/sampled/options.js';
import { samplePlaces } from '../chances/sampled/sampled.js';
import { sumOfFirst } from '../chances/sweep/places.js';
import { type Contest, findContest } from '../contest/contest.js';
import { routinesToCome } from '../contest/standings.js';
import { badUsage, noAnswer } from '../error.js';
import { wilson } from '../history/wilson.js';
import { type Meet, routineAt } from '../meet/meet.js';
import { meanOf } from '../needs/likely.js';
import { fieldChances } from '../needs/quick-chances.js';
import { type ParsedTarget, targetText } from '../needs/target.js';
import { targetByScore } from '../needs/target-curve.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';

/** Whose chance of what. */
export interface Asked {
  readonly contest: Contest;
  readonly id: string;
  readonly target: ParsedTarget;
}

/** A chance, and how low and how high it can be. */
export interface WithinBounds {
  readonly chance: number;
  readonly low: number;
  readonly high: number;
}

/** With a smaller error than this a chance is taken to be what was computed. */
const EXACT = 1e-9;

/** A computed chance, within its bound of error. */
export function withinError(chance: number, error: number): WithinBounds {
  if (error <= EXACT) {
    // So near to none at all, or to a certainty, that it is only rounding.
    const bound = chance <= error ? 0 : chance >= 1 - error ? 1 : chance;
    return { chance, low: bound, high: bound };
  }
  return { chance, low: Math.max(chance - error, 0), high: Math.min(chance + error, 1) };
}

/** The chance that `chances` gives, to the last digit. */
export function fieldChance(meet: Meet, asked: Asked): { chance: number; error: number } {
  if (asked.target.kind === 'beat') return chanceToBeat(meet, asked);
  const found = chances(meet, null, { contest: asked.contest.id });
  return { chance: chanceOf(found, meet, asked), error: found.error };
}

/** The same where ranges are stressed. */
export function chanceIn(meet: Meet, asked: Asked): WithinBounds {
  if (asked.target.kind === 'beat') {
    const { chance, error } = chanceToBeat(meet, asked);
    return withinError(chance, error);
  }
  const count = placesAsked(meet, asked);
  const question = count === null ? {} : { among: [count], advance: false };
  const found = fieldChances(meet, findContest(meet, asked.contest.id), question);
  return withinError(chanceOf(found, meet, asked), found.error);
}

/** The chance that is asked about, among everyone's: exactly 0 or 1 where that is settled. */
function chanceOf({ contenders }: Pick<Chances, 'contenders'>, meet: Meet, asked: Asked): number {
  const count = placesAsked(meet, asked);
  const { win, medal, advance, places } = contenders.find((c) => c.id === asked.id)!;
  if (count === null) return advance ?? 0;
  return count === 1 ? win : count === asked.contest.medals ? medal : sumOfFirst(places, count);
}

/** The chance that is asked about, from meets that were drawn. */
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
export function placesAsked(meet: Meet, { contest, target }: Asked): number | null {
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

/** How much a gymnast's routines go together, and how that is sampled (docs/claims.md). */
export const DAY_FORM = { dayForm: 0.07, sample: 100_000, seed: 1 };

/** Whether good and bad days change anything: somebody has two routines to come in the contest. */
export function hasDays(meet: Meet, contest: Contest): boolean {
  const toCome = new Set(
    contest.contenders.flatMap((c) => routinesToCome(entryOf(c, recordedPerformances(meet)))),
  );
  const gymnasts = [...toCome].map((i) => routineAt(meet, i).gymnast);
  return new Set(gymnasts).size < gymnasts.length;
}

/** The chance with day form: drawn, and so as sure as so many meets make it. */
export function chanceWithDayForm(meet: Meet, asked: Asked): WithinBounds {
  const model = modelOf(meet, findContest(meet, asked.contest.id));
  const drawn = samplePlaces(model, samplingOf(DAY_FORM)!);
  const chance = chanceAmong(meet, model, drawn, asked);
  const [low, high] = wilson(Math.round(chance * drawn.samples), drawn.samples);
  return { chance, low, high };
}
