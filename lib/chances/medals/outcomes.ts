/**
 * Medal outcomes: the first few places in order. An outcome is no likelier than what it begins with, so
 * place by place only beginnings are followed that are likely enough (docs/model.md, "Medals in order").
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
  readonly chance: number;
}

const EMPTY: Node = { parent: null, unit: -1, sets: [], count: 0, chance: 1 };

/** What is looked for. */
export interface Followed {
  /** Outcomes of fewer places need not be told. */
  readonly fewest: number;
  /** Who can have a place: everyone alone, and who share one. */
  readonly units: readonly Unit[];
  /** Beginnings that are less likely are not followed. */
  readonly least: number;
  /** Who is looked for on which place, from 0. */
  readonly mayHave: (who: number, place: number) => boolean;
  readonly onProgress?: ((share: number) => void) | undefined;
}

/** Outcomes by how many places, the fewest first; those of fewer than are asked for may be left out. */
export function* outcomesByPlaces(groups: TieGroups, followed: Followed): Generator<Outcomes> {
  const most = Math.min(MOST_BEGINNINGS, Math.floor(MOST_PAIRS / followed.units.length));
  let nodes: Node[] = [EMPTY];
  let complete = followed.least;
  const isAlone = followed.units.every((set) => set.length === 1);
  for (let places = 1; places <= groups.size; places++) {
    // Where nobody shares a place, all that may be are mostly few, and followed however likely they are.
    const next = isAlone && places < followed.fewest ? allNext(followed, nodes, places) : null;
    if (next !== null && next.length <= most) {
      nodes = [...nodes, ...next];
      continue;
    }
    const open = nodes.filter(({ count }) => count < places);
    const { found, error } = nextOutcomes(groups, followed, open, places);
    // Places that are taken by those who share one before them have nobody else.
    const outcomes = [...found, ...nodes.filter(({ count }) => count >= places)];
    outcomes.sort((a, b) => b.chance - a.chance);
    yield { places, outcomes, complete, error };
    const likely = found
      .filter(({ chance }) => chance >= complete)
      .sort((a, b) => b.chance - a.chance);
    complete = Math.max(complete, likely[most]?.chance ?? 0);
    nodes = [...nodes, ...likely.slice(0, most)];
  }
}

/** All beginnings of so many entrants, each alone on her place, whose chance is not asked. */
function allNext({ units, mayHave }: Followed, nodes: readonly Node[], count: number): Node[] {
  return nodes
    .filter((node) => node.count === count - 1)
    .flatMap((node) =>
      [...units.entries()].flatMap(([unit, set]): Node[] => {
        const isIn = node.sets.some(([who]) => who === set[0]);
        if (isIn || !set.every((i) => mayHave(i, node.count))) return [];
        return [{ parent: node, unit, sets: [...node.sets, set], count, chance: 1 }];
      }),
    );
}

/** Beginnings with one unit more, that take so many places and more. */
function nextOutcomes(
  groups: TieGroups,
  { units, mayHave, onProgress }: Followed,
  nodes: readonly Node[],
  places: number,
): { found: Node[]; error: number } {
  const indexOf = new Map(nodes.map((node, n) => [node, n]));
  const beginnings = nodes.map(
    ({ parent, unit }): Beginning => ({
      parent: parent === null ? -1 : (indexOf.get(parent) ?? -1),
      unit,
    }),
  );
  const { lower, upper } = sweepMedals(groups, { units, beginnings, places, onProgress });
  const found: Node[] = [];
  let error = 0;
  for (const [n, node] of nodes.entries()) {
    for (const [unit, set] of units.entries()) {
      const at = unit * nodes.length + n;
      const chance = ((lower[at] ?? 0) + (upper[at] ?? 0)) / 2;
      const count = node.count + set.length;
      // Those on an earlier place have been found before.
      if (chance === 0 || node.count < places - 1) continue;
      if (!set.every((i) => mayHave(i, node.count))) continue;
      if (node.sets.some((one) => one.some((i) => set.includes(i)))) continue;
      error = Math.max(error, ((upper[at] ?? 0) - (lower[at] ?? 0)) / 2);
      found.push({ parent: node, unit, sets: [...node.sets, set], count, chance });
    }
  }
  return { found, error };
}
