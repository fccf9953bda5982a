/**
 * The plain forecast that the chances are measured against, where its chances can be written down: of two
 * normal totals the first is higher with probability Φ((m - n) / √(s² + t²)), and the higher of two with a
 * chance each. Φ and the plain statistics come from simple-statistics.
 */
import { cumulativeStdNormalProbability, mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { findContest } from '../../lib/contest/contest.js';
import type { FinalName } from '../../lib/history/final-kinds.js';
import { normalForecast } from '../../lib/history/normal-forecast.js';
import { ownMeans } from '../../lib/history/own-means.js';
import { asItStood, finalsOf, rangesBefore } from '../../lib/history/rounds.js';
import { readHistory } from '../../lib/index.js';
import { CODES } from '../support/june-cup.js';

/** Earlier scores on floor; nobody else's mean or spread is needed for what is to come on floor. */
const EARLIER: Readonly<Record<string, readonly number[]>> = {
  ann: [13.2, 13.8, 13.5],
  bea: [13.0, 13.6, 13.6],
  cleo: [12.1, 12.5],
  dot: [12.0, 12.2],
};

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,noc,rotation';
const history = (...rows: readonly string[]) =>
  readHistory({ file: 'h.csv', text: [HEADER, ...rows].join('\n') });
const earlier = ['FX', 'VT', 'VT2'].flatMap((on) =>
  Object.entries(EARLIER).flatMap(([who, scores]) =>
    scores.map(
      (score, k) => `${who},wag,2026-03-0${k + 1},June Cup,qualification,${on},${score},,`,
    ),
  ),
);
const finalRow = (round: string, who: string, on: string, score: number, noc = '') =>
  `${who},wag,2026-06-01,July Cup,${round},${on},${score},${noc},${CODES.indexOf(on) + 1}`;

/** The standard deviation around gymnasts' own means: all squares over scores less gymnasts. */
const within = () => {
  const all = Object.values(EARLIER);
  const squares = all.flatMap((s) => s.map((x) => (x - mean([...s])) ** 2));
  const free = squares.length - all.length;
  return 1000 * Math.sqrt(squares.reduce((a, b) => a + b, 0) / free);
};
const own = (who: string) => 1000 * mean([...(EARLIER[who] ?? [])]);

/** What is drawn a thousand times lies within four standard errors of the probability. */
function expectDrawn(drawn: number | undefined, p: number): void {
  expect(Math.abs((drawn ?? Number.NaN) - p)).toBeLessThan(4 * Math.sqrt((p * (1 - p)) / 1000));
}

/** What is said before the last rotation. */
function forecastOf(contest: FinalName, rows: readonly string[]) {
  const all = history(...earlier, ...rows);
  const [final] = finalsOf(all, { contests: [contest] });
  if (final === undefined) throw new Error('no final');
  const means = ownMeans();
  for (const r of all.routines) if (r.date < final.date) means.add(r);
  const meet = asItStood(
    final,
    3,
    rangesBefore(final, () => undefined),
  );
  const said = normalForecast(final, means, [], 1)(meet, findContest(meet, null), 3);
  const ids = final.contenders;
  const of = (who: string) => ids.indexOf(who);
  return {
    final,
    win: (who: string) => said.win[of(who)],
    medal: (who: string) => said.medal[of(who)],
  };
}

describe('means and spreads', () => {
  const means = ownMeans();
  for (const r of history(...earlier).routines) means.add(r);
  const whose = (gymnast: string) => ({ discipline: 'wag', apparatus: 'FX', gymnast }) as const;

  it('are her own mean, and the spread of all around theirs', () => {
    for (const who of Object.keys(EARLIER)) {
      expect(means.own(whose(who))?.mean).toBeCloseTo(own(who), 9);
      expect(means.own(whose(who))?.spread).toBeCloseTo(within(), 9);
      expect(means.count(whose(who))).toBe(EARLIER[who]?.length);
    }
    const more = [13_000, 14_000];
    const all = [...(EARLIER.ann ?? []).map((x) => 1000 * x), ...more];
    expect(means.own(whose('ann'), more)?.mean).toBeCloseTo(mean(all), 9);
  });

  it('of whom nothing is known are those of all scores', () => {
    const all = Object.values(EARLIER).flatMap((s) => s.map((x) => 1000 * x));
    expect(means.own(whose('eve'))).toBeNull();
    expect(means.all(whose('eve'))?.mean).toBeCloseTo(mean(all), 9);
    expect(means.all(whose('eve'))?.spread).toBeCloseTo(sampleStandardDeviation(all), 9);
    expect(means.all({ ...whose('eve'), apparatus: 'UB' })).toBeNull();
  });
});

describe('the forecast', () => {
  /** Everyone has floor to come. */
  it('of an all-around is that of normal numbers', () => {
    const three = { ann: 13, bea: 13.1, cleo: 10, dot: 9 };
    const rows = Object.entries(three).flatMap(([who, score]) =>
      CODES.map((on) => finalRow('all-around final', who, on, on === 'FX' ? 13 : score)),
    );
    const { win, medal } = forecastOf('all-around', rows);
    const gap = 3 * (three.bea - three.ann) * 1000 + own('bea') - own('ann');
    const p = cumulativeStdNormalProbability(-gap / (within() * Math.SQRT2));
    expect(p).toBeGreaterThan(0.1);
    expect(p).toBeLessThan(0.9);
    expectDrawn(win('ann'), p);
    expectDrawn(win('bea'), 1 - p);
    expect([medal('ann'), medal('bea'), medal('cleo'), medal('dot')]).toEqual([1, 1, 1, 0]);
    expect(win('cleo')).toBe(0);
  });

  it('of a team of four up has the best three count', () => {
    // Of AAA ann's floor is to come, the others there have 13.0, 12.6 and 12.2; everybody else is done.
    const others = [13, 12.6, 12.2];
    const rows = Object.entries({ AAA: 12.5, BBB: 12.625, CCC: 10, DDD: 9 }).flatMap(
      ([noc, each]) =>
        CODES.flatMap((on, k) =>
          [0, 1, 2, 3].map((i) => {
            const isHers = noc === 'AAA' && on === 'FX' && i === 0;
            const who = isHers ? 'ann' : `${noc}${on}${i}`;
            const score = noc === 'AAA' && on === 'FX' ? (others[i - 1] ?? 14) : each;
            // What is done is in an earlier rotation than hers.
            const row = finalRow('team final', who, on, score, noc);
            return isHers ? row : row.replace(/\d$/, String(Math.min(k + 1, 3)));
          }),
        ),
    );
    const { win } = forecastOf('team', rows);
    // AAA has nine times 12.5 and 13.0 and 12.6 for certain, BBB twelve times 12.625.
    const needed = 12 * 12_625 - (9 * 12_500 + 13_000 + 12_600);
    expect(needed).toBe(13_400);
    expectDrawn(win('AAA'), 1 - cumulativeStdNormalProbability((needed - own('ann')) / within()));
  });

  it('of two vaults is that of their mean', () => {
    // Everyone has the same twice but for the last up, of whom both are to come; the order does not hang on scores.
    const rowsWith = (score: number) =>
      Object.keys(EARLIER).flatMap((who) =>
        ['VT', 'VT2'].map((on) => finalRow('apparatus final', who, on, score)),
      );
    const lastOf = ({ final }: ReturnType<typeof forecastOf>) => {
      const id = final.meet.rotations[3]?.stations[0]?.order[0];
      return final.gymnasts[final.meet.gymnasts.findIndex((g) => g.id === id)] ?? '';
    };
    const name = lastOf(forecastOf('apparatus', rowsWith(13)));
    const score = own(name) - 100;
    const told = forecastOf('apparatus', rowsWith(score / 1000));
    expect(lastOf(told)).toBe(name);
    // Both from the same mean and spread: their mean has that mean, and the spread over √2.
    const p = 1 - cumulativeStdNormalProbability((score - own(name)) / (within() / Math.SQRT2));
    expectDrawn(told.win(name), p);
  });
});
