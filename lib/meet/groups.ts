/** The groups of a meet file: who is in each, in which session, and where it goes. */
import { asScore } from '../score.js';
import { type Checking, complain } from './checking.js';
import { disciplineApparatus } from './contest-rules.js';
import type { Path } from './document.js';
import type { Gymnast, Team } from './meet.js';
import { didYouMean, plain } from './problems.js';
import type { Listed } from './roster.js';
import type { Group } from './rotations.js';
import { BYE, type GroupDocument } from './schema.js';
import { entriesOf } from './values.js';
import { apparatusMend } from './which-apparatus.js';

/** A group as it is read. */
export interface ReadGroup extends Group {
  /** Its place in the list of the file, counted from 0. */
  readonly entry: number;
}

export interface ReadGroups {
  readonly groups: readonly ReadGroup[];
  /** Everyone of the list who is in a group, also in one that goes nowhere. */
  readonly placed: ReadonlySet<string>;
  /** Those who are not known yet. */
  readonly unnamed: readonly Gymnast[];
  /** One of the groups could not be read, and nobody knows who is in it. */
  readonly isPartial: boolean;
}

/** `byDefault` is what those do who are not known yet. */
export function readGroups(
  checking: Checking,
  listed: readonly Listed[],
  teams: readonly Team[],
  stations: readonly string[],
  byDefault: readonly string[],
): ReadGroups {
  const groups: ReadGroup[] = [];
  const groupOf = new Map<string, number>();
  const unnamed: Gymnast[] = [];
  const taken = new Set([...listed, ...teams].map(({ id }) => plain(id)));
  const written = checking.document.groups ?? [];
  const hasSessions = new Set(entriesOf(written).map(([, g]) => g.session ?? 1)).size > 1;
  const isPartial = written.includes(null);
  for (const [entry, group] of entriesOf(written)) {
    const session = group.session ?? 1;
    const order = orderOf(checking, group, entry, { listed, teams, groupOf });
    const more = unnamedOf(group, entry, taken, hasSessions ? session : null, byDefault);
    unnamed.push(...more);
    const way = wayOf(checking, group, entry, stations);
    if (way === null) continue;
    const together = [...order, ...more.map((g) => g.id)];
    groups.push({ entry, session, order: together, ...way });
  }
  return {
    groups: startingApart(checking, groups),
    placed: new Set(groupOf.keys()),
    unnamed,
    isPartial,
  };
}

interface Roll {
  readonly listed: readonly Listed[];
  readonly teams: readonly Team[];
  /** By gymnast: the group that has her already. */
  readonly groupOf: Map<string, number>;
}

/** Who is in a group: those it names, and everyone of a team it names. */
function orderOf(
  checking: Checking,
  { order: written }: GroupDocument,
  entry: number,
  { listed, teams, groupOf }: Roll,
): string[] {
  const path = ['groups', entry, 'order'];
  const order: string[] = [];
  for (const { place, ids, team } of membersIn(
    checking,
    written ?? [],
    path,
    `group ${entry + 1}`,
    listed,
    teams,
  )) {
    const twice = ids.find((id) => groupOf.has(id));
    for (const id of ids) {
      if (groupOf.has(id)) continue;
      groupOf.set(id, entry);
      order.push(id);
    }
    if (twice === undefined) continue;
    const before = groupOf.get(twice) ?? entry;
    const who = team === null ? `gymnast \`${twice}\`` : `gymnast \`${twice}\` of ${team}`;
    const message =
      before === entry
        ? `${who} is twice in group ${entry + 1}`
        : `${who} is in group ${before + 1} and in group ${entry + 1}`;
    complain(
      checking,
      'error',
      'gymnast-in-two-groups',
      [...path, place],
      message,
      'keep her in one place',
    );
  }
  return order;
}

/** One entry of an order: a gymnast, or everyone of a team in list order. */
export interface Members {
  /** Its place in the order as written. */
  readonly place: number;
  readonly ids: readonly string[];
  readonly team: string | null;
}

