/** On a board of teams: which scores count, and which are dropped. */
import { findContest } from '../contest/contest.js';
import type { Standings } from '../contest/standings.js';
import { type Meet, routineOf } from '../meet/meet.js';
import { scoresDropped } from '../rules/contender.js';
import { countedItems } from './counting.js';
import { type Section, title } from './report.js';
import { tableOf } from './table.js';
import { apparatusName, nameOf } from './words.js';

/**
 * For every team a line on each apparatus where scores are dropped; `latest`: only on the one where it has
 * last competed. Empty where nothing is dropped.
 */
export function countedSection(
  meet: Meet,
  board: Pick<Standings, 'contest' | 'rows'>,
  latest: boolean,
): Section {
  const { contenders } = findContest(meet, board.contest);
  const rows = board.rows.flatMap(({ id, counting }) => {
    const parts = contenders.find((c) => c.id === id)?.parts ?? [];
    const lines = parts.flatMap((part) => {
      const scores = counting?.[part.apparatus] ?? [];
      if (scoresDropped(part) === 0 || scores.length === 0) return [];
      const rotations = scores.map(
        ({ gymnast }) => routineOf(meet, gymnast, part.apparatus)?.rotation ?? 0,
      );
      return [{ apparatus: part.apparatus, scores, rotation: Math.max(...rotations) }];
    });
    const last = Math.max(...lines.map((l) => l.rotation));
    return lines
      .filter((l) => !latest || l.rotation === last)
      .map((line, i) => ({ ...line, team: i === 0 ? nameOf(meet, id) : '' }));
  });
  if (rows.length === 0) return [];
  return [
    title(
      latest ? 'The scores that count, on each team’s latest apparatus' : 'The scores that count',
    ),
    tableOf(
      [
        { head: 'team', cell: (r) => r.team, isNames: true },
        { head: 'on', cell: (r) => apparatusName(meet, r.apparatus) },
        { head: 'scores', cell: (r) => ({ text: '', items: countedItems(meet, r.scores) }) },
      ],
      rows,
    ),
  ];
}
