/** Who performs where and when: groups that move round the apparatus, or rotations written out. */
import type { Apparatus } from '../apparatus.js';
import type { Rotation, Routine, Station } from './meet.js';

/** A group: where it begins (null: with a bye) and who goes up, first up first. */
export interface Group {
  readonly start: string | null;
  readonly order: readonly string[];
}

/** Whether a gymnast competes on an apparatus. */
export type Competes = (gymnast: string, apparatus: string) => boolean;

/**
 * The rotations of groups. Without byes the stations are the apparatus in Olympic order, a circle;
 * with byes they are the groups' starts as listed. Each group begins at its start and moves one
 * station on; with `rotate` first up goes last each time the group has competed (inferred from
 * press reports of 2020 and 2024), and a bye does not turn the order.
 */
export function rotationsOfGroups(
  groups: readonly Group[],
  apparatus: readonly string[],
  startOrder: 'rotate' | 'fixed',
  competes: Competes,
): Rotation[] {
  const byes = groups.some((g) => g.start === null);
  const circle: readonly (string | null)[] = byes ? groups.map((g) => g.start) : apparatus;
  const starts = groups.map((g, i) => (byes ? i : circle.indexOf(g.start)));
  return circle.map((_, turn) => {
    const stations: { place: number; station: Station }[] = [];
    groups.forEach((group, i) => {
      const place = ((starts[i] ?? 0) + turn) % circle.length;
      const here = circle[place] ?? null;
      const competed = range(turn).filter(
        (earlier) => circle[((starts[i] ?? 0) + earlier) % circle.length] !== null,
      ).length;
      const order = startOrder === 'fixed' ? group.order : turned(group.order, competed);
      stations.push({
        place,
        station: {
          apparatus: here,
          order: here === null ? order : order.filter((g) => competes(g, here)),
        },
      });
    });
    stations.sort((a, b) => a.place - b.place);
    return { rotation: turn + 1, stations: stations.map((s) => s.station) };
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
  competes: Competes,
): Rotation[] {
  return apparatus.map((code, i) => ({
    rotation: i + 1,
    stations: [{ apparatus: code, order: gymnasts.filter((g) => competes(g, code)) }],
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
  for (const { rotation, stations } of rotations) {
    const longest = Math.max(0, ...stations.map((s) => s.order.length));
    for (let position = 0; position < longest; position++) {
      for (const { apparatus, order } of stations) {
        const gymnast = order[position];
        if (gymnast === undefined || apparatus === null) continue;
        routines.push({ gymnast, apparatus, rotation });
        for (const { code, follows } of meetApparatus) {
          if (follows === apparatus && competes(gymnast, code)) {
            routines.push({ gymnast, apparatus: code, rotation });
          }
        }
      }
    }
  }
  return routines.map((routine, index) => ({ index, ...routine }));
}
