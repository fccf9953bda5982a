/** Whether her score will count where the lowest are dropped, and what a fall costs then. */
import type { Chance } from '../chance.js';
import { rankEntries } from '../contest/board.js';
import { type CountedScore, countedScores } from '../contest/counting.js';
import { isScored, isToCome, limitAt, type Meet, rangeAt, routineAt } from '../meet/meet.js';
import { chanceOfAtLeast, distributionIn } from '../range/distribution.js';
import { type Part, scoresDropped } from '../rules/contender.js';
import { assumed, type Performances } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score, type Units } from '../score.js';
import { gridAtOrAbove } from '../scoring.js';
import type { Asked } from './need.js';
import { buildScenario } from './scenario.js';

/** Whose score, and how much. */
export interface ScoreOf {
  /** Whose it is, by id. */
  readonly gymnast: string;
  /** How much it is. */
  readonly score: Score;
}

/** From which score on hers counts. */
export interface CountsFrom {
  /** The lowest score that counts and changes the total; 0 where any counts. */
  readonly from: Score;
  /** The lowest real score that does; null beyond the limit. */
  readonly onGrid: Score | null;
  /** The chance, by her range, of at least `from`; null when her range is missing. */
  readonly reach: Chance | null;
  /** The score it must be above; null where any counts. */
  readonly over: ScoreOf | null;
}

/** What a fall takes off the team's total, from her likely. */
export interface FallCost {
  /** What the team's total is lower by, 0 where nothing. */
  readonly costs: Score;
  /** The score that counts after a fall instead of hers; null where hers counts then too. */
  readonly instead: ScoreOf | null;
}

/** Of a routine on an apparatus where a team drops its lowest scores. */
export interface Counting {
  /** How many scores count there. */
  readonly count: number;
  /** How many there will be, hers and those to come with them; a withdrawal brings none. */
  readonly of: number;
  /** Those so far, the highest first; of equal ones the first up counts. */
  readonly scores: readonly CountedScore[];
  /** Team-mates whose score there is still to come, in the order they go up. */
  readonly toCome: readonly string[];
  /** With the scores so far; `over` is the one that hers would push out. */
  readonly now: CountsFrom;
  /** Whatever follows, up to the limit, and whatever an inquiry changes; null where no score is certain to. */
  readonly certain: CountsFrom | null;
  /** Null when her likely is not known. */
  readonly fall: {
    /** Her likely less one fall. */
    readonly score: Score;
    /** With the scores so far. */
    readonly now: FallCost;
    /** Once those to come have scored their likely; null without any, and where one is not known. */
    readonly expected: FallCost | null;
  } | null;
  /** Where the team ends whatever she scores here, all else as expected; null where that depends on it. */
  readonly place: {
    /** Counted from 1, on the board at the end. */
    readonly place: number;
    /** Shares it. */
    readonly tied: boolean;
  } | null;
}

/** Null where no score of the routine's part can be dropped. */
export function countingOf(meet: Meet, asked: Asked, d: Score | null): Counting | null {
  const { contender, routine } = asked;
  const part = contender.parts.find((p) => p.routines.includes(routine));
  if (part === undefined || part.rule.kind !== 'best' || scoresDropped(part) === 0) return null;
  const { count } = part.rule;
  const recorded = recordedPerformances(meet);
  const scores = countedScores(meet, part, recorded);
  const toCome = part.routines
    .filter((i) => i !== routine && isToCome(meet, i))
    .sort((a, b) => a - b);
  return {
    count,
    of: scores.length + 1 + toCome.length,
    scores,
    toCome: toCome.map((i) => routineAt(meet, i).gymnast),
    now: countsAbove(meet, routine, scores[count - 1]),
    certain: certainly(meet, part, routine, count),
    fall: fallCosts(meet, { part, routine, toCome }, recorded),
    place: samePlace(meet, asked, d),
  };
}

/** Hers counts above a score; where there is none, any does. */
function countsAbove(meet: Meet, routine: number, edge: CountedScore | undefined): CountsFrom {
  const from = asScore(edge === undefined ? 0 : edge.score + 1);
  const onGrid = asScore(gridAtOrAbove(from, meet.scoring.grid));
  const distribution = distributionIn(meet, rangeAt(meet, routine));
  return {
    from,
    onGrid: onGrid > limitAt(meet, routine) ? null : onGrid,
    reach: distribution === null ? null : chanceOfAtLeast(distribution, from),
    over: edge === undefined ? null : scoreOf(edge),
  };
}

const scoreOf = ({ gymnast, score }: ScoreOf): ScoreOf => ({ gymnast, score });

/** Everyone whose score may still come or change could end above her. */
function certainly(meet: Meet, part: Part, routine: number, count: number): CountsFrom | null {
  const firm = part.routines.filter((i) => {
    const result = meet.results[i];
    return isScored(result) && !result.underInquiry;
  });
  const open = part.routines.filter((i) => {
    const result = meet.results[i];
    return i !== routine && (isToCome(meet, i) || (isScored(result) && result.underInquiry));
  });
  const left = count - open.length;
  if (left <= 0) return null;
  const standing = countedScores(meet, { ...part, routines: firm }, recordedPerformances(meet));
  return countsAbove(meet, routine, standing[left - 1]);
}

interface Fallen {
  readonly part: Part;
  readonly routine: number;
  readonly toCome: readonly number[];
}

function fallCosts(
  meet: Meet,
  { part, routine, toCome }: Fallen,
  recorded: Performances,
): Counting['fall'] {
  const { likely } = rangeAt(meet, routine);
  if (likely === null || meet.scoring.fall === 0) return null;
  const score = asScore(Math.max(likely - meet.scoring.fall, 0));
  const { gymnast } = routineAt(meet, routine);
  const costIn = (performances: Performances): FallCost => {
    const withScore = (hers: Units) =>
      countedScores(meet, part, performances.with(routine, assumed(hers, null))).filter(
        (s) => s.counts,
      );
    const sum = (counted: readonly CountedScore[]) => counted.reduce((all, s) => all + s.score, 0);
    const fallen = withScore(score);
    const lowest = fallen.at(-1);
    const isHers = fallen.some((s) => s.gymnast === gymnast);
    return {
      costs: asScore(sum(withScore(likely)) - sum(fallen)),
      instead: isHers || lowest === undefined ? null : scoreOf(lowest),
    };
  };
  const expected = [...recorded];
  for (const i of toCome) {
    const { likely: theirs } = rangeAt(meet, i);
    if (theirs === null) return { score, now: costIn(recorded), expected: null };
    expected[i] = assumed(theirs, null);
  }
  return {
    score,
    now: costIn(recorded),
    expected: toCome.length === 0 ? null : costIn(expected),
  };
}

/** No score moves her down, so where 0.000 and the limit bring one place all between them do. */
function samePlace(
  meet: Meet,
  { contest, contender, routine }: Asked,
  d: Score | null,
): Counting['place'] {
  const scenario = buildScenario(meet, contest, contender, routine, {
    when: 'end',
    rivals: 'likely',
    rest: 'likely',
    d,
  });
  if (scenario.missing.length > 0) return null;
  const placeWith = (score: Units) => {
    const { rows } = rankEntries([...scenario.others, scenario.her(score)], contest.ties);
    const row = rows.find((r) => r.entry.contender === contender);
    return row?.place == null ? null : { place: row.place, tied: row.tied };
  };
  const [lowest, highest] = [placeWith(0), placeWith(limitAt(meet, routine))];
  if (lowest === null || highest === null) return null;
  return lowest.place === highest.place && lowest.tied === highest.tied ? lowest : null;
}
