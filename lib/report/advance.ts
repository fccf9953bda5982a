/** Who goes through, as a board has it and for certain. */

import { findContest } from '../contest/contest.js';
import { goalsOf } from '../contest/goal.js';
import { fieldExtremes, settledIn } from '../contest/settled.js';
import type { Onward, Standings, StandingsRow } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import { type Section, sentence } from './report.js';
import type { ColumnOf } from './table.js';
import { listed, ordinal, shortName, shower } from './words.js';

/** Where nothing can change it any more. */
export type Certain = ReadonlyMap<string, 'secured' | 'out-of-reach'>;

/** Who is through, or out, whatever is still scored; nobody on a board of some time ago. */
export function certainOn(meet: Meet, { contest: id, after }: Standings): Certain {
  const contest = findContest(meet, id);
  const goals = goalsOf(contest).filter((g) => g.target === 'advance');
  if (after !== null || goals.length === 0) return new Map();
  const senses = [fieldExtremes(meet, contest, 'limit')];
  return new Map(
    contest.contenders.flatMap((c) =>
      settledIn(senses, contest, c, goals).map((s) => [c.id, s.status] as const),
    ),
  );
}

const THROUGH = 'through';
const QUOTA = 'quota';

/** As the board has it, or by projection where it compares no like with like. */
export type AdvanceBy = 'board' | 'projection';

/** By projection where there is one. */
export function advanceBy(isEven: boolean, rows: readonly StandingsRow[]): AdvanceBy {
  return !isEven && rows.some((r) => r.projectedAdvance !== null) ? 'projection' : 'board';
}

/** How it is in that sense; null where nobody advances, and without a place. */
export function onwardIn(row: StandingsRow, by: AdvanceBy): Onward | null {
  if (by === 'projection') return row.projectedAdvance;
  const { advance, reserve, blockedBy } = row;
  return advance === null ? null : { advance, reserve, blockedBy };
}

/** A column where somebody advances from the contest; none elsewhere. */
export function advanceColumn(
  rows: readonly StandingsRow[],
  certain: Certain,
  by: AdvanceBy,
): ColumnOf<StandingsRow>[] {
  if (rows.every((r) => r.advance === null)) return [];
  return [{ head: THROUGH, cell: (r) => advanceText(r, certain, by) }];
}

function advanceText(row: StandingsRow, certain: Certain, by: AdvanceBy): string {
  return onwardInFew(onwardIn(row, by), certain.get(row.id));
}

/** "through", "in", "reserve 1", "quota", "out"; empty for who is behind all of them. */
export function onwardInFew(
  onward: Onward | null,
  status: 'secured' | 'out-of-reach' | undefined,
): string {
  const { advance = null, reserve = null, blockedBy = [] } = onward ?? {};
  if (status === 'secured') return THROUGH;
  if (advance === 'in') return 'in';
  if (advance === 'reserve') return `reserve ${reserve}`;
  if (blockedBy.length > 0) return QUOTA;
  return advance === 'out' && status === 'out-of-reach' ? 'out' : '';
}

/** What the words of that column mean. */
export function advanceNotes(
  rows: readonly StandingsRow[],
  certain: Certain,
  by: AdvanceBy,
): string[] {
  const said = new Set(rows.map((r) => advanceText(r, certain, by)));
  const sure = [THROUGH, 'out'].filter((word) => said.has(word));
  const hasReserve = rows.some((r) => onwardIn(r, by)?.reserve != null);
  const now = [...(said.has('in') ? ['in'] : []), ...(hasReserve ? ['reserve'] : [])];
  return [
    sure.length > 0 ? `${sure.join(', ')}: whatever is still scored` : '',
    now.length > 0 && rows.some((r) => r.toCome.length > 0)
      ? `${now.join(', ')}: ${by === 'board' ? 'as things stand' : 'by projected finish'}`
      : '',
    said.has(QUOTA) ? `${QUOTA}: kept out by team-mates ahead` : '',
  ].filter((n) => n !== '');
}

