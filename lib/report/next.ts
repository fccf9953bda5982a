/** What the next up need, in a line that can be read aloud. */
import { findContest } from '../contest/contest.js';
import { routinesToCome } from '../contest/standings.js';
import type { Meet, Routine } from '../meet/meet.js';
import { awaited, nextUp, openScores } from '../meet/now.js';
import type { Need } from '../needs/need.js';
import { type NeedsSheet, needsOfRoutines } from '../needs/sheet.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { type Figure, figureOf, tieOfFigure } from './figure.js';
import { goalsIn, goalWords } from './goals.js';
import { sharedInWords } from './need-words.js';
import { openSection } from './open.js';
import { type Report, reportOf, sentence } from './report.js';
import { areEven, boardNow } from './standing.js';
import { apparatusName, listed, nameOf, shower, wordsFor } from './words.js';

/**
 * One line for each score that is awaited, and for the next up on each apparatus; after a score only for
 * those of whom it was not said before it.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param contest - Id of a contest, or the code of an apparatus.
 * @param before - The meet before the last score, to say only what is new; null to say it all.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const lines = reports.nextUp(meet, 'all-around').flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []));
 * lines[0]?.split(':')[0] // → 'Next on vault, Iara Silvane'
 */
export function nextUpReport(meet: Meet, contest: string, before: Meet | null = null): Report {
  const isIn = (all: readonly Routine[], { gymnast, apparatus }: Routine) =>
    all.some((r) => r.gymnast === gymnast && r.apparatus === apparatus);
  const isKnown = (r: Routine) =>
    before !== null &&
    (isIn(awaited(before), r) || (isIn(nextUp(before), r) && isIn(nextUp(meet), r)));
  const all = [...awaited(meet), ...nextUp(meet)];
  const lines = all.filter((r) => !isKnown(r)).map((r) => nextLine(meet, r, contest));
  const { underInquiry } = openScores(meet, findContest(meet, contest).contenders);
  const open = openSection(meet, { awaited: [], underInquiry });
  const isOver = all.length === 0 && open.length === 0;
  return reportOf([
    ...(isOver ? [finalLine(meet, contest)] : lines).map((line) => sentence(line)),
    ...open,
  ]);
}

/** So many of the best are named when all is over. */
const BEST = 3;

/** "Final: Okonjo 55.132, Pemberly 55.099, R. Lindquist 54.965." */
function finalLine(meet: Meet, contest: string): string {
  const show = shower(meet);
  const best = [...boardNow(meet, contest).of.values()]
    .filter(({ row, isOut }) => !isOut && row.place !== null && row.place <= BEST)
    .map(
      ({ row }) => `${row.tied ? '=' : ''}${row.place} ${nameOf(meet, row.id)} ${show(row.total)}`,
    );
  return best.length === 0 ? 'Nothing is to come.' : `Final: ${best.join(', ')}.`;
}

/** A need, and the words it is said in: "13.466 to win". */
export interface Goal extends Pick<Need, 'target' | 'when' | 'rivals'> {
  readonly to: string;
  /** "any score wins" */
  readonly does: string;
}

/** To lead as the board stands. */
export const LEAD: Goal = {
  target: 'lead',
  when: 'now',
  rivals: 'as-is',
  to: 'to lead',
  does: 'leads',
};

/** What is asked of the end, with the others, and her own other routines, as expected. */
export function goalsAtEnd(meet: Meet, contest: string): Goal[] {
  const rules = findContest(meet, contest);
  // Where it is about going through, first place is for who asks.
  const goals = goalsIn(rules).filter((g) => rules.givesMedals || g.target !== 'win');
  return goals.map(({ target, to, does }) => ({ target, when: 'end', rivals: 'likely', to, does }));
}

/**
 * "Next on beam, Ida Brondt: 14.633 to lead (14.600 shares it); if all else goes as expected, 14.700 to
 * win and 13.766 for a medal." The scores are real ones, and a tie at one is said apart. Her name alone
 * where the contest asks nothing of her.
 */
export function nextLine(meet: Meet, routine: Routine, contest: string): string {
  const isLate = awaited(meet).some((r) => r.index === routine.index);
  const where = `${isLate ? 'Awaited' : 'Next'} on ${apparatusName(meet, routine.apparatus)}`;
  const name = nameOf(meet, routine.gymnast);
  const [sheet] = needsOfRoutines(meet, findContest(meet, contest), [routine]);
  // No contender of this contest, or out of it.
  if (sheet === undefined) return `${where}: ${name}.`;
  const who = sheet.contender === routine.gymnast ? name : `${name} for ${sheet.name}`;
  const condition = conditionInWords(meet, sheet);
  const now = isLeadAsked(meet, sheet) ? goalsInWords(meet, sheet, [LEAD]) : '';
  const end = goalsInWords(meet, sheet, goalsAtEnd(meet, contest));
  const said = [
    now,
    end === '' ? '' : [condition, end].filter((words) => words !== '').join(', '),
  ].filter((words) => words !== '');
  return `${where}, ${who}${said.length === 0 ? '' : `: ${said.join('; ')}`}.`;
}

