/**
 * Tie rules. One tie is resolved as a whole: all who are level on total are compared together, and
 * a rule for which one of them lacks the data is skipped for all of them.
 */
import type { Score } from '../score.js';
import type { TieRule } from '../scoring.js';
import type { Part } from './contest.js';
import { type Component, type Entry, type Performed, performedIn } from './total.js';

/**
 * What a rule compares, most important first, higher is better; `unrecorded` where the data will
 * never be there; `unknown` where it depends on a routine nobody has seen.
 */
export type TieKey = readonly Score[] | 'unrecorded' | 'unknown';

/** What a rule looks at in one entry. */
export function tieKey(rule: TieRule, entry: Entry): TieKey {
  return KEYS[rule](entry);
}

/** One entry here, its name in TIE_RULES, and a rule exists. */
const KEYS: Readonly<Record<TieRule, (entry: Entry) => TieKey>> = {
  'best-scores': bestScores,
  execution: (entry) => sumOf(entry, 'e'),
  difficulty: (entry) => sumOf(entry, 'd'),
  'best-vault': bestVault,
};

/**
 * The highest sum of the best n-1 part values, then n-2, … 1 (FIG Technical Regulations 2012). Sets
 * of different sizes give keys of different lengths, and those are not compared.
 */
function bestScores(entry: Entry): TieKey {
  if (entry.contender.carried > 0) return 'unrecorded';
  const values = entry.parts.filter((v) => v !== null).sort((a, b) => b - a);
  const sums: Score[] = [];
  let sum = 0;
  for (const value of values.slice(0, -1)) {
    sum += value;
    sums.unshift(sum);
  }
  return sums;
}

/** The sum of one component over the routines that count. */
function sumOf(entry: Entry, which: 'd' | 'e'): TieKey {
  // Whose total is all carried in has E and D scores, but none are recorded here.
  if (entry.contender.carried > 0 && entry.done === 0) return 'unrecorded';
  let sum = 0;
  let unknown = false;
  for (const part of entry.contender.parts) {
    for (const routine of countingIn(part, entry, which)) {
      const component = routine[which];
      if (component === 'unrecorded') return 'unrecorded';
      if (component === 'unknown') unknown = true;
      else sum += component;
    }
  }
  return unknown ? 'unknown' : [sum];
}

/** The routines of a part that count; of equal scores the one with the higher component. */
function countingIn(part: Part, entry: Entry, which: 'd' | 'e'): Performed[] {
  const performed = performedIn(part, entry.performances);
  if (part.rule.kind === 'mean' || performed.length <= part.rule.count) return performed;
  // What nobody has seen yet may turn out the higher one, so the sum is not known either.
  const rank = (c: Component) => (typeof c === 'number' ? c : c === 'unknown' ? 1e9 : -1e9);
  performed.sort((a, b) => b.score - a.score || rank(b[which]) - rank(a[which]));
  return performed.slice(0, part.rule.count);
}

/** The higher single vault (12 of 12 pairs in the open data; AP, 19 June 2012). */
function bestVault(entry: Entry): TieKey {
  const means = entry.contender.parts.filter((p) => p.rule.kind === 'mean');
  if (means.length === 0) return 'unrecorded';
  return means.map((part) =>
    Math.max(...performedIn(part, entry.performances).map((p) => p.score)),
  );
}

/** How two who are level compare: 1 when the first is ahead, `open` when nobody can know yet. */
export interface Comparison {
  readonly order: -1 | 0 | 1 | 'open';
  /** The rule that decides, or on which it depends. */
  readonly by: TieRule | null;
}

/** The tie between all who are level on one total. */
export interface Tie {
  readonly skipped: readonly TieRule[];
  readonly compare: (a: Entry, b: Entry) => Comparison;
}

const SHARED: Comparison = { order: 0, by: null };

export function tieBetween(level: readonly Entry[], rules: readonly TieRule[]): Tie {
  // Rules rank finished sets.
  if (level.length < 2 || level.some((e) => e.unfinished)) {
    return { skipped: [], compare: () => SHARED };
  }
  const skipped: TieRule[] = [];
  const applied: { rule: TieRule; keys: ReadonlyMap<Entry, TieKey> }[] = [];
  for (const rule of rules) {
    const keys = new Map(level.map((entry) => [entry, KEYS[rule](entry)] as const));
    if (!lacksData([...keys.values()])) applied.push({ rule, keys });
    else if (level.some((a) => level.some((b) => a !== b && compare(a, b).order === 0))) {
      // A rule that is not reached is not said to be skipped.
      skipped.push(rule);
    }
  }
  return { skipped, compare };

  function compare(a: Entry, b: Entry): Comparison {
    for (const { rule, keys } of applied) {
      const order = compareKeys(keys.get(a) ?? 'unknown', keys.get(b) ?? 'unknown');
      if (order !== 0) return { order, by: rule };
    }
    return SHARED;
  }
}

function lacksData(keys: readonly TieKey[]): boolean {
  if (keys.includes('unrecorded')) return true;
  const sizes = new Set(keys.filter((k) => k !== 'unknown').map((k) => k.length));
  return sizes.size > 1;
}

function compareKeys(a: TieKey, b: TieKey): -1 | 0 | 1 | 'open' {
  if (typeof a === 'string' || typeof b === 'string') return 'open';
  for (const [i, value] of a.entries()) {
    const other = b[i] ?? 0;
    if (value !== other) return value > other ? 1 : -1;
  }
  return 0;
}

/** What one rule says of two by themselves. */
export function comparePair(a: Entry, b: Entry, rule: TieRule): -1 | 0 | 1 | 'open' | 'skipped' {
  const keys = [KEYS[rule](a), KEYS[rule](b)] as const;
  return lacksData(keys) ? 'skipped' : compareKeys(...keys);
}

/** Whether a third, level with two others, has a rule skipped for all of them: surely, or perhaps. */
export function thirdSkips(
  rule: TieRule,
  a: Entry,
  b: Entry,
  third: Entry,
): 'never' | 'perhaps' | 'surely' {
  const key = KEYS[rule](third);
  if (lacksData([KEYS[rule](a), KEYS[rule](b), key])) return 'surely';
  return key === 'unknown' ? 'perhaps' : 'never';
}
