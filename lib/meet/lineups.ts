/** The line-ups of teams: who of a team goes up on an apparatus, in which order, and who competes by them. */
import { type Apparatus, FOLLOW_UP_CODES } from '../apparatus.js';
import { type Checking, complain } from './checking.js';
import type { Path } from './document.js';
import type { Gymnast, Team } from './meet.js';
import { didYouMean } from './problems.js';
import type { Listed } from './roster.js';
import { entriesOf } from './values.js';
import { apparatusMend } from './which-apparatus.js';

/** The teams with their line-ups, as far as they can be read. */
export function withLineUps(
  checking: Checking,
  teams: readonly Team[],
  listed: readonly Listed[],
  apparatus: readonly Apparatus[],
  discipline: readonly string[],
): Team[] {
  const byId = new Map(listed.map((g) => [g.id, g] as const));
  const written = entriesOf(checking.document.teams);
  return teams.map((team): Team => {
    const [entry, given] = written.find(([, t]) => t.id === team.id) ?? [0, null];
    const lineup: Record<string, string[]> = {};
    const strangers = new Set<string>();
    for (const [code, order] of Object.entries(given?.lineup ?? {})) {
      const path = ['teams', entry, 'lineup', code];
      if (!isStation(checking, team, code, path, apparatus, discipline)) continue;
      const members: string[] = [];
      for (const [i, id] of entriesOf(order)) {
        const where = [...path, i];
        if (!isMember(checking, team, byId, id, where, strangers)) continue;
        if (members.includes(id)) {
          const message = `gymnast \`${id}\` is twice in the line-up of ${team.id} on ${code}`;
          complain(checking, 'error', 'lineup-twice', where, message, 'keep her in one place');
        } else members.push(id);
      }
      lineup[code] = members;
    }
    return { ...team, lineup };
  });
}

/** Whether a line-up can be on an apparatus: one of the meet, with a station of its own. */
function isStation(
  checking: Checking,
  { id }: Team,
  code: string,
  path: Path,
  apparatus: readonly Apparatus[],
  discipline: readonly string[],
): boolean {
  const stations = apparatus.flatMap((a) => (a.follows === null ? [a.code] : []));
  if (stations.includes(code)) return true;
  if (FOLLOW_UP_CODES.includes(code)) {
    const message = `${code} is done right after the first vault and has no line-up of its own`;
    complain(checking, 'error', 'unknown-apparatus', path, message, 'delete it');
  } else if (discipline.includes(code)) {
    const message = `no contest of this meet counts ${code}, where ${id} has a line-up`;
    const mend = `delete it, or add a contest for ${code}`;
    complain(checking, 'note', 'not-counted', path, message, mend);
  } else {
    const message = `apparatus ${code} in the line-up of ${id} is not part of this meet`;
    const own = apparatus.filter((a) => a.follows === null);
    const mend = apparatusMend(code, own, 'choose from');
    complain(checking, 'error', 'unknown-apparatus', path, message, mend);
  }
  return false;
}

/** Whether somebody in a line-up is of that team; said once of each who is not. */
function isMember(
  checking: Checking,
  team: Team,
  byId: ReadonlyMap<string, Listed>,
  id: string,
  path: Path,
  strangers: Set<string>,
): boolean {
  const gymnast = byId.get(id);
  if (gymnast?.team === team.id) return true;
  if (strangers.has(id)) return false;
  strangers.add(id);
  if (gymnast === undefined) {
    const members = [...byId.values()].filter((g) => g.team === team.id).map((g) => g.id);
    const known = didYouMean(id, [...byId.keys()], '').startsWith('did')
      ? [...byId.keys()]
      : members;
    const message = `gymnast \`${id}\` in the line-up of ${team.id} is not in the list`;
    const mend = didYouMean(id, known, 'add her to gymnasts, or name one of');
    complain(checking, 'error', 'unknown-gymnast', path, message, mend);
    return false;
  }
  const whose = gymnast.team === null ? 'has no team' : `is of team ${gymnast.team}`;
  const message = `gymnast \`${id}\` in the line-up of ${team.id} ${whose}`;
  const mend = `take her from it, or write team: ${team.id} with her`;
  complain(checking, 'error', 'other-team', path, message, mend);
  return false;
}

/** The line-up of a gymnast's team on an apparatus; null where it has none. */
export function lineUpFinder(
  teams: readonly Team[],
  gymnasts: readonly Pick<Gymnast, 'id' | 'team'>[],
): (gymnast: string, apparatus: string) => readonly string[] | null {
  const lineups = new Map(teams.map((t) => [t.id, t.lineup] as const));
  const teamOf = new Map(gymnasts.map((g) => [g.id, g.team] as const));
  return (gymnast, apparatus) => lineups.get(teamOf.get(gymnast) ?? '')?.[apparatus] ?? null;
}

/**
 * What a gymnast of a team with line-ups does when her `on` does not say: of `byDefault` whatever she is
 * in the line-up for, and all where there is none.
 */
export function onByLineUp(
  id: string,
  lineup: Team['lineup'],
  byDefault: readonly string[],
  apparatus: readonly Apparatus[],
): string[] {
  return byDefault.filter((code) => {
    const follows = apparatus.find((a) => a.code === code)?.follows ?? null;
    return lineup[follows ?? code]?.includes(id) ?? true;
  });
}

/** Whether somebody is a reserve: her team has line-ups, and she is in none of them. */
export function isReserve(id: string, lineup: Team['lineup']): boolean {
  const orders = Object.values(lineup);
  return orders.length > 0 && !orders.some((order) => order.includes(id));
}

/** Whose `on` is not what the line-ups of her team say. */
export function checkOnByLineUps(
  checking: Checking,
  teams: readonly Team[],
  listed: readonly Listed[],
): void {
  for (const { id, on, entry, team } of listed) {
    const lineup = teams.find((t) => t.id === team)?.lineup ?? {};
    for (const [code, order] of on === null ? [] : Object.entries(lineup)) {
      const [isOn, isIn] = [on?.includes(code) === true, order.includes(id)];
      const path = ['gymnasts', entry, 'on'];
      if (isIn && !isOn) {
        const message = `gymnast \`${id}\` is in the line-up of ${team} on ${code}, which is not in her \`on\``;
        const mend = `add ${code} to her \`on\`, or take her from the line-up`;
        complain(checking, 'error', 'not-her-apparatus', path, message, mend);
      } else if (isOn && !isIn) {
        const message = `${code} is in the \`on\` of gymnast \`${id}\`, but ${team} has a line-up there without her`;
        const mend = `add her to the line-up, or take ${code} from her \`on\``;
        complain(checking, 'error', 'not-in-lineup', path, message, mend);
      }
    }
  }
}
