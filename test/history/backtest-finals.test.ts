/** Team and apparatus finals of a small history, the ranges before them, and what is compared. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawnAnew } from '../../lib/history/bootstrap.js';
import { fitRanges } from '../../lib/history/fit.js';
import { knownIn, rangesFor } from '../../lib/history/known.js';
import { ownMeans } from '../../lib/history/own-means.js';
import { placedIn, quantileOf, shareWithin } from '../../lib/history/pit.js';
import { finalBoard, finalsOf, wasKnownTo } from '../../lib/history/rounds.js';
import { backtest, forecastsAsCsv, readHistory, reports, stampedReport } from '../../lib/index.js';

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,d,e,noc';
const CODES = ['VT', 'UB', 'BB', 'FX'];
const history = (...rows: readonly string[]) =>
  readHistory({ file: 'h.csv', text: [HEADER, ...rows].join('\n') });

/** One row: score and D in tenths of a point above 0. */
const row = (
  who: string,
  round: string,
  on: string,
  score: number,
  noc = '',
  date = '2026-06-01',
) =>
  `${who},wag,${date},June Cup,${round},${on},${score.toFixed(3)},5.000,${(score - 5).toFixed(3)},${noc}`;

/** Four teams with so many up on each apparatus; the k-th team is a point a routine behind the one before. */
const teamFinal = (up: number) =>
  ['AAA', 'BBB', 'CCC', 'DDD'].flatMap((noc, t) =>
    CODES.flatMap((on) =>
      Array.from({ length: up }, (_, i) =>
        row(`${noc}${i}`, 'team final', on, 14 - t - i / 10, noc),
      ),
    ),
  );

describe('a team final', () => {
  it.each([
    // Up, and how many count: 3-3, 4-3, 5-4, 6-5.
    [3, 3],
    [4, 3],
    [5, 4],
    [6, 5],
  ])('with %i up has %i count', (up, count) => {
    const [final] = finalsOf(history(...teamFinal(up)), { contests: ['team'] });
    expect(final?.contenders).toEqual(['AAA', 'BBB', 'CCC', 'DDD']);
    const best = Array.from({ length: count }, (_, i) => 14_000 - 100 * i);
    const total = 4 * best.reduce((a, b) => a + b, 0);
    const board = finalBoard(final!);
    expect(board[0]).toEqual({ total, place: 1 });
    expect(board[3]).toEqual({ total: total - 4 * 3000 * count, place: 4 });
  });

  it('goes by place in qualification where the competition has one, the best on vault', () => {
    const qualified = ['AAA', 'BBB', 'CCC', 'DDD'].flatMap((noc, t) =>
      CODES.flatMap((on) =>
        [0, 1, 2].map((i) => row(`${noc}${i}`, 'qualification', on, 11 + t, noc)),
      ),
    );
    const [final] = finalsOf(history(...teamFinal(3), ...qualified), { contests: ['team'] });
    const first = final?.meet.rotations[0]?.stations.map((s) => [s.apparatus, s.order]);
    // DDD had the most; its gymnasts are the last three in the file.
    expect(first?.[0]).toEqual(['VT', ['g9', 'g10', 'g11']]);
    expect(first?.[3]).toEqual(['FX', ['g0', 'g1', 'g2']]);
  });

  it('is judged by teams: four alike have a quarter each', () => {
    const answer = backtest(history(...teamFinal(3)), { contest: 'team' });
    expect(answer.rounds).toMatchObject([{ contest: 'team', gymnasts: 12, apparatus: null }]);
    expect(answer.scores.find((s) => s.forecaster === 'equal')?.winLog).toBeCloseTo(
      Math.log(4),
      12,
    );
    expect(() => backtest(history(...teamFinal(3)))).toThrow(/no all-around final/);
  });
});

const apparatusFinal = (count: number, on = 'UB') =>
  Array.from({ length: count }, (_, i) => row(`g${i}`, 'apparatus final', on, 14 - i / 10));

