/** `needs`: where she stands, her range, what is settled, and the rows a commentator reads out. */

import { CAUTION } from '../caution.js';
import { type Contest, findContest } from '../contest/contest.js';
import { bothSenses, type FieldExtremes } from '../contest/settled.js';
import { routinesToCome } from '../contest/standings.js';
import { calledOn, codeCalled } from '../contest/where.js';
import { findContender } from '../contest/who.js';
import { badUsage, noAnswer } from '../error.js';
import { isToCome, type Meet, type Routine, rangeAt, routineAt } from '../meet/meet.js';
import { openScores } from '../meet/now.js';
import { apparatusMend } from '../meet/which-apparatus.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { countingOf } from './counting.js';
import { type FinishedSheet, finishedSheet, hasFinished } from './finished.js';
import { missingFor, noHold } from './hold.js';
import { checkChance, ifRangesAre, scoreForNeed, withD } from './likely.js';
import { type Asked, needFor } from './need.js';
import { safeScores } from './safe.js';
import type { NeedsOfAll, NeedsOptions, NeedsSheet } from './sheet-answer.js';
import { standsOf } from './stands.js';
import {
  type AskedTarget,
  type Asking,
  type Assumption,
  checkedOptions,
  completeQuestion,
  type ParsedTarget,
  parseTarget,
  type Question,
  type Rivals,
  type When,
} from './target.js';
import { nextAmong } from './turn.js';

export type * from './sheet-answer.js';
export type { Neighbour } from './stands.js';

/**
 * What a gymnast, or a team, needs from its next routine; of who has nothing to come, who can still catch
 * her.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param who - An id, or any part of a name that fits only one; in a team contest a team, or one of its
 *   gymnasts.
 * @param options - One target instead of all, another routine, another assumption; without it the whole
 *   sheet.
 * @returns A `NeedsSheet`, or of who has nothing to come a `FinishedSheet`; `finished` tells which.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `unknown-apparatus` (not hers, or not of the meet), `wrong-apparatus` (the word fits two),
 *   `nothing-to-come` (she has nothing to come there), `out` (she has withdrawn), `no-place` (she has no
 *   place to hold yet)
 * @throws `wrong-target` (no target, or none there), `wrong-option` (a word that is not one of those known),
 *   `wrong-chance` (not above 0 and up to 1), `now-is-as-is` (`now` with rivals at anything but `as-is`, or
 *   the reverse), `win-is-end` (`win` or `gold`, which can only be asked of the end)
 * @throws `wrong-score`: no score
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
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
/** The same of her next routine, where none is named: a `FinishedSheet` where she has none to come. */
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

/**
 * A sheet for every contender with a routine to come, in the order they go up.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param options - As of `needs`, but for `on`.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unknown-gymnast` (the name is nobody's), `ambiguous-gymnast` (it fits more than one),
 *   `no-contender` (the contest does not rank her)
 * @throws `wrong-target` (no target, or none there), `wrong-option` (a word that is not one of those known),
 *   `wrong-chance` (not above 0 and up to 1), `now-is-as-is` (`now` with rivals at anything but `as-is`, or
 *   the reverse), `win-is-end` (`win` or `gold`, which can only be asked of the end)
 * @throws `wrong-score`: no score
 * @throws `missing-range` (a range it takes is not known), `too-many-routines` (a team's routines can add up
 *   in too many ways)
 * @throws `unsound-meet`: the meet was put together by hand
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
    apparatusMend(on, calledOn(meet, codes), 'hers'),
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
