/** What a need asks, what its answer means, and how often it is enough, in words. */
import { type Meet, routineOf } from '../meet/meet.js';
import type { Need } from '../needs/need.js';
import type { NeedChances } from '../needs/need-chances.js';
import type { NeedsSheet } from '../needs/sheet.js';
import type { Units } from '../score.js';
import { gridAtOrAbove, highestE } from '../scoring.js';
import { unsettled } from './chance-words.js';
import { nameOf, ordinal, percent, ruleInWords, shower, wordsFor } from './words.js';

/** "rivals at their realistic best" */
export function rivalsInWords(rivals: Need['rivals']): string {
  return {
    'as-is': 'as the board stands',
    low: 'rivals at their low',
    likely: 'rivals at their likely',
    high: 'rivals at their realistic best',
    limit: 'rivals at the scoring limit',
  }[rivals];
}

function restInWords(rest: Need['rest'], her: string): string {
  return {
    low: `${her} rest at low`,
    likely: `${her} rest at likely`,
    high: `${her} rest at ${her} best`,
    limit: `${her} rest at the limit`,
  }[rest];
}

/** What a need asks, as the beginning of a row: "to win, rivals at their likely". */
export function needInWords(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const { her } = wordsFor(meet, sheet.contender);
  const goal = goalInWords(meet, need.target, sheet.hold, her);
  const more = sheet.toCome.length > 1;
  if (need.when === 'now') return `${goal} now`;
  const when = need.when === 'rotation' ? ' after this rotation' : '';
  const rest = more && need.rest !== 'likely' ? `, ${restInWords(need.rest, her)}` : '';
  return `${goal}${when}, ${rivalsInWords(need.rivals)}${rest}`;
}

function goalInWords(meet: Meet, target: string, hold: NeedsSheet['hold'], her: string): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  switch (kind) {
    case 'lead':
      return 'to lead';
    case 'win':
      return 'to win';
    case 'medal':
      return 'for a medal';
    case 'hold':
      return holdInWords(hold, her);
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

/** The real score that draws level, one of the grid; null where none does, or no tie is in it. */
export function tieScoreOf({ scoring: { grid } }: Meet, need: Need): Units | null {
  const { status, level, ahead, tieGoesTo } = need;
  if (status === null || status === 'secured' || status === 'impossible') return null;
  if (level === null || ahead === null || tieGoesTo === null) return null;
  const score = gridAtOrAbove(level, grid);
  // More than one score can bring the same total: a mean of two is cut.
  return score === level || (score < ahead && status !== 'level-only') ? score : null;
}

/**
 * "13.434 ties with Bea Harrow on 54.133, and Ada Quill is ahead on best scores"; `her` is her name.
 * Empty where no real score ties.
 */
export function tieInWords(meet: Meet, need: Need, her: string): string {
  const show = shower(meet);
  const score = tieScoreOf(meet, need);
  if (score === null || need.mark?.id == null) return '';
  const rival = nameOf(meet, need.mark.id);
  const rule = need.tieBy === null ? null : ruleInWords(need.tieBy);
  const on = rule === null ? '' : ` on ${rule}`;
  const ties = `${show(score)} ties with ${rival} on ${show(need.mark.total)}`;
  switch (need.tieGoesTo) {
    case 'her':
      return `${ties}, and ${her} is ahead${on}`;
    case 'rival':
      return `${ties}, and ${rival} is ahead${on}`;
    case 'open':
      return `${ties}, to be decided${on}`;
    default:
      return `${ties}, and they share the place`;
  }
}

/** What the status of a need means; empty where the numbers say it all. */
export function statusInWords(meet: Meet, sheet: NeedsSheet, need: Need): string {
  const { she, her } = wordsFor(meet, sheet.contender);
  const { high } = sheet.range;
  const show = shower(meet);
  switch (need.status) {
    case 'secured':
      return need.when === 'now' || need.mark === null
        ? `secured, if ${she} competes`
        : `secured on this assumption, if ${she} competes`;
    case 'impossible':
      return 'not possible: not even a tie lies within the scoring limit';
    case 'level-only':
      return tieScoreOf(meet, need) === null
        ? 'not possible: no real score within the limit is enough'
        : 'only a tie lies within the scoring limit';
    case 'beyond':
      return high === null
        ? `beyond ${her} realistic best`
        : `beyond ${her} realistic best of ${show(high)}`;
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

/**
 * "14.700 or better, 2.2% of her range, wins 58% of the time; for an even chance: 14.633"; nothing
 * of the board right after the score, where nothing is left to chance.
 */
export function chancesInWords(
  meet: Meet,
  sheet: NeedsSheet,
  need: Need,
  chances: NeedChances | null,
  asked: number | null,
): string[] {
  if (chances === null || need.when === 'now' || need.ahead === null) return [];
  const show = shower(meet);
  const { her } = wordsFor(meet, sheet.contender);
  const does = metInWords(meet, need, sheet.hold?.place ?? null);
  const often = (chance: number) => `${unsettled(chance, TABLES)} of the time`;
  const whole = `any score of ${her} range ${does} ${often(chances.any)}`;
  const score = show(need.onGrid ?? need.ahead);
  const from =
    chances.onceAhead === null
      ? `${whole}, and ${score} is above it`
      : need.reach === 1
        ? whole
        : `${score} or better, ${percent(need.reach ?? 0)} of ${her} range, ${does} ${often(chances.onceAhead)}`;
  return [asked === null ? from : `${from}; ${evenInWords(meet, need, asked)}`];
}

/** "for an even chance: 14.633" */
function evenInWords(meet: Meet, { scoreForChance: score }: Need, asked: number): string {
  const chance = chanceAskedInWords(asked);
  if (score === null) return `no score within the limit gives ${chance}`;
  return score === 0 ? `any score gives ${chance}` : `for ${chance}: ${shower(meet)(score)}`;
}

export function chanceAskedInWords(asked: number): string {
  return asked === 0.5 ? 'an even chance' : `a chance of ${+(asked * 100).toFixed(3)}%`;
}

/** Beside needs a chance is read out in whole percents. */
const TABLES = 0.001;

function metInWords(meet: Meet, { target, when }: Need, place: number | null): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  switch (kind) {
    case 'win':
      return 'wins';
    case 'lead':
      return when === 'end' ? 'wins' : 'leads then';
    case 'medal':
      return 'brings a medal';
    case 'hold':
      return `holds ${ordinal(place ?? 1)}`;
    case 'place':
      return `brings ${ordinal(Number(value))} or better`;
    case 'beat':
      return `beats ${nameOf(meet, value)}`;
    default:
      return `reaches ${value}`;
  }
}
