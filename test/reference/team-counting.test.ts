/**
 * College team finals, six up and five count, four decimals: what the last up needed, whose score is
 * dropped, and what a fall would have cost, score by score. Sums by hand.
 */
import { describe, expect, it } from 'vitest';
import { type Counting, type Meet, needs, reports, standings } from '../../lib/index.js';
import { logFrom, meetFrom, show, spoken } from '../support/meet.js';
import { board, needOf } from './published.js';

/** Four judges in twentieths: 9.9625, 9.9750. What came before is carried in; the ranges are ours. */
const finalOn = (
  code: string,
  carried: Readonly<Record<string, string>>,
  up: readonly string[],
) => `
discipline: wag
scoring: ten
panel: { counting: 4, step: 0.05 }
decimals: 4
contests: [{ kind: team, up: 6, count: 5 }]
teams: [${Object.entries(carried)
  .map(([id, total]) => `{ id: ${id}, carried: ${total} }`)
  .join(', ')}]
usual: { ${code}: { low: 9.7000, likely: 9.9000, high: 10.0000, falls: 0.05 } }
gymnasts:
${up
  .flatMap((team) =>
    [1, 2, 3, 4, 5, 6].map((i) => `  - { id: ${team}${i}, team: ${team}, on: [${code}] }`),
  )
  .join('\n')}
`;

const rows = (team: string, code: string, scores: string) =>
  scores.split(' ').map((score, i) => `${team}${i + 1},${code},${score}`);

function countingFor(meet: Meet, who: string): Counting {
  const { counting } = needs(meet, who);
  if (counting === null) throw new Error('nothing is dropped');
  return counting;
}

const counted = (meet: Meet, team: string, code: string) =>
  standings(meet)
    .rows.find((r) => r.id === team)
    ?.counting?.[code]?.map((s) => `${show(meet, s.score)}${s.counts ? '' : ' dropped'}`);

// 2018 [press, unnamed]: 148.325 before beam, the rival complete on 198.0375; reports gave at least 9.975.
describe('2018 college final, beam: 9.9375, 9.2750, 9.8750, 9.9500, 9.9875, and the sixth', () => {
  const FINAL = finalOn('BB', { A: '148.3250', RIVAL: '198.0375' }, ['A']);
  const SIX = rows('A', 'BB', '9.9375 9.2750 9.8750 9.9500 9.9875 10.0000');
  const onceIn = (done: number) => meetFrom(FINAL, logFrom(...SIX.slice(0, done)));

  it('needs 9.9625 to tie, in practice 9.9750; the 9.2750 drops', () => {
    const meet = onceIn(5);
    // 148.3250 + 9.9375 + 9.8750 + 9.9500 + 9.9875 = 188.0750; 198.0375 - 188.0750 = 9.9625.
    expect(spoken(meet, needOf(meet, 'A', 'win'))).toMatchObject({
      level: '9.9625',
      ahead: '9.9626',
      onGrid: '9.9750',
    });
    expect(countingFor(meet, 'A').now).toMatchObject({
      from: 92751,
      onGrid: 92875,
      over: { gymnast: 'A2', score: 92750 },
    });
    expect(counted(onceIn(6), 'A', 'BB')).toEqual([
      ...['10.0000', '9.9875', '9.9500', '9.9375', '9.8750'],
      '9.2750 dropped',
    ]);
    expect(board(onceIn(6))).toEqual(['1 A 198.0750', '2 RIVAL 198.0375']);
  });

  it('after the fall whoever follows counts above 9.2750, and cannot be dropped', () => {
    for (const done of [2, 3, 4, 5]) {
      expect(countingFor(onceIn(done), 'A').certain?.over).toEqual({ gymnast: 'A2', score: 92750 });
    }
    // Before it only a score above the 9.9375 was certain to count.
    expect(countingFor(onceIn(1), 'A').certain?.over).toEqual({ gymnast: 'A1', score: 99375 });
    expect(countingFor(onceIn(0), 'A').certain).toBeNull();
  });

  it('a second fall would have counted: 9.4000 is above 9.2750', () => {
    expect(countingFor(onceIn(5), 'A').fall).toEqual({
      score: 94000,
      now: { costs: 5000, instead: null },
      expected: null,
    });
  });

  it('said', () => {
    const meet = onceIn(5);
    const said = reports.needs(meet, needs(meet, 'A')).flat();
    const sentences = said.map((b) => (b.kind === 'sentence' ? b.text : ''));
    expect(sentences).toContain(
      'A fall from her expected 9.9000 costs the team the whole 0.5000: 9.4000 still counts.',
    );
  });
});

