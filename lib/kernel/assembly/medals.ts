/** Medal outcomes, from everyone's results from the best to the worst: see lib/chances/medals/medal-count.ts. */

import { at, greater, whole } from './memory';
import { multiply } from './products';

/** After so many levels it is asked again whether there is still a medal to be had. */
const PATIENCE: i32 = 64;

/**
 * A count of medal outcomes, as it lies in memory. A beginning is some of the best results, in order,
 * each with whoever shares it. It ends with a step: a runner, or, counted on from them, runners who
 * share. Beginnings are in order of how many are on them, then of their last steps; the first has
 * nobody on it.
 */
@unmanaged
export class Medals {
  size: i32;
  steps: i32;
  medals: i32;
  /** How many results have been taken; 1 when no result to come makes a difference. */
  taken: i32;
  over: i32;
  /** By runner: the chance of not being ahead of the result at hand; how many results it has left. */
  behind: usize;
  left: usize;
  /** By runner: whether it is followed on the last of the medals. */
  mayEnd: usize;
  /** By runner: the chance of being behind all that is level at hand; its inverse, 1 where that is 0. */
  free: usize;
  inverse: usize;
  /** By runner, of those on the level at hand: its chance there, and what it adds to a whole outcome. */
  here: usize;
  shares: usize;
  product: usize;
  /** By step beyond the runners: where its members begin, and who they are. */
  setStarts: usize;
  setMembers: usize;
  /** By how many are on it, from 1, and last step: the first of those beginnings. */
  starts: usize;
  /** By beginning: the one before its last step; how many are on it; and who, in rows of medals - 1. */
  parents: usize;
  counts: usize;
  members: usize;
  /** By beginning: that these are in this order, all of them ahead of the result at hand. */
  chances: usize;
  /** What the level at hand adds to it. */
  gains: usize;
  /** By beginning that one runner more makes whole, and runner: the chance of that outcome. */
  lasts: usize;
}

/** The product of all that are free to some extent; the number of those that are not is left in `zeros`. */
let zeros: i32 = 0;

function face(m: Medals): f64 {
  let product: f64 = 1;
  zeros = 0;
  for (let j = 0; j < m.size; j++) {
    const free = load<f64>(at(m.free, j));
    if (free === 0) {
      store<f64>(at(m.inverse, j), 1);
      zeros++;
    } else {
      store<f64>(at(m.inverse, j), 1 / free);
      product *= free;
    }
  }
  return product;
}

/**
 * Results that are level with each other, behind all that were taken before. `part`: how much of the
 * level is ahead of one who is on it, as far as others' places go; the rest of it is behind. Where it
 * is 1 those on it share a place. Less than `negligible` is not followed.
 */
export function takeLevel(
  m: Medals,
  who: usize,
  chances: usize,
  length: i32,
  part: f64,
  negligible: f64,
): void {
  if (m.over === 1) return;
  if (length > 1 || isFollowed(m, load<i32>(who))) {
    landLevel(m, who, chances, length, part, negligible);
  }
  for (let k = 0; k < length; k++) {
    const i = load<i32>(whole(who, k));
    const left = load<i32>(whole(m.left, i)) - 1;
    store<i32>(whole(m.left, i), left);
    const behind = at(m.behind, i);
    const less = greater(load<f64>(behind) - load<f64>(at(chances, k)), 0);
    store<f64>(behind, left === 0 ? 0 : less);
  }
  if (++m.taken % PATIENCE === 0 && fewAhead(m) < negligible) m.over = 1;
}

/** Whether a runner is followed on any place. */
function isFollowed(m: Medals, runner: i32): bool {
  if (load<i32>(whole(m.mayEnd, runner)) === 1) return true;
  for (let count = 1; count < m.medals; count++) {
    const start = whole(m.starts, (count - 1) * m.steps + runner);
    if (load<i32>(start) < load<i32>(start + 4)) return true;
  }
  return false;
}

