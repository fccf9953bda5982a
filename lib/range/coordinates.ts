/**
 * Scores in two whole numbers that add up. A score of three judges in tenths is 100 a + 33 b with
 * b = 0, 1 or 2, so a sum of them is 100 Σa + 33 Σb, and tables of sums need no room for the totals
 * in between that no sum can have. Here `below` counts whole periods (100) down from the best score,
 * and `steps` counts steps (33) up.
 */
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import type { Distribution } from './distribution.js';

/** What one routine, or one part of a total, can add to a sum. */
export interface Term {
  /** The score at 0 below and 0 steps. */
  readonly top: Units;
  /** By value, as the distribution has them. */
  readonly below: readonly number[];
  readonly steps: readonly number[];
  readonly chances: readonly number[];
  readonly mostBelow: number;
  readonly mostSteps: number;
}

/** total = Σ top - period · Σ below + step · Σ steps. */
export interface Frame {
  readonly period: Units;
  readonly step: Units;
}

/** What some terms add up to: the sum at 0 below and 0 steps, and up to how many of each there are. */
export function summedUp(terms: readonly Term[]): Pick<Term, 'top' | 'mostBelow' | 'mostSteps'> {
  let [top, mostBelow, mostSteps] = [0, 0, 0];
  for (const term of terms) {
    top += term.top;
    mostBelow += term.mostBelow;
    mostSteps += term.mostSteps;
  }
  return { top, mostBelow, mostSteps };
}

/** Single units: every score is so many below the best. */
const UNITS: Frame = { period: 1, step: 0 };

/** Terms of one sum on the grid; on single units where their scores do not fit the grid. */
export function termsOf(
  grid: Grid,
  distributions: readonly Distribution[],
): { readonly frame: Frame; readonly terms: readonly Term[] } {
  const form = formOf(grid);
  if (form !== null) {
    const terms = distributions.flatMap((d) => termOn(form, d) ?? []);
    // With more steps than a period has units, single units take less room.
    const isShort = 2 * summedUp(terms).mostSteps < form.period;
    if (terms.length === distributions.length && isShort) {
      return { frame: form, terms };
    }
  }
  const units = distributions.flatMap((d) => termOn({ ...UNITS, inverse: 0 }, d) ?? []);
  return { frame: UNITS, terms: units };
}

interface Form extends Frame {
  /** step · inverse leaves 1 when divided by the period; 0 where there are no steps. */
  readonly inverse: number;
}

/** The grid as period · a + step · b; null when its scores are not of that form. */
function formOf(grid: Grid): Form | null {
  const unit = (grid.stepMillionths * 10 ** grid.decimals) / 1e6;
  if (!Number.isInteger(unit)) return null;
  const common = greatestCommonDivisor(unit, grid.counting);
  const period = unit / common;
  const points = grid.counting / common;
  const step = Math.floor(period / points);
  for (let b = 0; b < points; b++) {
    if (Math.floor((b * period) / points) !== b * step) return null;
  }
  if (points === 1) return { period, step: 0, inverse: 0 };
  for (let inverse = 1; inverse < period; inverse++) {
    if ((inverse * step) % period === 1) return { period, step, inverse };
  }
  return null;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

/** Counted from 0.000, or from the lowest score where all are off the grid by the same amount. */
function termOn(form: Form, distribution: Distribution): Term | null {
  const lowest = Math.min(...distribution.scores);
  return termFrom(form, distribution, 0) ?? termFrom(form, distribution, lowest);
}

function termFrom(form: Form, { scores, chances }: Distribution, origin: Units): Term | null {
  const { period, step, inverse } = form;
  const steps: number[] = [];
  const periods: number[] = [];
  for (const score of scores) {
    const rest = (((score - origin) % period) + period) % period;
    const b = (rest * inverse) % period;
    if (b * step !== rest && (b * step) % period !== rest) return null;
    if (2 * b >= period) return null;
    steps.push(b);
    periods.push((score - origin - b * step) / period);
  }
  const most = Math.max(...periods);
  const below = periods.map((a) => most - a);
  return {
    top: origin + period * most,
    below,
    steps,
    chances,
    mostBelow: Math.max(...below),
    mostSteps: Math.max(...steps),
  };
}
