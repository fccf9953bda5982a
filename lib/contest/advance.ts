/**
 * Who goes on: from the top of the board, at most so many of one team. She is in while fewer than
 * `perTeam` of her own are ahead of her, and fewer than `places` of all who are ahead of her count, of
 * each team no more than `perTeam`.
 */
import type { AdvanceRules } from '../meet/meet.js';
import type { Contender } from '../rules/contender.js';
import type { Ranked } from './board.js';

/** As a board has it: in, waiting, or not. */
export const ADVANCES = ['in', 'reserve', 'out'] as const;
/**
 * What a board says of going on: `in`, `reserve` (waiting, to be called if somebody withdraws),
 * `out`.
 */
export type Advances = (typeof ADVANCES)[number];

export interface Advancement {
  readonly advance: Advances;
  /** Of a reserve: 1 for the first to be called. */
  readonly reserve: number | null;
  /** Who has taken the places of her team, where it is they who keep her out. */
  readonly blockedBy: readonly Contender[];
}

type Quota = Pick<AdvanceRules, 'perTeam'>;

/** How many of some who are ahead of somebody count: of each team no more than the quota. */
export function countAhead({ perTeam }: Quota, ahead: Iterable<Pick<Contender, 'team'>>): number {
  let count = 0;
  const ofTeam = new Map<string, number>();
  for (const { team } of ahead) {
    const before = team === null ? 0 : (ofTeam.get(team) ?? 0);
    if (perTeam !== null && before >= perTeam) continue;
    if (team !== null) ofTeam.set(team, before + 1);
    count++;
  }
  return count;
}

/** How many of her own team are among some. */
export function countOwn(
  { team }: Pick<Contender, 'team'>,
  others: Iterable<Pick<Contender, 'team'>>,
): number {
  let count = 0;
  if (team !== null) for (const other of others) if (other.team === team) count++;
  return count;
}

/** Whether she is in when those are ahead of her, and nobody else. */
export function isIn(
  rules: Pick<AdvanceRules, 'places' | 'perTeam'>,
  her: Pick<Contender, 'team'>,
  ahead: readonly Pick<Contender, 'team'>[],
): boolean {
  const { places, perTeam } = rules;
  if (perTeam !== null && countOwn(her, ahead) >= perTeam) return false;
  return countAhead(rules, ahead) < places;
}

/** Of those in `rows`, the first place first, who goes on; nothing of who has no place yet. */
export function advancementOn(
  rules: AdvanceRules,
  rows: readonly Ranked[],
): ReadonlyMap<Contender, Advancement> {
  const found = new Map<Contender, Advancement>();
  const ahead: Contender[] = [];
  let inAll = 0;
  let reserves = 0;
  for (const level of levelsOf(rules, rows)) {
    const count = countAhead(rules, ahead);
    const free = level.filter((c) => rules.perTeam === null || countOwn(c, ahead) < rules.perTeam);
    const isInHere = count < rules.places;
    const isReserveHere = !isInHere && count < inAll + rules.reserves;
    for (const contender of level) {
      const isFree = free.includes(contender);
      const advance = isFree && isInHere ? 'in' : isFree && isReserveHere ? 'reserve' : 'out';
      found.set(contender, {
        advance,
        reserve: advance === 'reserve' ? reserves + 1 : null,
        blockedBy:
          !isFree && (isInHere || isReserveHere)
            ? ahead.filter((c) => c.team === contender.team).slice(0, rules.perTeam ?? 0)
            : [],
      });
    }
    ahead.push(...level);
    if (isInHere) inAll = countAhead(rules, ahead);
    if (isReserveHere) reserves += free.length;
  }
  for (const { entry } of rows) {
    if (entry.out) found.set(entry.contender, { advance: 'out', reserve: null, blockedBy: [] });
  }
  return found;
}

/** Those on the board who are not out, the best first: together where nothing tells who goes on. */
function levelsOf({ ties }: AdvanceRules, rows: readonly Ranked[]): Contender[][] {
  const levels: Contender[][] = [];
  let before: Ranked | undefined;
  for (const row of rows) {
    if (row.place === null || row.entry.out) continue;
    const isLevel =
      ties === 'all' ? before?.entry.total === row.entry.total : before?.place === row.place;
    if (isLevel) levels.at(-1)?.push(row.entry.contender);
    else levels.push([row.entry.contender]);
    before = row;
  }
  return levels;
}
