/** One thing to say: its values, its fields in words, and what a template may ask of it. */
import type { Chance } from '../chance.js';
import type { Contest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { capital, listed, ordinal } from '../report/words.js';
import type { Contender } from '../rules/contender.js';
import type { TieRuleName } from '../rules/ties/index.js';
import { formatScore, type Score, type Units } from '../score.js';
import type { Context } from './context.js';
import type { Words } from './words.js';

/** What a line says, as values; null where it says nothing of it. What each means is said by kind in docs/graphics.md. */
export interface LineValues {
  /** Of a need and of what is settled: `lead`, `win`, `medal`, `advance`, `hold`; of a medal won `medal`. */
  readonly target: string | null;
  /** Of a need its status, of what is settled `secured` or `out-of-reach`. */
  readonly status: string | null;
  /** In which sense it holds: of which board a place is, or what is taken of scores to come. */
  readonly by: string | null;
  /** By code: of the routine, or of the last score. */
  readonly apparatus: string | null;
  /** Of the routine, as the rotation. */
  readonly session: number | null;
  /** Within its session; of a kind `rotation` the one that is over. */
  readonly rotation: number | null;
  /** Routines done. */
  readonly done: number | null;
  /** The score band of an outcome, both ends included; of a need the real score that only ties. */
  readonly from: Score | null;
  /** The upper end of that band. */
  readonly to: Score | null;
  /** Counted from 1. */
  readonly place: number | null;
  /** The place before. */
  readonly wasPlace: number | null;
  /** The place if every tie that is still open goes against her. */
  readonly worst: number | null;
  /** Whether the place is shared; null where a tie is still open. */
  readonly tied: boolean | null;
  /** The rule that decides the tie the line speaks of. */
  readonly tieBy: TieRuleName | null;
  /** Ids. */
  readonly levelWith: readonly string[] | null;
  /** Ids by place, of medals in order. */
  readonly places: readonly (readonly string[])[] | null;
  /** The score the line is about: what she got, or what she needs. */
  readonly score: Score | null;
  /** The score that stood before. */
  readonly was: Score | null;
  /** The total it brings, or stands at. */
  readonly total: Score | null;
  /** How far it is to the next, or to the leader; never negative. */
  readonly gap: Score | null;
  /** Of the band, by her range; of a need that she scores as much; of the medals in this order. */
  readonly chance: Chance | null;
}

export const NO_VALUES: LineValues = {
  target: null,
  status: null,
  by: null,
  apparatus: null,
  session: null,
  rotation: null,
  done: null,
  from: null,
  to: null,
  place: null,
  wasPlace: null,
  worst: null,
  tied: null,
  tieBy: null,
  levelWith: null,
  places: null,
  score: null,
  was: null,
  total: null,
  gap: null,
  chance: null,
};

/** Something to say. */
export interface Fact {
  /** Ids, whoever it is said of first; in a team contest the gymnast, then the team. */
  readonly about: readonly string[];
  /** Tells it from others of its kind about the same: apparatus, target, band. Never a score or a word. */
  readonly key: readonly string[];
  readonly values: LineValues;
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
export const WHO_FIELDS = ['name', 'team', 'contest', 'she', 'her', 'She', 'Her'] as const;

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

export const PLACE = ['first', 'medal', 'other'] as const;

export function placeMark(contest: Contest, place: number): (typeof PLACE)[number] {
  if (place === 1) return 'first';
  return place <= contest.medals ? 'medal' : 'other';
}

/** Whose contest it is. */
export const OF = ['gymnast', 'team'] as const;

export const ofMark = ({ kind }: Contest) => ({ of: kind.ranks === 'teams' ? 'team' : 'gymnast' });

export const YES_NO = ['yes', 'no'] as const;

export const yesNo = (holds: boolean) => (holds ? 'yes' : 'no');

/** "Okafor and Lund"; null for nobody. */
export function namesIn({ names }: Context, ids: readonly string[]): Words | null {
  return ids.length === 0 ? null : (short) => listed(ids.map((id) => names.of(id)(short)));
}
