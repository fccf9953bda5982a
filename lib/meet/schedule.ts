/** The groups or rotations of a meet file, checked, and the routines that follow from them. */
import type { Apparatus } from '../apparatus.js';
import { type Checking, complain } from './checking.js';
import { checkGroups } from './group-checks.js';
import { readGroups } from './groups.js';
import { checkOnByLineUps, isReserve, lineUpFinder, onByLineUp } from './lineups.js';
import type { ContestRules, Gymnast, Schedule, Team } from './meet.js';
import { defaultOn, type Listed, settled } from './roster.js';
import { type Competes, rotationsInTurn, rotationsOfGroups, routinesInOrder } from './rotations.js';
import { writtenOut } from './written-out.js';

export function readSchedule(
  checking: Checking,
  listed: readonly Listed[],
  teams: readonly Team[],
  contests: readonly ContestRules[],
  apparatus: readonly Apparatus[],
): Schedule {
  const { document } = checking;
  const stations = apparatus.filter((a) => a.follows === null).map((a) => a.code);
  checkOnByLineUps(checking, teams, listed);
  if (document.groups !== undefined && document.rotations !== undefined) {
    complain(
      checking,
      'error',
      'groups-and-rotations',
      ['rotations'],
      'groups and rotations are both given',
      'keep one of the two',
    );
  }
  const byDefault = defaultOn(checking, apparatus, contests);
  if (document.groups === undefined && document.rotations !== undefined) {
    const written = writtenOut(checking, listed, teams, contests, apparatus, byDefault);
    return withRoutines(written, apparatus);
  }
  const groups = readGroups(checking, listed, teams, stations, byDefault);
  const lineups = new Map(teams.map((t) => [t.id, t.lineup] as const));
  const gymnasts = listed.map((g) => {
    const lineup = lineups.get(g.team ?? '') ?? {};
    const isNowhere = document.groups !== undefined && !groups.placed.has(g.id);
    if (isNowhere && isReserve(g.id, lineup)) return settled(g, []);
    return settled(g, onByLineUp(g.id, lineup, byDefault, apparatus));
  });
  const everyone = [...gymnasts, ...groups.unnamed];
  const field = { competes: competesIn(everyone), lineUpFor: lineUpFinder(teams, listed) };
  if (document.groups === undefined) {
    const ids = gymnasts.map((g) => g.id);
    return withRoutines({ gymnasts, rotations: rotationsInTurn(stations, ids, field) }, apparatus);
  }
  checkGroups(checking, groups, everyone, listed, stations);
  const startOrder = document.startOrder ?? 'rotate';
  const rotations = rotationsOfGroups(groups.groups, stations, startOrder, field);
  return withRoutines({ gymnasts: everyone, rotations }, apparatus);
}

function withRoutines(plan: Omit<Schedule, 'routines'>, apparatus: readonly Apparatus[]): Schedule {
  const routines = routinesInOrder(plan.rotations, apparatus, competesIn(plan.gymnasts));
  return { ...plan, routines };
}

function competesIn(gymnasts: readonly Gymnast[]): Competes {
  const on = new Map(gymnasts.map((g) => [g.id, new Set(g.on)]));
  return (gymnast, apparatus) => on.get(gymnast)?.has(apparatus) ?? false;
}
