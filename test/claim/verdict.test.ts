/** Verdicts on phrases: by what the words mean, and by a second judge. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { understand } from '../../lib/claim/phrases.js';
import { isIn, SCALES, type Scale, wordFor } from '../../lib/claim/scales.js';
import { turning, verdictOn } from '../../lib/claim/verdict.js';
import { times } from '../support/times.js';

const { efsa } = SCALES;
const band = (phrase: string, scale: Scale = efsa) => understand(phrase, scale);
const verdict = (phrase: string, ...chances: number[]) => verdictOn(efsa, band(phrase), chances);

describe('a verdict', () => {
  it.each([
    ['almost impossible', [0.004, 0.001, 0.009], 'holds'],
    ['almost impossible', [0.05, 0.02, 0.08], 'overstated'],
    ['almost impossible', [0.9], 'overstated'],
    ['almost impossible', [0.005, 0.02], 'borderline'],
    ['almost certain', [0.8, 0.9], 'overstated'],
    ['almost certain', [0.995, 0.999], 'holds'],
    ['unlikely', [0.02, 0.05], 'understated'],
    ['unlikely', [0.4, 0.5], 'overstated'],
    ['likely', [0.95, 0.97], 'understated'],
    ['likely', [0.5, 0.1], 'overstated'],
    ['about as likely as not', [0.7, 0.9], 'understated'],
    ['about as likely as not', [0.1, 0.3], 'overstated'],
    ['about as likely as not', [0.4, 0.6], 'holds'],
    ['unlikely', [0.05, 0.5], 'borderline'],
    ['impossible', [0.001], 'overstated'],
    ['impossible', [0, 0], 'holds'],
    ['certain', [0.999], 'overstated'],
  ] as const)('%s, with %j, is %s', (phrase, chances, expected) => {
    expect(verdict(phrase, ...chances)).toBe(expected);
  });

  it('depends on the stresses that lie elsewhere than the chance', () => {
    const claimed = band('almost impossible');
    expect(turning(efsa, claimed, 0.005, [0.02, 0.001, 0.5])).toEqual([true, false, true]);
    expect(turning(efsa, claimed, 0.02, [0.03, 0.001])).toEqual([false, true]);
  });

  it('is what its definition says, for every scale, word and set of chances', () => {
    const chance = fc.oneof(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.constantFrom(0, 0.01, 0.05, 0.1, 0.33, 0.45, 0.5, 0.55, 0.66, 0.9, 0.95, 0.99, 1),
    );
    fc.assert(
      fc.property(
        fc.constantFrom<Scale>(...Object.values(SCALES)),
        fc.nat(8),
        fc.array(chance, { minLength: 1, maxLength: 5 }),
        (scale, which, chances) => {
          const term = scale.terms[which % scale.terms.length]!;
          const inside = chances.map((c) => wordFor(scale, c).term === term);
          const above = chances.every((c, i) => !inside[i] && c >= term.to);
          const below = chances.every((c, i) => !inside[i] && c <= term.from);
          const even = wordFor(scale, 0.5).term === term;
          const towardsEven = term.from < 0.5 ? above : below;
          const expected = inside.every((i) => i)
            ? 'holds'
            : above || below
              ? (even ? below : towardsEven)
                ? 'overstated'
                : 'understated'
              : 'borderline';
          expect(verdictOn(scale, term, chances)).toBe(expected);
        },
      ),
      { numRuns: times(1000), seed: 20261125 },
    );
  });

  it('every chance has one word at most, and words follow each other', () => {
    fc.assert(
      fc.property(
        fc.constantFrom<Scale>(...Object.values(SCALES)),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (scale, chance) => {
          const found = scale.terms.filter((t) => isIn(scale, t, chance));
          const { term, between } = wordFor(scale, chance);
          expect(found.length).toBe(term === null ? 0 : 1);
          if (between === null) return;
          const [low, high] = between.map((t) => scale.terms.indexOf(t!));
          // The words beside a gap are neighbours.
          expect((high === -1 ? scale.terms.length : high!) - low!).toBe(1);
        },
      ),
      { numRuns: times(800), seed: 20261125 },
    );
  });
});

describe('a phrase', () => {
  it.each([
    ['almost impossible', 'almost impossible', null],
    ['Almost-Impossible to make up!', 'almost impossible', null],
    ['that is very unlikely now', 'very unlikely', null],
    ['extremely unlikely', 'extremely unlikely', null],
    ['unlikely', 'unlikely', null],
    ['all but impossible', 'almost impossible', 'all but impossible'],
    ['as good as won', 'almost certain', 'as good as won'],
    ['a toss-up', 'about as likely as not', 'toss up'],
    ['virtually certain', 'almost certain', 'virtually certain'],
    ['impossible', 'impossible', null],
    ['out of reach', 'impossible', 'out of reach'],
    ['all but out of reach', 'almost impossible', 'all but out of reach'],
  ])('“%s” is read as “%s”', (phrase, term, readAs) => {
    expect(band(phrase)).toMatchObject({ term, readAs });
  });

  it.each([
    // The chance at odds 1.5 times as long and as short: p/(1-p) · 2/3 and · 3/2, worked out by hand.
    ['5%', '5%', 2 / 59, 3 / 41],
    ['a 5% chance', '5%', 2 / 59, 3 / 41],
    ['only a five per cent chance of it', '5%', 2 / 59, 3 / 41],
    ['1 in 100', '1%', 2 / 299, 3 / 201],
    ['a one-in-a-hundred shot', '1%', 2 / 299, 3 / 201],
    ['one in ten', '10%', 2 / 29, 3 / 21],
    ['nine out of ten', '90%', 18 / 21, 27 / 29],
    ['1 chance in 20', '5%', 2 / 59, 3 / 41],
    ['1 in 1,000', '0.1%', 2 / 2999, 3 / 2001],
    ['99% certain', '99%', 198 / 201, 297 / 299],
    ['99,5 % sure', '99.5%', 398 / 401, 597 / 599],
    ['100% certain', '100%', 1, 1],
    ['odds of 3 to 1', '25%', 2 / 11, 3 / 9],
    ['the odds are 3-1 against', '25%', 2 / 11, 3 / 9],
    ['a 3 to 1 shot', '25%', 2 / 11, 3 / 9],
    ['3 to 1 on', '75%', 6 / 9, 9 / 11],
    ['3 to 1 in her favour', '75%', 6 / 9, 9 / 11],
    ['fifty-fifty', '50%', 0.4, 0.6],
    ['it is 50-50', '50%', 0.4, 0.6],
    ['50/50', '50%', 0.4, 0.6],
    ['over 90%', 'over 90%', 0.9, 1],
    ['less than 1%', 'under 1%', 0, 0.01],
    ['no more than one in twenty', 'under 5%', 0, 0.05],
    ['5 to 10%', '5% to 10%', 0.05, 0.1],
    ['5%-10%', '5% to 10%', 0.05, 0.1],
  ])('“%s” states a chance: %s', (phrase, term, from, to) => {
    const claimed = band(phrase);
    expect(claimed).toMatchObject({ term, isNumber: true });
    expect(claimed.from).toBeCloseTo(from, 12);
    expect(claimed.to).toBeCloseTo(to, 12);
  });

  it.each([
    ['1 in 100', [0.01, 0.012], 'holds'],
    ['1 in 100', [0.05, 0.06], 'overstated'],
    ['99% certain', [0.99], 'holds'],
    ['99% certain', [0.9], 'overstated'],
    ['5%', [0.01], 'understated'],
    ['fifty-fifty', [0.62, 0.7], 'understated'],
  ] as const)('“%s”, with %j, is %s', (phrase, chances, expected) => {
    expect(verdict(phrase, ...chances)).toBe(expected);
  });

  it('is read on the scale that is asked for', () => {
    expect(band('almost impossible', SCALES.ipcc)).toMatchObject({
      term: 'exceptionally unlikely',
      readAs: 'almost impossible',
    });
    // The scale has no word for less than 1%: the nearest.
    expect(band('almost impossible', SCALES.icd203)).toMatchObject({ term: 'almost no chance' });
    expect(band('highly likely', SCALES.efsa)).toMatchObject({ term: 'likely' });
  });

  it.each([
    ...['she has a bad back', 'not impossible', 'not unlikely', 'far from certain', ''],
    ...['by no means likely', 'less likely than not', 'anything but certain', 'un-likely'],
    ...['nothing is impossible', 'certain to lose', 'likely to fail', 'unlikely to be impossible'],
    ...['5% unlikely', '5% or 10%', '120%', 'not 5%', '99% certain to lose', 'three in two'],
    ...['leads 3 to 1', '99% certain or likely', '1 in 0', 'up by 0.5'],
    ...['scarcely likely', 'can’t be certain', 'neither likely nor unlikely'],
  ])('“%s” is answered with the words of the scale', (phrase) => {
    expect(() => band(phrase)).toThrow(/cannot be matched to a word of the EFSA scale/);
    try {
      band(phrase);
    } catch (error) {
      expect((error as { mend: string }).mend).toContain('extremely unlikely (1 to 5%)');
    }
  });
});
