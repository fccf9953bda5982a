/** `needs`: where she stands, her range, what is settled, and the rows a commentator reads out. */

import { CAUTION } from '../caution.js';
import { type FieldExtremes, fieldExtremes } from '../chances/settled.js';
import { type Contest, findContest } from '../contest/contest.js';
import { routinesToCome } from '../contest/standings.js';
import { codeCalled } from '../contest/where.js';
import { findContender } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import { isToCome, type Meet, type Range, type Routine, rangeAt, routineAt } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { didYouMean } from '../meet/problems.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Counting, countingOf } from './counting.js';
import { type FinishedSheet, finishedSheet, hasFinished } from './finished.js';
import { missingFor, noHold } from './hold.js';
import { checkChance, ifRangesAre, scoreForNeed, withD } from './likely.js';
import { type Asked, type Need, needFor } from './need.js';
import { type Safe, safeScores } from './safe.js';
import { type Stands, standsOf } from './stands.js';
import {
  type AskedTarget,
  type Asking,
  type Assumption,
  checkedOptions,
  completeQuestion,
  type ParsedTarget,
  parseTarget,
  type Question,
  type QuestionOptions,
  type Rivals,
  type When,
} from './target.js';
import { nextAmong } from './turn.js';

export type { Neighbour } from './stands.js';