/** Of more teams than this those who are kept out are counted. */
const MOST_TEAMS = 4;

/** Between whom the line is drawn, and whom team-mates keep out. */
export function advanceLines(meet: Meet, all: readonly StandingsRow[], by: AdvanceBy): Section {
  const show = shower(meet);
  const rows = all
    .flatMap((row) => {
      const onward = onwardIn(row, by);
      const total = by === 'projection' ? row.projected : row.total;
      return onward === null || total === null || isOut(row) ? [] : [{ id: row.id, total, onward }];
    })
    .sort((a, b) => b.total - a.total);
  const last = rows.findLast((r) => r.onward.advance === 'in');
  if (last === undefined) return [];
  const next = rows.find((r) => r.onward.advance !== 'in' && r.onward.blockedBy.length === 0);
  const isOver = all.every((r) => r.toCome.length === 0);
  const count = rows.filter((r) => r.onward.advance === 'in').length;
  const now = isOver ? '' : by === 'board' ? ', as things stand' : ', by projected finish';
  const gap = next === undefined ? 0 : last.total - next.total;
  const behind = gap > 0 ? `${show(gap)} behind` : 'on the same total';
  const line = `The last of ${count} in${now}: ${shortName(meet, last.id)} on ${show(last.total)}`;
  const first =
    next === undefined ? '' : `; the first out is ${shortName(meet, next.id)}, ${behind}`;
  const kept = keptOut(rows.map(({ id, onward }) => ({ id, blockedBy: onward.blockedBy })));
  const names = (ids: readonly string[]) => listed(ids.map((id) => shortName(meet, id)));
  const named = kept.slice(0, MOST_TEAMS).map(({ ids, by }) => `${names(ids)} by ${names(by)}`);
  const more = kept.slice(MOST_TEAMS).reduce((n, { ids }) => n + ids.length, 0);
  const others = more === 0 ? '' : `; and ${more} more`;
  return [
    sentence(`${line}${first}.`),
    ...(named.length === 0
      ? []
      : [sentence(`Kept out by team-mates ahead: ${named.join('; ')}${others}.`)]),
  ];
}

/** Those whom the same team-mates keep out, together. */
function keptOut(rows: readonly { readonly id: string; readonly blockedBy: readonly string[] }[]) {
  const groups = new Map<string, { ids: string[]; by: readonly string[] }>();
  for (const { id, blockedBy } of rows) {
    if (blockedBy.length === 0) continue;
    const key = blockedBy.join('\n');
    const group = groups.get(key) ?? { ids: [], by: blockedBy };
    group.ids.push(id);
    groups.set(key, group);
  }
  return [...groups.values()];
}

function isOut({ scores }: StandingsRow): boolean {
  return Object.values(scores).some((s) => s === 'DNS' || s === 'DNF');
}

const RESERVES = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'];

/**
 * "in as things stand", "first reserve by projection", "not in as things stand: Kestrel and Lind of the same
 * team are ahead"; once all is over without the condition. Empty where nobody advances.
 */
export function advancesInWords(
  row: StandingsRow,
  { by, isOver }: { readonly by: AdvanceBy; readonly isOver: boolean },
  name: (id: string) => string,
): string {
  const onward = onwardIn(row, by);
  if (onward === null) return '';
  const { advance, reserve, blockedBy } = onward;
  const now = isOver ? '' : by === 'board' ? ' as things stand' : ' by projection';
  if (advance === 'in') return isOver ? 'through' : `in${now}`;
  if (advance === 'reserve') {
    return `${RESERVES[(reserve ?? 1) - 1] ?? ordinal(reserve ?? 1)} reserve${now}`;
  }
  if (blockedBy.length === 0) return isOver ? 'not through' : `not in${now}`;
  const are = blockedBy.length > 1 ? 'are' : 'is';
  return `not in${now}: ${listed(blockedBy.map(name))} of the same team ${are} ahead`;
}
