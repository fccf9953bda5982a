/** What a need asks and what its answer means, in words. */
import { findContest } from '../contest/contest.js';
import { type Meet, routineOf } from '../meet/meet.js';
import { isBeyond, type Need } from '../needs/need.js';
import type { NeedsSheet } from '../needs/sheet.js';
import type { Score, Units } from '../score.js';
import { gridAtOrAbove, highestE } from '../scoring.js';
import { goalWords } from './goals.js';
import { nameOf, ordinal, rotationOf, ruleInWords, shower, theirs, wordsFor } from './words.js';

/** "the others at their realistic best" */
export function rivalsInWords(rivals: Need['rivals']): string {
  return {
    'as-is': 'as the board stands',
    low: 'the others at their low',
    likely: 'the others as expected',
    high: 'the others at their realistic best',
    limit: 'the others at the highest score there is',
  }[rivals];
}

/** The same where there is little room: "others at best"; `whose` are her other routines, null without any. */
function inFewWords({ rivals, rest }: Need, whose: string | null): string {
  const own = {
    low: `, ${whose} at low`,
    likely: '',
    high: `, ${whose} at best`,
    limit: `, ${whose} at the limit`,
  };
  const others = {
    'as-is': 'as it stands',
    low: 'low',
    likely: 'expected',
    high: 'best',
    limit: 'the limit',
  };
  return `others at ${others[rivals]}${whose === null ? '' : own[rest]}`;
}

function restInWords(rest: Need['rest'], her: string): string {
  const other = `${her} other routines`;
  return {
    low: `${other} at their low`,
    likely: `${other} as expected`,
    high: `${other} at their best`,
    limit: `${other} at the highest score there is`,
  }[rest];
}

/** Whether a need assumes what is assumed where nothing is said: everybody as expected. */
export function isAsExpected({ when, rivals, rest }: Need): boolean {
  return when === 'now' || (rivals === 'likely' && rest === 'likely');
}

/** What a need asks, as the beginning of a row: "to win", "for a medal, the others at their realistic best". */
export function needInWords(
  meet: Meet,
  sheet: NeedsSheet,
  need: Need,
  { isShort = false }: { readonly isShort?: boolean } = {},
): string {
  const { her } = wordsFor(meet, sheet.contender);
  const goal = goalInWords(meet, sheet, need.target);
  if (need.when === 'now') return `${goal} now`;
  const when = need.when === 'rotation' ? ` after ${rotationOf(meet, sheet)}` : '';
  if (isAsExpected(need)) return `${goal}${when}`;
  if (isShort)
    return `${goal}${when}, ${inFewWords(need, sheet.toCome.length > 1 ? theirs(her) : null)}`;
  const rest =
    sheet.toCome.length > 1 && need.rest !== 'likely' ? ` and ${restInWords(need.rest, her)}` : '';
  return `${goal}${when}, ${rivalsInWords(need.rivals)}${rest}`;
}

/** The same with its assumption, whatever it is: "to win, the others as expected". */
export function needWithAssumption(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const said = needInWords(meet, sheet, need);
  return need.when === 'now' || !isAsExpected(need) ? said : `${said}, ${rivalsInWords('likely')}`;
}

/** "to win", "for 8th or better", "to beat Ida Brondt" */
export function goalInWords(meet: Meet, sheet: NeedsSheet, target: string): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  switch (kind) {
    case 'lead':
      return 'to lead';
    case 'win':
      return goalWords(findContest(meet, sheet.contest), 'win')?.to ?? 'to win';
    case 'medal':
      return 'for a medal';
    case 'advance':
      return 'to go through';
    case 'hold':
      return sheet.hold === null ? 'to hold the place' : `to hold ${ordinal(sheet.hold.place)}`;
    case 'place':
      return `for ${ordinal(Number(value))} or better`;
    case 'beat':
      return `to beat ${nameOf(meet, value)}`;
    default:
      return `for a total of ${value}`;
  }
}

/** "to hold 3rd", "to hold 3rd, her place by projection" */
export function holdInWords(hold: NeedsSheet['hold'], her: string): string {
  if (hold === null) return 'to hold the place';
  const by = hold.by === 'board' ? '' : `, ${her} place by projection`;
  return `to hold ${ordinal(hold.place)}${by}`;
}

