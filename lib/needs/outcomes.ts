/** `outcomes`: her next score in bands, and the place each brings. */

import { CAUTION } from '../caution.js';
import { type Chance, summedChance } from '../chance.js';
import { type Contest, findContest } from '../contest/contest.js';
import { tieBetween } from '../contest/ties.js';
import { findContender } from '../contest/who.js';
import { noAnswer } from '../error.js';
import { limitAt, type Meet, type Routine, rangeAt } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { derived } from '../meet/sound.js';
import { type Distribution, distributionIn } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { asScore, type Score, type Units } from '../score.js';
import { endCurves, meanOf, withD } from './likely.js';
import { lowestReaching, lowestWith } from './mark.js';
import { buildScenario, missingAt, type Scenario } from './scenario.js';
import { askedRoutine, type NeedsOptions } from './sheet.js';
import { checkedOptions, completeQuestion, type Rivals, type When } from './target.js';
import type { TargetPoint } from './target-curve.js';

/** Scores from one to another that bring the same place. */
export interface Band {
  /** The lowest score of the band; 0 in the last. */
  readonly from: Score;
  /** Of the first band the limit: no score is above it. */
  readonly to: Score;
  /** On the board the question asks for, counted from 1. */
  readonly place: number;
  /** Shares the place, or may. */
  readonly tied: boolean;
  /** A tie in it depends on an E score nobody can know yet; the place is then the best it can be. */
  readonly open: boolean;
  /**
   * In a band with one total, ids: with whom she then shares the place, or may; where she does not,
   * whom a rule puts ahead of her or behind her on that total. Otherwise nobody.
   */
  readonly levelWith: readonly string[];
  /** The rule that decides that tie, or on which it depends; null without one, or where rules differ. */
  readonly tieBy: TieRuleName | null;
  /** By her range; null when it is missing. */
  readonly chance: Chance | null;
  /** The chance at the end, given the band; null where her range has no score of it, or is missing. */
  readonly win: Chance | null;
  /** Of a medal at the end, given the band; null as `win` is. */
  readonly medal: Chance | null;
  /** Null also where nobody advances from the contest. */
  readonly advance: Chance | null;
}

