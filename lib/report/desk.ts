/** What the next up need, in figures to be read from a metre away. */
import type { Chances } from '../chances/chances.js';
import { findContest } from '../contest/contest.js';
import type { Meet, Routine } from '../meet/meet.js';
import { awaited, nextUp, secondUp } from '../meet/now.js';
import { type NeedsSheet, needsOfRoutines } from '../needs/sheet.js';
import { unsettled } from './chance-words.js';
import { tieOfFigure } from './figure.js';
import { goalsAsked } from './goals.js';
import { sharedInWords } from './need-words.js';
import {
  type Answered,
  answered,
  conditionInWords,
  goalsAtEnd,
  isLeadAsked,
  LEAD,
  noneInWords,
} from './next.js';
import { apparatusName, capital, nameOf, percent, shortName, shower } from './words.js';

/** One goal of a routine: "14.700", "to win", "her chance of that score 2.2%". */
export interface DeskFigure {
  readonly target: string;
  /** A score, "any score", or empty where no score of this routine is enough. */
  readonly score: string;
  /** What it is for. */
  readonly to: string;
  /** Her chance of that score, and what a tie does; empty for nothing. */
  readonly aside: string;
  /** How much of it can be expected: of any score, by her range, only beyond it, or not at all. */
  readonly way: Answered['way'];
}

export interface DeskCard {
  /** The index of the routine in the meet. */
  readonly routine: number;
  readonly gymnast: string;
  /** "Ida Brondt", "Ida Brondt for Harbour Row" */
  readonly name: string;
  /** "Beam" */
  readonly where: string;
  /** She has performed, or was passed over: her score is awaited. */
  readonly isAwaited: boolean;
  /** What the figures at the end assume: "if all else goes as expected"; empty where nothing else is to come. */
  readonly condition: string;
  readonly figures: readonly DeskFigure[];
  /** "expected 14.366, a fall 14%"; empty without a range. */
  readonly expected: string;
  /** Who goes up after her there; empty for nobody. */
  readonly after: string;
  /** Null where the contest asks nothing of her. */
  readonly sheet: NeedsSheet | null;
}

/** "In the end: chance to win 14.6%, of a medal 84.2%": hers, everyone's ranges considered; empty without chances. */
export function chancesOnCard(meet: Meet, answer: Chances | null, { sheet }: DeskCard): string {
  const row = answer?.contenders.find((c) => c.id === sheet?.contender);
  if (answer === null || row === undefined || row.total === null) return '';
  const said = goalsAsked(meet, answer.contest).map(
    ({ target, of }) => `${of} ${unsettled(row[target] ?? 0, answer.error)}`,
  );
  return `In the end: chance ${said.join(', ')}`;
}

/** A card for each score that is awaited, and for the next up on each apparatus. */
export function deskCards(meet: Meet, contestId: string): DeskCard[] {
  const late = awaited(meet);
  const second = secondUp(meet);
  return [...late, ...nextUp(meet)].map((routine) => {
    const after = second.find((r) => r.apparatus === routine.apparatus);
    const isLate = late.includes(routine);
    return cardOf(meet, contestId, routine, { isLate, after: isLate ? undefined : after });
  });
}

function cardOf(
  meet: Meet,
  contestId: string,
  routine: Routine,
  { isLate, after }: { readonly isLate: boolean; readonly after: Routine | undefined },
): DeskCard {
  const [sheet] = needsOfRoutines(meet, findContest(meet, contestId), [routine]);
  const name = nameOf(meet, routine.gymnast);
  return {
    routine: routine.index,
    gymnast: routine.gymnast,
    name:
      sheet === undefined || sheet.contender === routine.gymnast
        ? name
        : `${name} for ${sheet.name}`,
    where: capital(apparatusName(meet, routine.apparatus)),
    isAwaited: isLate,
    condition: sheet === undefined ? '' : conditionInWords(meet, sheet),
    figures: sheet === undefined ? [] : figuresOf(meet, sheet),
    expected: sheet === undefined ? '' : expectedInWords(meet, sheet),
    after: after === undefined ? '' : `then ${shortName(meet, after.gymnast)}`,
    sheet: sheet ?? null,
  };
}

/** The lead where it is asked for, then what there is to be had at the end, the most first. */
function figuresOf(meet: Meet, sheet: NeedsSheet): DeskFigure[] {
  const lead = isLeadAsked(meet, sheet) ? answered(meet, sheet, [LEAD]) : [];
  const end = answered(meet, sheet, goalsAtEnd(meet, sheet.contest));
  const isOpen = ({ way }: Answered) => way !== 'none';
  const none = [lead, end].map((goals) => goals.filter((goal) => !isOpen(goal)));
  return [
    ...[...lead, ...end].filter(isOpen).map((goal) => figureIn(meet, goal)),
    // What no score is enough for is said once of all it is not enough for.
    ...none.flatMap((goals): DeskFigure[] => {
      const target = goals.at(-1)?.target;
      if (target === undefined) return [];
      return [{ target, to: '', way: 'none', score: '', aside: noneInWords(meet, sheet, goals) }];
    }),
  ];
}

function figureIn(meet: Meet, goal: Answered): DeskFigure {
  const { target, way, to, does, figure } = goal;
  const only = figure.tie?.goesTo === 'shared' ? 'at best shares' : 'at best ties for';
  const said = { any: does, tie: `${only} ${sharedInWords(target)}` };
  return {
    target,
    to: way === 'any' || way === 'tie' ? said[way] : to,
    way,
    ...inFigures(meet, goal),
  };
}

function inFigures(
  meet: Meet,
  { need, figure, way }: Answered,
): Pick<DeskFigure, 'score' | 'aside'> {
  const show = shower(meet);
  const { her } = meet.words;
  const tie = figure.tie === null ? '' : tieOfFigure(meet, figure.tie, sharedInWords(need.target));
  switch (way) {
    case 'any':
      return { score: 'any score', aside: '' };
    case 'tie':
      return { score: show(figure.tie?.score ?? 0), aside: '' };
    case 'beyond':
      return { score: show(figure.score ?? 0), aside: `above ${her} realistic best` };
    default: {
      const chance =
        need.reach === null ? '' : `${her} chance of that score ${percent(need.reach)}`;
      const said = [chance, tie].filter((words) => words !== '');
      return { score: show(figure.score ?? 0), aside: said.join(' · ') };
    }
  }
}

function expectedInWords(meet: Meet, { range: { likely, falls } }: NeedsSheet): string {
  if (likely === null) return '';
  const fall = falls === null ? '' : `, a fall ${percent(falls)}`;
  return `expected ${shower(meet)(likely)}${fall}`;
}
