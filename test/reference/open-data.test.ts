/**
 * Rules of ties and scores against every apparatus final of 2022 and 2023 that was published with
 * places, played through the library; the open data of test/support/open-data.ts.
 */
import { describe, expect, it } from 'vitest';
import { type Meet, standings } from '../../lib/index.js';
import { isOnGrid } from '../../lib/scoring.js';
import { meetFrom, readAll } from '../support/meet.js';
import {
  addsUp,
  countOf,
  FOLDER,
  groupedBy,
  logRow,
  meetOf,
  once,
  published,
  type Row,
  routines,
  WITHOUT,
} from '../support/open-data.js';
import { MEN, WOMEN } from './published.js';

/** Three marks in tenths, averaged and cut to thousandths. */
const GRID = { counting: 3, stepMillionths: 100_000, decimals: 3 } as const;

function apparatusMeet(discipline: string, contest: string, ids: readonly string[], log: string[]) {
  return meetFrom(
    `
discipline: ${discipline}
scoring: open
contests: [${contest}]
gymnasts: [${ids.map((id) => `{ id: ${id} }`).join(', ')}]
`,
    `gymnast,apparatus,score,d,e,nd\n${log.join('\n')}\n`,
  );
}

/** Someone in a final: the published place, and what a rule may look at. */
interface Finisher {
  readonly id: string;
  readonly published: number;
  readonly best: number;
  readonly d: number;
  readonly e: number;
}

/** Two who are level on total by the library, the one with the better published place first. */
interface TiedPair {
  readonly where: string;
  readonly better: Finisher;
  readonly other: Finisher;
  /** Their places by the library. */
  readonly places: readonly [number, number];
}

interface Replayed {
  readonly finals: number;
  readonly finishers: number;
  readonly tied: readonly TiedPair[];
  /** Pairs that are not level, but are not published in the order of their totals. */
  readonly disordered: readonly string[];
}

interface Final {
  readonly where: string;
  readonly meet: Meet;
  readonly finishers: readonly Finisher[];
}

function replay(finals: readonly Final[]): Replayed {
  const tied: TiedPair[] = [];
  const disordered: string[] = [];
  for (const { where, meet, finishers } of finals) {
    const rows = new Map(standings(meet).rows.map((r) => [r.id, r]));
    for (const [i, a] of finishers.entries()) {
      for (const b of finishers.slice(i + 1)) {
        const [better, other] = a.published <= b.published ? [a, b] : [b, a];
        const [up, down] = [rows.get(better.id), rows.get(other.id)];
        if (up === undefined || down === undefined) throw new Error(`nobody of that id: ${where}`);
        if (up.total === down.total) {
          tied.push({ where, better, other, places: [up.place ?? 0, down.place ?? 0] });
        } else if (up.total < down.total || better.published === other.published) {
          disordered.push(where);
        }
      }
    }
  }
  return {
    finals: finals.length,
    finishers: finals.reduce((sum, f) => sum + f.finishers.length, 0),
    tied,
    disordered,
  };
}

/** Whether the library has a pair in the order that was published. */
function agrees({ better, other, places: [up, down] }: TiedPair): boolean {
  return better.published === other.published ? up === down : up < down;
}

/** By what the published places of a tied pair can be told apart. */
function toldApart({ better, other }: TiedPair, by: readonly ('best' | 'e' | 'd')[]): string {
  if (better.published === other.published) return 'shared';
  for (const key of by) {
    if (better[key] > other[key]) return key;
    if (better[key] < other[key]) return `against ${key}`;
  }
  return 'nothing';
}

/**
 * Finals with one routine: every row of round `final` with a place, vault left out (a vault final
 * has two). At two national championships these rows have no places.
 */