/** Every score a routine can get, in bands. */
export interface Outcomes extends OpenScores {
  /** The id of the contest it is about. */
  readonly contest: string;
  /** Id of the gymnast or the team that the contest ranks. */
  readonly contender: string;
  /** Whose routine it is, by id. */
  readonly gymnast: string;
  /** Where it is, by code. */
  readonly apparatus: string;
  /** Of which board the places are: `now` unless it was asked otherwise. */
  readonly when: When;
  /** What the others are taken to score on that board. */
  readonly rivals: Rivals;
  /** The highest first; they touch, and go from the limit down to 0: every score is in one of them. */
  readonly bands: readonly Band[];
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** Which routine, on which board, against what. */
export interface OutcomesOptions
  extends Pick<NeedsOptions, 'contest' | 'rivals' | 'rest' | 'on' | 'd'> {
  /** The places of which board; `now` without it. */
  readonly when?: NeedsOptions['when'];
  /** False leaves the chances at the end out, for an answer at once; null each. */
  readonly chances?: boolean | undefined;
}

/**
 * Every score she can get, in bands that differ in the place they bring.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param who - An id, or any part of a name that fits only one; in a team contest a team, or one of its
 *   gymnasts.
 * @param options - Which routine, on which board, against what.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two),
 *   `nothing-to-come` (she has nothing to come there), `out` (she has withdrawn)
 * @throws `wrong-option` (a word that is not one of those known), `now-is-as-is` (`now` with rivals at
 *   anything but `as-is`, or the reverse)
 * @throws `wrong-score`: no score
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const [best] = outcomes(meet, 'brondt', { chances: false }).bands;
 * [best?.from, best?.place] // → [14601, 1]
 */
export function outcomes(meet: Meet, who: string, options: OutcomesOptions = {}): Outcomes {
  const contest = findContest(meet, options.contest);
  const { contender, gymnast } = findContender(meet, contest, who);
  const routine = askedRoutine(meet, contest, contender, gymnast?.id ?? null, options.on ?? null);
  const asking = checkedOptions(meet, options);
  const shown = withD(meet, routine.index, asking.d);
  const { when, rivals } = completeQuestion({ kind: 'lead' }, asking.when, asking.rivals);
  const { d } = asking;
  const rest = asking.rest ?? 'likely';
  const scenario = buildScenario(shown, contest, contender, routine.index, {
    when,
    rivals,
    rest,
    d,
  });
  const [missing] = scenario.missing;
  if (missing !== undefined) {
    const { gymnast, apparatus } = missingAt(meet, missing.routine);
    throw noAnswer(
      'missing-range',
      `this needs a range for ${gymnast} on ${apparatus}`,
      'give ranges, or `usual`',
    );
  }
  const limit = limitAt(shown, routine.index);
  const distribution = distributionIn(shown, rangeAt(shown, routine.index));
  const curves =
    options.chances === false ? null : endCurves(shown, contest, contender.id, routine, d);
  return {
    contest: contest.id,
    contender: contender.id,
    gymnast: routine.gymnast,
    apparatus: routine.apparatus,
    when,
    rivals,
    bands: bandsIn(scenario, contest, limit).map((band) => ({
      ...bandOf(scenario, band, band),
      chance: distribution === null ? null : chanceWithin(distribution, band),
      win: within(band, curves?.win),
      medal: within(band, curves?.medal),
      advance: within(band, curves?.advance ?? undefined),
    })),
    ...openScores(shown, contest.contenders),
    caution: CAUTION,
  };
}

/** The chance of a target over the scores of a band. */
function within({ from, to }: Scores, curve: readonly TargetPoint[] | undefined): number | null {
  const mean = meanOf((curve ?? []).filter(({ score }) => score >= from && score <= to));
  return mean === null ? null : summedChance(mean);
}

/** Scores, both included. */
interface Scores {
  readonly from: Units;
  readonly to: Units;
}

/** A band as it is prepared before anybody can know the D and E scores of the routine. */
export interface PreparedBand extends Omit<Band, 'win' | 'medal' | 'advance'> {
  /** The place if every tie that is still open goes against her; else `place`. */
  readonly worst: number;
}

/**
 * The bands of the board right after a routine, true whatever D and E scores come with the score:
 * those of `outcomes`, and a tie that the E or the D score may decide is open, even where a D score
 * is expected. Highest first; they touch, and go down to 0.
 */
export function preparedBands(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  routine: Routine,
): PreparedBand[] {
  const question = { when: 'now', rivals: 'as-is', rest: 'likely', d: null } as const;
  const ranges = meet.ranges.map((r, i) => (i === routine.index ? { ...r, d: null } : r));
  const limit = limitAt(meet, routine.index);
  const distribution = distributionIn(meet, rangeAt(meet, routine.index));
  const expected = buildScenario(meet, contest, contender, routine.index, question);
  const unknown = buildScenario(
    derived(meet, { ranges }),
    contest,
    contender,
    routine.index,
    question,
  );
  const starts = [expected, unknown].flatMap((s) => bandsIn(s, contest, limit).map((b) => b.from));
  return [...new Set(starts)]
    .sort((a, b) => b - a)
    .map((from, i, all) => {
      const higher = all[i - 1];
      const to = higher === undefined ? limit : higher - 1;
      const chance = distribution === null ? null : chanceWithin(distribution, { from, to });
      const standing = standingWith(unknown, contest, from);
      return { ...bandOf(unknown, { from, to }, standing), worst: standing.worst, chance };
    });
}

/** Over several totals nobody is level with her all along. */
function bandOf(
  { her }: Scenario,
  { from, to }: Scores,
  { place, tied, open, levelWith, tieBy }: Standing,
): Omit<Band, 'chance' | 'win' | 'medal' | 'advance'> {
  const isOneTotal = her(to).total === her(from).total;
  const tie = isOneTotal ? { levelWith, tieBy } : { levelWith: [], tieBy: null };
  const scores = { from: asScore(from), to: asScore(to) };
  return { ...scores, place, tied, open, ...tie };
}

type Standing = Pick<PreparedBand, 'place' | 'worst' | 'tied' | 'open' | 'levelWith' | 'tieBy'>;

/** Her place with a score; a tie that is still open counts for her. */
function standingWith(scenario: Scenario, contest: Contest, score: Units): Standing {
  const her = scenario.her(score);
  const level = scenario.rivals.filter((e) => e.total === her.total);
  const tie = tieBetween([her, ...level], contest.ties);
  const ties = level.map((rival) => ({ id: rival.contender.id, ...tie.compare(her, rival) }));
  const orders = ties.map((t) => t.order);
  const ahead = scenario.rivals.filter((e) => e.total > her.total).length;
  const place = 1 + ahead + orders.filter((o) => o === -1).length;
  const open = orders.includes('open');
  const tied = orders.includes(0) || open;
  const said = tied ? ties.filter(({ order }) => order === 0 || order === 'open') : ties;
  const rules = new Set(said.map((t) => t.by));
  return {
    place,
    worst: place + orders.filter((o) => o === 'open').length,
    tied,
    open,
    levelWith: said.map((t) => t.id),
    tieBy: rules.size === 1 ? ([...rules][0] ?? null) : null,
  };
}

/** The bands, highest first. A place only changes where her total passes that of a rival. */
function bandsIn(scenario: Scenario, contest: Contest, limit: Units): (Scores & Standing)[] {
  const totals = [...new Set(scenario.rivals.map((e) => e.total))];
  const starts = new Set([0]);
  for (const total of totals) {
    const level = lowestReaching(scenario, total);
    const above = lowestReaching(scenario, total + 1);
    for (const start of [level, above, ...changesWithin(scenario, contest, level, above)]) {
      if (start <= limit) starts.add(start);
    }
  }
  const rising = [...starts].sort((a, b) => a - b);
  const bands: { from: Units; standing: Standing }[] = [];
  for (const from of rising) {
    const standing = standingWith(scenario, contest, from);
    const last = bands.at(-1)?.standing;
    if (last === undefined || !sameStanding(last, standing)) bands.push({ from, standing });
  }
  return bands.reverse().map(({ from, standing }, i, all) => {
    const higher = all[i - 1];
    return { from, to: higher === undefined ? limit : higher.from - 1, ...standing };
  });
}

/** Where a tie turns while the total stays: scores that are dropped or averaged. */
function changesWithin(scenario: Scenario, contest: Contest, level: Units, above: Units): Units[] {
  const changes: Units[] = [];
  const end = above - 1;
  for (let from = level; from < end; ) {
    const here = standingWith(scenario, contest, from);
    if (sameStanding(here, standingWith(scenario, contest, end))) break;
    from = lowestWith(from, end, (s) => !sameStanding(here, standingWith(scenario, contest, s)));
    changes.push(from);
  }
  return changes;
}

function sameStanding(a: Standing, b: Standing): boolean {
  return a.place === b.place && a.tied === b.tied && a.open === b.open;
}

function chanceWithin({ scores, chances }: Distribution, { from, to }: Scores): number {
  const isWithin = (score: Units) => score >= from && score <= to;
  // All of it is certain, whatever its chances add up to by rounding.
  if (scores.every(isWithin)) return 1;
  const sum = scores.reduce((a, score, i) => (isWithin(score) ? a + (chances[i] ?? 0) : a), 0);
  return Math.min(sum, 1);
}
