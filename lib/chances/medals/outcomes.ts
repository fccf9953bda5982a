/**
 * Medal outcomes: the first few places in order. An outcome is no likelier than what it begins with, so only
 * beginnings are followed that are likely enough (docs/model.md, "Medals in order").
 */
import { type Beginning, sweepMedals, type Unit } from '../sweep/medals.js';
import type { TieGroups } from '../tie-groups.js';

/** Who has the first places in order; those who share one together. */
export type Sets = readonly (readonly number[])[];

export interface MedalOutcome {
  readonly sets: Sets;
  readonly chance: number;
}

/** Outcomes of so many places. */
export interface Outcomes {
  readonly places: number;
  /** The likeliest first. */
  readonly outcomes: readonly MedalOutcome[];
  /** Every outcome that is likelier than this is among them. */
  readonly complete: number;
  /** A bound on how wrong each chance can be. */
  readonly error: number;
}

/** No more beginnings than this are followed, and no more pairs of one and what follows it: the likeliest. */
const MOST_BEGINNINGS = 3000;
const MOST_PAIRS = 3_000_000;

/** A beginning, with its parent itself. */
interface Node {
  readonly parent: Node | null;
  readonly unit: number;
  readonly sets: Sets;
  /** How many entrants are in it. */
  readonly count: number;
}

interface Found extends Node {
  readonly chance: number;
}

const EMPTY: Node = { parent: null, unit: -1, sets: [], count: 0 };

/** What is looked for. */
export interface Followed {
  /** Outcomes of so many places, and of more. */
  readonly places: number;
  /** Who can have a place: everyone alone, and who share one. */
  readonly units: readonly Unit[];
  /** Beginnings that are less likely are not followed. */
  readonly least: number;
  /** Who is looked for on which place, from 0. */
  readonly mayHave: (who: number, place: number) => boolean;
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** Outcomes of so many places, of one more, and so on. */
export function* outcomesByPlaces(groups: TieGroups, followed: Followed): Generator<Outcomes> {
  const most = Math.min(MOST_BEGINNINGS, Math.floor(MOST_PAIRS / followed.units.length));
  let nodes: Node[] = [EMPTY];
  let complete = followed.least;
  for (let places = 1; places <= groups.size; places++) {
    // As long as they are few, all that may be are followed, however likely they are.
    const next = places < followed.places ? allNext(followed, nodes, places) : null;
    if (next !== null && next.length <= most) {
      nodes = [...nodes, ...next];
      continue;
    }
    const { found, error } = nextOutcomes(groups, followed, nodes, places);
    found.sort((a, b) => b.chance - a.chance);
    if (places >= followed.places) yield { places, outcomes: found, complete, error };
    const likely = found.filter(({ count, chance }) => count === places && chance >= complete);
    complete = Math.max(complete, likely[most]?.chance ?? 0);
    nodes = [...nodes, ...likely.slice(0, most)];
  }
}

/** A beginning with a unit more; null where that may not be. */
function withUnit(node: Node, unit: number, { units, mayHave }: Followed): Node | null {
  const set = units[unit] ?? [];
  if (!set.every((i) => mayHave(i, node.count))) return null;
  if (node.sets.some((one) => one.some((i) => set.includes(i)))) return null;
  return { parent: node, unit, sets: [...node.sets, set], count: node.count + set.length };
}

/** All beginnings of so many entrants. */
function allNext(followed: Followed, nodes: readonly Node[], count: number): Node[] {
  return nodes.flatMap((node) =>
    followed.units.flatMap((set, unit) =>
      node.count + set.length === count ? (withUnit(node, unit, followed) ?? []) : [],
    ),
  );
}

/** Beginnings with one unit more, that take so many places and more. */
function nextOutcomes(
  groups: TieGroups,
  followed: Followed,
  nodes: readonly Node[],
  places: number,
): { found: Found[]; error: number } {
  const { units, onProgress } = followed;
  const indexOf = new Map(nodes.map((node, n) => [node, n]));
  const beginnings = nodes.map(
    ({ parent, unit }): Beginning => ({
      parent: parent === null ? -1 : (indexOf.get(parent) ?? -1),
      unit,
    }),
  );
  const { lower, upper } = sweepMedals(groups, { units, beginnings, places, onProgress });
  const found: Found[] = [];
  let error = 0;
  for (const [n, node] of nodes.entries()) {
    for (const [unit, set] of units.entries()) {
      const at = unit * nodes.length + n;
      const chance = ((lower[at] ?? 0) + (upper[at] ?? 0)) / 2;
      if (chance < followed.least || node.count + set.length < places) continue;
      const next = withUnit(node, unit, followed);
      if (next === null) continue;
      error = Math.max(error, ((upper[at] ?? 0) - (lower[at] ?? 0)) / 2);
      found.push({ ...next, chance });
    }
  }
  return { found, error };
}
