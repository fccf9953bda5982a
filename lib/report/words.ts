/** Names, places and scores in words that can be read out. */
import { type Contest, findContest, hasMedalsToWin, routinesCounted } from '../contest/contest.js';
import { routinesToCome } from '../contest/standings.js';
import { isScored, type Meet, type Routine, routineOf, sessionsOf } from '../meet/meet.js';
import { apparatusName, type Names, rotationInWords } from '../meet/names.js';
import { requireSound } from '../meet/sound.js';
import type { Recorded } from '../needs/recorded.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { TIE_RULES } from '../rules/ties/index.js';
import type { PartValues, TieRule } from '../rules/ties/tie-rule.js';
import { formatScore, type Units } from '../score.js';

export {
  apparatusName,
  boardName,
  listed,
  nameOf,
  rotationInWords,
  shortName,
  spokenName,
} from '../meet/names.js';

/** Where a routine is, at the head of what is said of it: "floor, rotation 3", "floor, session 2, rotation 3". */
export function whereInWords(
  meet: Meet,
  { gymnast, apparatus }: Pick<Routine, 'gymnast' | 'apparatus'>,
): string {
  const { session, rotation } = routineOf(meet, gymnast, apparatus) ?? {};
  const which = sessionsOf(meet).length > 1 ? `session ${session}, ` : '';
  return `${apparatusName(meet, apparatus)}, ${which}rotation ${rotation}`;
}

/** The rotation of a routine in a sentence: "rotation 3", "rotation 3 of session 2". */
export function rotationOf(
  meet: Meet,
  { gymnast, apparatus }: Pick<Routine, 'gymnast' | 'apparatus'>,
): string {
  const routine = routineOf(meet, gymnast, apparatus);
  return routine === undefined ? '' : rotationInWords(meet, routine);
}

/** 1st, 2nd, 3rd, 11th, 21st. */
export function ordinal(place: number): string {
  const teens = place % 100 >= 11 && place % 100 <= 13;
  const ending = teens ? 'th' : (['th', 'st', 'nd', 'rd'][place % 10] ?? 'th');
  return `${place}${ending}`;
}

/** A chance for people: never a false 0 or 100. */
export function percent(chance: number): string {
  if (chance === 0) return '0%';
  if (chance === 1) return '100%';
  if (chance < 0.001) return '<0.1%';
  if (chance > 0.999) return '>99.9%';
  const tenths = chance < 0.1 || chance > 0.9 ? 1 : 0;
  return `${(chance * 100).toFixed(tenths)}%`;
}

const NUMBERS = [
  ...['nobody', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'],
  ...['eleven', 'twelve'],
];

/** How many, said of people: "four", and in figures from 13 on. */
export function numberInWords(count: number): string {
  return NUMBERS[count] ?? String(count);
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export type Show = (score: Units) => string;

export function shower(meet: Meet): Show {
  requireSound(meet);
  return (score) => formatScore(score, meet.scoring.decimals);
}

/** A contest as it is said: by its id, or by the apparatus whose code that is. */
export function contestInWords(meet: Names, contest: string): string {
  return apparatusName(meet, contest);
}

/** "in all-around", "on beam" */
export function inContest(meet: Meet, contest: string): string {
  const isApparatus = meet.apparatus.some((a) => a.code === contest);
  return `${isApparatus ? 'on' : 'in'} ${contestInWords(meet, contest)}`;
}

/** The heading of a contest: the meet's title, where it has one, and the contest. */
export function titleOf(meet: Meet, contest: string): string {
  const name = contestInWords(meet, contest);
  return meet.title === null ? name : `${meet.title}: ${name}`;
}

export interface Words {
  readonly she: string;
  readonly her: string;
}

/** Words for whoever a sheet is about: one of the meet's gymnasts, or a team. */
export function wordsFor(meet: Meet, contender: string): Words {
  const isTeam = !meet.gymnasts.some((g) => g.id === contender);
  return isTeam ? { she: 'it', her: 'its' } : meet.words;
}

/** "hers", "his", "theirs", "its": the word for what is not followed by what it is. */
export function theirs(her: string): string {
  return { her: 'hers', their: 'theirs' }[her] ?? her;
}

/** Whose total and place a recorded score speaks of: the gymnast's, or her team's. */
export function contenderOf(meet: Meet, { row, contest }: Recorded): string {
  const gymnast = meet.gymnasts.find((g) => g.id === row.gymnast);
  const isTeam = findContest(meet, contest).kind.ranks === 'teams';
  return (isTeam ? gymnast?.team : gymnast?.id) ?? '';
}

/** Whether a medal is anything to ask about: somebody can miss one, and it is more than the title. */
export function asksForMedals(meet: Meet, contest: string): boolean {
  return hasMedalsToWin(findContest(meet, contest));
}

export function ruleInWords(name: string): string {
  return TIE_RULES.find((rule) => rule.name === name)?.words ?? name;
}

/** What a rule found between two whom it separates, said after "on", by the parts of their totals. */
export function decidedInWords(name: string, a: PartValues, b: PartValues): string {
  const rule: TieRule | undefined = TIE_RULES.find((r) => r.name === name);
  return rule?.decidedOn?.(a, b) ?? ruleInWords(name);
}

/** "59 of 93 routines are done.", of those with a score and those to come: who is out has none to come. */
export function doneInWords(meet: Meet, contest: Contest): string {
  const recorded = recordedPerformances(meet);
  const done = [...routinesCounted(contest)].filter((i) => isScored(meet.results[i])).length;
  const toCome = new Set(contest.contenders.flatMap((c) => routinesToCome(entryOf(c, recorded))));
  if (toCome.size === 0) return 'All routines are done.';
  return `${done} of ${done + toCome.size} routines are done.`;
}

export function routinesInWords(count: number): string {
  return count === 1 ? '1 routine' : `${count} routines`;
}

/** "BB FX", and for a team "BB×3 FX×6". */
export function toComeInWords(codes: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const code of codes) counts.set(code, (counts.get(code) ?? 0) + 1);
  return [...counts].map(([code, n]) => (n === 1 ? code : `${code}×${n}`)).join(' ');
}
