/** Places, chances and needs in words that can be read out. */

import { familyName, listed, ordinal, percent } from '../lib/captions/words.js';
import { findContest } from '../lib/contest/contest.js';
import {
  formatScore,
  type Meet,
  type Need,
  type NeedChances,
  type NeedsSheet,
  type Plan,
  type Recorded,
  type Settled,
  standings,
  type Units,
} from '../lib/index.js';
import { TIE_RULES } from '../lib/rules/ties/index.js';

export { listed, ordinal, percent };

/** With a larger error than this a tenth of a percent cannot be read out. */
const FOR_TENTHS = 0.0005;

/** A computed chance, with no more digits than its error warrants, and never a false 0 or 100. */
export function percentWithin(chance: number, error: number): string {
  const digits = error <= FOR_TENTHS ? 1 : 0;
  const least = 10 ** -digits / 100;
  // Nothing is impossible, or sure, because it never came up in a sample.
  if (chance < least)
    return chance === 0 && digits === 1 ? '0%' : `<${digits === 1 ? '0.1' : '1'}%`;
  if (chance > 1 - least) {
    return chance === 1 && digits === 1 ? '100%' : `>${digits === 1 ? '99.9' : '99'}%`;
  }
  return `${(chance * 100).toFixed(digits)}%`;
}

/** Of what is not settled nobody is told that it is impossible, or sure. */
export function unsettled(chance: number, error: number): string {
  return percentWithin(Math.min(Math.max(chance, Number.MIN_VALUE), 1 - Number.EPSILON), error);
}

/** A chance as a bar of so many columns, in eighths of one. */
export function bar(chance: number, width: number): string {
  const eighths = Math.min(Math.max(Math.round(chance * width * 8), chance > 0 ? 1 : 0), width * 8);
  const rest = EIGHTHS[eighths % 8] ?? '';
  return `${'█'.repeat(Math.floor(eighths / 8))}${rest}`;
}

const EIGHTHS = ['', '▏', '▎', '▍', '▌', '▋', '▊', '▉'];

/** What she is called in a list: her last name, unless somebody else has it too. */
export function shortName(meet: Plan, id: string): string {
  const gymnast = meet.gymnasts.find((g) => g.id === id);
  if (gymnast === undefined) return nameOf(meet, id);
  const [last, ...others] = [gymnast, ...meet.gymnasts.filter((g) => g.id !== id)].map((g) =>
    familyName(g.name),
  );
  return last === undefined || others.includes(last) ? gymnast.name : last;
}

export type Show = (score: Units) => string;

export function shower(meet: Meet): Show {
  return (score) => formatScore(score, meet.scoring.decimals);
}

/** The name of whoever has an id in this meet, gymnast or team. */
export function nameOf(meet: Plan, id: string): string {
  return [...meet.gymnasts, ...meet.teams].find((n) => n.id === id)?.name ?? id;
}

export function apparatusName(meet: Plan, code: string): string {
  return meet.apparatus.find((a) => a.code === code)?.name ?? code;
}

/** The heading of a contest: the meet's title, where it has one, and the contest. */
export function titleOf(meet: Meet, contest: string): string {
  return meet.title === null ? contest : `${meet.title}: ${contest}`;
}

/** Who on a board shares a place. */
export type SharedPlaces = ReadonlySet<string>;

export function sharedPlaces(meet: Meet, contest: string): SharedPlaces {
  const { rows } = standings(meet, { contest });
  return new Set(rows.filter((r) => r.tied).map((r) => r.id));
}

/** "1st", "shares 1st" */
export function placedInWords(place: number | null, shares: boolean): string {
  if (place === null) return 'no place yet';
  return `${shares ? 'shares ' : ''}${ordinal(place)}`;
}

/** Whose total and place a recorded score speaks of: the gymnast's, or her team's. */
export function contenderOf(meet: Meet, { row, contest }: Recorded): string {
  const gymnast = meet.gymnasts.find((g) => g.id === row.gymnast);
  const isTeam = findContest(meet, contest).kind.ranks === 'teams';
  return (isTeam ? gymnast?.team : gymnast?.id) ?? '';
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
  const goal = goalInWords(meet, need.target, sheet.place);
  const more = sheet.toCome.length > 1;
  const { her } = wordsFor(meet, sheet.contender);
  if (need.when === 'now') return `${goal} now`;
  const when = need.when === 'rotation' ? ' after this rotation' : '';
  const rest = more && need.rest !== 'likely' ? `, ${restInWords(need.rest, her)}` : '';
  return `${goal}${when}, ${rivalsInWords(need.rivals)}${rest}`;
}

function goalInWords(meet: Meet, target: string, place: number | null): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  switch (kind) {
    case 'lead':
      return 'to lead';
    case 'win':
      return 'to win';
    case 'medal':
      return 'for a medal';
    case 'hold':
      return place === null ? 'to hold the place' : `to hold ${ordinal(place)}`;
    case 'place':
      return `for ${ordinal(Number(value))} or better`;
    case 'beat':
      return `to beat ${nameOf(meet, value)}`;
    default:
      return `for a total of ${value}`;
  }
}

export function ruleInWords(name: string): string {
  return TIE_RULES.find((rule) => rule.name === name)?.words ?? name;
}

/** Which tie rules chances had to do without. */
export function skippedInChances(rules: readonly string[]): string {
  const names = rules.map(ruleInWords).join(' or ');
  return `A tie is not taken to ${names}: not everyone has the scores for that.`;
}

/** What a tie would bring: "a tie goes to Ida Brandt on best scores"; `her` is her name. */
export function tieInWords(meet: Meet, need: Need, her: string): string {
  const by = need.tieBy === null ? '' : ` on ${ruleInWords(need.tieBy)}`;
  switch (need.tieGoesTo) {
    case 'her':
      return `a tie goes to ${her}${by}`;
    case 'rival':
      return `a tie goes to ${need.mark?.id == null ? 'the rival' : nameOf(meet, need.mark.id)}${by}`;
    case 'shared':
      return 'a tie would be shared';
    case 'open':
      return `a tie is open${by === '' ? '' : `, to be decided${by}`}`;
    default:
      return '';
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
      return 'only a tie lies within the scoring limit';
    case 'beyond':
      return high === null
        ? `beyond ${her} realistic best`
        : `beyond ${her} realistic best of ${show(high)}`;
    case null: {
      const what = need.rivals === 'limit' || need.rest === 'limit' ? 'D score' : 'range';
      const names = need.missing
        .slice(0, 3)
        .map((m) => `${nameOf(meet, m.gymnast)} on ${m.apparatus}`);
      const more = need.missing.length - names.length;
      return `no ${what} for ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
    }
    default:
      return '';
  }
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
  const does = metInWords(meet, need, sheet.place);
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

/** "a medal is secured, whatever anyone scores" */
export function settledInWords(settled: Settled, place: number | null): string {
  const what = {
    win: 'the title',
    medal: 'a medal',
    hold: place === null ? 'the place' : `${ordinal(place)} or better`,
  }[settled.target];
  const status = settled.status === 'secured' ? 'secured' : 'out of reach';
  const sense =
    settled.by === 'limit'
      ? 'whatever anyone scores'
      : 'as long as everyone stays within the ranges, falls included';
  return `${what ?? settled.target} is ${status}, ${sense}`;
}

/** "BB FX", and for a team "BB×3 FX×6". */
export function toComeInWords(codes: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const code of codes) counts.set(code, (counts.get(code) ?? 0) + 1);
  return [...counts].map(([code, n]) => (n === 1 ? code : `${code}×${n}`)).join(' ');
}
