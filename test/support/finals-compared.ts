/** Who went on by the library beside who appeared in the final, and why it is not the same. */
import type { StandingsRow } from '../../lib/index.js';
import {
  boardsOf,
  boardWithout,
  type Final,
  type Finalist,
  type Kind,
  type Qualification,
  qualifications,
  quotaOf,
} from './finalists.js';
import { countOf, once } from './open-data.js';

/** Why somebody who is in does not appear in the final, or the other way round. */
export type Reason =
  /** In, and without a row in this final. */
  | 'withdrew'
  /** In, without a row, and nobody in this final has the first place. */
  | 'row missing'
  /** In the final: called up by the library once those who withdrew are recorded as DNS. */
  | 'next'
  /** In the final: called up once reserves who do not appear are recorded so too. */
  | 'next there'
  /** One gymnast under two codes: see `otherCodes`. */
  | 'code'
  /** In the final though nobody is missing, as the first reserve. */
  | 'extra'
  | 'unexplained';

export interface Compared {
  readonly where: string;
  readonly kind: Kind;
  readonly final: Final;
  readonly rows: readonly StandingsRow[];
  /** More than one finalist has no complete rows in the qualification: a sheet of it is missing. */
  readonly isApart: boolean;
  readonly agreed: number;
  readonly missing: readonly Difference[];
  readonly called: readonly Difference[];
  /** Called up, had they been there. */
  readonly passedOver: readonly string[];
  /** The most of one country who are in, at first or after some have withdrawn. */
  readonly most: number;
}

export interface Difference {
  readonly id: string;
  readonly reason: Reason;
}

export const idsIn = (rows: readonly StandingsRow[]) =>
  rows.filter((r) => r.advance === 'in').map((r) => r.id);

export const mostOf = (countries: readonly string[]) =>
  Math.max(...Object.values(countOf(countries, (noc) => noc)));

/**
 * Finalists who have no row of that apparatus in the qualification, each with one of the same country
 * (or of the same code) who is in, is not in the final, and shares no apparatus with that code.
 */
function otherCodes(
  q: Qualification,
  finalists: readonly Finalist[],
  inFirst: readonly string[],
  onBoard: ReadonlySet<string>,
) {
  const of = (id: string) => q.field.find((e) => e.id === id);
  const found = new Map<string, string>();
  for (const { id, noc } of finalists) {
    if (onBoard.has(id)) continue;
    const hers = of(id)?.done.map((d) => d.on) ?? [];
    const twin = inFirst.find(
      (other) =>
        !finalists.some((f) => f.id === other) &&
        ![...found.values()].includes(other) &&
        (of(other)?.noc === noc || other.split('-')[0] === id.split('-')[0]) &&
        !of(other)?.done.some((d) => hers.includes(d.on)),
    );
    if (twin !== undefined) found.set(id, twin);
  }
  return found;
}

/** Who would be there if the library called up the next whenever one of them is not. */
function callUp(
  q: Qualification,
  final: Final,
  first: readonly string[],
  there: ReadonlySet<string>,
) {
  const absent = new Set<string>();
  const steps = [first];
  let listed = first;
  const isOneNotThere = () => listed.some((id) => !there.has(id));
  const isOneNotListed = () => [...there].some((id) => !listed.includes(id));
  while (isOneNotThere() && isOneNotListed()) {
    for (const id of listed) if (!there.has(id)) absent.add(id);
    listed = idsIn(boardWithout(q, final, absent));
    steps.push(listed);
  }
  return { steps, absent };
}

function compare(q: Qualification, final: Final, rows: readonly StandingsRow[]): Compared {
  const first = idsIn(rows);
  const teams = new Map(rows.map((r) => [r.id, r.team]));
  const onBoard = new Set(teams.keys());
  const codes = otherCodes(q, final.finalists, first, onBoard);
  const there = new Set(final.finalists.map((f) => codes.get(f.id) ?? f.id));
  const isApart = [...there].filter((id) => !onBoard.has(id)).length > 1;
  const { steps, absent } = callUp(q, final, first, isApart ? new Set(first) : there);
  const isFirstMissing = final.finalists.every((f) => f.place !== null && f.place > 1);
  const reasonOf = (id: string): Reason => {
    if (steps[1]?.includes(id)) return 'next';
    if (steps.at(-1)?.includes(id)) return 'next there';
    const isNext = rows.find((r) => r.id === id)?.reserve === 1;
    return absent.size === 0 && isNext ? 'extra' : 'unexplained';
  };
  return {
    where: q.where,
    kind: q.kind,
    final,
    rows,
    isApart,
    agreed: final.finalists.filter((f) => first.includes(f.id)).length,
    missing: first
      .filter((id) => !final.finalists.some((f) => f.id === id))
      .map((id) => ({
        id,
        reason: there.has(id) ? 'code' : isFirstMissing ? 'row missing' : 'withdrew',
      })),
    called: final.finalists
      .filter((f) => !first.includes(f.id))
      .map(({ id }) => ({ id, reason: codes.has(id) ? 'code' : reasonOf(id) })),
    passedOver: [...absent].filter((id) => !first.includes(id)),
    most: Math.max(...steps.map((ids) => mostOf(ids.map((id) => teams.get(id) ?? '')))),
  };
}

export const compared = once(() =>
  qualifications().flatMap((q) =>
    boardsOf(q, quotaOf(q)).map(({ final, rows }) => compare(q, final, rows)),
  ),
);
