/** Who has nothing to come: where she will end, who can still catch her and with what. */

import { CAUTION } from '../caution.js';
import type { Chance } from '../chance.js';
import type { ContenderChances } from '../chances/contender-chances.js';
import { rank } from '../contest/board.js';
import type { Contest } from '../contest/contest.js';
import { type FieldExtremes, type SettledBy, whoMayPass } from '../contest/settled.js';
import { routinesToCome } from '../contest/standings.js';
import { isScored, type Meet, type Routine, routineAt, routineOf } from '../meet/meet.js';
import { type OpenScores, openScores } from '../meet/now.js';
import { afterRows } from '../meet/recording.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { recordedPerformances } from '../rules/recorded.js';
import { asScore, type Score } from '../score.js';
import { type AgainstRange, againstRange } from './in-place.js';
import { ifRangesAre, meanOf } from './likely.js';
import { type Need, needFor } from './need.js';
import { type Needed, neededFor } from './needed.js';
import { isQuick, quickChances } from './quick-chances.js';
import { type Stands, standsOf } from './stands.js';
import { targetByScore } from './target-curve.js';
import { nextAmong } from './turn.js';

/** Somebody with routines to come who can still end ahead of her. */
export interface Catcher {
  /** Of the gymnast or the team that may pass her. */
  readonly id: string;
  /** Whose routine is the next. */
  readonly gymnast: string;
  /** Where that routine is, by code. */
  readonly apparatus: string;
  /** Of that routine, counted from 1. */
  readonly session: number;
  /** Of that routine, counted from 1 within its session. */
  readonly rotation: number;
  /** Apparatus codes of all its routines to come, in the order they go up. */
  readonly toCome: readonly string[];
  /** What it has so far. */
  readonly total: Score;
  /** `ranges`: within the ranges; `limit`: only with a score outside them. */
  readonly within: SettledBy;
  /** To beat her, from that routine, its other routines as expected; `remainingTotal` is over all to come. */
  readonly need: Need;
  /** Of ending ahead of her; null where that takes time, or a range is missing. */
  readonly chance: Chance | null;
}

/** Her last score, and what she needed before it. */
export interface LastScore extends AgainstRange {
  /** Who got it, by id: herself, or of a team whoever went up last. */
  readonly gymnast: string;
  /** Where, by code. */
  readonly apparatus: string;
  /** Of that routine, counted from 1. */
  readonly session: number;
  /** Of that routine, counted from 1 within its session. */
  readonly rotation: number;
  /** What it was. */
  readonly score: Score;
  /** What was needed right before it, target by target, and whether it was enough. */
  readonly needed: readonly Needed[];
}

/** How somebody finished, and who can still change it. */
export interface Finished {
  /** Nobody has anything to come, and nothing is under inquiry: the place is final. */
  readonly isFinal: boolean;
  /** Shares her place on the board of now. */
  readonly tied: boolean;
  /** Null where they take time, or a range is missing: `chances` says. */
  readonly chances: Pick<ContenderChances, 'win' | 'medal' | 'advance' | 'places'> | null;
  /** A bound on how wrong a chance can be; null without chances. */
  readonly error: Chance | null;
  /** The likeliest to end ahead of her first. */
  readonly catchers: readonly Catcher[];
  /** Null where she has no score. */
  readonly last: LastScore | null;
}

/** The answer of `needs` about who has nothing to come. */
export interface FinishedSheet extends OpenScores, Stands {
  /** The id of the contest it is about. */
  readonly contest: string;
  /** Id of the gymnast or the team that the contest ranks. */
  readonly contender: string;
  /** Of the contender, as it is shown. */
  readonly name: string;
  /** Null of a team. */
  readonly gymnast: string | null;
  /** Null, since no routine is to come; so are session, rotation, range, safe and counting. */
  readonly apparatus: null;
  /** Null, as `apparatus` is. */
  readonly session: null;
  /** Null, as `apparatus` is. */
  readonly rotation: null;
  /** Null, as `apparatus` is. */
  readonly range: null;
  /** None. */
  readonly needs: readonly Need[];
  /** Null, as `apparatus` is. */
  readonly safe: null;
  /** Null, as `apparatus` is. */
  readonly counting: null;
  /** Not null here: this is what tells a `FinishedSheet` from a `NeedsSheet`. */
  readonly finished: Finished;
  /** To be shown wherever a chance of this answer is. */
  readonly caution: string;
}

/** Whether nothing of a contender is to come, and it is not out. */
export function hasFinished(meet: Meet, contender: Contender): boolean {
  const entry = entryOf(contender, recordedPerformances(meet));
  return !entry.out && routinesToCome(entry).length === 0;
}

