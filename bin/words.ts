/** Places, chances and needs in words that can be read out. */
import {
  formatScore,
  type Meet,
  type Need,
  type NeedsSheet,
  type Score,
  type Settled,
} from '../lib/index.js';

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

export type Show = (score: Score) => string;

export function shower(meet: Meet): Show {
  return (score) => formatScore(score, meet.scoring.decimals);
}

/** The name of whoever has an id in this meet, gymnast or team. */
export function nameOf(meet: Meet, id: string): string {
  return [...meet.gymnasts, ...meet.teams].find((n) => n.id === id)?.name ?? id;
}

export function apparatusName(meet: Meet, code: string): string {
  return meet.apparatus.find((a) => a.code === code)?.name ?? code;
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
  if (need.target === 'medal' && need.rivals === 'low' && (need.rest === 'high' || !more)) {
    return `${goal}${when} if all goes ${her} way`;
  }
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

const RULES: Readonly<Record<string, string>> = {
  'best-scores': 'best scores',
  execution: 'execution',
  difficulty: 'difficulty',
  'best-vault': 'the better vault',
};

export function ruleInWords(rule: string): string {
  return RULES[rule] ?? rule;
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
