/** The split of what she needs over all her routines to come. */
import fc from 'fast-check';
import { needs } from '../../../lib/index.js';
import { type Case, caseArb, must, putQuestion, readCase, toComeOf, wantedBy } from '../asking.js';
import { cleanChances } from '../chance.js';
import { cleanScores, recordedWorld, standOf, supposed } from '../naive.js';

/**
 * At its quantile the scores of the split bring the total that is asked for; just below they do
 * not; each is the lowest score of her range with at least that cumulative chance; and there is no
 * split only where not even her highest scores are enough.
 */
export const splitsAddUp = fc.property(
  caseArb(2, { kinds: ['all-around', 'two-vaults', 'team'], done: [0, 40, 75] }),
  ({ sketch, asks }: Case) => {
    const read = readCase(sketch);
    for (const ask of asks) {
      const put = putQuestion(read, { ...ask, when: 'end', rest: 'likely' });
      if (put === null || put.rivals === 'limit') continue;
      const { text } = wantedBy(put, ask);
      const { court, her } = put;
      const world = recordedWorld(court.facts);
      const toCome = toComeOf(court, her, world);
      let need: ReturnType<typeof needs>['needs'][number] | undefined;
      try {
        [need] = needs(read.meet, put.named, { ...put.options, for: text }).needs;
      } catch {
        continue;
      }
      if (need?.remainingTotal == null) continue;
      const { remainingTotal, split } = need;
      const check = (holds: boolean, what: string) =>
        must(
          holds,
          sketch,
          () => `${what}\n${JSON.stringify({ who: put.named, text, ...put.options, need })}`,
        );

      const total = standOf(her, world).total + remainingTotal;
      const clean = toCome.map((key) => {
        const { low, likely, high } = court.facts.ranges.get(key) ?? {};
        if (low === undefined || likely === undefined || high === undefined) return null;
        const scores = cleanScores(court.facts, sketch.decimals, { low, likely, high });
        let sum = 0;
        const upTo = cleanChances({ low, likely, high }, scores).map((p) => {
          sum += p;
          return sum;
        });
        return { key, scores, upTo };
      });
      if (clean.some((c) => c === null)) {
        check(split === null, 'a range is missing');
        continue;
      }
      const ranges = clean.filter((c) => c !== null);
      const reaches = (scoreOf: (range: (typeof ranges)[number]) => number) => {
        const done = new Map(world);
        for (const range of ranges) done.set(range.key, supposed(scoreOf(range), null));
        return standOf(her, done).total >= total;
      };
      // The lowest score whose cumulative chance is at least q.
      const at = (q: number) => (range: (typeof ranges)[number]) => {
        const i = range.upTo.findIndex((p) => p >= q);
        return range.scores[i < 0 ? range.scores.length - 1 : i] ?? 0;
      };
      if (split === null) {
        check(!reaches((r) => r.scores.at(-1) ?? 0), 'her highest scores are enough');
        continue;
      }
      const { quantile, scores } = split;
      check(quantile >= 0 && quantile <= 1, 'the quantile is a chance');
      check(
        scores.map((s) => `${s.gymnast}/${s.apparatus}`).join() === toCome.join(),
        'the split is over all that is to come',
      );
      check(
        reaches((r) => scores[toCome.indexOf(r.key)]?.score ?? 0),
        'the scores of the split are enough',
      );
      // Two libraries agree on a cumulative chance to some 1e-15 only.
      const near = 1e-9;
      if (quantile > near) check(!reaches(at(quantile - near)), 'a lower quantile is not enough');
      for (const [i, range] of ranges.entries()) {
        const score = scores[i]?.score ?? -1;
        check(
          score >= at(quantile - near)(range) && score <= at(quantile + near)(range),
          `${range.key} is at the quantile`,
        );
      }
    }
  },
);