// 2014: 148.625 + 49.550 and 148.550 + 49.625 are both 198.175, and the title is shared; the leader
// before the last rotation, 148.700 + 48.850, ends on 197.550. Only rotation totals are published: the
// scores they are made of, the dropped ones, and one apparatus for all are ours.
describe('2014 college final: two on 198.1750', () => {
  const FINAL = finalOn('FX', { A: '148.6250', B: '148.5500', C: '148.7000', D: '197.8000' }, [
    ...['A', 'B', 'C'],
  ]);
  const A = rows('A', 'FX', '9.9000 9.9000 9.8500 9.9250 9.9000 9.9250');
  const B = rows('B', 'FX', '9.9250 9.9250 9.8750 9.9250 9.9250 9.9250');
  const C = rows('C', 'FX', '9.7500 9.8000 9.2500 9.7500 9.8000 9.7500');

  it('the last of the second needs 9.9250 to share it, in practice 9.9375 to win; her 9.8750 is dropped', () => {
    const meet = meetFrom(FINAL, logFrom(...A, ...B.slice(0, 5), ...C));
    // 148.5500 + 4 · 9.9250 = 188.2500; 198.1750 - 188.2500 = 9.9250.
    const need = needOf(meet, 'B', 'win');
    expect(need.mark).toEqual({ id: 'A', total: 1981750 });
    expect(spoken(meet, need)).toMatchObject({
      level: '9.9250',
      ahead: '9.9251',
      onGrid: '9.9375',
      tieGoesTo: 'shared',
    });
    expect(countingFor(meet, 'B')).toMatchObject({
      now: { from: 98751, over: { gymnast: 'B3', score: 98750 } },
      // 9.9000 counts, 9.4000 does not.
      fall: { score: 94000, now: { costs: 250, instead: { gymnast: 'B3', score: 98750 } } },
    });
  });

  it('shared, and the leader before the last rotation fourth', () => {
    const meet = meetFrom(FINAL, logFrom(...A, ...B, ...C));
    expect(board(meet)).toEqual(['1= A 198.1750', '1= B 198.1750', '3 D 197.8000', '4 C 197.5500']);
    expect(counted(meet, 'B', 'FX')?.at(-1)).toBe('9.8750 dropped');
  });

  it('before the last rotation: what the second needs over six routines of which five count', () => {
    const meet = meetFrom(FINAL, logFrom(...A));
    const { remainingTotal, split } = needOf(meet, 'B', 'beat:A');
    // 198.1750 - 148.5500 = 49.6250, and one unit: 9.9375 each is 49.6875, 9.9250 each is the tie.
    expect(remainingTotal).toBe(496251);
    expect(split?.scores.map((s) => s.score)).toEqual(Array(6).fill(99375));
  });
});

// 2024 [press, unnamed]: 9.95 (9.3875) 9.9625 9.95 9.95 9.95 = 49.7625; 148.4625 + 49.7625 = 198.2250.
describe('2024 college final: 9.9500 (9.3875) 9.9625 9.9500 9.9500 9.9500', () => {
  const FINAL = finalOn('BB', { A: '148.4625' }, ['A']);
  const SIX = rows('A', 'BB', '9.9500 9.3875 9.9625 9.9500 9.9500 9.9500');
  const onceIn = (done: number) => meetFrom(FINAL, logFrom(...SIX.slice(0, done)));

  it('49.7625 counts, and the 9.3875 is dropped', () => {
    expect(counted(onceIn(6), 'A', 'BB')).toEqual([
      ...['9.9625', '9.9500', '9.9500', '9.9500', '9.9500'],
      '9.3875 dropped',
    ]);
    expect(board(onceIn(6))).toEqual(['1 A 198.2250']);
  });

  it('the last needs 9.9500 for 198.2250; up to 9.3875 nothing changes, and a fall counts by a hair', () => {
    const meet = onceIn(5);
    expect(spoken(meet, needOf(meet, 'A', 'total:198.2250')).ahead).toBe('9.9500');
    const { now, fall } = countingFor(meet, 'A');
    expect(now).toMatchObject({ from: 93876, onGrid: 94000, over: { gymnast: 'A2' } });
    // 9.9000 less a fall is 9.4000, still above 9.3875.
    expect(fall?.now).toEqual({ costs: 5000, instead: null });
  });

  it('before it is over the 9.3875 counts as long as only five are in', () => {
    expect(counted(onceIn(5), 'A', 'BB')?.at(-1)).toBe('9.3875');
    // 148.4625 + 49.2000
    expect(board(onceIn(5))).toEqual(['1 A 197.6625']);
  });
});
