/** What `hold` keeps: a place that is one. In the middle of a rotation that is the one by projection. */
import { rank } from '../contest/board.js';
import type { Contest } from '../contest/contest.js';
import { type Projection, progressIn, projectionOf } from '../contest/like-for-like.js';
import { type LastRotationError, noAnswer } from '../error.js';
import type { Meet } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import { recordedPerformances } from '../rules/recorded.js';

/** The place to hold: of the board, or by projection while some have done more routines than others. */
export interface Hold {
  /** Counted from 1. */
  readonly place: number;
  /** Which board it is a place of. */
  readonly by: 'board' | 'projection';
}

/** Null where there is no place on the board yet, and where a projection lacks somebody's likely. */
export function holdIn(meet: Meet, contest: Contest, contender: string): Hold | null {
  const place = placeNow(meet, contest, contender);
  const recorded = recordedPerformances(meet);
  if (place === null || progressIn(contest, recorded).footing === 'even') {
    return place === null ? null : { place, by: 'board' };
  }
  const projected = projectionOf(meet, contest, recorded).places?.get(contender) ?? null;
  return projected === null ? null : { place: projected, by: 'projection' };
}

/** Why a contender has no place to hold, as an error. */
export function noHold(meet: Meet, contest: Contest, { id, name }: Contender): LastRotationError {
  const { missing } = projectionOf(meet, contest, recordedPerformances(meet));
  if (placeNow(meet, contest, id) === null || missing.length === 0) {
    return noAnswer('no-place', `${name} has no place to hold yet`, 'ask for lead, win or medal');
  }
  return missingFor(missing);
}

function placeNow(meet: Meet, contest: Contest, contender: string): number | null {
  const { rows } = rank(contest, recordedPerformances(meet));
  return rows.find((r) => r.entry.contender.id === contender)?.place ?? null;
}

/** That an answer lacks a range of some routines. */
export function missingFor(missing: Projection['missing']): LastRotationError {
  const names = missing.slice(0, 4).map((m) => `${m.gymnast} on ${m.apparatus}`);
  const more = missing.length - names.length;
  return noAnswer(
    'missing-range',
    `this needs a range for ${names.join(', ')}${more > 0 ? ` and ${more} more` : ''}`,
    'give ranges, or `usual`',
  );
}
