/**
 * Fitted ranges to the last hundredth, worked out by hand from docs/ranges.md, on invented results.
 * Usual on floor, women: E 7.500 or a score of 12.270, a spread of 0.300, a fall in 0.12; they count as
 * much as 30 routines. The range is [likely - 3.2 s, likely + 2.1 s] with likely = mean + 1.1 s / 6.
 */
import { describe, expect, it } from 'vitest';
import { fitRanges } from '../../lib/history/fit.js';
import { readHistory } from '../../lib/index.js';

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,d,e,nd';

const TODAY = '2026-01-10';

/** A result on floor, `score,d,e`; of one day in a round of its own. */
const on = (date: string, round: string, gymnast: string, parts: string) =>
  `${gymnast},wag,${date},Harbour Cup,${round},FX,${parts},`;

const floorOf = (gymnast: string, ...rows: readonly string[]) => {
  const history = readHistory({ file: 'results.csv', text: `${HEADER}\n${rows.join('\n')}\n` });
  return fitRanges(history).find((f) => f.id === gymnast)?.ranges.FX;
};

describe('one gymnast on one day', () => {
  // Pool: E (8000 + 30 · 7500) / 31 = 7516.129; spread (400 + 30 · 300) / 31 = 303.226, since nothing
  // is known of one; falls 30 · 0.12 / 31 = 0.116129. Hers: E (8000 + 7516.129) / 2 = 7758.065, mean
  // 12758.065; s = 303.226 · 1.1 · √3 = 577.727; likely + 105.917 = 12863.98. Falls 1.16129 / 11 = 0.1056.
  it('one result leans on what is usual as on one more', () => {
    expect(floorOf('ann', on(TODAY, 'final', 'ann', '13.000,5.000,8.000'))).toEqual({
      low: 11_020,
      likely: 12_860,
      high: 14_080,
      falls: 0.106,
      d: 5000,
      results: 1,
      fell: 0,
    });
  });

  const FINAL = on(TODAY, 'final', 'ann', '13.000,5.000,8.000');
  // Pool: E (2 · 8100 + 30 · 7500) / 32 = 7537.5; spread √(2 · 100²) = 141.421, with the usual one
  // 290.089; falls 30 · 0.12 / 32 = 0.1125. Hers: E (8000 + 8200 + 7537.5) / 3 = 7912.5, mean 12912.5;
  // s = 290.089 · 1.1 · √2 = 451.272; likely + 82.733 = 12995.23. Falls 1.125 / 12 = 0.09375.
  const BOTH = {
    low: 11_550,
    likely: 13_000,
    high: 13_940,
    falls: 0.094,
    d: 5000,
    results: 2,
    fell: 0,
  };

  it('two results, and a chance of a fall rounded to thousandths', () => {
    expect(floorOf('ann', FINAL, on(TODAY, 'qual', 'ann', '13.200,5.000,8.200'))).toEqual(BOTH);
  });

  it('a result without D is taken to have the D of the others', () => {
    expect(floorOf('ann', FINAL, on(TODAY, 'qual', 'ann', '13.200,,'))).toEqual(BOTH);
  });
});

describe('how much older results tell', () => {
  // Ninety days: half. D (5600 + 5000 / 2) / 1.5 = 5400. E: 2^(-90/1500) = 0.959264; pool 8150 of two,
  // with the usual 7540.625; (8000 + 0.959264 · 8300 + 7540.625) / 2.959264 = 7942.06; mean 13342.06.
  // Scores 13.600 and 13.300: √(2 · 150²) = 212.132, with the usual 294.508; s = 458.146; + 83.993.
  it('half as much of D after 90 days', () => {
    const range = floorOf(
      'ann',
      on('2025-10-12', 'final', 'ann', '13.300,5.000,8.300'),
      on(TODAY, 'final', 'ann', '13.600,5.600,8.000'),
    );
    expect(range).toMatchObject({ d: 5400, low: 11_960, likely: 13_430, high: 14_390 });
  });

  // 1500 days: half. Pool of five: E 8480, with the usual 7640, and scores 13480 ± √(288 000 / 4) =
  // 268.328, with the usual 295.475. Hers: (8000 + 4 · 8600 / 2 + 7640) / 4 = 8210; mean 13210;
  // s = 295.475 · 1.1 · √1.4 = 384.572; + 70.505 = 13280.5.
  it('half as much of E after 1500 days', () => {
    const old = ['qual', 'team final', 'final', 'gala'].map((round) =>
      on('2021-12-02', round, 'ann', '13.600,5.000,8.600'),
    );
    const range = floorOf('ann', ...old, on(TODAY, 'final', 'ann', '13.000,5.000,8.000'));
    expect(range).toMatchObject({ d: 5000, low: 12_050, likely: 13_280, high: 14_090 });
  });
});

