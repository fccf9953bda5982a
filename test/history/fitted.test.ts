/**
 * Fitted ranges to the last hundredth, worked out by hand from docs/ranges.md, on invented results.
 * Usual on floor, women: E 7.500 or a score of 12.270, a spread of 0.300, a fall in 0.12; they count as
 * much as 30 routines. Her own E leans on the usual as on two results more. Her own spread is that of the
 * history as often as what is taken off her, 10 - E, is what is usual; her level is known to w = spread √(3/n) of n
 * results, and s² = spread² + w². The range is [likely - 3.2 s, likely + 2.1 s], likely = mean + 1.1 s / 6.
 */
import { describe, expect, it } from 'vitest';
import { fitRanges } from '../../lib/history/fit.js';
import { readHistory } from '../../lib/index.js';

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,d,e,nd';

const TODAY = '2026-01-10';

/** A result on floor, `score,d,e`; of one day in a round of its own. */
const on = (date: string, round: string, gymnast: string, parts: string) =>
  `${gymnast},wag,${date},Harbour Cup,${round},FX,${parts},`;

const historyOf = (...rows: readonly string[]) =>
  readHistory({ file: 'results.csv', text: `${HEADER}\n${rows.join('\n')}\n` });

const floorOf = (gymnast: string, ...rows: readonly string[]) =>
  fitRanges(historyOf(...rows)).find((f) => f.id === gymnast)?.ranges.FX;