function singleFinals(): Final[] {
  const rows = routines().filter(
    (r) => r.round === 'final' && r.place !== null && !['VT', 'VT2'].includes(r.apparatus),
  );
  return groupedBy(rows, (r) => `${meetOf(r)}|${r.apparatus}`).map((final) => {
    const [{ discipline, apparatus, competition }] = final as [Row];
    return {
      where: `${competition}, ${apparatus}`,
      meet: apparatusMeet(
        discipline,
        `{ kind: apparatus, on: ${apparatus} }`,
        final.map((r) => r.id),
        final.map((r) => logRow(r, r.id)),
      ),
      finishers: final.map((r) => ({ ...r, published: r.place ?? 0, best: r.score })),
    };
  });
}

/**
 * Sheets with two vaults: whoever has a VT and a VT2 of one meet and round with the same place, which
 * is that of the average. Seven finalists of whom one of the two is missing are left out. In
 * qualification the first vault is often listed once more, with its place among single vaults.
 */
function vaultFinals(round: 'final' | 'qual'): Final[] {
  const rows = routines().filter((r) => r.round === round && r.place !== null);
  return groupedBy(rows, meetOf).flatMap((meet): Final[] => {
    const pairs = meet
      .filter((r) => r.apparatus === 'VT2')
      .flatMap((second) => {
        const first = meet.find(
          (r) => r.apparatus === 'VT' && r.gymnast === second.gymnast && r.place === second.place,
        );
        return first === undefined ? [] : [{ first, second }];
      });
    const [row] = meet;
    if (pairs.length === 0 || row === undefined) return [];
    return [
      {
        where: `${row.competition}, VT`,
        meet: apparatusMeet(
          row.discipline,
          '{ kind: apparatus, on: VT, vaults: 2 }',
          pairs.map((p) => p.first.id),
          pairs.flatMap((p) => [logRow(p.first, p.first.id), logRow(p.second, p.first.id)]),
        ),
        finishers: pairs.map(({ first, second }) => ({
          id: first.id,
          published: first.place ?? 0,
          best: Math.max(first.score, second.score),
          d: first.d + second.d,
          e: first.e + second.e,
        })),
      },
    ];
  });
}