describe('an apparatus final', () => {
  it('has four to twelve, one after another in an order that the seed draws', () => {
    const finals = (n: number) =>
      finalsOf(history(...apparatusFinal(n)), { contests: ['apparatus'] });
    expect([3, 4, 8, 12, 13].map((n) => finals(n).length)).toEqual([0, 1, 1, 1, 0]);
    const [final] = finals(8);
    expect(final).toMatchObject({ on: 'UB', order: 'drawn', rotations: 8 });
    const orderOf = (seed: number) =>
      finalsOf(history(...apparatusFinal(8)), {
        contests: ['apparatus'],
        seed,
      })[0]?.meet.rotations.map((r) => r.stations[0]?.order[0]);
    expect(orderOf(1)).toEqual(orderOf(1));
    expect([...(orderOf(1) ?? [])].sort()).toEqual([
      'g0',
      'g1',
      'g2',
      'g3',
      'g4',
      'g5',
      'g6',
      'g7',
    ]);
    // Results lists are in order of place: whoever won must not always go up first.
    const first = Array.from({ length: 400 }, (_, seed) => orderOf(seed)?.[0]);
    const times = first.filter((g) => g === 'g0').length;
    expect(times).toBeGreaterThan(25);
    expect(times).toBeLessThan(80);
  });

  it('of two vaults has the average, cut, and only those who did both', () => {
    const rows = Array.from({ length: 5 }, (_, i) => [
      row(`g${i}`, 'apparatus final', 'VT', 14.066 - i / 10),
      ...(i === 4 ? [] : [row(`g${i}`, 'apparatus final', 'VT2', 13.933 - i / 10)]),
    ]).flat();
    const [final] = finalsOf(history(...rows), { contests: ['apparatus'] });
    expect(final?.contenders).toEqual(['g0', 'g1', 'g2', 'g3']);
    // 14.066 and 13.933 are 13.999: docs/rules.md.
    expect(finalBoard(final!)[0]).toEqual({ total: 13_999, place: 1 });
    expect(final?.rotations).toBe(4);
  });

  it('ties are broken by E', () => {
    const rows = [
      ...apparatusFinal(4),
      `x,wag,2026-06-01,June Cup,apparatus final,UB,14.000,4.900,9.100,`,
    ];
    const [final] = finalsOf(history(...rows), { contests: ['apparatus'] });
    expect(finalBoard(final!).map((b) => b.place)).toEqual([2, 3, 4, 5, 1]);
  });

  it('is in the order of the history where every gymnast has a rotation of her own', () => {
    const text = apparatusFinal(4).map((r, i) => `${r},${4 - i}`);
    const known = readHistory({ file: 'h', text: [`${HEADER},rotation`, ...text].join('\n') });
    const [final] = finalsOf(known, { contests: ['apparatus'] });
    expect(final?.order).toBe('known');
    expect(final?.meet.rotations[0]?.stations[0]?.order).toEqual(['g3']);
    const same = apparatusFinal(4).map((r) => `${r},1`);
    const shared = readHistory({ file: 'h', text: [`${HEADER},rotation`, ...same].join('\n') });
    expect(finalsOf(shared, { contests: ['apparatus'] })[0]?.order).toBe('drawn');
  });
});

