/** The score for a chance, where a tie that is told apart in another way gives another score. */
import { expect, it } from 'vitest';
import { findContest } from '../../lib/contest/contest.js';
import { type CurveQuestion, scoreForChance, targetByScore } from '../../lib/needs/target-curve.js';
import { meetFrom } from '../support/meet.js';

/** So many of about one level, with ranges so wide: ties on total are as likely as that is narrow. */
function field(size: number, width: number) {
  const from = 13_500 - width / 2;
  const score = (units: number) => (units / 1000).toFixed(3);
  const rangeOf = (shift: number) =>
    `{ low: ${score(from + 33 * (shift % 3))}, likely: ${score(from + width / 2)}, high: ${score(from + width - 33 * (shift % 2))}, falls: 0 }`;
  const rows = Array.from({ length: size }, (_, g) => {
    const ranges = ['VT', 'UB', 'BB', 'FX'].map((on, a) => `${on}: ${rangeOf(g + a)}`);
    return `  - { id: g${g}, ranges: { ${ranges.join(', ')} } }`;
  });
  return meetFrom(
    ['discipline: wag', 'scoring: open', 'ties: [best-scores]', 'gymnasts:', ...rows].join('\n'),
  );
}

// Among few all is gone through; among more, chances have an error of their own.
it.each([
  [5, 230, 1],
  [5, 230, 2],
  [5, 230, 3],
  [16, 800, 3],
])('is the lowest that has it: %i gymnasts, ranges of %i units, place %i', (size, width, place) => {
  const meet = field(size, width);
  const contest = findContest(meet, null);
  const routine = meet.routines.findIndex((r) => r.gymnast === 'g1');
  const question: CurveQuestion = {
    ...{ contender: 'g1', routine, target: { place }, when: 'end', margin: 0 },
  };
  const { points, error } = targetByScore(meet, contest, question);
  expect(error).toBeLessThan(5e-4);
  const steep = points.filter(
    ({ met }, k) => met > 0.02 && met - (points[k - 1]?.met ?? 0) > 0.003,
  );
  expect(steep.length).toBeGreaterThan(3);
  // Once every score has been told, and where none has.
  for (const one of [meet, field(size, width)]) {
    for (const { score, met } of steep.slice(-6)) {
      const found = scoreForChance(one, findContest(one, null), question, {
        chance: met - 2 * error - 1e-9,
        limit: 17_000,
      });
      expect(found).toBe(score);
    }
  }
});
