/** Chances in words that can be read out, and what is certain. */
import { CAUTION } from '../caution.js';
import type { Chances } from '../chances/chances.js';
import type { Contest } from '../contest/contest.js';
import type { Settled } from '../contest/settled.js';
import { goalWords } from './goals.js';
import { type Sentence, sentence } from './report.js';
import { listed, ordinal, ruleInWords } from './words.js';

/** Chances, and what is at stake, are said from this much on. */
export const WORTH_SAYING = 0.001;

/** With a larger error than this a tenth of a percent cannot be read out. */
const FOR_TENTHS = 0.0005;

/** A computed chance, with no more digits than its error warrants, and never a false 0 or 100. */
export function percentWithin(chance: number, error: number): string {
  const digits = error <= FOR_TENTHS ? 1 : 0;
  const least = 10 ** -digits / 100;
  // Nothing is impossible, or sure, because it never came up in a sample.
  if (chance < least)
    return chance === 0 && digits === 1 ? '0%' : `<${digits === 1 ? '0.1' : '1'}%`;
  if (chance > 1 - least) {
    return chance === 1 && digits === 1 ? '100%' : `>${digits === 1 ? '99.9' : '99'}%`;
  }
  return `${(chance * 100).toFixed(digits)}%`;
}

/** With a larger error than this a chance of exactly 0 or 1 may be one that is only near it. */
export const FOR_CERTAIN = 1e-9;

/**
 * A chance that may turn out to be none at all, or a certainty: those are said as that, where they
 * were calculated and not sampled.
 */
export function chanceInWords(chance: number, error: number): string {
  if (error <= FOR_CERTAIN && (chance === 0 || chance === 1)) {
    return chance === 1 ? 'certain' : 'no chance';
  }
  return unsettled(chance, error);
}

/** Of what is not settled nobody is told that it is impossible, or sure. */
export function unsettled(chance: number, error: number): string {
  return percentWithin(Math.min(Math.max(chance, Number.MIN_VALUE), 1 - Number.EPSILON), error);
}

/** Which tie rules chances had to do without. */
export function skippedInChances(rules: readonly string[]): string {
  const names = listed(rules.map(ruleInWords));
  return `Ties are decided without ${names}: not everyone has the scores for that.`;
}

/** "a medal is secured, whatever anyone scores"; "through, whatever anyone scores" */
export function settledInWords(contest: Contest, settled: Settled, place: number | null): string {
  const { target, status, by } = settled;
  const isSecured = status === 'secured';
  const sense =
    by === 'limit'
      ? 'whatever anyone scores'
      : 'as long as everyone stays within their ranges, falls included';
  if (target === 'advance') return `${isSecured ? 'through' : 'cannot go through'}, ${sense}`;
  const held = place === null ? 'the place' : `${ordinal(place)} or better`;
  const what = target === 'hold' ? held : (goalWords(contest, target)?.what ?? target);
  return `${what} is ${isSecured ? 'secured' : 'out of reach'}, ${sense}`;
}

/** Where chances come from, and how far the sums may be off: no more is known than the ranges say. */
export function whereFrom({ method, error }: Pick<Chances, 'method' | 'error'>): string {
  if (method === 'sampled') {
    return `The chances come from so many meets drawn at random from the ranges, with a standard error of ${errorWords(error)}.`;
  }
  const within = error < 1e-9 ? '' : `, to within ${errorWords(error)}`;
  return `The chances are worked out from the ranges${within}.`;
}

/** Under every table with chances. */
export function caution(): Sentence {
  return sentence(CAUTION, 'quiet');
}

/** 0.03%, 0.4%, 2%. */
function errorWords(error: number): string {
  const percents = error * 100;
  const digits = percents >= 1 ? 0 : percents >= 0.1 ? 1 : percents >= 0.01 ? 2 : 3;
  const rounded = Math.ceil(percents * 10 ** digits) / 10 ** digits;
  return `${rounded.toFixed(digits)}%`;
}
