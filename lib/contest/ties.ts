/**
 * Ties. One tie is resolved as a whole: all who are level on total are compared together, and a rule
 * for which one of them lacks the data is skipped for all of them.
 */
import type { Entry } from '../rules/entry.js';
import type { TieRuleName } from '../rules/ties/index.js';
import type { TieKey, TieRule as TieRuleRecord } from '../rules/ties/tie-rule.js';

type TieRule = TieRuleRecord<TieRuleName>;

/** How two who are level compare: 1 when the first is ahead, `open` when nobody can know yet. */
export interface Comparison {
  readonly order: -1 | 0 | 1 | 'open';
  /** The rule that decides, or on which it depends. */
  readonly by: TieRuleName | null;
}

/** The tie between all who are level on one total. */
export interface Tie {
  readonly skipped: readonly TieRuleName[];
  readonly compare: (a: Entry, b: Entry) => Comparison;
}

const SHARED: Comparison = { order: 0, by: null };

export function tieBetween(level: readonly Entry[], rules: readonly TieRule[]): Tie {
  // Rules rank finished sets.
  if (level.length < 2 || level.some((e) => e.unfinished)) {
    return { skipped: [], compare: () => SHARED };
  }
  const skipped: TieRuleName[] = [];
  const applied: { rule: TieRule; keys: ReadonlyMap<Entry, TieKey> }[] = [];
  for (const rule of rules) {
    const keys = new Map(level.map((entry) => [entry, rule.key(entry)] as const));
    if (!lacksData([...keys.values()])) applied.push({ rule, keys });
    else if (level.some((a) => level.some((b) => a !== b && compare(a, b).order === 0))) {
      // A rule that is not reached is not said to be skipped.
      skipped.push(rule.name);
    }
  }
  return { skipped, compare };

  function compare(a: Entry, b: Entry): Comparison {
    for (const { rule, keys } of applied) {
      const order = compareKeys(keys.get(a) ?? 'unknown', keys.get(b) ?? 'unknown');
      if (order !== 0) return { order, by: rule.name };
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
  const keys = [rule.key(a), rule.key(b)] as const;
  return lacksData(keys) ? 'skipped' : compareKeys(...keys);
}

/** Whether a third, level with two others, has a rule skipped for all of them: surely, or perhaps. */
export function thirdSkips(
  rule: TieRule,
  a: Entry,
  b: Entry,
  third: Entry,
): 'never' | 'perhaps' | 'surely' {
  const key = rule.key(third);
  if (lacksData([rule.key(a), rule.key(b), key])) return 'surely';
  return key === 'unknown' ? 'perhaps' : 'never';
}