/** Once nothing else is to come, who leads has won; ahead of who has done fewer routines is no lead. */
export function isLeadAsked(meet: Meet, sheet: NeedsSheet): boolean {
  const rival = needOf(sheet, LEAD)?.mark?.id ?? null;
  return conditionInWords(meet, sheet) !== '' && areEven(meet, { ...sheet, rival }, 1);
}

/** What the needs at the end assume, and nothing that is scored already. */
export function conditionInWords(meet: Meet, sheet: NeedsSheet): string {
  const { contenders } = findContest(meet, sheet.contest);
  const recorded = recordedPerformances(meet);
  const others = contenders.some((c) => {
    const entry = entryOf(c, recorded);
    return c.id !== sheet.contender && !entry.out && routinesToCome(entry).length > 0;
  });
  if (sheet.toCome.length > 1) return 'if all else goes as expected';
  return others ? 'if the others score as expected' : '';
}

/**
 * "14.700 to win and 13.766 for a medal", "any score wins", "16.033 to win, above her best": of this
 * routine alone, since she may have others to come. Empty where nothing can be said.
 */
function goalsInWords(meet: Meet, sheet: NeedsSheet, goals: readonly Goal[]): string {
  const show = shower(meet);
  const asked = answered(meet, sheet, goals);
  const by = (way: Way) => asked.filter((goal) => goal.way === way);
  const figureIn = ({ figure: { score, tie } }: (typeof asked)[number]) => ({
    score: show(score ?? 0),
    apart: tie === null ? '' : ` (${tieOfFigure(meet, tie, 'it')})`,
  });
  // One figure for two targets is said once.
  const scores = (found: typeof asked) => {
    const goals = new Map<string, string[]>();
    for (const goal of found) {
      const { score, apart } = figureIn(goal);
      const key = `${score}\n${apart}`;
      goals.set(key, [...(goals.get(key) ?? []), goal.to]);
    }
    return [...goals].map(([key, to]) => {
      const [score = '', apart = ''] = key.split('\n');
      return `${score} ${listed(to)}${apart}`;
    });
  };
  const beyond = by('beyond');
  const none = by('none');
  // Who wins has a medal.
  const [any] = by('any');
  return [
    ...(any === undefined ? [] : [`any score ${any.does}`]),
    ...[listed(scores(by('score')))].filter((words) => words !== ''),
    ...by('tie').map(({ target, figure: { tie } }) => {
      const only = tie?.goesTo === 'shared' ? 'at best shares' : 'at best ties for';
      return `${show(tie?.score ?? 0)} ${only} ${sharedInWords(target)}`;
    }),
    ...(beyond.length > 0
      ? [`${listed(scores(beyond))}, above ${meet.words.her} realistic best`]
      : []),
    ...(none.length > 0 ? [noneInWords(meet, sheet, none)] : []),
  ].join(', and ');
}

/** A goal of a sheet, and what it takes. */
export interface Answered extends Goal {
  readonly need: Need;
  readonly figure: Figure;
  readonly way: Way;
}

/** Goals that the sheet answers. */
export function answered(meet: Meet, sheet: NeedsSheet, goals: readonly Goal[]): Answered[] {
  return goals.flatMap((goal) => {
    const need = needOf(sheet, goal);
    const figure = need === undefined ? null : figureOf(meet, need);
    if (need === undefined || figure === null) return [];
    return [{ ...goal, need, figure, way: wayOf(need, figure, sheet) }];
  });
}

/**
 * Where no score of this routine is enough. While she has others to come, nothing is lost by that: "this
 * routine alone is not enough for a medal".
 */
export function noneInWords(meet: Meet, sheet: NeedsSheet, none: readonly Goal[]): string {
  if (none.some((goal) => goal.when === 'now')) {
    return `${wordsFor(meet, sheet.contender).she} cannot take the lead here`;
  }
  // Who has no medal has no title.
  const contest = findContest(meet, sheet.contest);
  const last = none.at(-1)?.target ?? 'win';
  const what = goalWords(contest, last)?.what ?? last;
  return sheet.toCome.length > 1
    ? `this routine alone is not enough for ${what}`
    : `${what} is out of reach`;
}

function needOf(sheet: NeedsSheet, { target, when, rivals }: Goal): Need | undefined {
  return sheet.needs.find(
    (n) => n.target === target && n.when === when && n.rivals === rivals && n.rest === 'likely',
  );
}

/** How a goal is met: by any score, one score, a tie and no more, only above her best, by none. */
export type Way = Figure['way'] | 'beyond';

function wayOf(need: Need, { way, tie }: Figure, { range }: NeedsSheet): Way {
  if (need.status !== 'beyond' || way !== 'score') return way;
  // A tie within her best shares the place, or may yet.
  const canDraw = tie !== null && tie.goesTo !== 'rival' && tie.score <= (range.high ?? 0);
  return canDraw ? 'tie' : 'beyond';
}
