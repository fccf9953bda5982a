/** Everyone's chances at one moment of the evening. */
import type { Chance } from '../chance.js';
import { contenderChances } from '../chances/contender-chances.js';
import { type ContestModel, modelOf, totalOf } from '../chances/model.js';
import { type PlaceChances, type PlaceQuestion, placeChances } from '../chances/place-chances.js';
import type { Contest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { isQuick, medalPlaces } from '../needs/quick-chances.js';
import type { TieRuleName } from '../rules/ties/index.js';

/** The chances of one at one moment. */
export interface ChancesThen {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** Of first place, as it was then. */
  readonly win: Chance;
  /** Of a medal, as it was then. */
  readonly medal: Chance;
  /** Null where nobody advances from the contest. */
  readonly advance: Chance | null;
}

/** What was known at one moment. */
export interface Moment {
  /** In start order. */
  readonly chances: readonly ChancesThen[];
  /** A bound on how wrong a chance can be. */
  readonly error: number;
  /** Tie rules that somebody lacks the data for, and so nobody is ranked by. */
  readonly skipped: readonly TieRuleName[];
}

/** So many routines to come take no time, however many each has. */
const FEW = 24;

/** With much to come ties on total are not told apart, as long as no chance is wrong by more. */
const ROUGH = 0.005;

/** Else this error is aimed at, so that tenths of a percent can be read out. */
const FINE = 0.004;

/** Of win, medal and going on, from the meet as it stood. Throws where a range is missing. */
export function momentOf(meet: Meet, contest: Contest): Moment {
  const model = modelOf(meet, contest);
  const { places, advance, error } = chancesIn(model);
  const totals = model.entrants.map(totalOf);
  const all = contenderChances(model, { places, advance, totals, error });
  return {
    chances: all.map(({ id, win, medal, advance }) => ({ id, win, medal, advance })),
    error,
    skipped: model.skipped.map((rule) => rule.name),
  };
}

/** As a score in its place has them where they take no time; else roughly, and finer where that is too rough. */
function chancesIn(model: ContestModel): PlaceChances {
  const { meet, contest } = model;
  const asked: PlaceQuestion = { advance: true, among: medalPlaces(contest) };
  const toCome = model.entrants.reduce((n, e) => n + e.toCome.length, 0);
  if (toCome <= FEW || isQuick(meet, contest.contenders)) return placeChances(model, asked);
  const rough = placeChances(model, { ...asked, isByTotal: true });
  if (rough.error <= ROUGH) return rough;
  return placeChances(model, { ...asked, mostResults: 0, wanted: FINE });
}