describe('what was known before a final', () => {
  const gymnasts = ['ann', 'bea', 'cleo', 'dora'];
  const past = fc.array(
    fc.record({
      who: fc.constantFrom(...gymnasts, 'eve', 'fay'),
      on: fc.constantFrom(...CODES),
      day: fc.integer({ min: 1, max: 28 }),
      round: fc.constantFrom('qualification', 'team final', 'final'),
      score: fc.integer({ min: 1000, max: 1500 }),
    }),
    { maxLength: 40 },
  );
  const final = gymnasts.flatMap((g, i) =>
    CODES.map((on) => row(g, 'all-around final', on, 13 + i / 10)),
  );

  it('makes the ranges that `ranges` makes of those rows', () => {
    fc.assert(
      fc.property(past, (rows) => {
        const texts = rows.map(({ who, on, day, round, score }) =>
          row(who, round, on, score / 100, '', `2026-05-${String(day).padStart(2, '0')}`).replace(
            'June Cup',
            day % 3 === 0 ? 'June Cup' : `Cup ${day}`,
          ),
        );
        const whole = history(...texts, ...final);
        const [round] = finalsOf(whole);
        for (const from of ['rounds', 'days'] as const) {
          const of = rangesFor(whole, knownIn(whole), from)(round!);
          const fitted = fitRanges(whole, {
            before: round!.date,
            also: (r) => from === 'rounds' && wasKnownTo(round!, r),
            competition: from === 'rounds' ? round!.competition : null,
          });
          for (const g of gymnasts) {
            expect(of(g)).toEqual(fitted.find((f) => f.id === g)?.ranges);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is nothing of another year, though the competition has the same name', () => {
    const later = row('ann', 'qualification', 'VT', 14, '', '2027-06-01');
    const near = row('ann', 'qualification', 'VT', 14, '', '2026-06-02');
    const of = (extra: string) => backtest(history(...final, extra)).rounds[0]?.unknown;
    expect([of(later), of(near)]).toEqual([4, 3]);
  });

  it('is a ranges file where one is given, by name, whatever the history says', () => {
    const text = 'ann: { VT: { low: 12, likely: 13, high: 14, falls: 0.1 } }\n';
    const of = rangesFor(history(...final), knownIn(history(...final)), { file: 'r.yaml', text });
    expect(of(finalsOf(history(...final))[0]!)('Ann')?.VT).toMatchObject({
      likely: 13_000,
      d: null,
    });
    const wrong = { file: 'r.yaml', text: 'ann: { VT: { low: twelve } }\n' };
    expect(() => backtest(history(...final), { ranges: wrong })).toThrow(/low/);
  });

  it('since a day leaves earlier finals out, and what they showed in', () => {
    const early = final.map((r) => r.replaceAll('2026-06-01', '2026-01-01').replace('June', 'May'));
    const both = history(...early, ...final);
    expect(backtest(both).rounds.length).toBe(2);
    const late = backtest(both, { since: '2026-02-01' });
    expect(late.rounds).toMatchObject([{ date: '2026-06-01', unknown: 0 }]);
    expect(() => backtest(both, { since: '2027-01-01' })).toThrow(/on or after 2027-01-01/);
    expect(() => backtest(both, { since: 'soon' })).toThrow(/--since/);
  });
});

describe('two sets of ranges', () => {
  const final = ['ann', 'bea', 'cleo', 'dora'].flatMap((g, i) =>
    CODES.map((on) => row(g, 'all-around final', on, 14 - i)),
  );
  const file = (likely: readonly number[]) => ({
    file: 'r.yaml',
    text: ['ann', 'bea', 'cleo', 'dora']
      .map((g, i) => {
        const at = likely[i] ?? 0;
        const of = CODES.map(
          (c) => `${c}: { low: ${at - 1}, likely: ${at}, high: ${at + 1}, falls: 0.1 }`,
        );
        return `${g}: { ${of.join(', ')} }`;
      })
      .join('\n'),
  });

  it('the one that says what happened is closer', () => {
    const right = file([14, 13, 12, 11]);
    const wrong = { ...file([11, 12, 13, 14]), file: 'wrong.yaml' };
    const { comparison } = backtest(history(...final), { ranges: right, against: wrong });
    expect(comparison?.against).toBe('wrong.yaml');
    for (const { behind, these, others } of comparison?.scores ?? []) {
      expect(behind.by).toBeGreaterThan(0.1);
      expect(behind.by).toBeCloseTo(others - these, 12);
      // One meet: nothing can be drawn anew.
      expect(behind.interval).toBeNull();
    }
    const turned = backtest(history(...final), { ranges: wrong, against: right }).comparison;
    expect(turned?.scores[0]?.behind.by).toBeCloseTo(-(comparison?.scores[0]?.behind.by ?? 0), 12);
  });

  it('that are the same are the same', () => {
    const { comparison } = backtest(history(...final), { ranges: 'days', against: 'rounds' });
    expect(comparison?.scores.map((s) => s.behind.by)).toEqual([0, 0, 0]);
    expect(comparison?.routines).toBeNull();
  });
});

describe('where a score fell in its range', () => {
  const even = { scores: [1, 2, 3, 4], chances: [0.25, 0.25, 0.25, 0.25] };

  it('is spread over what its chance takes', () => {
    expect(placedIn(even, 2)).toEqual([0.25, 0.5]);
    // Of the middle half, 0.25 to 0.75, a score of 2 is all in, of 1 nothing; of four fifths 1 in part.
    expect(shareWithin(placedIn(even, 2), 0.25, 0.75)).toBe(1);
    expect(shareWithin(placedIn(even, 1), 0.25, 0.75)).toBe(0);
    expect(shareWithin(placedIn(even, 1), 0.1, 0.9)).toBeCloseTo(0.6, 12);
    // Between two scores it is a point; over all of them the last tenth.
    expect(placedIn(even, 2.5)).toEqual([0.5, 0.5]);
    expect(shareWithin([0.5, 0.5], 0.4, 0.5)).toBe(0);
    expect(shareWithin([0.5, 0.5], 0.5, 0.6)).toBe(1);
    expect(shareWithin(placedIn(even, 9), 0.9, 1)).toBe(1);
    expect([0.25, 0.26, 1].map((p) => quantileOf(even, p))).toEqual([1, 2, 4]);
  });

  it('over all scores of a range every tenth has a tenth', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 2, maxLength: 12 }),
        (w) => {
          const sum = w.reduce((a, b) => a + b, 0);
          const range = { scores: w.map((_, i) => i), chances: w.map((x) => x / sum) };
          for (let k = 0; k < 10; k++) {
            const share = range.scores.reduce(
              (s, y, i) =>
                s + range.chances[i]! * shareWithin(placedIn(range, y), k / 10, (k + 1) / 10),
              0,
            );
            expect(share).toBeCloseTo(0.1, 9);
          }
        },
      ),
    );
  });
});

