/** What rules that add something up over the parts of a total compare, as one number: a mark. */
import type { Units } from '../../score.js';
import type { Part } from '../contender.js';
import type { Performances, Performed } from '../entry.js';
import type { TieRule } from './tie-rule.js';

/** What one rule adds up is below half of this, either way; marks of so many rules are one number. */
const SPAN = 2 ** 26;
const MOST_RULES = 2;

/** What rules add up, in their order: marks of parts add up, and the higher is ahead. */
export type Mark = number;

export type MarkIn = (part: Part, performances: Performances) => Mark;

/** What all of some rules add up; null where one of them compares something else. */
export function markIn(rules: readonly TieRule[]): MarkIn | null {
  const added = rules.flatMap(({ addedBy }) => addedBy ?? []);
  if (added.length < rules.length || rules.length > MOST_RULES) return null;
  return (part, performances) =>
    added.reduce((mark, addedBy) => mark * SPAN + addedBy.part(part, performances), 0);
}

/** What points carried in add to that. */
export function markOfCarried(rules: readonly TieRule[], carried: Units): Mark {
  return rules.reduce((mark, { addedBy }) => mark * SPAN + (addedBy?.carried(carried) ?? 0), 0);
}

/**
 * The mark of a part by who of `shown`, its routines, has a higher score than the last that counts, and
 * who has just that, as bits: of what they score only the order decides which count, and what they add.
 */
export function markByOrder(
  mark: MarkIn,
  part: Part,
  shown: readonly Performed[],
): (above: number, level: number) => Mark {
  const alone = { ...part, routines: [...shown.keys()] };
  const marks = new Map<string, Mark>();
  return (above, level) => {
    const name = `${above} ${level}`;
    const at = (i: number) => ((above >> i) & 1) * 2 + ((level >> i) & 1);
    const found =
      marks.get(name) ??
      mark(
        alone,
        shown.map((one, i) => scoring(one, at(i))),
      );
    marks.set(name, found);
    return found;
  };
}

/** The same routine with another score: what is taken off and the D score stay as they are. */
function scoring({ score, d, e }: Performed, other: Units): Performed {
  return { score: other, d, e: typeof e === 'number' ? e - score + other : e };
}
