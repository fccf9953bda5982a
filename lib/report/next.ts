/** What the next up need, in a line that can be read aloud. */
import { findContest } from '../contest/contest.js';
import { recordedPerformances } from '../contest/recorded.js';
import { routinesToCome } from '../contest/standings.js';
import type { Meet, Routine } from '../meet/meet.js';
import { awaited, nextUp, openScores } from '../meet/now.js';
import type { Need } from '../needs/need.js';
import { type NeedsSheet, needs } from '../needs/sheet.js';
import { entryOf } from '../rules/entry.js';
import { type Figure, figureOf, sharedInWords, tieOfFigure } from './figure.js';
import { openSection } from './open.js';
import { type Report, reportOf, sentence } from './report.js';
import { apparatusName, listed, nameOf, shower, wordsFor } from './words.js';

/** One line for each score that is awaited, and for the next up on each apparatus. */
export function nextUpReport(meet: Meet, contest: string): Report {
  const routines = [...awaited(meet), ...nextUp(meet)];
  const lines = routines.map((routine) => nextLine(meet, routine, contest));
  const { underInquiry } = openScores(meet, findContest(meet, contest).contenders);
  const open = openSection(meet, { awaited: [], underInquiry });
  const none = open.length > 0 ? [] : ['Nothing is to come.'];
  return reportOf([...(lines.length > 0 ? lines : none).map((l) => sentence(l)), ...open]);
}

/** A need, and the words it is said in: "13.466 to win". */
interface Goal extends Pick<Need, 'target' | 'when' | 'rivals'> {
  readonly to: string;
}

/** To lead as the board stands; all else with rivals, and her own rest, at their likely. */
const LEAD: Goal = { target: 'lead', when: 'now', rivals: 'as-is', to: 'to lead now' };
const WIN: Goal = { target: 'win', when: 'end', rivals: 'likely', to: 'to win' };
const MEDAL: Goal = { target: 'medal', when: 'end', rivals: 'likely', to: 'for a medal' };

/**
 * "Next on beam, Ida Brandt: she needs 14.633 to lead now (14.600 shares it); if all others score as
 * likely, 14.700 to win". The scores are real ones, and a tie at one is said apart. Her name alone where the contest asks nothing of her.
 */
export function nextLine(meet: Meet, routine: Routine, contest: string): string {
  const isLate = awaited(meet).some((r) => r.index === routine.index);
  const where = `${isLate ? 'Awaited' : 'Next'} on ${apparatusName(meet, routine.apparatus)}`;
  const name = nameOf(meet, routine.gymnast);
  let sheet: NeedsSheet;
  try {
    sheet = needs(meet, routine.gymnast, { contest, on: routine.apparatus });
  } catch {
    // No contender of this contest, or out of it.
    return `${where}: ${name}.`;
  }
  const who = sheet.contender === routine.gymnast ? name : `${name} for ${sheet.name}`;
  const condition = conditionInWords(meet, sheet);
  // Once nothing else is to come, who leads has won.
  const now = condition === '' ? '' : goalsInWords(meet, sheet, [LEAD]);
  const end = goalsInWords(meet, sheet, [WIN, MEDAL]);
  const atEnd = end === '' ? '' : `${condition}${unrepeated(meet, sheet, now, end)}`;
  const said = [now, atEnd].filter((sentence) => sentence !== '').join('; ');
  return `${where}, ${who}${said === '' ? '' : `: ${said}`}.`;
}

/** The second sentence without the beginning that it shares with the first. */
function unrepeated(meet: Meet, sheet: NeedsSheet, first: string, second: string): string {
  const needs = needsInWords(meet, sheet);
  const beginnings = [
    { words: `${needs}${aboveBest(meet, sheet)} `, instead: 'also ' },
    { words: needs, instead: '' },
    { words: ANY, instead: 'also ' },
    { words: noneInWords(meet, sheet), instead: 'nor ' },
  ];
  const shared = beginnings.find(({ words }) => [first, second].every((s) => s.startsWith(words)));
  return shared === undefined ? second : `${shared.instead}${second.slice(shared.words.length)}`;
}