/** What a level adds to beginnings, and to whole outcomes. */
function landLevel(
  m: Medals,
  who: usize,
  chances: usize,
  length: i32,
  part: f64,
  negligible: f64,
): void {
  const rest: f64 = 1 - part;
  memory.copy(m.free, m.behind, (<usize>m.size) << 3);
  for (let k = 0; k < length; k++) {
    const i = load<i32>(whole(who, k));
    const free = at(m.free, i);
    store<f64>(free, greater(load<f64>(free) - part * load<f64>(at(chances, k)), 0));
  }
  const product = face(m);
  for (let count = 1; count < m.medals; count++) {
    for (let k = 0; k < length; k++) {
      land(m, count, load<i32>(whole(who, k)), load<f64>(at(chances, k)), rest, negligible);
    }
  }
  const isShared = length > 1 && m.steps > m.size;
  if (isShared) landShared(m, who, chances, length, product, negligible);
  finish(m, who, chances, length, product, rest, negligible);
  for (let count = 1; count < m.medals; count++) {
    for (let k = 0; k < length; k++) settle(m, count, load<i32>(whole(who, k)));
    for (let step = m.size; isShared && step < m.steps; step++) settle(m, count, step);
  }
}

/** A step with so much of a chance comes next, after all beginnings that it makes so many of. */
function land(m: Medals, count: i32, step: i32, chance: f64, rest: f64, negligible: f64): void {
  const start = whole(m.starts, (count - 1) * m.steps + step);
  const end = load<i32>(start + 4);
  for (let n = load<i32>(start); n < end; n++) {
    const before = load<i32>(whole(m.parents, n));
    const reached = load<f64>(at(m.chances, before)) + rest * load<f64>(at(m.gains, before));
    const gain = reached * chance;
    if (gain < negligible) continue;
    store<f64>(at(m.gains, n), gain);
  }
}

/** What the level at hand has added to those beginnings is theirs. */
function settle(m: Medals, count: i32, step: i32): void {
  const start = whole(m.starts, (count - 1) * m.steps + step);
  const end = load<i32>(start + 4);
  for (let n = load<i32>(start); n < end; n++) {
    const gain = at(m.gains, n);
    const chance = at(m.chances, n);
    store<f64>(chance, load<f64>(chance) + load<f64>(gain));
    store<f64>(gain, 0);
  }
}

/** Those who are followed when they share the next place. */
function landShared(
  m: Medals,
  who: usize,
  chances: usize,
  length: i32,
  product: f64,
  negligible: f64,
): void {
  for (let k = 0; k < length; k++) {
    store<f64>(at(m.here, load<i32>(whole(who, k))), load<f64>(at(chances, k)));
  }
  for (let step = m.size; step < m.steps; step++) {
    const from = load<i32>(whole(m.setStarts, step - m.size));
    const to = load<i32>(whole(m.setStarts, step - m.size + 1));
    let chance: f64 = 1;
    for (let k = from; k < to; k++) {
      chance *= load<f64>(at(m.here, load<i32>(whole(m.setMembers, k))));
    }
    if (chance < negligible) continue;
    for (let count = to - from; count < m.medals; count++) {
      land(m, count, step, chance, 0, negligible);
    }
    const start = whole(m.starts, (m.medals - 1) * m.steps + step);
    const end = load<i32>(start + 4);
    for (let n = load<i32>(start); n < end; n++) {
      const before = load<i32>(whole(m.parents, n));
      const reached = load<f64>(at(m.chances, before)) * chance;
      if (reached < negligible) continue;
      const sum = at(m.chances, n);
      store<f64>(sum, load<f64>(sum) + reached * restOf(m, before, from, to, product));
    }
  }
  for (let k = 0; k < length; k++) store<f64>(at(m.here, load<i32>(whole(who, k))), 0);
}