/** The gymnasts that an order names, by their ids or by the id of a team; who is unknown is reported. */
export function membersIn(
  checking: Checking,
  order: readonly (string | null)[],
  path: Path,
  where: string,
  listed: readonly Listed[],
  teams: readonly Team[],
): Members[] {
  const ids = new Set(listed.map((g) => g.id));
  return entriesOf(order).flatMap(([place, id]): Members[] => {
    if (ids.has(id)) return [{ place, ids: [id], team: null }];
    if (teams.some((t) => t.id === id)) {
      const members = listed.filter((g) => g.team === id).map((g) => g.id);
      return [{ place, ids: members, team: id }];
    }
    complain(
      checking,
      'error',
      'unknown-gymnast',
      [...path, place],
      `gymnast \`${id}\` in ${where} is not in the list`,
      didYouMean(id, [...ids, ...teams.map((t) => t.id)], 'add her to gymnasts, or name one of'),
    );
    return [];
  });
}

/** So many who are not known yet, with ids that nobody else has. `session` where there are several. */
function unnamedOf(
  { unnamed = 0 }: GroupDocument,
  entry: number,
  taken: ReadonlySet<string>,
  session: number | null,
  byDefault: readonly string[],
): Gymnast[] {
  const ids: string[] = [];
  for (let k = 1; ids.length < unnamed; k++) {
    const id = `unnamed-${entry + 1}-${k}`;
    if (!taken.has(id)) ids.push(id);
  }
  const name = `one still to be named${session === null ? '' : ` (session ${session})`}`;
  const rest = { family: name, short: null, say: null, country: null, bib: null, team: null };
  return ids.map((id) => {
    return { id, name, ...rest, on: byDefault, carried: asScore(0), unnamed: true };
  });
}

/** Where a group begins, or its route; null, and a problem, where that makes no sense. */
function wayOf(
  checking: Checking,
  { start, route }: GroupDocument,
  entry: number,
  stations: readonly string[],
): Pick<Group, 'start' | 'route'> | null {
  const name = `group ${entry + 1}`;
  if (start !== undefined && route !== undefined) {
    const message = `${name} has both a start and a route`;
    complain(
      checking,
      'error',
      'start-and-route',
      ['groups', entry, 'route'],
      message,
      'keep one of the two',
    );
    return null;
  }
  const own = disciplineApparatus(checking).filter((a) => stations.includes(a.code));
  const mend = (code: string) => apparatusMend(code, own, 'choose from', [BYE.toLowerCase()]);
  if (route === undefined) {
    const code = start ?? BYE;
    if (code === BYE || stations.includes(code))
      return { start: code === BYE ? null : code, route: null };
    const message = `${name} starts on ${code}, which is not part of this meet`;
    complain(
      checking,
      'error',
      'unknown-apparatus',
      ['groups', entry, 'start'],
      message,
      mend(code),
    );
    return null;
  }
  const stops: (string | null)[] = [];
  for (const [i, code] of entriesOf(route)) {
    const path = ['groups', entry, 'route', i];
    if (code !== BYE && !stations.includes(code)) {
      const message = `${code} in the route of ${name} is not part of this meet`;
      complain(checking, 'error', 'unknown-apparatus', path, message, mend(code));
    } else if (code !== BYE && stops.includes(code)) {
      const message = `${code} is twice in the route of ${name}`;
      complain(checking, 'error', 'apparatus-twice', path, message, 'keep it in one rotation');
    } else stops.push(code === BYE ? null : code);
  }
  return { start: null, route: stops };
}

/** The groups without those that start where another of their session does, which is reported. */
function startingApart(checking: Checking, groups: readonly ReadGroup[]): ReadGroup[] {
  const several = new Set(groups.map((g) => g.session)).size > 1;
  const taken = new Set<string>();
  return groups.filter(({ session, start, entry }) => {
    if (start === null) return true;
    const isTaken = taken.has(`${session} ${start}`);
    taken.add(`${session} ${start}`);
    if (isTaken) {
      const message = `two groups${several ? ` of session ${session}` : ''} start on ${start}`;
      complain(
        checking,
        'error',
        'start-twice',
        ['groups', entry, 'start'],
        message,
        'let each group start elsewhere',
      );
    }
    return !isTaken;
  });
}