describe('plain statistics', () => {
  it('own means and the spread around them, by hand', () => {
    const means = ownMeans();
    const of = (gymnast: string) => ({ discipline: 'wag', apparatus: 'VT', gymnast }) as const;
    const scored = history(
      ...[13, 14].map((s, i) => row('ann', `final ${i}`, 'VT', s)),
      ...[11, 12, 13].map((s, i) => row('bea', `final ${i}`, 'VT', s)),
    );
    for (const r of scored.routines) means.add(r);
    // Squares around own means: 0.5 and 2, over 5 - 2 = 3 degrees of freedom.
    expect(means.own(of('ann'))?.mean).toBe(13_500);
    expect(means.own(of('ann'))?.spread).toBeCloseTo(1000 * Math.sqrt(2.5 / 3), 9);
    expect(means.own(of('ann'), [15_000])?.mean).toBe(14_000);
    expect(means.own(of('eve'))).toBeNull();
    // Around 12.6: 0.16 + 1.96 + 2.56 + 0.36 + 0.16 = 5.2, over 4.
    expect(means.all(of('eve'))?.spread).toBeCloseTo(1000 * Math.sqrt(5.2 / 4), 9);
  });

  it('an interval from groups drawn anew is that of the normal distribution where there are many', () => {
    // Means 0.3, each group’s variance 0.21: ± 1.96 √(0.21 / 400).
    const groups = Array.from({ length: 400 }, (_, i) => ({ sum: i % 10 < 3 ? 1 : 0, of: 1 }));
    const [low, high] = drawnAnew(groups, 7) ?? [0, 0];
    const half = 1.96 * Math.sqrt(0.21 / 400);
    expect(Math.abs(low - (0.3 - half))).toBeLessThan(0.006);
    expect(Math.abs(high - (0.3 + half))).toBeLessThan(0.006);
    expect(drawnAnew(groups.slice(0, 1), 7)).toBeNull();
  });
});