/** That nobody else is ahead of some who share a place after a beginning. */
function restOf(m: Medals, before: i32, from: i32, to: i32, product: f64): f64 {
  let rest = product;
  let ahead = zeros;
  const members = whole(m.members, before * (m.medals - 1));
  const count = load<i32>(whole(m.counts, before));
  for (let k = 0; k < count; k++) {
    const j = load<i32>(whole(members, k));
    rest *= load<f64>(at(m.inverse, j));
    if (load<f64>(at(m.free, j)) === 0) ahead--;
  }
  for (let k = from; k < to; k++) {
    const j = load<i32>(whole(m.setMembers, k));
    rest *= load<f64>(at(m.inverse, j));
    if (load<f64>(at(m.free, j)) === 0) ahead--;
  }
  return ahead > 0 ? 0 : rest;
}

/** Whole outcomes that end with one who lands alone: nobody else is ahead. */
function finish(
  m: Medals,
  who: usize,
  chances: usize,
  length: i32,
  product: f64,
  rest: f64,
  negligible: f64,
): void {
  let most: f64 = 0;
  for (let k = 0; k < length; k++) {
    const i = load<i32>(whole(who, k));
    const may = load<i32>(whole(m.mayEnd, i)) === 1;
    const share = may ? load<f64>(at(chances, k)) * load<f64>(at(m.inverse, i)) : 0;
    store<f64>(at(m.shares, k), share);
    most = greater(most, share);
  }
  if (most === 0) return;
  const least = negligible / most;
  const members = m.medals - 1;
  const from = members === 0 ? 0 : load<i32>(whole(m.starts, (members - 1) * m.steps));
  const to = members === 0 ? 1 : load<i32>(whole(m.starts, members * m.steps));
  for (let n = from; n < to; n++) {
    // That nobody else is ahead has a chance of 1 at most.
    const there = load<f64>(at(m.chances, n)) + rest * load<f64>(at(m.gains, n));
    if (there < least) continue;
    let reached = there * product;
    let ahead = zeros;
    const row = whole(m.members, n * members);
    for (let k = 0; k < members; k++) {
      const j = load<i32>(whole(row, k));
      reached *= load<f64>(at(m.inverse, j));
      if (zeros > 0 && load<f64>(at(m.free, j)) === 0) ahead--;
    }
    if (ahead > 1 || reached < least) continue;
    // What this says of those who are on it already is never read.
    const lasts = at(m.lasts, (n - from) * m.size);
    for (let k = 0; k < length; k++) {
      const i = load<i32>(whole(who, k));
      if (ahead > 0 && load<f64>(at(m.free, i)) !== 0) continue;
      const last = at(lasts, i);
      store<f64>(last, load<f64>(last) + reached * load<f64>(at(m.shares, k)));
    }
  }
}

/** The chance that there is still a medal to be had by somebody who is not ahead yet. */
function fewAhead(m: Medals): f64 {
  for (let j = 0; j < m.size; j++) store<f64>(at(m.free, j), 1 - load<f64>(at(m.behind, j)));
  const made = multiply(m.product, m.free, m.size, -1);
  const degree = made & 0xffff;
  const sure = made >> 16;
  let sum: f64 = 0;
  for (let k = 0; k <= degree && k + sure < m.medals; k++) sum += load<f64>(at(m.product, k));
  return sum;
}

/**
 * Results from the best to the worst: whose, those from `size` on left out, how likely, and whether
 * one equals the one before it. They are put in another order.
 */
export function countMedals(
  m: Medals,
  who: usize,
  chances: usize,
  equals: usize,
  length: i32,
  negligible: f64,
): void {
  for (let from = 0; from < length && m.over === 0; ) {
    let to = from;
    let count = 0;
    do {
      const i = load<i32>(whole(who, to));
      if (i < m.size) {
        store<i32>(whole(who, from + count), i);
        store<f64>(at(chances, from + count), load<f64>(at(chances, to)));
        count++;
      }
      to++;
    } while (to < length && load<u8>(equals + to) === 1);
    if (count > 0) takeLevel(m, whole(who, from), at(chances, from), count, 1, negligible);
    from = to;
  }
}
