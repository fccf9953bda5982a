/** Ranges as they may turn out, for tests that go through every way. */
import fc from 'fast-check';
import type { Distribution } from '../../lib/range/distribution.js';

/** One to four scores of those that are drawn, each as likely as a weight says. */
export function distributionsOf(score: fc.Arbitrary<number>): fc.Arbitrary<Distribution> {
  const weighted = fc.tuple(score, fc.integer({ min: 1, max: 9 }));
  return fc
    .uniqueArray(weighted, { selector: ([s]) => s, minLength: 1, maxLength: 4 })
    .map((pairs): Distribution => {
      const rising = [...pairs].sort(([a], [b]) => a - b);
      const all = rising.reduce((sum, [, weight]) => sum + weight, 0);
      return { scores: rising.map(([s]) => s), chances: rising.map(([, weight]) => weight / all) };
    });
}