export interface NeedsSheet extends OpenScores, Stands {
  readonly contest: string;
  readonly contender: string;
  /** Of the contender. */
  readonly name: string;
  /** Whose routine is asked. */
  readonly gymnast: string;
  readonly apparatus: string;
  readonly session: number;
  readonly rotation: number;
  readonly range: Range;
  readonly needs: readonly Need[];
  /** With `safe`: from which score on nobody can pass her, in two senses; null where it was not asked. */
  readonly safe: readonly Safe[] | null;
  /** Whether her score will count for the team; null where no score of that apparatus is dropped. */
  readonly counting: Counting | null;
  /** Of who has nothing to come, in a `FinishedSheet`. */
  readonly finished: null;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

export interface NeedsOptions extends QuestionOptions {
  readonly contest?: string | null | undefined;
  /** One target instead of the sheet. */
  readonly for?: AskedTarget | null | undefined;
  /** Ask for another of her routines than the next. */
  readonly on?: string | null | undefined;
  /** Above 0, up to 1: find the score that gives each target this chance. */
  readonly chance?: number | null | undefined;
  /** Add the boards that prove each need. */
  readonly why?: boolean | undefined;
  /** Add the scores from which on nobody can pass her. */
  readonly safe?: boolean | undefined;
}

/**
 * What a gymnast, or a team, needs from its next routine; of who has nothing to come, who can still catch
 * her. Throws when nobody or more than one is meant, when she is out or has nothing to come on the apparatus
 * that is named, and when a single need lacks a range.
 * @example
 * const [medal] = needs(meet, 'brondt', { for: 'medal' }).needs;
 * [medal?.status, medal?.ahead, medal?.tieGoesTo] // → ['needs', 13766, 'her']
 * needs(meet, 'brondt', { for: 'win', rivals: 'high', margin: '0.1' }).needs[0]?.status // → 'beyond'
 * needs(meet, 'nobody') // → throws unknown-gymnast
 */
export function needs(
  meet: Meet,
  who: string,
  options: NeedsOptions & { readonly on: string },
): NeedsSheet;
export function needs(meet: Meet, who: string, options?: NeedsOptions): NeedsSheet | FinishedSheet;
export function needs(
  meet: Meet,
  who: string,
  options: NeedsOptions = {},
): NeedsSheet | FinishedSheet {
  const contest = findContest(meet, options.contest);
  const { contender, gymnast } = findContender(meet, contest, who);
  const senses = bothSenses(meet, contest);
  if (options.on == null && hasFinished(meet, contender)) {
    checkedOptions(meet, options);
    if (options.for != null) parseTarget(meet, contest, options.for);
    return finishedSheet(meet, contest, contender, senses);
  }
  const routine = askedRoutine(meet, contest, contender, gymnast?.id ?? null, options.on ?? null);
  const sheet = sheetFor(meet, contest, contender, routine, senses, options);
  if (options.for != null) throwIfMissing(meet, contest, contender, sheet, options.for);
  return sheet;
}

export interface NeedsOfAll {
  readonly contest: string;
  readonly gymnasts: readonly NeedsSheet[];
  readonly caution: string;
}

/**
 * A sheet for every contender with a routine to come, in the order they go up.
 * @example
 * needsOfAll(meet).gymnasts.map((sheet) => sheet.gymnast)[0] // → 'silvane'
 */
export function needsOfAll(meet: Meet, options: Omit<NeedsOptions, 'on'> = {}): NeedsOfAll {
  const contest = findContest(meet, options.contest);
  const senses = bothSenses(meet, contest);
  const recorded = recordedPerformances(meet);
  const up = contest.contenders.flatMap((contender) => {
    const entry = entryOf(contender, recorded);
    const toCome = new Set(routinesToCome(entry));
    const next = entry.out ? null : nextAmong(meet, (r) => toCome.has(r.index));
    return next === null ? [] : [{ contender, next: next.index }];
  });
  up.sort((a, b) => a.next - b.next);
  return {
    contest: contest.id,
    gymnasts: up.map(({ contender, next }) =>
      sheetFor(meet, contest, contender, routineAt(meet, next), senses, options),
    ),
    caution: CAUTION,
  };
}

/** The sheets of those whose routines are given, where the contest counts them. */
export function needsOfRoutines(
  meet: Meet,
  contest: Contest,
  routines: readonly Routine[],
  options: Omit<NeedsOptions, 'on'> = {},
): NeedsSheet[] {
  const senses = bothSenses(meet, contest);
  const recorded = recordedPerformances(meet);
  return routines.flatMap((routine) => {
    const contender = contest.contenders.find((c) => c.routines.includes(routine.index));
    if (contender === undefined || entryOf(contender, recorded).out) return [];
    return [sheetFor(meet, contest, contender, routine, senses, options)];
  });
}

function bothSenses(meet: Meet, contest: Contest): FieldExtremes[] {
  return (['limit', 'ranges'] as const).map((by) => fieldExtremes(meet, contest, by));
}

/** The routine a question is about: the next one, or the one on a named apparatus. */
export function askedRoutine(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  gymnast: string | null,
  on: string | null,
): Routine {
  const { name, more } = askedAbout(meet, contender, gymnast);
  const out = contender.outByDns && contender.routines.find((i) => isOut(meet, i));
  if (out !== false && out !== undefined) {
    const { apparatus } = routineAt(meet, out);
    throw noAnswer(
      'out',
      `${contender.name} is out of ${contest.id}: ${meet.results[out]} on ${apparatus}`,
      'take the row back if it is wrong: record … void',
    );
  }
  const hers = contender.routines
    .map((i) => routineAt(meet, i))
    .filter((r) => gymnast === null || r.gymnast === gymnast);
  const toCome = hers.filter((r) => isToCome(meet, r.index));
  if (on === null) {
    const indices = new Set(toCome.map((r) => r.index));
    const next = nextAmong(meet, (r) => indices.has(r.index));
    if (next !== null) return next;
    throw noAnswer('nothing-to-come', `${name} has no routine to come`, more);
  }
  const code = codeCalled(meet, on);
  const asked = toCome.find((r) => r.apparatus === code);
  if (asked !== undefined) return asked;
  const codes = [...new Set(hers.map((r) => r.apparatus))];
  if (codes.includes(code)) {
    throw noAnswer(
      'nothing-to-come',
      `${name} has nothing to come on ${code}`,
      toCome.length > 0 ? `to come: ${toCome.map((r) => r.apparatus).join(', ')}` : more,
    );
  }
  throw badUsage(
    'unknown-apparatus',
    `${contender.name} has no routine on "${on}" in ${contest.id}`,
    didYouMean(code, codes, 'hers'),
  );
}

/** Whom a question is about, and where the team of a gymnast who is asked about has more to come. */
function askedAbout(meet: Meet, contender: Contender, gymnast: string | null) {
  const name = meet.gymnasts.find((g) => g.id === gymnast)?.name ?? contender.name;
  const left = contender.routines.filter((i) => isToCome(meet, i)).length;
  const isTeam = gymnast !== null && gymnast !== contender.id;
  const more = isTeam && left > 0 ? `ask for the team: ${contender.id} has ${left} to come` : null;
  return { name, more };
}

function isOut(meet: Meet, routine: number): boolean {
  const result = meet.results[routine];
  return result === 'DNS' || result === 'DNF';
}

function sheetFor(
  whole: Meet,
  contest: Contest,
  contender: Contender,
  routine: Routine,
  senses: readonly FieldExtremes[],
  options: NeedsOptions,
): NeedsSheet {
  if (options.chance != null) checkChance(options.chance);
  const asking = checkedOptions(whole, options);
  const meet = withD(whole, routine.index, asking.d);
  const { settled, ...stands } = standsOf(meet, contest, contender, senses);
  const place = stands.hold?.place ?? null;
  const asked: Asked = { contest, contender, routine: routine.index, place };
  return {
    contest: contest.id,
    contender: contender.id,
    name: contender.name,
    gymnast: routine.gymnast,
    apparatus: routine.apparatus,
    session: routine.session,
    rotation: routine.rotation,
    ...stands,
    range: rangeAt(meet, routine.index),
    settled,
    needs: questionsOf(meet, contest, options.for ?? null, asking).flatMap((question) => {
      const need = needFor(meet, asked, question, options.why);
      if (need === null) return [];
      const { chance = null } = options;
      if (chance === null) return need;
      const score = () => scoreForNeed(meet, asked, question, chance);
      // Who asks for one need is told which range is missing.
      return { ...need, scoreForChance: options.for == null ? ifRangesAre(score) : score() };
    }),
    safe:
      options.safe === true
        ? safeScores(meet, asked, { senses, rest: asking.rest ?? 'likely' })
        : null,
    counting: countingOf(meet, asked, asking.d),
    finished: null,
    ...openScores(meet, contest.contenders),
    caution: CAUTION,
  };
}

/** The rows of the sheet, most useful first; or the one target, or the one case, that is asked. */
function questionsOf(
  meet: Meet,
  contest: Contest,
  target: AskedTarget | null,
  { when, rivals, rest, margin, d }: Asking,
): Question[] {
  const ask = (
    target: ParsedTarget,
    w: When | null,
    r: Rivals | null,
    own: Assumption = 'likely',
  ): Question => ({
    ...completeQuestion(target, w, r),
    rest: rest ?? own,
    margin,
    d,
  });
  if (target !== null) return [ask(parseTarget(meet, contest, target), when, rivals)];
  const [lead, win, hold] = [{ kind: 'lead' }, { kind: 'win' }, { kind: 'hold' }] as const;
  const { advance, givesMedals } = contest;
  const goals = [
    ...(advance === null ? [] : [{ kind: 'advance' } as const]),
    ...(givesMedals ? [{ kind: 'medal' } as const] : []),
  ];
  if (when !== null || rivals !== null) {
    const board = completeQuestion(hold, when, rivals);
    const most = board.when === 'end' ? win : lead;
    const targets = [most, ...goals, hold];
    return targets.map((target) => ask(target, board.when, board.rivals));
  }
  return [
    ask(lead, 'now', 'as-is'),
    ask(lead, 'rotation', 'likely'),
    ...(givesMedals ? [ask(win, 'end', 'likely')] : []),
    ...goals.flatMap((goal) => [
      ask(goal, 'end', 'likely'),
      ask(goal, 'end', 'high'),
      ask(goal, 'end', 'low', 'high'),
    ]),
    ...(givesMedals ? [] : [ask(win, 'end', 'likely')]),
    ask(hold, 'end', 'likely'),
  ];
}

function throwIfMissing(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  { needs: [need] }: NeedsSheet,
  target: AskedTarget,
): void {
  const { name } = contender;
  if (need === undefined) {
    throw target === 'hold'
      ? noHold(meet, contest, contender)
      : badUsage('wrong-target', `${name} cannot beat ${name}`, 'name a rival');
  }
  if (need.status !== null || need.missing.length === 0) return;
  throw missingFor(need.missing);
}
