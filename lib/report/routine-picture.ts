/** What is marked along the scores of a routine: where gold begins, where the medal ends, what a fall leaves. */
import { findContest, hasMedalsToWin } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import type { NeedsSheet } from '../needs/sheet.js';
import type { Units } from '../score.js';
import { chanceInWords } from './chance-words.js';
import { type GoalName, goalsIn } from './goals.js';
import { answered, conditionInWords, goalsAtEnd } from './next.js';
import { capital, nameOf, shower, whereInWords, wordsFor } from './words.js';

export interface ScoreMark {
  readonly target: GoalName;
  readonly score: Units;
  /** "gold from 14.700" */
  readonly words: string;
}

export interface RoutineWords {
  /** "Ida Brondt on beam, rotation 3" */
  readonly title: string;
  /** The same facts in a sentence, for who does not see the picture. */
  readonly description: string;
  /** "if all else goes as expected"; empty where nothing else is to come. */
  readonly condition: string;
  /** Over the chances: "her chances in the end with such a score" */
  readonly chances: string;
  /** The most first. */
  readonly marks: readonly ScoreMark[];
  /** One fall, two falls: what each leaves of the expected score. */
  readonly falls: readonly { readonly score: Units; readonly words: string }[];
  /** What the lines of the chances stand for. */
  readonly lines: readonly { readonly target: GoalName; readonly words: string }[];
}

export function routineWords(meet: Meet, sheet: NeedsSheet): RoutineWords {
  const contest = findContest(meet, sheet.contest);
  const show = shower(meet);
  const ends = goalsAtEnd(meet, sheet.contest);
  const marks = answered(meet, sheet, ends).flatMap(({ target, figure }): ScoreMark[] => {
    if (figure.score === null) return [];
    const name = target as GoalName;
    return [
      {
        target: name,
        score: figure.score,
        words: `${fromWords(name, contest)} from ${show(figure.score)}`,
      },
    ];
  });
  const { likely, falls } = sheet.range;
  const isFalling = likely !== null && (falls ?? 0) > 0;
  const left = (count: number): Units => Math.max((likely ?? 0) - count * meet.scoring.fall, 0);
  const title = `${nameOf(meet, sheet.gymnast)} on ${whereInWords(meet, sheet)}`;
  const condition = conditionInWords(meet, sheet);
  const expected = likely === null ? '' : `Expected ${show(likely)}.`;
  const said = marks.map((m) => `${capital(m.words)}.`).join(' ');
  return {
    title,
    condition,
    chances: `${wordsFor(meet, sheet.contender).her} chances in the end with such a score`,
    description: [expected, said === '' || condition === '' ? '' : `${capital(condition)}:`, said]
      .filter((words) => words !== '')
      .join(' '),
    marks,
    falls: isFalling
      ? [
          {
            score: left(1),
            words: `one fall ${chanceInWords((falls ?? 0) * (1 - (falls ?? 0)), 0)}`,
          },
          { score: left(2), words: `two falls ${chanceInWords((falls ?? 0) ** 2, 0)}` },
        ]
      : [],
    lines: goalsIn(contest).map((g) => ({ target: g.target, words: g.to })),
  };
}

/** What begins at a score: "gold", "a medal", "through". */
function fromWords(target: GoalName, contest: ReturnType<typeof findContest>): string {
  if (target === 'advance') return 'through';
  if (target === 'medal') return 'a medal';
  if (!contest.givesMedals) return 'first';
  return hasMedalsToWin(contest) ? 'gold' : 'the title';
}
