/** The plan of the rotations to come, a sheet of paper each: who goes up, what each needs, room for the score. */
import { type Contest, findContest, routinesCounted } from '../contest/contest.js';
import {
  gymnastOf,
  type Meet,
  type Routine,
  rangeAt,
  routineOf,
  sessionsOf,
} from '../meet/meet.js';
import { awaited } from '../meet/now.js';
import { type NeedsSheet, needsOfRoutines } from '../needs/sheet.js';
import { type GoalName, goalsIn } from './goals.js';
import { needInFew, SIGNS } from './needs-of-all.js';
import { apparatusName, boardName, capital, shower } from './words.js';

export interface PaperRow {
  readonly gymnast: string;
  readonly name: string;
  readonly team: string;
  /** The total so far, of the contender. */
  readonly total: string;
  /** One a goal of the contest: the lowest real score that does it. */
  readonly needs: readonly string[];
  /** "13.766 to 14.800" */
  readonly range: string;
  readonly likely: string;
  /** "awaited", "DNS", or empty while it is to come. */
  readonly remark: string;
}

export interface PaperSheet {
  /** "Rotation 3" */
  readonly title: string;
  /** "to win", "for a medal" */
  readonly goals: readonly string[];
  /** How the needs are read. */
  readonly notes: string;
  readonly stations: readonly { readonly apparatus: string; readonly rows: readonly PaperRow[] }[];
}

const NOTES = `The lowest real scores that do it, if all else goes as expected · ${SIGNS}`;

/** A sheet for the rotation under way and each one after it. */
export function paperSheets(meet: Meet, contestId: string): PaperSheet[] {
  const contest = findContest(meet, contestId);
  const counted = routinesCounted(contest);
  const pending = meet.routines.filter((r) => meet.results[r.index] === null);
  const from = Math.min(...pending.filter((r) => counted.has(r.index)).map((r) => r.at));
  const goals = goalsIn(contest);
  const needs = goals.map(({ target }) => needsFor(meet, contest, pending, target));
  const late = new Set(awaited(meet).map((r) => r.index));
  return meet.rotations.flatMap((rotation, at): PaperSheet[] => {
    if (at < from) return [];
    const stations = rotation.stations.flatMap(({ apparatus, order }) => {
      if (apparatus === null) return [];
      const routines = order.flatMap((id) => routineOf(meet, id, apparatus) ?? []);
      const open = routines.filter((r) => meet.results[r.index] === null);
      const isNamed = ({ gymnast }: Routine) => gymnastOf(meet, gymnast)?.unnamed !== true;
      // Nobody writes down what somebody scores who is not known yet.
      if (!open.some((r) => counted.has(r.index) && isNamed(r))) return [];
      const rows = open.map((routine) =>
        rowOf(meet, routine, {
          sheets: needs.map((of) => of.get(routine.index) ?? null),
          isLate: late.has(routine.index),
        }),
      );
      return [{ apparatus: capital(apparatusName(meet, apparatus)), rows }];
    });
    if (stations.length === 0) return [];
    const session =
      sessionsOf(meet).length > 1 ? `Session ${rotation.session}, rotation` : 'Rotation';
    return [
      {
        title: `${session} ${rotation.rotation}`,
        goals: goals.map((g) => g.to),
        notes: NOTES,
        stations,
      },
    ];
  });
}

/** By routine: the sheet with what it takes for one goal at the end, if all else goes as expected. */
function needsFor(
  meet: Meet,
  contest: Contest,
  pending: readonly Routine[],
  target: GoalName,
): ReadonlyMap<number, NeedsSheet> {
  const asked = { for: target, when: 'end', rivals: 'likely' } as const;
  const sheets = needsOfRoutines(meet, contest, pending, asked);
  return new Map(
    sheets.flatMap((sheet) => {
      const routine = routineOf(meet, sheet.gymnast, sheet.apparatus);
      return routine === undefined ? [] : [[routine.index, sheet] as const];
    }),
  );
}

function rowOf(
  meet: Meet,
  routine: Routine,
  { sheets, isLate }: { readonly sheets: readonly (NeedsSheet | null)[]; readonly isLate: boolean },
): PaperRow {
  const show = shower(meet);
  const { low, likely, high } = rangeAt(meet, routine.index);
  const [sheet = null] = sheets;
  return {
    gymnast: routine.gymnast,
    name: boardName(meet, routine.gymnast),
    team: meet.gymnasts.find((g) => g.id === routine.gymnast)?.team ?? '',
    total: sheet === null ? '' : show(sheet.total),
    needs: sheets.map((one) => (one === null ? '' : needInFew(meet, one.needs[0], one.range))),
    range: low === null || high === null ? '' : `${show(low)} to ${show(high)}`,
    likely: likely === null ? '' : show(likely),
    remark: isLate ? 'awaited' : '',
  };
}
