/**
 * Some independent scores by what they are, the highest first: who can have each, of whom it is known, and
 * what it does to a sum of the best few (best.ts); also if one of them is supposed to have a certain score.
 */
import type { Units } from '../score.js';
import type { Grid } from '../scoring.js';
import { type Frame, type Term, termsOf } from './coordinates.js';
import type { Distribution } from './distribution.js';

/** One of them, if its score is so much. */
export interface Supposed {
  readonly who: number;
  readonly score: Units;
}

/** What a score adds to a sum. */
export interface Placed {
  readonly top: Units;
  readonly steps: number;
  readonly below: number;
}

/** A score that is known. */
interface Known extends Placed {
  readonly who: number;
}

/** A score of one to come, the term `at`: how likely it is, and a lower one. */
interface Move extends Known {
  readonly at: number;
  readonly bit: number;
  readonly chance: number;
  readonly lower: number;
}

/** Those who are known to have more: how many, who as bits, and what they add up to. */
interface Passed extends Placed {
  readonly count: number;
  readonly who: number;
}

/** A score somebody can have. */
export interface Level {
  readonly score: Units;
  readonly passed: Passed;
  readonly known: readonly Known[];
  readonly moves: readonly Move[];
}

/** The same in some case; `but`: the one it is supposed of, as a bit. */
export interface LevelIn extends Omit<Level, 'score'> {
  readonly but: number;
}

/** A case: the score that is supposed, of the term with that bit. */
export interface Case extends Known {
  readonly score: Units;
  readonly bit: number;
}

export interface Levels {
  readonly frame: Frame;
  /** Of those to come, and those of whom something is supposed. */
  readonly terms: readonly { readonly who: number; readonly bit: number; readonly top: Units }[];
  /** By case; null where nothing is supposed. */
  readonly cases: readonly (Case | null)[];
  /** The highest first. */
  readonly levels: readonly Level[];
  /** How far below the best a sum of the best few can be, and by how many steps a score moves it. */
  readonly height: number;
  readonly mostSteps: number;
}

/** The levels at which the last of the best `count` can be. */
export function levelsDown(
  distributions: readonly Distribution[],
  count: number,
  grid: Grid,
  supposed: readonly (Supposed | null)[],
): Levels {
  const isSupposed = new Set(supposed.map((one) => one?.who));
  const open = [...distributions.entries()].filter(
    ([who, { scores }]) => scores.length > 1 || isSupposed.has(who),
  );
  const { frame, terms, common } = commonTerms(
    grid,
    open.map(([, one]) => one),
  );
  const mostSteps = Math.max(0, ...terms.map((t) => t.mostSteps));
  const place = (score: Units) => placed(score, common, frame, mostSteps);
  const atOf = new Map(open.map(([who], at) => [who, at]));
  const cases = supposed.map((one): Case | null => {
    return one && { ...one, bit: 1 << (atOf.get(one.who) ?? 0), ...place(one.score) };
  });
  const found = new Map<Units, { known: Known[]; moves: Move[] }>();
  const levelAt = (score: Units) => {
    const level = found.get(score) ?? { known: [], moves: [] };
    found.set(score, level);
    return level;
  };
  for (const [who, { scores }] of distributions.entries()) {
    const at = atOf.get(who);
    const [score = 0] = scores;
    if (at === undefined) levelAt(score).known.push({ who, ...place(score) });
    else
      for (const [v, move] of movesOf(who, at, terms[at]).entries())
        levelAt(scores[v] ?? 0).moves.push(move);
  }
  for (const one of cases) if (one !== null) levelAt(one.score);
  const tops = [...cases, ...[...found.values()].flatMap(({ known }) => known)];
  const lows = distributions.map(({ scores }, who) =>
    supposed.reduce(
      (low, one) => (one?.who === who ? Math.min(low, one.score) : low),
      scores[0] ?? 0,
    ),
  );
  const least = lows
    .sort((a, b) => b - a)
    .slice(0, count)
    .reduce((a, b) => a + b, 0);
  const best = count * Math.max(common, ...tops.map((one) => one?.top ?? 0));
  const height = 1 + Math.floor((best + frame.step * count * mostSteps - least) / frame.period);
  return {
    frame,
    terms: open.map(([who], at) => ({ who, bit: 1 << at, top: terms[at]?.top ?? 0 })),
    cases,
    levels: downTo(count, found),
    height,
    mostSteps,
  };
}

/** The highest first, as long as fewer than so many are known to have more. */
function downTo(count: number, found: ReadonlyMap<Units, Pick<Level, 'known' | 'moves'>>): Level[] {
  const levels: Level[] = [];
  let passed: Passed = { count: 0, who: 0, top: 0, steps: 0, below: 0 };
  for (const [score, { known, moves }] of [...found].sort(([a], [b]) => b - a)) {
    if (passed.count >= count) break;
    levels.push({ score, passed, known, moves });
    passed = known.reduce(passedWith, passed);
  }
  return levels;
}

function passedWith(passed: Passed, { who, top, steps, below }: Known): Passed {
  return {
    count: passed.count + 1,
    who: passed.who | (1 << who),
    top: passed.top + top,
    steps: passed.steps + steps,
    below: passed.below + below,
  };
}

/** A level where one is supposed to have less, just that, or more, which is left to be added. */
export function levelIn(
  { passed, known, moves }: Level,
  one: Case,
  has: 'less' | 'level' | 'more',
): LevelIn {
  const beyond = { who: one.who, top: 0, steps: 0, below: 0 };
  return {
    passed: has === 'more' ? passedWith(passed, beyond) : passed,
    known: has === 'level' ? [...known, one] : known,
    moves: moves.filter(({ bit }) => bit !== one.bit),
    but: one.bit,
  };
}

/** Terms counted from one best score where they can be. */
function commonTerms(grid: Grid, distributions: readonly Distribution[]) {
  const { frame, terms } = termsOf(grid, distributions);
  const common = Math.max(0, ...terms.map(({ top }) => top));
  const lowered = terms.map((term): Term => {
    const by = (common - term.top) / frame.period;
    if (!Number.isInteger(by)) return term;
    const below = term.below.map((b) => b + by);
    return { ...term, top: common, below, mostBelow: term.mostBelow + by };
  });
  return { frame, terms: lowered, common };
}

/** A single score counted from there; from itself where it cannot be. */
function placed(score: Units, common: Units, frame: Frame, mostSteps: number): Placed {
  for (let steps = 0; steps <= mostSteps; steps++) {
    const below = (common - score + frame.step * steps) / frame.period;
    if (Number.isInteger(below) && below >= 0) return { top: common, steps, below };
  }
  return { top: score, steps: 0, below: 0 };
}

function movesOf(who: number, at: number, term: Term | undefined): Move[] {
  const { top = 0, steps = [], below = [], chances = [] } = term ?? {};
  let before = 0;
  return chances.map((chance, v) => {
    const lower = before;
    before += chance;
    const place = { top, steps: steps[v] ?? 0, below: below[v] ?? 0 };
    return { who, at, bit: 1 << at, chance, lower, ...place };
  });
}
