/**
 * Results where tie rules add something up over the parts of a total, such as the D scores that count:
 * by total and mark (marks.ts), with the joint chances of both (docs/model.md, "Results in order").
 */
import { rangeAt } from '../../meet/meet.js';
import { type ByMark, bestByMark } from '../../range/best.js';
import { sumByMark } from '../../range/by-mark.js';
import { type Results, rankOf, rankScale } from '../../range/rank-scale.js';
import { countsAll } from '../../rules/contender.js';
import { assumed } from '../../rules/entry.js';
import {
  type Mark,
  type MarkIn,
  markByOrder,
  markIn,
  markOfCarried,
} from '../../rules/ties/marks.js';
import type { Grid } from '../../scoring.js';
import { type ContestModel, type Entrant, totalOf } from '../model.js';
import { countIn, type OpenPart, scoresIn, workedOut } from '../open-part.js';
import type { Member, Totals } from './enumerated.js';

/** There is room for so many results, were every set of scores that may count to add something else. */
const MOST_MARKED = 40_000_000;

/** What the rules of a model add up; null where they do more than that, and where there is no room. */
export function markFor(
  { rules, entrants }: ContestModel,
  members: readonly Member[],
): MarkIn | null {
  const isSum = entrants.every(({ open }) => open.every(({ part }) => part.rule.kind === 'best'));
  const totals = entrants.map((entrant) => totalOf(entrant).scores.length);
  const most = members.reduce((sum, { entrant, of }) => sum + (totals[of] ?? 0) * sets(entrant), 0);
  return isSum && most <= MOST_MARKED ? markIn(rules) : null;
}

/** How many sets of its routines to come may count, where parts drop some. */
function sets({ open }: Entrant): number {
  return open.reduce((n, { part, toCome }) => (countsAll(part) ? n : n * 2 ** toCome.length), 1);
}

/** Everyone's results by total and mark. */
export function resultsByMark(
  members: readonly Member[],
  mark: MarkIn,
  { meet, rules }: ContestModel,
  totals: Totals,
): Results[] {
  const found = members.map(({ entrant }) => ({
    fixed: entrant.fixed,
    decided: decidedMark(entrant, mark) + markOfCarried(rules, entrant.contender.carried),
    sums: [...sumsOf(entrant.open, mark, meet.scoring.grid)],
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

function sumsOf(open: readonly OpenPart[], mark: MarkIn, grid: Grid): ByMark {
  const found =
    ofSums.get(open) ??
    sumByMark(
      open.map((one) => worthOf(one, mark)),
      grid,
    );
  ofSums.set(open, found);
  return found;
}

/** What a part can be worth, by its mark. */
function worthOf(open: OpenPart, mark: MarkIn): ByMark {
  return workedOut(ofParts, open, (of, cases) => {
    const { part, known, toCome, meet } = of;
    const shown = [...known, ...toCome.map((i) => assumed(0, rangeAt(meet, i).d))];
    const markOf = markByOrder(mark, part, shown);
    return bestByMark(scoresIn(of), countIn(of), meet.scoring.grid, cases, markOf);
  });
}
