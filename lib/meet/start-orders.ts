/** Who goes up where, by a start list: line-ups of teams, finals one after another, groups. */
import { listed } from './names.js';
import { type ProblemList, report } from './problems.js';
import type { Entrant } from './start-rows.js';
import { BYE, UNKNOWN } from './start-values.js';

/** By apparatus: ids in the order they go up. */
export type Orders = Readonly<Record<string, readonly string[]>>;

export interface StartGroup {
  /** Null where the list has no sessions. */
  readonly session: number | null;
  /** An apparatus, or bye; several of them are a route. */
  readonly stops: readonly string[];
  readonly order: readonly string[];
}

/** Those with a position on an apparatus, first up first; a position that stands twice is reported. */
function inPosition(
  entrants: readonly Entrant[],
  code: string,
  where: string,
  list: ProblemList,
): string[] {
  const seen = new Map<number, Entrant>();
  const up = entrants.filter((e) => e.positions[code] !== undefined);
  for (const one of up) {
    const position = one.positions[code] ?? 0;
    const before = seen.get(position);
    if (before === undefined) seen.set(position, one);
    else {
      const message = `${one.name} is number ${position} on ${code}${where}, as ${before.name} in line ${before.line} is`;
      report(list, 'error', 'lineup-twice', one.line, message, 'give each a position of her own');
    }
  }
  const position = (e: Entrant) => e.positions[code] ?? 0;
  return up.sort((a, b) => position(a) - position(b)).map((e) => e.id);
}

/** The line-ups of teams that have positions, by team. */
export function lineUpsOf(
  entrants: readonly Entrant[],
  codes: readonly string[],
  list: ProblemList,
): ReadonlyMap<string, Orders> {
  const lineups = new Map<string, Orders>();
  for (const { name, team, positions, line } of entrants) {
    const [code] = Object.keys(positions);
    if (team !== '' || code === undefined) continue;
    const message = `${name} has a position on ${code}, but no team`;
    report(
      list,
      'error',
      'unknown-team',
      line,
      message,
      'give her a team, or take the position away',
    );
  }
  for (const team of teamsOf(entrants)) {
    const members = entrants.filter((e) => e.team === team);
    const orders = codes.flatMap((code): [string, string[]][] => {
      const order = inPosition(members, code, ` of ${team}`, list);
      return order.length === 0 ? [] : [[code, order]];
    });
    if (orders.length > 0) lineups.set(team, Object.fromEntries(orders));
  }
  return lineups;
}

/** Finals, one apparatus after another, each in its start order. */
export function finalsOf(
  entrants: readonly Entrant[],
  codes: readonly string[],
  list: ProblemList,
): Orders {
  const orders = codes.map((code) => [code, inPosition(entrants, code, '', list)] as const);
  return Object.fromEntries(orders.filter(([, order]) => order.length > 0));
}

/** In the order of the list. */
export function teamsOf(entrants: readonly Entrant[]): string[] {
  return [...new Set(entrants.map((e) => e.team))].filter((team) => team !== '');
}

/**
 * The groups, session by session in the order they are named; with a bye, one for every apparatus of its
 * session. Reserves need none, and are in none.
 */
export function groupsOf(
  entrants: readonly Entrant[],
  codes: readonly string[],
  isReserve: (entrant: Entrant) => boolean,
  list: ProblemList,
): StartGroup[] {
  const groups = new Map<string, { session: number | null; stops: string[]; order: string[] }>();
  const hasGroups = entrants.some((e) => e.group !== '');
  const hasSessions = entrants.some((e) => e.session !== null);
  for (const one of entrants.filter((e) => e.group !== UNKNOWN && !isReserve(e))) {
    const { id, session, group } = one;
    if (group === '') continue;
    const key = `${session} ${group}`;
    const known = groups.get(key);
    if (known !== undefined) known.order.push(id);
    else groups.set(key, { session, stops: group.split(' '), order: [id] });
  }
  const competing = entrants.filter((e) => !isReserve(e));
  reportWithout(
    competing.filter((e) => e.group === '' && (hasGroups || e.session !== null)),
    'group',
    hasGroups ? 'give all a group, or nobody' : 'a session needs groups: add a column group',
    list,
  );
  reportWithout(
    competing.filter((e) => e.session === null && hasSessions),
    'session',
    'give all a session, or nobody',
    list,
  );
  const bySession = [...groups.values()].sort((a, b) => (a.session ?? 1) - (b.session ?? 1));
  return [...new Set(bySession.map((g) => g.session))].flatMap((session) => {
    const hers = bySession.filter((g) => g.session === session);
    const isMoving = hers.filter((g) => g.stops.length === 1);
    const missing = isMoving.some((g) => g.stops[0] === BYE)
      ? codes.filter((code) => !isMoving.some((g) => g.stops[0] === code))
      : [];
    return [...hers, ...missing.map((code) => ({ session, stops: [code], order: [] }))];
  });
}

/** So many are named; a list where all lack something needs no more. */
const MOST_NAMED = 4;

function reportWithout(
  without: readonly Entrant[],
  what: 'group' | 'session',
  mend: string,
  list: ProblemList,
): void {
  const [first] = without;
  if (first === undefined) return;
  const more = without.length - MOST_NAMED;
  const names = without.slice(0, MOST_NAMED).map((e) => e.name);
  const message = `no ${what} for ${listed(more > 0 ? [...names, `${more} more`] : names)}`;
  report(list, 'error', 'gymnast-in-no-group', first.line, message, mend);
}

/**
 * Teams against each other without groups of their own. Two change over on each pair of apparatus, and
 * more go round the circle.
 */
export function groupsOfTeams(
  entrants: readonly Entrant[],
  codes: readonly string[],
  isReserve: (entrant: Entrant) => boolean,
): StartGroup[] {
  const teams = teamsOf(entrants);
  const swapped = codes.map((_, i) => codes[i % 2 === 0 ? i + 1 : i - 1] ?? '');
  return teams.map((team, i) => {
    const order = entrants.filter((e) => e.team === team && !isReserve(e)).map((e) => e.id);
    const stops = teams.length > 2 ? codes.slice(i, i + 1) : i === 0 ? codes : swapped;
    return { session: null, stops, order };
  });
}