// Thirty routines of 13.500 with E 8.500 count as much as the usual: E 8000, spread 150, falls 0.06.
// Ten are hers: (10 · 8500 + 8000) / 11 = 8454.545; s = 150 · 1.1 · √1.2 = 180.748; + 33.137 = 13487.68.
it('a history of thirty routines counts half', () => {
  const rows = ['ann', 'bea', 'cleo'].flatMap((id) =>
    Array.from({ length: 10 }, (_, k) => on(TODAY, `day ${k}`, id, '13.500,5.000,8.500')),
  );
  expect(floorOf('ann', ...rows)).toEqual({
    low: 12_910,
    likely: 13_490,
    high: 13_870,
    falls: 0.03,
    d: 5000,
    results: 10,
    fell: 0,
  });
});

describe('a fall', () => {
  const rows = (third: string) => [
    on(TODAY, 'final', 'ann', '13.000,5.000,8.000'),
    on(TODAY, 'qual', 'ann', '13.200,5.000,8.200'),
    on(TODAY, 'team final', 'ann', third),
  ];

  // Her better half has E 8.100. Pool: a fall in 3 of its own, (1 + 3.6) / 33 = 0.139394; hers
  // (1 + 1.39394) / 13 = 0.184149. D (5000 + 5000 + 4000 / 2) / 2.5 = 4800. E and spread as of two
  // results, but the pool has three routines: (3 · 8100 + 225 000) / 33 = 7554.545, so 7918.182; spread
  // (3 · 141.421 + 9000) / 33 = 285.584, s = 444.265; 4800 + 7918.182 + 81.449 = 12799.63.
  it('is an E more than 0.700 under her better half; it leaves E as it was and tells half of D', () => {
    expect(floorOf('ann', ...rows('11.399,4.000,7.399'))).toEqual({
      low: 11_380,
      likely: 12_800,
      high: 13_730,
      falls: 0.184,
      d: 4800,
      results: 3,
      fell: 1,
    });
  });

  // No fall: 30 · 0.12 / 33 = 0.109091, and 1.09091 / 13 = 0.083916.
  it('is not one that is just 0.700 under it', () => {
    expect(floorOf('ann', ...rows('12.400,5.000,7.400'))).toMatchObject({ falls: 0.084, fell: 0 });
  });

  it('with a single result is one more than 1.300 under the usual of the history', () => {
    const others = ['bea', 'cleo', 'dana'].map((id) =>
      on(TODAY, 'final', id, '13.500,5.000,8.500'),
    );
    const ann = (parts: string) => floorOf('ann', ...others, on(TODAY, 'final', 'ann', parts));
    // (25.500 + 6.767) / 4 - 1.300 = 6.76675, and (25.500 + 6.766) / 4 - 1.300 = 6.7665.
    expect(ann('11.767,5.000,6.767')?.fell).toBe(0);
    expect(ann('11.766,5.000,6.766')?.fell).toBe(1);
  });
});

describe('a history in which D is known of some only', () => {
  const rows = [
    on(TODAY, 'final', 'ann', '13.000,5.000,8.000'),
    on(TODAY, 'qual', 'ann', '13.200,5.000,8.200'),
    on(TODAY, 'final', 'bea', '13.200,,'),
  ];
  // Pool of three: spread (3 · 141.421 + 9000) / 33 = 285.584; falls 3.6 / 33 = 0.109091.

  // E (3 · 8100 + 225 000) / 33 = 7554.545, so (8000 + 8200 + 7554.545) / 3 = 7918.182; s = 444.265.
  it('follows who has D by E, and what is usual of E is of those who have it', () => {
    expect(floorOf('ann', ...rows)).toEqual({
      low: 11_580,
      likely: 13_000,
      high: 13_930,
      falls: 0.091,
      d: 5000,
      results: 2,
      fell: 0,
    });
  });

  // Scores: 39 400 / 3 = 13133.333, with the usual 12348.485, so (13200 + 12348.485) / 2 = 12774.242;
  // s = 285.584 · 1.1 · √3 = 544.112; + 99.754.
  it('follows who has none by scores, and what is usual of scores is of all', () => {
    expect(floorOf('bea', ...rows)).toEqual({
      low: 11_130,
      likely: 12_870,
      high: 14_020,
      falls: 0.099,
      d: null,
      results: 1,
      fell: 0,
    });
  });

  // An E of 8.000 lies far under scores of 13 points, and is no fall for that.
  it('compares nobody’s E with scores', () => {
    const scores = ['bea', 'cleo', 'dana'].map((id) => on(TODAY, 'final', id, '13.200,,'));
    const ann = on(TODAY, 'final', 'ann', '13.000,5.000,8.000');
    expect(floorOf('ann', ...scores, ann)?.fell).toBe(0);
    expect(floorOf('bea', ...scores, ann)?.fell).toBe(0);
  });
});
