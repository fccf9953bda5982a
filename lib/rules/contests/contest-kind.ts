/** What a kind of contest is. Each kind is one record in a file of its own, and the only place that knows it. */
import type { ContestReader } from '../../meet/known-rules.js';
import { type ContestSettings, type Gymnast, type Meet, routineOf } from '../../meet/meet.js';
import type { Units } from '../../score.js';
import type { ContenderDraft, Part } from '../contender.js';

export interface ContestKindOf<Settings> extends ContestReader<Settings> {
  /** Everyone it ranks, in list order, with the parts of their totals; `carriedIn` by contender's id. */
  readonly contenders: (
    meet: Meet,
    settings: Settings,
    carriedIn: (id: string) => Units,
  ) => ContenderDraft[];
  /** Whether what happened in all-around finals before is a precedent for it. */
  readonly isLikeAllAroundFinals: boolean;
}

/** A kind of contest whose settings are its own business. */
export type ContestKind = ContestKindOf<ContestSettings>;

/** A record as everybody else sees it: its settings go back only to the record that made them. */
export function contestKind<Settings>(kind: ContestKindOf<Settings>): ContestKind {
  return kind as unknown as ContestKind;
}

/** The best few scores of some gymnasts on one apparatus. */
export function bestOn(
  meet: Meet,
  count: number,
  apparatus: string,
  gymnasts: readonly Gymnast[],
): Part {
  const routines: number[] = [];
  for (const { id } of gymnasts) {
    const routine = routineOf(meet, id, apparatus);
    if (routine !== undefined) routines.push(routine.index);
  }
  return { apparatus, rule: { kind: 'best', count }, routines };
}

/** A gymnast as a contender for herself. */
export function gymnastWith(
  { id, name, team }: Gymnast,
  carried: Units,
  parts: readonly Part[],
): ContenderDraft {
  return { id, name, team, carried, parts, outByDns: true };
}