export function finishedSheet(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  senses: readonly FieldExtremes[],
): FinishedSheet {
  const { settled, ...stands } = standsOf(meet, contest, contender, senses);
  const open = openScores(meet, contest.contenders);
  const all = quickChances(meet, contest);
  const hers = all?.contenders.find((c) => c.id === contender.id) ?? null;
  const recorded = recordedPerformances(meet);
  const { rows } = rank(contest, recorded);
  return {
    contest: contest.id,
    contender: contender.id,
    name: contender.name,
    gymnast: contest.kind.ranks === 'teams' ? null : contender.id,
    apparatus: null,
    session: null,
    rotation: null,
    ...stands,
    range: null,
    settled,
    needs: [],
    safe: null,
    counting: null,
    finished: {
      isFinal:
        open.underInquiry.length === 0 &&
        rows.every(({ entry }) => entry.out || routinesToCome(entry).length === 0),
      tied: rows.some((r) => r.entry.contender === contender && r.tied),
      chances: hers && {
        win: hers.win,
        medal: hers.medal,
        advance: hers.advance,
        places: hers.places,
      },
      error: hers && (all?.error ?? null),
      catchers: catchersOf(meet, contest, contender, senses),
      last: lastScoreOf(meet, contest, contender),
    },
    ...open,
    caution: CAUTION,
  };
}

function catchersOf(
  meet: Meet,
  contest: Contest,
  contender: Contender,
  senses: readonly FieldExtremes[],
): Catcher[] {
  const recorded = recordedPerformances(meet);
  const { total } = entryOf(contender, recorded);
  const by = new Map<Contender, SettledBy>();
  // The narrower sense last, so that it is the one that stays.
  for (const field of [...senses].sort((a) => (a.by === 'limit' ? -1 : 1))) {
    for (const rival of whoMayPass(field, contest, contender)) by.set(rival, field.by);
  }
  const catchers = [...by].flatMap(([rival, within]): Catcher[] => {
    const entry = entryOf(rival, recorded);
    const toCome = new Set(routinesToCome(entry));
    const next = nextAmong(meet, (r) => toCome.has(r.index));
    // Who is ahead already has nothing to catch up.
    if (next === null || entry.total > total) return [];
    const asked = { contest, contender: rival, routine: next.index, place: null };
    const need = needFor(meet, asked, {
      target: { kind: 'beat', id: contender.id },
      when: 'end',
      rivals: 'likely',
      rest: 'likely',
      margin: 0,
      d: null,
    });
    if (need === null) return [];
    const { gymnast, apparatus, session, rotation } = next;
    return [
      {
        id: rival.id,
        gymnast,
        apparatus,
        session,
        rotation,
        toCome: [...toCome].map((i) => routineAt(meet, i).apparatus),
        total: asScore(entry.total),
        within,
        need,
        chance: chanceToPass(meet, contest, { rival, next, her: contender.id }),
      },
    ];
  });
  return catchers.sort((a, b) => (b.chance ?? 0) - (a.chance ?? 0) || b.total - a.total);
}

function chanceToPass(
  meet: Meet,
  contest: Contest,
  { rival, next, her }: { rival: Contender; next: Routine; her: string },
): number | null {
  if (!isQuick(meet, [rival])) return null;
  return ifRangesAre(() => {
    const { points } = targetByScore(meet, contest, {
      contender: rival.id,
      routine: next.index,
      target: { beat: her },
      when: 'end',
      margin: 0,
    });
    return meanOf(points);
  });
}

/** Her last score by the log, and the meet right before it; null where she has none. */
export function beforeLastScore(
  meet: Meet,
  contender: Contender,
): { open: Meet; routine: Routine } | null {
  const hers = new Map(
    contender.routines.flatMap((i) => {
      const routine = routineAt(meet, i);
      return isScored(meet.results[i])
        ? [[`${routine.gymnast}/${routine.apparatus}`, routine]]
        : [];
    }),
  );
  const first = new Map<string, number>();
  for (const [at, { gymnast, apparatus, act }] of meet.told.entries()) {
    const key = `${gymnast}/${apparatus}`;
    if (act.kind === 'result' && hers.has(key) && !first.has(key)) first.set(key, at);
  }
  // A score that was changed later is as old as the first that was told of it.
  const [last] = [...first].sort(([, a], [, b]) => b - a);
  const routine = last && hers.get(last[0]);
  if (last === undefined || routine === undefined) return null;
  return { open: afterRows(meet, last[1]), routine };
}

function lastScoreOf(meet: Meet, contest: Contest, contender: Contender): LastScore | null {
  const last = beforeLastScore(meet, contender);
  if (last === null) return null;
  const { open, routine } = last;
  const result = meet.results[routine.index];
  if (!isScored(result) || routineOf(open, routine.gymnast, routine.apparatus) === undefined) {
    return null;
  }
  const { gymnast, apparatus, session, rotation } = routine;
  const whose = { gymnast, apparatus };
  return {
    ...whose,
    session,
    rotation,
    score: result.score,
    needed: neededFor(open, contest.id, whose, result),
    ...againstRange(open, whose, result.score),
  };
}
