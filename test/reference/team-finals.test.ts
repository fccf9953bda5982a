/**
 * Team contests on the open data of test/support/open-data.ts: six championships with a team
 * qualification (four up, three count) and a final of eight (three up, three count). Team totals are
 * not in the data; what is checked is said at each test.
 */
import { describe, expect, it } from 'vitest';
import { type StandingsRow, standings } from '../../lib/index.js';
import { entrants, meetWith } from '../support/finalists.js';
import {
  FOLDER,
  groupedBy,
  meetOf,
  once,
  type Row,
  routines,
  WITHOUT,
} from '../support/open-data.js';

const QUALIFICATIONS = ['qual', 'TeamQual'];

interface TeamFinal {
  readonly where: string;
  readonly rows: readonly Row[];
  readonly board: readonly StandingsRow[];
  /** The rows that count as entered: each gymnast and apparatus once. */
  readonly entered: readonly Row[];
  readonly qualified: readonly StandingsRow[];
}

/** Five up, since one team has five on vault in its rows; it is not among the first eleven. */
const QUALIFYING = '{ kind: team, up: 5, count: 3, advance: { places: 8, reserves: 1 } }';

function boardOf(rows: readonly Row[], contest: string) {
  const field = entrants(rows);
  const discipline = rows[0]?.discipline ?? '';
  // Second vaults are of no team contest.
  const first = field.map((e) => ({ ...e, done: e.done.filter((d) => d.on !== 'VT2') }));
  return {
    entered: first.flatMap((e) => e.done.map((d) => d.row)),
    board: standings(meetWith({ discipline, field: first }, [contest])).rows,
  };
}

const teamFinals = once(() =>
  groupedBy(routines(), meetOf).flatMap((all): TeamFinal[] => {
    const rows = all.filter((r) => r.round === 'TeamFinal');
    const [first] = rows;
    if (first === undefined) return [];
    const qualifying = boardOf(
      all.filter((r) => QUALIFICATIONS.includes(r.round)),
      QUALIFYING,
    );
    return [
      {
        where: meetOf(first),
        rows,
        board: boardOf(rows, '{ kind: team, up: 3, count: 3 }').board,
        entered: qualifying.entered,
        qualified: qualifying.board,
      },
    ];
  }),
);

/** The best so many of each team on each apparatus, added up. */
function totals(rows: readonly Row[], count: number): Map<string, number> {
  return new Map(
    groupedBy(rows, (r) => r.noc).map((team) => {
      const apparatus = groupedBy(team, (r) => r.apparatus).flatMap((its) =>
        its
          .map((r) => r.score)
          .sort((a, b) => b - a)
          .slice(0, count),
      );
      return [team[0]?.noc ?? '', apparatus.reduce((a, b) => a + b, 0)];
    }),
  );
}

const totalsOn = (board: readonly StandingsRow[]) => new Map(board.map((r) => [r.id, r.total]));
const sorted = (map: Map<string, number>) => [...map].sort(([a], [b]) => (a < b ? -1 : 1));

describe.skipIf(FOLDER === '')(`team finals${WITHOUT}`, () => {
  it('the 48 teams of six finals are those who are in, none missing', () => {
    expect(teamFinals()).toHaveLength(6);
    for (const { qualified, rows } of teamFinals()) {
      const first = qualified.filter((r) => r.advance === 'in').map((r) => r.id);
      expect(first).toHaveLength(8);
      expect([...new Set(rows.map((r) => r.noc))].sort()).toEqual(first.sort());
    }
  });

  it('the last team in is ahead of the first reserve by 0.265 to 13.134', () => {
    const ahead = teamFinals().map(({ qualified }) => {
      const total = (r: StandingsRow | undefined) => r?.total ?? 0;
      const last = qualified.filter((r) => r.advance === 'in').at(-1);
      return total(last) - total(qualified.find((r) => r.reserve === 1));
    });
    expect(ahead.sort((a, b) => a - b)).toEqual([265, 801, 801, 1466, 1699, 13_134]);
  });

  it('a total of the qualification is the sum of the best three on each apparatus', () => {
    for (const { qualified, entered } of teamFinals()) {
      expect(sorted(totalsOn(qualified))).toEqual(sorted(totals(entered, 3)));
    }
  });

  it('a total of the final is the sum of all its scores, three on each apparatus but for one row', () => {
    const counts = teamFinals().flatMap(({ rows, board }) => {
      expect(sorted(totalsOn(board))).toEqual(sorted(totals(rows, 99)));
      return groupedBy(rows, (r) => `${r.noc} ${r.apparatus}`).map((its) => its.length);
    });
    expect(counts.filter((n) => n !== 3)).toEqual([2]);
    expect(counts).toHaveLength(8 * (3 * 4 + 3 * 6));
  });

  // Places on the apparatus are given at two of the six. At the men's of these the vault sheet has the
  // scores of the floor sheet, row for row: its team totals are not those that were published.
  it('ranked on each apparatus the final is as published where places are given', () => {
    const given = teamFinals().filter(({ rows }) => rows.every((r) => r.place !== null));
    const compared = given.map(({ rows }) => {
      const codes = [...new Set(rows.map((r) => r.apparatus))];
      const meet = meetWith(
        { discipline: rows[0]?.discipline ?? '', field: entrants(rows) },
        codes.map((on) => `{ kind: apparatus, on: ${on} }`),
      );
      const places = codes.flatMap((contest) => {
        const board = standings(meet, { contest }).rows;
        return rows
          .filter((r) => r.apparatus === contest)
          .map((r) => board.find((b) => b.id === r.gymnast)?.place === r.place);
      });
      return [places.filter(Boolean).length, places.length];
    });
    expect(compared).toEqual([
      [96, 96],
      [144, 144],
    ]);
    const copied = given.map(({ rows }) => {
      const score = (on: string, g: string) =>
        rows.find((r) => r.apparatus === on && r.gymnast === g)?.score;
      const floor = rows.filter((r) => r.apparatus === 'FX');
      return floor.filter((r) => score('VT', r.gymnast) === r.score).length;
    });
    expect(copied).toEqual([0, 24]);
  });
});