/** ", by a margin of 0.500"; empty without one. */
export function marginInWords(meet: Meet, margin: Score | null): string {
  return margin === null || margin === 0 ? '' : `, by a margin of ${shower(meet)(margin)}`;
}

/** What all that says nothing else assumes; empty where nothing is assumed. */
export function assumptionInWords(meet: Meet, sheet: NeedsSheet): string {
  const ahead = sheet.needs.filter((n) => n.when !== 'now' && n.status !== null);
  const expected = ahead.filter(isAsExpected);
  const { contenders } = findContest(meet, sheet.contest);
  const others = contenders.some(
    (c) => c.id !== sheet.contender && c.routines.some((i) => meet.results[i] === null),
  );
  if (expected.length === 0 || (sheet.toCome.length < 2 && !others)) return '';
  const where = expected.length < ahead.length ? ', where nothing else is said' : '';
  return `All else as expected${where}.`;
}

/** The real score that draws level, one of the grid; null where none does, or no tie is in it. */
export function tieScoreOf({ scoring: { grid } }: Meet, need: Need): Units | null {
  const { status, level, ahead, tieGoesTo } = need;
  if (status === null || status === 'secured' || status === 'impossible') return null;
  if (level === null || ahead === null || tieGoesTo === null) return null;
  const score = gridAtOrAbove(level, grid);
  // More than one score can bring the same total: a mean of two is cut.
  return score === level || (score < ahead && status !== 'level-only') ? score : null;
}

/** "13.434 ties, and wins the tie on best scores"; empty where no real score ties. */
export function tieInWords(meet: Meet, need: Need): string {
  const score = tieScoreOf(meet, need);
  if (score === null) return '';
  const rule = need.tieBy === null ? null : ruleInWords(need.tieBy);
  const on = rule === null ? '' : ` on ${rule}`;
  const ties = `${shower(meet)(score)} ties`;
  switch (need.tieGoesTo) {
    case 'her':
      return `${ties}, and wins the tie${on}`;
    case 'rival':
      return `${ties}, and loses the tie${on}`;
    case 'open':
      return `${ties}, to be decided${rule === null ? ' by the tie rules' : on}`;
    default:
      return need.target === 'advance'
        ? `${ties}, and a tie is enough`
        : `${ties}, and shares ${sharedInWords(need.target)}`;
  }
}

/** What a tie would share: "the lead", "first place". */
export function sharedInWords(target: string): string {
  const words: Readonly<Record<string, string>> = {
    lead: 'the lead',
    win: 'first place',
    medal: 'a medal place',
    advance: 'the last place',
  };
  return words[target] ?? 'the place';
}

/** What the status of a need means; empty where the numbers say it all. */
export function statusInWords(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const { her } = meet.words;
  const { high } = sheet.range;
  switch (need.status) {
    case 'impossible':
      return 'no score is enough, not even for a tie';
    case 'level-only':
      return tieScoreOf(meet, need) === null ? 'no score is enough' : 'a tie is the best there is';
    case 'beyond':
      if (!isBeyond(need, sheet.range)) return '';
      return high === null
        ? `above ${her} best`
        : `above ${her} realistic best of ${shower(meet)(high)}`;
    case null: {
      const names = need.missing
        .slice(0, 3)
        .map((m) => `${nameOf(meet, m.gymnast)} on ${m.apparatus}`);
      const more = need.missing.length - names.length;
      return `no range for ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
    }
    default:
      return '';
  }
}

/** Where even an E score of 10.000 leaves her short of it: "not with the D she is expected to show". */
export function anotherDInWords(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const { d } = sheet.range;
  const isOpen = need.status === 'needs' || need.status === 'beyond';
  if (d === null || !isOpen || need.e === null) return '';
  if (need.e <= highestE(meet.scoring.decimals)) return '';
  const { gymnast, apparatus } = sheet;
  const expected = meet.ranges[routineOf(meet, gymnast, apparatus)?.index ?? -1]?.d;
  if (d !== expected) return `not with a D of ${shower(meet)(d)}`;
  const { she } = meet.words;
  return `not with the D ${she} ${she === 'they' ? 'are' : 'is'} expected to show`;
}

export function chanceAskedInWords(asked: number): string {
  return asked === 0.5 ? 'an even chance' : `a chance of ${+(asked * 100).toFixed(3)}%`;
}
