/** Gold, a medal, and what a fall does, in three lines that can be read aloud. */
import { findContest } from '../contest/contest.js';
import { isToCome, type Meet } from '../meet/meet.js';
import type { Brief, BriefGoal } from '../needs/brief.js';
import { unsettled } from './chance-words.js';
import { countingBrief } from './counting.js';
import { figureOf, tieOfFigure } from './figure.js';
import { sharedInWords, statusInWords, tieScoreOf } from './need-words.js';
import { type Report, reportOf, sentence, title } from './report.js';
import { apparatusName, percent, ruleInWords, shortName, shower, spokenName } from './words.js';

/** With a smaller error than this tenths of a percent are read out. */
const TENTHS = 0.0005;

interface GoalWords {
  readonly what: string;
  readonly chance: string;
  /** "gold 0.6% of the time" */
  readonly after: string;
}

const GOLD: GoalWords = { what: 'Gold', chance: 'Chance of gold', after: 'gold' };
const TO_WIN: GoalWords = { what: 'To win', chance: 'Chance to win', after: 'a win' };
const FIRST: GoalWords = { what: 'First place', chance: 'Chance of it', after: 'first place' };
const MEDAL: GoalWords = { what: 'A medal', chance: 'Chance of a medal', after: 'a medal' };
const THROUGH: GoalWords = {
  what: 'To go through',
  chance: 'Chance of going through',
  after: 'through',
};

/**
 * Gold, a medal and what a fall does, in as many sentences.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `brief` gave it.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const answer = brief(meet, 'brondt');
 * const report = answer === null ? [] : reports.brief(meet, answer);
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[2] // → 'A fall, about 13.366: gold <0.1%, a medal 31.8% of the time.'
 */
export function briefReport(meet: Meet, answer: Brief): Report {
  const { sheet, gold, medal, advance, fall } = answer;
  const team = sheet.gymnast === sheet.contender ? '' : ` for ${sheet.name}`;
  const contest = findContest(meet, sheet.contest);
  // Where only the winner has a medal, or everybody, it is the win that counts.
  const first = contest.givesMedals ? (medal === null ? TO_WIN : GOLD) : FIRST;
  const isFirstAsked = contest.givesMedals || advance === null;
  const asked = [
    ...(isFirstAsked ? [{ goal: gold, words: first, fallen: fall?.win }] : []),
    ...(medal === null ? [] : [{ goal: medal, words: MEDAL, fallen: fall?.medal }]),
    ...(advance === null ? [] : [{ goal: advance, words: THROUGH, fallen: fall?.advance }]),
  ];
  const often = (p: number | null | undefined) => unsettled(p ?? 0, TENTHS);
  const after = asked.map(({ words, fallen }) => `${words.after} ${often(fallen)}`).join(', ');
  const counting = countingBrief(meet, sheet);
  return reportOf([
    title(`${spokenName(meet, sheet.gymnast)}${team} on ${apparatusName(meet, sheet.apparatus)}`),
    ...asked
      .flatMap(({ goal, words }) => goalLine(meet, answer, goal, words))
      .map((text) => sentence(text)),
    ...(fall === null
      ? []
      : [sentence(`A fall, about ${shower(meet)(fall.score)}: ${after} of the time.`)]),
    ...(counting === '' ? [] : [sentence(counting)]),
  ]);
}

/** "Gold: 14.700, her chance of it 2.2%, beats Adeyemi’s expected 57.999. Chance of gold 15.1%." */
function goalLine(
  meet: Meet,
  { sheet }: Brief,
  goal: BriefGoal | null,
  words: GoalWords,
): string[] {
  if (goal === null) return [];
  const { need, chance } = goal;
  const whole = chance === null ? '' : ` ${words.chance} ${unsettled(chance, TENTHS)}.`;
  return [`${words.what}: ${figureInWords(meet, sheet, need)}.${whole}`];
}

function figureInWords(meet: Meet, sheet: Brief['sheet'], need: BriefGoal['need']): string {
  const show = shower(meet);
  const figure = figureOf(meet, need);
  const { her } = meet.words;
  const rival = need.mark?.id ?? null;
  const isDone = isOver(meet, sheet.contest, rival);
  const expected = isDone ? '' : 'expected ';
  const isTie = need.tieGoesTo === 'her' && tieScoreOf(meet, need) === need.onGrid;
  const rule = need.tieBy === null ? '' : ` on ${ruleInWords(need.tieBy)}`;
  const ties = isTie ? `, and wins the tie${rule}` : '';
  const beats =
    rival === null || need.mark === null
      ? ''
      : ` ${isTie ? 'ties' : 'beats'} ${shortName(meet, rival)}’s ${expected}${show(need.mark.total)}${ties}`;
  switch (figure?.way) {
    case 'any':
      return 'any score is enough, if all else goes as expected';
    case 'score': {
      const reach =
        need.reach === null
          ? ''
          : need.reach === 0
            ? `, above ${her} realistic best,`
            : `, ${her} chance of it ${percent(need.reach)},`;
      const tie =
        figure.tie === null
          ? ''
          : ` (${tieOfFigure(meet, figure.tie, sharedInWords(need.target))})`;
      return `${show(figure.score)}${reach}${beats}${tie}`;
    }
    case 'tie':
      return `${show(figure.tie.score)} only ties, if all else goes as expected`;
    case 'none':
      return sheet.toCome.length > 1
        ? 'this routine alone is not enough, if all else goes as expected'
        : 'out of reach, if the others score as expected';
    default:
      return statusInWords(meet, sheet, need);
  }
}

/** Whether nothing of somebody's is to come. */
function isOver(meet: Meet, contest: string, id: string | null): boolean {
  const contender = findContest(meet, contest).contenders.find((c) => c.id === id);
  return contender?.routines.every((i) => !isToCome(meet, i)) === true;
}
