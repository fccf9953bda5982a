/** Who performs where and when: groups that move round the apparatus, or rotations written out. */
import type { Apparatus } from '../apparatus.js';
import type { Rotation, Routine, Station } from './meet.js';

/** A group, and who goes up in it, first up first. */
export interface Group {
  readonly session: number;
  /** Where it begins (null: with a bye); of no meaning where it has a route. */
  readonly start: string | null;
  /** Its own way round, rotation by rotation (null: a bye); null where it moves with the others. */
  readonly route: readonly (string | null)[] | null;
  readonly order: readonly string[];
}

/** Whether a gymnast competes on an apparatus. */
export type Competes = (gymnast: string, apparatus: string) => boolean;

/** Who competes where, and in which order. */
export interface Field {
  readonly competes: Competes;
  /** The line-up of a gymnast's team on an apparatus; null where it has none. */
  readonly lineUpFor: (gymnast: string, apparatus: string) => readonly string[] | null;
}

/** Where a group is in one rotation. */
interface Stop {
  readonly group: Group;
  readonly apparatus: string | null;
  /** Its place among the stations of its session. */
  readonly place: number;
}

/**
 * Where the groups of one session are, rotation by rotation. Without byes the stations are the apparatus
 * in Olympic order, a circle; with byes they are the starts of the session's groups as listed. Each group
 * begins at its start and moves one station on, or goes its own route.
 */
export function stopsOf<G extends Group>(
  groups: readonly G[],
  apparatus: readonly string[],
): (Stop & { readonly group: G })[][] {
  const moving = groups.filter((g) => g.route === null);
  const byes = moving.some((g) => g.start === null);
  const circle: readonly (string | null)[] = byes ? moving.map((g) => g.start) : apparatus;
  const turns = Math.max(
    moving.length > 0 ? circle.length : 0,
    ...groups.map((g) => g.route?.length ?? 0),
  );
  const starts = new Map(moving.map((g, i) => [g, byes ? i : circle.indexOf(g.start)] as const));
  return range(turns).map((turn) => {
    const stops = groups.flatMap((group) => {
      if (group.route !== null) {
        const here = group.route[turn];
        if (here === undefined) return [];
        const place = here === null ? circle.length : circle.indexOf(here);
        return [{ group, apparatus: here, place }];
      }
      if (turn >= circle.length) return [];
      const place = ((starts.get(group) ?? 0) + turn) % circle.length;
      return [{ group, apparatus: circle[place] ?? null, place }];
    });
    return stops.sort((a, b) => a.place - b.place);
  });
}

/**
 * The rotations of groups, session by session. With `rotate` first up goes last each time the group has
 * competed (inferred from press reports of 2020 and 2024); a bye does not turn the order, and a line-up
 * stands as it is written.
 */
export function rotationsOfGroups(
  groups: readonly Group[],
  apparatus: readonly string[],
  startOrder: 'rotate' | 'fixed',
  field: Field,
): Rotation[] {
  const sessions = [...new Set(groups.map((g) => g.session))].sort((a, b) => a - b);
  return sessions.flatMap((session) => {
    const competed = new Map<Group, number>();
    const hers = groups.filter((g) => g.session === session);
    return stopsOf(hers, apparatus).map((stops, turn): Rotation => {
      const stations = stops.map(({ group, apparatus }): Station => {
        const before = competed.get(group) ?? 0;
        const order = startOrder === 'fixed' ? group.order : turned(group.order, before);
        if (apparatus === null) return { apparatus, order };
        competed.set(group, before + 1);
        return { apparatus, order: orderOn(order, apparatus, field) };
      });
      return { session, rotation: turn + 1, stations };
    });
  });
}

/** Of a list those who are on an apparatus; the slots of a team with a line-up there are filled in its order. */
function orderOn(
  list: readonly string[],
  apparatus: string,
  { competes, lineUpFor }: Field,
): string[] {
  const order = list.filter((g) => competes(g, apparatus));
  const filled = new Map<readonly string[], number>();
  return order.map((gymnast) => {
    const lineUp = lineUpFor(gymnast, apparatus);
    if (lineUp === null || !lineUp.includes(gymnast)) return gymnast;
    const slot = filled.get(lineUp) ?? 0;
    filled.set(lineUp, slot + 1);
    return lineUp.filter((id) => order.includes(id))[slot] ?? gymnast;
  });
}

function range(n: number): number[] {
  return Array.from({ length: n }, (_, i) => i);
}

/** The list with its first `by` entries moved to the end. */
function turned(order: readonly string[], by: number): string[] {
  const at = order.length === 0 ? 0 : by % order.length;
  return [...order.slice(at), ...order.slice(0, at)];
}

/** Without groups or rotations: apparatus by apparatus, in list order. */
export function rotationsInTurn(
  apparatus: readonly string[],
  gymnasts: readonly string[],
  field: Field,
): Rotation[] {
  return apparatus.map((code, i) => ({
    session: 1,
    rotation: i + 1,
    stations: [{ apparatus: code, order: orderOn(gymnasts, code, field) }],
  }));
}

/**
 * Every routine in the order they go up: by rotation, then position in the order, then station; what
 * follows an apparatus right after it.
 */
export function routinesInOrder(
  rotations: readonly Rotation[],
  meetApparatus: readonly Apparatus[],
  competes: Competes,
): Routine[] {
  const routines: Omit<Routine, 'index'>[] = [];
  for (const [at, { session, rotation, stations }] of rotations.entries()) {
    const longest = Math.max(0, ...stations.map((s) => s.order.length));
    for (let position = 0; position < longest; position++) {
      for (const { apparatus, order } of stations) {
        const gymnast = order[position];
        if (gymnast === undefined || apparatus === null) continue;
        routines.push({ gymnast, apparatus, session, rotation, at });
        for (const { code, follows } of meetApparatus) {
          if (follows === apparatus && competes(gymnast, code)) {
            routines.push({ gymnast, apparatus: code, session, rotation, at });
          }
        }
      }
    }
  }
  return routines.map((routine, index) => ({ index, ...routine }));
}
