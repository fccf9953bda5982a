/** Who goes on in the meet at hand. */
import type { AdvanceRules } from '../../meet/meet.js';
import { addOne } from './counts.js';
import type { DrawnMeet } from './drawn-meet.js';
import type { Advancing } from './plan.js';

/** Those before somebody in the order, as far as they count: of each team no more than the quota. */
interface Ahead {
  count: number;
  readonly ofTeam: Int32Array;
}

const nobody = (size: number): Ahead => ({ count: 0, ofTeam: new Int32Array(size) });

function isFull({ perTeam }: AdvanceRules, ahead: Ahead, team: number): boolean {
  return perTeam !== null && (ahead.ofTeam[team] ?? 0) >= perTeam;
}

function add(rules: AdvanceRules, ahead: Ahead, team: number): void {
  if (!isFull(rules, ahead, team)) ahead.count++;
  ahead.ofTeam[team] = (ahead.ofTeam[team] ?? 0) + 1;
}

/** Counts everyone who goes on. */
export function countAdvancing(
  meet: DrawnMeet,
  { rules, teams }: Advancing,
  to: Float64Array,
): void {
  const { order, sorted, first } = meet;
  const size = order.length;
  const levels = rules.ties === 'all' ? sorted : first;
  const ahead = nobody(size);
  for (let from = 0; from < size && ahead.count < rules.places; ) {
    let end = from + 1;
    while (end < size && levels[end] === levels[from]) end++;
    for (let k = from; k < end; k++) {
      const i = order[k] ?? 0;
      if (!isFull(rules, ahead, teams[i] ?? 0)) addOne(to, i);
    }
    for (let k = from; k < end; k++) add(rules, ahead, teams[order[k] ?? 0] ?? 0);
    from = end;
  }
}

/** How many of the others, the best first, she can have ahead of her and still go on. */
export function mostAhead({ order }: DrawnMeet, { rules, teams }: Advancing, her: number): number {
  const ahead = nobody(order.length);
  let most = -1;
  for (const i of order) {
    if (i === her) continue;
    if (ahead.count >= rules.places || isFull(rules, ahead, teams[her] ?? 0)) return most;
    most++;
    add(rules, ahead, teams[i] ?? 0);
  }
  return ahead.count >= rules.places || isFull(rules, ahead, teams[her] ?? 0) ? most : most + 1;
}