describe('what is written', () => {
  const final = ['ann', 'bea', 'cleo', 'dora'].flatMap((g, i) =>
    CODES.map((on) => row(g, 'all-around final', on, 13 + i / 10)),
  );

  it('a row for every forecast, from which the scores follow again', () => {
    const whole = history(...final, ...apparatusFinal(6), ...teamFinal(3));
    const answer = backtest(whole, { contest: 'all', forecasts: true });
    const [head = '', ...lines] = forecastsAsCsv(answer, 3).trimEnd().split('\n');
    const at = (name: string) => head.split(',').indexOf(name);
    const rows = lines.map((line) => line.split(','));
    // Boards times contenders times targets: 4 × 4, 6 × 6 and 4 × 4 boards and contenders.
    expect(rows.length).toBe((16 + 36 + 16) * 3);
    expect(backtest(whole).forecasts).toBeNull();
    for (const of of answer.byContest) {
      const those = rows.filter((r) => r[at('contest')] === of.contest);
      const boards = new Map<string, string[][]>();
      for (const r of those) {
        const key = `${r[at('final')]} ${r[at('rotation')]}`;
        boards.set(key, [...(boards.get(key) ?? []), r]);
      }
      expect(boards.size).toBe(of.boards);
      const score = (
        column: string,
        target: string,
        loss: (p: number, y: number) => number | null,
      ) =>
        mean(
          [...boards.values()].map((b) =>
            mean(
              b
                .filter((r) => r[at('target')] === target)
                .flatMap((r) => loss(Number(r[at(column)]), Number(r[at('happened')])) ?? []),
            ),
          ),
        );
      const log = (p: number) => -Math.log(Math.max(p, 0.005));
      for (const [column, forecaster] of [
        ['said', 'chances'],
        ['normal', 'normal'],
      ] as const) {
        const scores = of.scores.find((s) => s.forecaster === forecaster);
        expect(score(column, 'win', (p, y) => (y === 1 ? log(p) : null))).toBeCloseTo(
          scores?.winLog ?? 0,
          10,
        );
        expect(score(column, 'win', (p, y) => (p - y) ** 2)).toBeCloseTo(scores?.winBrier ?? 0, 10);
        expect(
          score(column, 'medal', (p, y) =>
            log(y === 1 ? Math.min(p, 0.995) : Math.min(1 - p, 0.995)),
          ),
        ).toBeCloseTo(scores?.medalLog ?? 0, 10);
        expect(score(column, 'medal', (p, y) => (p - y) ** 2)).toBeCloseTo(
          scores?.medalBrier ?? 0,
          10,
        );
      }
      expect(score('said', 'place', log)).toBeCloseTo(of.scores[0]?.placeLog ?? 0, 10);
    }
  });

  it('a report with its stamp, the same each time, and nothing in it taken for markup', () => {
    const strange = final.map((r) => r.replaceAll('June Cup', 'June <b>*Cup*'));
    const stamp = {
      ...{ title: 'How honest', version: '1.2.3', seed: 7, command: 'lastrotation backtest h.csv' },
      files: [{ file: 'h.csv', sha256: 'abc' }],
    };
    const made = () =>
      stampedReport(stamp, reports.backtest(backtest(history(...strange), { seed: 7 })));
    expect(made()).toBe(made());
    for (const part of ['lastrotation 1.2.3, seed 7', '`abc`', 'lastrotation backtest h.csv']) {
      expect(made()).toContain(part);
    }
    expect(made()).toContain('| the chances |');
    expect(made()).not.toContain('<b>');
    // Every row of a table has as many cells as its head.
    for (const table of made()
      .split('\n\n')
      .filter((t) => t.startsWith('|'))) {
      const widths = table.split('\n').map((line) => line.replace(/\\\|/g, '').split('|').length);
      expect(new Set(widths).size).toBe(1);
    }
  });
});

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;
}