describe('one gymnast on one day', () => {
  // Pool: E (8000 + 30 · 7500) / 31 = 7516.129; spread (400 + 30 · 300) / 31 = 303.226, since nothing
  // is known of one; falls 30 · 0.12 / 31 = 0.116129. Hers: E (8000 + 2 · 7516.129) / 3 = 7677.419, mean
  // 12677.419; 2322.581 / 2483.871 of the spread is 283.536, w = 283.536 √3 = 491.098, s = 283.536 √4 = 567.072;
  // + 103.963 = 12781.38. Falls 1.16129 / 11 = 0.1056.
  it('one result leans on what is usual as on two more', () => {
    expect(floorOf('ann', on(TODAY, 'final', 'ann', '13.000,5.000,8.000'))).toEqual({
      low: 10_970,
      likely: 12_780,
      high: 13_970,
      falls: 0.106,
      d: 5000,
      within: 490,
      results: 1,
      fell: 0,
    });
  });

  const FINAL = on(TODAY, 'final', 'ann', '13.000,5.000,8.000');
  // Pool: E (2 · 8100 + 30 · 7500) / 32 = 7537.5; spread √(2 · 100²) = 141.421, with the usual one
  // 290.089; falls 30 · 0.12 / 32 = 0.1125. Hers: E (8000 + 8200 + 2 · 7537.5) / 4 = 7818.75, mean 12818.75;
  // 2181.25 / 2462.5 of the spread is 256.957, w = 256.957 √1.5 = 314.707, s = 256.957 √2.5 = 406.284;
  // + 74.485 = 12893.24. Falls 1.125 / 12 = 0.09375.
  const BOTH = {
    low: 11_590,
    likely: 12_890,
    high: 13_750,
    falls: 0.094,
    d: 5000,
    within: 310,
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
  // 180 days: half. D (5600 + 5000 / 2) / 1.5 = 5400, and a third of the way to her best 5466.667. E:
  // 2^(-180/1500) = 0.920188; pool 8150 of two, with the usual 7540.625; (8000 + 0.920188 · 8300 +
  // 2 · 7540.625) / 3.920188 = 7836.055; mean 13302.722. Scores 13.600 and 13.300: √(2 · 150²) = 212.132, with
  // the usual 294.508, of which 2163.945 / 2459.375 is 259.131; s = 259.131 √2.5 = 409.722; + 75.116 = 13377.84.
  it('half as much of D after 180 days; D lies a third of the way to her best', () => {
    const range = floorOf(
      'ann',
      on('2025-07-14', 'final', 'ann', '13.300,5.000,8.300'),
      on(TODAY, 'final', 'ann', '13.600,5.600,8.000'),
    );
    expect(range).toMatchObject({ d: 5500, low: 12_070, likely: 13_380, high: 14_240 });
  });

  // A best of 730 days ago, of which 2^(-730/180) = 0.060139 is left: (5000 + 0.060139 · 5600) / 1.060139 =
  // 5034.036, and (5600 - 5034.036) / 3 more: 5222.691. A day older it is none: 5033.913 less 11.304.
  it('a best D is one of the last 730 days', () => {
    const today = on(TODAY, 'final', 'ann', '13.000,5.000,8.000');
    const best = (date: string) => on(date, 'final', 'ann', '13.600,5.600,8.000');
    expect(floorOf('ann', best('2024-01-11'), today)?.d).toBe(5200);
    expect(floorOf('ann', best('2024-01-10'), today)?.d).toBe(5000);
    // Unless there is no other.
    const alone = fitRanges(historyOf(best('2020-01-01')), { before: TODAY });
    expect(alone[0]?.ranges.FX?.d).toBe(5600);
  });

  // 1500 days: half. Pool of five: E 8480, with the usual 7640, and scores 13480 ± √(288 000 / 4) =
  // 268.328, with the usual 295.475. Hers: (8000 + 4 · 8600 / 2 + 2 · 7640) / 5 = 8096; mean 13096;
  // 1904 / 2360 of the spread is 238.384, w = 238.384 √0.6 = 184.651, s = 301.534; + 55.281 = 13151.28. High is 13784.503, in units 13785.
  it('half as much of E after 1500 days', () => {
    const old = ['qual', 'team final', 'final', 'gala'].map((round) =>
      on('2021-12-02', round, 'ann', '13.600,5.000,8.600'),
    );
    const range = floorOf('ann', ...old, on(TODAY, 'final', 'ann', '13.000,5.000,8.000'));
    expect(range).toMatchObject({
      d: 5000,
      low: 12_190,
      likely: 13_150,
      high: 13_790,
      within: 180,
    });
  });

  // Pool E 7537.5 and spread 290.089, as of two results above. (3 · 8200 + 8000 + 2 · 7537.5) / 6 = 7945.833;
  // 2054.167 / 2462.5 of the spread, and 0.85 of that, is 205.688; w = 205.688 √(3/4) = 178.131, s = 272.1;
  // 12945.833 + 49.885 = 12995.72. Low is 12125.00, which is rounded up.
  it('three times as much of a round of the competition that is going on, where a routine lies closer', () => {
    const rows = [
      on(TODAY, 'qual', 'ann', '13.200,5.000,8.200'),
      on(TODAY, 'final', 'ann', '13.000,5.000,8.000').replace('Harbour Cup', 'Quay Cup'),
    ];
    const fitted = (competition: string) =>
      fitRanges(historyOf(...rows), { competition })[0]?.ranges.FX;
    const here = { low: 12_130, likely: 13_000, high: 13_570, within: 180, results: 2 };
    expect(fitted('Harbour Cup')).toMatchObject(here);
    // Of another one that begins it knows as much as if none were named.
    expect(fitted('Mill Cup')).toEqual(fitRanges(historyOf(...rows))[0]?.ranges.FX);
  });

  it('but not of last year’s of the same name', () => {
    const past = on('2025-05-01', 'qual', 'ann', '13.200,5.000,8.200');
    const now = on('2026-05-01', 'qual', 'bea', '13.200,5.000,8.200');
    const of = (competition: string | null) =>
      fitRanges(historyOf(past, now), { competition }).map((f) => f.ranges.FX);
    expect(of('Harbour Cup')[0]).toEqual(of(null)[0]);
    expect(of('Harbour Cup')[1]).not.toEqual(of(null)[1]);
  });
});

// Thirty routines of 13.500 with E 8.500 count as much as the usual: E 8000, spread 150, falls 0.06.
// Ten are hers: (10 · 8500 + 2 · 8000) / 12 = 8416.667; 1583.333 / 2000 of the spread is 118.75, w = 118.75 √0.3 =
// 65.042, s = 135.396; + 24.823 = 13441.49.
it('a history of thirty routines counts half', () => {
  const rows = ['ann', 'bea', 'cleo'].flatMap((id) =>
    Array.from({ length: 10 }, (_, k) => on(TODAY, `day ${k}`, id, '13.500,5.000,8.500')),
  );
  expect(floorOf('ann', ...rows)).toEqual({
    low: 13_010,
    likely: 13_440,
    high: 13_730,
    falls: 0.03,
    d: 5000,
    within: 70,
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
  // (1 + 1.39394) / 13 = 0.184149. D (5000 + 5000 + 4000 / 2) / 2.5 = 4800, and a third of the way to her best
  // 4866.667. E and spread as of two results, but the pool has three routines: (3 · 8100 + 225 000) / 33 =
  // 7554.545, so (16 200 + 2 · 7554.545) / 4 = 7827.273; spread (3 · 141.421 + 9000) / 33 = 285.584, of which
  // 2172.727 / 2445.455 is 253.734; w = 253.734 √1.5 = 310.76, s = 401.189; 4866.667 + 7827.273 + 73.551 = 12767.49.
  it('is an E more than 0.700 under her better half; it leaves E as it was and tells half of D', () => {
    expect(floorOf('ann', ...rows('11.399,4.000,7.399'))).toEqual({
      low: 11_480,
      likely: 12_770,
      high: 13_610,
      falls: 0.184,
      d: 4900,
      within: 310,
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

  // E (3 · 8100 + 225 000) / 33 = 7554.545, so (8000 + 8200 + 2 · 7554.545) / 4 = 7827.273; w = 310.76 and s = 401.189
  // as with the fall above; 12827.273 + 73.551 = 12900.82.
  it('follows who has D by E, and what is usual of E is of those who have it', () => {
    expect(floorOf('ann', ...rows)).toEqual({
      low: 11_620,
      likely: 12_900,
      high: 13_740,
      falls: 0.091,
      d: 5000,
      within: 310,
      results: 2,
      fell: 0,
    });
  });

  // Scores: 39 400 / 3 = 13133.333, with the usual 12348.485, so (13200 + 2 · 12348.485) / 3 = 12632.323;
  // w = 285.584 √3 = 494.646, s = 285.584 √4 = 571.168; + 104.714 = 12737.04.
  it('follows who has none by scores and with the spread of all, and what is usual of scores is of all', () => {
    expect(floorOf('bea', ...rows)).toEqual({
      low: 10_910,
      likely: 12_740,
      high: 13_940,
      falls: 0.099,
      d: null,
      within: 490,
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
