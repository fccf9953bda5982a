/** A final looked at after every rotation: what was said of everybody, and what came of it. */
import { modelOf } from '../chances/model.js';
import { placeChances } from '../chances/place-chances.js';
import { type Contest, findContest } from '../contest/contest.js';
import { type Meet, rangeAt } from '../meet/meet.js';
import { assumed, entryOf, type Performances } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import {
  asItStood,
  entriesIn,
  type FinalFacts,
  finalBoard,
  type PastFinal,
  type RangesOf,
  rangesBefore,
  withoutMeet,
} from './rounds.js';

/** Medals in these finals. */
export const MEDALS = 3;

export const TARGETS = { win: 1, medal: MEDALS } as const;
export type TargetName = keyof typeof TARGETS;

/** One board of one final, and what came of it. Lists are by contender. */
export interface Board {
  /** Boards of one meet go together. */
  readonly meetKey: string;
  readonly final: FinalFacts;
  readonly rotation: number;
  /** The chance of every place, and how wrong each can be. */
  readonly places: readonly (readonly number[])[];
  readonly error: number;
  /** The total as it stood, and with the likely scores of what was to come. */
  readonly totals: readonly number[];
  readonly projected: readonly number[];
  /** What a normal distribution around everybody's own mean gives for each target. */
  readonly normal: Readonly<Record<TargetName, readonly number[]>>;
  /** The place in the end. */
  readonly ended: readonly number[];
}

/** What the plain forecaster gives, for the meet as it stood. */
export type PlainForecast = (meet: Meet, contest: Contest, rotation: number) => Board['normal'];

const NO_PLAIN = { win: [], medal: [] };

/** The boards of a final, one before every rotation. */
export function boardsOf(
  final: PastFinal,
  rangesOf: RangesOf,
  plainForecast: PlainForecast = () => NO_PLAIN,
): Board[] {
  const facts = withoutMeet(final);
  const given = rangesBefore(final, rangesOf);
  const ended = finalBoard(final).map((b) => b.place);
  return Array.from({ length: final.rotations }, (_, rotation): Board => {
    const meet = asItStood(final, rotation, given);
    const contest = findContest(meet, null);
    const model = modelOf(meet, contest);
    const { places, error } = placeChances(model);
    const byId = new Map(model.entrants.map((e, i) => [e.contender.id, places[i] ?? []]));
    const entries = entriesIn(meet);
    const likely = likelyIn(meet);
    return {
      meetKey: `${final.competition} ${final.date}`,
      final: facts,
      rotation,
      places: entries.map((e) => byId.get(e.contender.id) ?? []),
      error,
      totals: entries.map((e) => e.total),
      projected: entries.map((e) => entryOf(e.contender, likely).total),
      normal: plainForecast(meet, contest, rotation),
      ended,
    };
  });
}

/** Every routine to come at its likely score. */
function likelyIn(meet: Meet): Performances {
  return recordedPerformances(meet).map((p, i) => {
    const { likely, d } = rangeAt(meet, i);
    return p ?? assumed(likely ?? 0, d);
  });
}