describe.skipIf(FOLDER === '')(`open data of 2022 and 2023${WITHOUT}`, () => {
  it('20,815 routines', () => {
    expect(routines()).toHaveLength(20815);
  });

  describe('apparatus finals with one routine', () => {
    const replayed = once(() => replay(singleFinals()));

    it('of 89 tied pairs the higher E is ahead in 82, E level the higher D in 3; 3 share', () => {
      const { tied } = replayed();
      expect(tied).toHaveLength(89);
      expect(countOf(tied, (p) => toldApart(p, ['e', 'd']))).toEqual({
        e: 82,
        d: 3,
        shared: 3,
        // Level on score, E and D, and yet one place apart.
        nothing: 1,
      });
    });

    it('the library has 88 of them as published; the other is a dirty row', () => {
      const wrong = replayed().tied.filter((p) => !agrees(p));
      expect(wrong.map((p) => p.where)).toEqual(['2022 Varna World Challenge Cup, UB']);
      expect(wrong.map((p) => [p.better.published, p.other.published])).toEqual([[5, 6]]);
    });

    it('whoever is not level is published in the order of the totals, without exception', () => {
      const { finals, finishers, disordered } = replayed();
      expect(disordered).toEqual([]);
      expect({ finals, finishers }).toEqual({ finals: 224, finishers: 1779 });
    });
  });

  describe('two vaults', () => {
    it('finals: of 12 tied pairs with unlike best vaults the better best vault is ahead in 12', () => {
      const tied = replay(vaultFinals('final')).tied.filter((p) => p.better.best !== p.other.best);
      expect(tied).toHaveLength(12);
      expect(countOf(tied, (p) => toldApart(p, ['best']))).toEqual({ best: 12 });
      expect(tied.filter((p) => !agrees(p))).toEqual([]);
      // By E it would have been otherwise more often than not.
      expect(tied.filter((p) => p.better.e < p.other.e).length).toBeGreaterThan(6);
    });

    // By rule and with invented parts the same pair is in ties.test.ts.
    it('2022 European Championships, men: 15.200 is ahead of 15.066 on the same average, E against it', () => {
      const [pair, ...more] = replay(vaultFinals('final')).tied.filter(
        (p) => p.better.best === 15_200 && p.other.best === 15_066,
      );
      expect(more).toEqual([]);
      expect(pair).toMatchObject({
        better: { published: 1, e: 18_366 },
        other: { published: 2, e: 18_766 },
        places: [1, 2],
      });
    });

    it('of four tied pairs with equal best vaults three went to the higher D', () => {
      const equal = (['final', 'qual'] as const)
        .flatMap((round) => replay(vaultFinals(round)).tied)
        .filter((p) => p.better.best === p.other.best);
      expect(countOf(equal, (p) => toldApart(p, ['d']))).toEqual({ d: 3, 'against d': 1 });
      expect(equal.filter(agrees)).toHaveLength(3);
    });

    // The one exception: two averages that are a thousandth apart when cut and level when rounded, at
    // a meet that rounds (its E scores end in 67); rounded, the higher single vault is ahead there too.
    it('finals: the order of the averages, cut, is the published one, but for one meet that rounds', () => {
      const { finals, finishers, disordered } = replay(vaultFinals('final'));
      expect(disordered).toEqual(['2022 9th Senior Artistic Gymnastics Asian Championships, VT']);
      expect({ finals, finishers }).toEqual({ finals: 56, finishers: 430 });
    });
  });

  describe('scores', () => {
    // A limit that a real score has passed would call certain what is not.
    it('the highest is 16.166, within the ceiling of a meet that says nothing', () => {
      const highest = Math.max(...routines().map((r) => r.score));
      expect(published(highest)).toBe('16.166');
      const meet = meetFrom('discipline: mag\nscoring: open\ngymnasts: [{ id: one }]\n');
      expect(meet.scoring.ceiling).toBe(17_000);
      expect(highest).toBeLessThan(meet.scoring.ceiling);
    });

    /** Every routine in the log of some meet, each as a contender of her own. */
    const played = once(() =>
      groupedBy(routines(), (r) => `${meetOf(r)}|${r.round}|${r.apparatus}`).flatMap((sheet) => {
        const [first] = sheet as [Row];
        const on = first.apparatus === 'VT2' ? 'VT' : first.apparatus;
        const log = sheet.map((r) =>
          [r.id, on, ...[r.score, r.d, r.e, r.nd].map(published)].join(','),
        );
        const plan = `
discipline: ${first.discipline}
scoring: open
contests: [{ kind: apparatus, on: ${on} }]
gymnasts: [${sheet.map((r) => `{ id: ${r.id} }`).join(', ')}]
`;
        const read = (rows: readonly string[]) =>
          readAll(plan, `gymnast,apparatus,score,d,e,nd\n${rows.join('\n')}\n`);
        const { problems } = read(log);
        // A sheet with a row that is refused is no sound meet: it is without that row.
        const refused = new Set(
          problems.filter((p) => p.severity === 'error').map((p) => (p.line ?? 0) - 2),
        );
        const { meet } = read(log.filter((_, i) => !refused.has(i)));
        if (meet === null) throw new Error('no meet');
        const totals = new Map(standings(meet).rows.map((r) => [r.id, r]));
        return sheet.map((row, i) => ({
          row,
          standing: totals.get(row.id),
          said: problems.filter((p) => p.file === 'meet.scores.csv' && p.line === i + 2),
        }));
      }),
    );

    it('D + E - ND is the score in 20,800 of 20,815 rows; the other 15 are refused', () => {
      const all = played();
      const taken = all.filter((p) => p.standing?.done === 1);
      expect(taken).toHaveLength(20800);
      expect(taken.filter((p) => p.standing?.total !== p.row.score)).toEqual([]);
      const refused = all.filter((p) => p.said.some((problem) => problem.severity === 'error'));
      expect(refused).toHaveLength(15);
      expect(refused.filter((p) => addsUp(p.row))).toEqual([]);
    });

    it('a score is noted just when it is off the grid of three marks, and taken all the same', () => {
      const taken = played().filter((p) => p.standing?.done === 1);
      const noted = taken.filter((p) => p.said.length > 0);
      const off = taken.filter((p) => !isOnGrid(p.row.score, GRID));
      expect(noted.map((p) => p.row.id)).toEqual(off.map((p) => p.row.id));
      expect(off.length).toBeGreaterThan(4000);
    });

    it('E ends in 00, 33, 66 (three marks, cut), 50 (two marks) or 67 (rounded, at three meets)', () => {
      const ending = (r: Row) => published(r.e).slice(-2);
      expect(Object.keys(countOf(routines(), ending)).sort()).toEqual([
        '00',
        '33',
        '50',
        '66',
        '67',
      ]);
      const cut = routines().filter((r) => ['00', '33', '66'].includes(ending(r)));
      expect(cut.filter((r) => !isOnGrid(r.e, GRID))).toEqual([]);
      const rounded = routines().filter((r) => ending(r) === '67');
      expect(new Set(rounded.map((r) => r.competition)).size).toBe(3);
    });
  });

  // In qualification the vaults of who does two are on two sheets: VT and VT2 with the place of the
  // average, and VT once more with the place among single vaults, which is what all-around and team
  // count. Taken is whoever has just these three rows and one on every other apparatus.
  describe('two vaults in qualification', () => {
    const CODES: Readonly<Record<'wag' | 'mag', readonly string[]>> = { wag: WOMEN, mag: MEN };

    const both = once(() =>
      groupedBy(
        routines().filter((r) => r.round === 'qual'),
        meetOf,
      ).flatMap((meet) =>
        groupedBy(meet, (r) => r.gymnast).flatMap((hers) => {
          const discipline: 'wag' | 'mag' = hers[0]?.discipline === 'mag' ? 'mag' : 'wag';
          const others = CODES[discipline].filter((code) => code !== 'VT');
          const on = (code: string) => hers.filter((r) => r.apparatus === code);
          const [second, ...more] = on('VT2');
          const first = on('VT').find((r) => r.place === second?.place);
          const single = on('VT').find((r) => r.place !== second?.place);
          if (second === undefined || first === undefined || single === undefined) return [];
          if (more.length > 0 || on('VT').length !== 2) return [];
          if (others.some((code) => on(code).length !== 1)) return [];
          return [{ discipline, first, second, single, rest: others.flatMap(on) }];
        }),
      ),
    );

    it('the first counts for the all-around: so say both sheets of everyone, by D and E', () => {
      const all = both();
      const same = all.filter((g) => g.first.d === g.single.d && g.first.e === g.single.e);
      expect([same.length, all.length]).toEqual([124, 124]);
      // Of whom so many had a second vault that cannot be taken for the first.
      const told = all.filter((g) => g.second.d !== g.single.d || g.second.e !== g.single.e);
      expect(told).toHaveLength(123);
    });

    it('the all-around total is that of the single sheet', () => {
      const all = both();
      const wrong = groupedBy(all, (g) => meetOf(g.first)).flatMap((group) => {
        const [{ discipline }] = group as [(typeof group)[number]];
        const codes = [...CODES[discipline], 'VT2'];
        const meet = meetFrom(
          `
discipline: ${discipline}
scoring: open
contests: [all-around, { kind: apparatus, on: VT, vaults: 2, id: vault-final }]
gymnasts: [${group.map((g) => `{ id: ${g.first.id}, on: [${codes.join(', ')}] }`).join(', ')}]
`,
          `gymnast,apparatus,score,d,e,nd\n${group
            .flatMap((g) => [g.first, g.second, ...g.rest].map((r) => logRow(r, g.first.id)))
            .join('\n')}\n`,
        );
        const { rows } = standings(meet);
        return group.filter((g) => {
          const total = [g.single, ...g.rest].reduce((sum, r) => sum + r.score, 0);
          return rows.find((r) => r.id === g.first.id)?.total !== total;
        });
      });
      expect([all.length - wrong.length, all.length]).toEqual([120, 124]);
      // Those of whom the two sheets give the same vault with another ND.
      expect(wrong.filter((g) => g.first.nd === g.single.nd)).toEqual([]);
    });
  });
});