/** What the needs at the end assume, and nothing that is scored already. */
function conditionInWords(meet: Meet, sheet: NeedsSheet): string {
  const { contenders } = findContest(meet, sheet.contest);
  const recorded = recordedPerformances(meet);
  const others = contenders.some((c) => {
    const entry = entryOf(c, recorded);
    return c.id !== sheet.contender && !entry.out && routinesToCome(entry).length > 0;
  });
  const rest = `${wordsFor(meet, sheet.contender).her} other routines`;
  if (sheet.toCome.length < 2) return others ? 'if all others score as likely, ' : '';
  return `if ${others ? `all others and ${rest}` : rest} score as likely, `;
}

/**
 * "she needs more than her realistic best on vault to win and 13.200 for a medal": of this routine
 * alone, since she may have others to come. Empty where nothing can be said.
 */
function goalsInWords(meet: Meet, sheet: NeedsSheet, goals: readonly Goal[]): string {
  const show = shower(meet);
  const asked = goals.flatMap((goal) => {
    const need = needOf(sheet, goal);
    if (need === undefined) return [];
    const figure = figureOf(meet, need);
    return figure === null ? [] : [{ ...goal, figure, way: wayOf(need, figure, sheet) }];
  });
  const by = (way: Way) => asked.filter((goal) => goal.way === way);
  const to = (found: readonly Goal[]) => found.map((goal) => goal.to).join(' or ');
  const [beyond, none] = [by('beyond'), by('none')];
  // Who wins has a medal.
  const [any] = by('any');
  const needed = [
    ...(beyond.length > 0 ? [`${aboveBest(meet, sheet)} ${to(beyond)}`] : []),
    ...by('score').map(({ to, figure: { score, tie } }) => {
      const apart = tie === null ? '' : ` (${tieOfFigure(meet, tie, 'it')})`;
      return `${show(score ?? 0)} ${to}${apart}`;
    }),
  ];
  return [
    ...(needed.length > 0 ? [`${needsInWords(meet, sheet)}${listed(needed)}`] : []),
    ...by('tie').map(({ target, figure: { tie } }) => {
      const only = tie?.goesTo === 'shared' ? 'only shares' : 'only ties for';
      return `${show(tie?.score ?? 0)} ${only} ${sharedInWords(target)}`;
    }),
    ...(any === undefined ? [] : [`${ANY}${any.to}`]),
    ...(none.length > 0 ? [`${noneInWords(meet, sheet)}${to(none)}`] : []),
  ].join(', and ');
}

function needOf(sheet: NeedsSheet, { target, when, rivals }: Goal): Need | undefined {
  return sheet.needs.find(
    (n) => n.target === target && n.when === when && n.rivals === rivals && n.rest === 'likely',
  );
}

function needsInWords(meet: Meet, { contender }: NeedsSheet): string {
  const { she } = wordsFor(meet, contender);
  return `${she} ${she === 'they' ? 'need' : 'needs'} `;
}

const ANY = 'any score is enough ';

function noneInWords(meet: Meet, sheet: NeedsSheet): string {
  return `no score${onThis(meet, sheet)} is enough `;
}

/** The best is the gymnast's, whoever the contender is. */
function aboveBest(meet: Meet, sheet: NeedsSheet): string {
  return `more than ${meet.words.her} realistic best${onThis(meet, sheet)}`;
}

/** " on vault", where it is not all that is to come. */
function onThis(meet: Meet, { toCome, apparatus }: NeedsSheet): string {
  return toCome.length > 1 ? ` on ${apparatusName(meet, apparatus)}` : '';
}

/** How a goal is met: by any score, one score, a tie and no more, only above her best, by none. */
type Way = Figure['way'] | 'beyond';

function wayOf(need: Need, { way, tie }: Figure, { range }: NeedsSheet): Way {
  if (need.status !== 'beyond' || way !== 'score') return way;
  // A tie within her best shares the place, or may yet.
  const canDraw = tie !== null && tie.goesTo !== 'rival' && tie.score <= (range.high ?? 0);
  return canDraw ? 'tie' : 'beyond';
}
