/**
 * Results where tie rules add something up over the parts of a total, such as the D scores that count:
 * the joint chances of both sums. What a part adds may depend on which of its scores count, and what that
 * is at equal totals is its mark (docs/model.md, "Results in order").
 */
import { type Meet, rangeAt } from '../../meet/meet.js';
import { bestByMark, type MarkOf, together } from '../../range/best.js';
import type { Distribution } from '../../range/distribution.js';
import { certain, sumOf } from '../../range/sum.js';
import { countsAll, type Part } from '../../rules/contender.js';
import { assumed, type Performances, type Performed } from '../../rules/entry.js';
import type { Units } from '../../score.js';
import { type ContestModel, type Entrant, totalOf } from '../model.js';
import { type OpenPart, partDistribution, scoresIn } from '../open-part.js';
import type { Member, Totals } from './enumerated.js';
import { type Results, rankOf, rankScale } from './results.js';

/** What one rule adds up is below half of this, either way; marks of so many rules are one number. */
const SPAN = 2 ** 26;
const MOST_RULES = 2;

/** What rules add up, in their order, as one number: marks add up, and the higher is ahead. */
type Mark = number;

type MarkIn = (part: Part, performances: Performances) => Mark;

/** By mark: what some parts can be worth with it, with the chances of both. */
type ByMark = ReadonlyMap<Mark, Distribution>;

/** There is room for so many results, were every set of scores that may count to add something else. */
const MOST_MARKED = 40_000_000;

/** What all rules of a model add up; null where one of them compares something else, and where that is too much. */
export function markIn(
  { rules, entrants }: ContestModel,
  members: readonly Member[],
): MarkIn | null {
  const added = rules.flatMap(({ addedBy }) => addedBy ?? []);
  const isAll = added.length === rules.length && rules.length <= MOST_RULES;
  const isSum = entrants.every(({ open }) => open.every(({ part }) => part.rule.kind === 'best'));
  if (!isAll || !isSum) return null;
  const totals = entrants.map((entrant) => totalOf(entrant).scores.length);
  const most = members.reduce((sum, { entrant, of }) => sum + (totals[of] ?? 0) * sets(entrant), 0);
  if (most > MOST_MARKED) return null;
  return (part, performances) =>
    added.reduce((mark, addedBy) => mark * SPAN + addedBy(part, performances), 0);
}

/** How many sets of its routines to come may count, where parts drop some. */
function sets({ open }: Entrant): number {
  return open.reduce((n, { part, toCome }) => (countsAll(part) ? n : n * 2 ** toCome.length), 1);
}

/** Everyone's results by total and mark. */
export function resultsByMark(
  members: readonly Member[],
  mark: MarkIn,
  { meet }: ContestModel,
  totals: Totals,
): Results[] {
  const found = members.map(({ entrant }) => ({
    fixed: entrant.fixed,
    decided: decidedMark(entrant, mark),
    sums: [...sumsOf(entrant.open, mark, meet)],
  }));
  const marks = new Set(found.flatMap(({ sums, decided }) => sums.map(([m]) => decided + m)));
  const keyOf = new Map([...marks].sort((a, b) => b - a).map((m, key) => [m, key]));
  const scale = rankScale(totals, keyOf.size);
  return found.map(({ fixed, decided, sums }) => {
    const count = sums.reduce((n, [, { scores }]) => n + scores.length, 0);
    const ranks = new Float64Array(count);
    const chances = new Float64Array(count);
    let n = 0;
    for (const [m, sum] of sums) {
      const key = keyOf.get(decided + m) ?? 0;
      chances.set(sum.chances, n);
      for (const score of sum.scores) ranks[n++] = rankOf(scale, fixed + score, key);
    }
    return { ranks, chances };
  });
}

/** What the decided parts add. */
function decidedMark({ contender, open, assumed: entry }: Entrant, mark: MarkIn): Mark {
  return contender.parts
    .filter((part) => open.every((one) => one.part !== part))
    .reduce((sum, part) => sum + mark(part, entry.performances), 0);
}

/** Parts never change, so what follows from them is worked out once. */
const ofParts = new WeakMap<OpenPart, ByMark>();
const ofSums = new WeakMap<readonly OpenPart[], ByMark>();

function sumsOf(open: readonly OpenPart[], mark: MarkIn, { scoring }: Meet): ByMark {
  const known = ofSums.get(open);
  if (known !== undefined) return known;
  let sums: ByMark = new Map([[0, certain(0)]]);
  for (const one of open) {
    const lists = new Map<Mark, Distribution[]>();
    for (const [m, sum] of sums) {
      for (const [more, value] of worthOf(one, mark)) {
        const list = lists.get(m + more) ?? [];
        lists.set(m + more, list);
        list.push(sumOf([sum, value], scoring.grid));
      }
    }
    sums = new Map([...lists].map(([m, list]) => [m, together(list)]));
  }
  ofSums.set(open, sums);
  return sums;
}

/** What a part can be worth, by its mark. */
function worthOf(open: OpenPart, mark: MarkIn): ByMark {
  const found = ofParts.get(open) ?? bestOf(open, mark);
  ofParts.set(open, found);
  return found;
}

function bestOf(open: OpenPart, mark: MarkIn): ByMark {
  const { part, known, toCome, meet } = open;
  const shown = [...known, ...toCome.map((i) => assumed(0, rangeAt(meet, i).d))];
  const alone = { ...part, routines: [...shown.keys()] };
  const { rule } = part;
  if (rule.kind !== 'best' || shown.length <= rule.count)
    return new Map([[mark(alone, shown), partDistribution(open)]]);
  const marks = new Map<string, Mark>();
  // Of what they score only the order decides which count, and so what they add.
  const markOf: MarkOf = (above, level) => {
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
  return bestByMark(scoresIn(open), rule.count, meet.scoring.grid, markOf);
}

/** The same routine with another score: what is taken off and the D score stay as they are. */
function scoring({ score, d, e }: Performed, other: Units): Performed {
  return { score: other, d, e: typeof e === 'number' ? e - score + other : e };
}
