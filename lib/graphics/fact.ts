/** One thing to say: its fields in words, what it is about, and what a template may ask of it. */
import type { Contest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { capital, listed, ordinal } from '../report/words.js';
import type { Contender } from '../rules/contender.js';
import { formatScore, type Score, type Units } from '../score.js';
import type { Context } from './context.js';
import type { LineKind } from './kinds.js';
import type { Words } from './words.js';

/** Something to say. */
export interface Fact {
  readonly kind: LineKind;
  /** Ids, whoever it is said of first. */
  readonly about: readonly string[];
  readonly apparatus: string | null;
  /** The score band of an outcome; null elsewhere. */
  readonly from: Score | null;
  readonly to: Score | null;
  readonly chance: number | null;
  /** What the conditions of a template are compared with. */
  readonly marks: Readonly<Record<string, string>>;
  /** By field; null where there is nothing to say. */
  readonly fields: Readonly<Record<string, Words | null>>;
}

export const asIs =
  (text: string): Words =>
  () =>
    text;

export const scoreIn = (meet: Meet, score: Units | null | undefined): Words | null =>
  score == null ? null : asIs(formatScore(score, meet.scoring.decimals));

export const placeWords = (place: number | null): Words | null =>
  place === null ? null : asIs(ordinal(place));

/** The fields that every kind about somebody has. */
export function whoFields(
  { meet, contest, names, words }: Context,
  contender: Contender,
  id: string,
) {
  const isGymnast = meet.gymnasts.some((g) => g.id === id);
  const { she, her } = isGymnast ? words : { she: 'it', her: 'its' };
  const team = contest.kind.ranks === 'teams' ? contender.id : contender.team;
  return {
    name: names.of(id),
    team: team === null ? null : names.of(team),
    contest: asIs(contest.id),
    she: asIs(she),
    her: asIs(her),
    She: asIs(capital(she)),
    Her: asIs(capital(her)),
  };
}

/** In a team contest a routine is the gymnast's and the team's. */
export function aboutRoutine(contender: Contender, gymnast: string): string[] {
  return contender.id === gymnast ? [gymnast] : [gymnast, contender.id];
}

export function placeMark(contest: Contest, place: number): string {
  if (place === 1) return 'first';
  return place <= contest.medals ? 'medal' : 'other';
}

export const ofMark = ({ kind }: Contest) => ({ of: kind.ranks === 'teams' ? 'team' : 'gymnast' });

export const yesNo = (holds: boolean) => (holds ? 'yes' : 'no');

export const NO_BAND = { from: null, to: null, chance: null } as const;

/** "Okafor and Lund"; null for nobody. */
export function namesIn({ names }: Context, ids: readonly string[]): Words | null {
  return ids.length === 0 ? null : (short) => listed(ids.map((id) => names.of(id)(short)));
}
