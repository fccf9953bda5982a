/** Claims about a meet, and about two equals. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stressed, stressPairs } from '../../lib/claim/stresses.js';
import { meetOfTwo } from '../../lib/claim/two-equals.js';
import { openMeet } from '../../lib/files/index.js';
import { chances, claim, claimOfTwo, standings } from '../../lib/index.js';
import { EXAMPLES } from '../support/cli.js';
import { meetFrom } from '../support/meet.js';

const YAML = `
discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX }]
medals: 2
gymnasts:
  - { id: ann, ranges: { FX: { low: 13.000, likely: 13.600, high: 14.000, falls: 0.1 } } }
  - { id: bea, ranges: { FX: { low: 12.800, likely: 13.400, high: 13.900, falls: 0.2 } } }
  - { id: cleo, ranges: { FX: { low: 12.500, likely: 13.300, high: 13.800, falls: 0.1 } } }
  - { id: dora, ranges: { FX: { low: 11.600, likely: 12.000, high: 12.400, falls: 0.1 } } }
`;

describe('a claim about a meet', () => {
  const meet = meetFrom(YAML);
  const field = chances(meet);

  it('has the chance that `chances` gives, to the last digit', () => {
    for (const { id, win, medal, places } of field.contenders) {
      expect(claim(meet, id).chance).toBe(win);
      expect(claim(meet, id, { to: 'medal' }).chance).toBe(medal);
      expect(claim(meet, id, { to: 'place:1' }).chance).toBe(win);
      expect(claim(meet, id, { to: 'place:3' }).chance).toBeCloseTo(
        (places[0] ?? 0) + (places[1] ?? 0) + (places[2] ?? 0),
        14,
      );
    }
  });

  // Once 4.5e-14, said as "less than a tenth of a per cent": what rounding leaves of a sum.
  it('has none at all under a stress where it is certain that there is none', () => {
    const demo = openMeet(join(EXAMPLES, 'harbour.yaml'));
    const { stresses, verdict } = claim(demo, 'weissgart', { phrase: 'out of reach' });
    expect(stresses.length).toBeGreaterThan(8);
    expect(stresses.map((s) => s.chance)).toEqual(stresses.map(() => 0));
    expect(verdict).toBe('holds');
  });

  it('to beat one rival: either is ahead, or they are level', () => {
    const [ann, bea] = [
      claim(meet, 'ann', { to: 'beat:bea' }).chance,
      claim(meet, 'bea', { to: 'beat:ann' }).chance,
    ];
    expect(ann).toBeGreaterThan(bea);
    expect(ann + bea).toBeLessThanOrEqual(1 + 1e-12);
    expect(ann + bea).toBeGreaterThan(0.9);
  });

  it('moves under stress: each is the chance in a meet with those ranges', () => {
    const { stresses, chance, chanceLow, chanceHigh } = claim(meet, 'ann');
    const by = new Map(stresses.map((s) => [s.what, s.chance]));
    const all = [chance, ...by.values()];
    expect([chanceLow, chanceHigh]).toEqual([Math.min(...all), Math.max(...all)]);
    expect(by.get('she scores a tenth higher')).toBeGreaterThan(chance);
    expect(by.get('she scores a tenth lower')).toBeLessThan(chance);
    const half = YAML.replaceAll(/falls: (0\.\d)/g, (_, f) => `falls: ${Number(f) / 2}`);
    const halved = chances(meetFrom(half)).contenders.find((c) => c.id === 'ann')?.win;
    expect(by.get('there are half as many falls')).toBeCloseTo(halved ?? -1, 12);
    const up = YAML.replace(
      'low: 13.000, likely: 13.600, high: 14.000',
      'low: 13.100, likely: 13.700, high: 14.100',
    );
    const raised = chances(meetFrom(up)).contenders.find((c) => c.id === 'ann')?.win;
    expect(by.get('she scores a tenth higher')).toBeCloseTo(raised ?? -1, 12);
    expect(by.get('all that helps comes together')).toBeGreaterThan(chance);
    expect(by.get('all that hurts comes together')).toBeLessThan(chance);
  });

  it('moves a range by how far off it says it may be', () => {
    const within = (by: string) => YAML.replace('likely: 13.600', `likely: 13.600, within: ${by}`);
    const shifted = YAML.replace(
      'low: 13.000, likely: 13.600, high: 14.000',
      'low: 12.750, likely: 13.350, high: 13.750',
    );
    const lowered = chances(meetFrom(shifted)).contenders.find((c) => c.id === 'ann')?.win;
    const of = (by: string) =>
      claim(meetFrom(within(by)), 'ann').stresses.find((s) => s.what.endsWith(`${by} lower`));
    expect(of('0.250')).toMatchObject({ what: 'she scores 0.250 lower' });
    expect(of('0.250')?.chance).toBeCloseTo(lowered ?? -1, 12);
    // Nobody else's ranges count.
    expect(claim(meetFrom(within('0.250')), 'bea').stresses.map((s) => s.what)).toContain(
      'she scores a tenth lower',
    );
    const two = meetFrom(
      `discipline: wag\nscoring: open\ngymnasts: [{ id: ann, on: [BB, FX], carried: 27, ranges: { BB: { low: 12, likely: 13, high: 14, falls: 0, within: 0.3 }, FX: { low: 12, likely: 13, high: 14, falls: 0 } } }]\n`,
    );
    expect(stressPairs(two, 'she', () => true)[2]?.[0].what).toBe(
      'she scores 0.100 to 0.300 a routine lower',
    );
  });

  it('stresses leave what has been scored, and every range in order and within the limit', () => {
    const ten = meetFrom(
      'discipline: wag\nscoring: ten\ngymnasts: [{ id: ann, ranges: { VT: { low: 9.8, likely: 9.95, high: 10, falls: 0.6, } } }]\n',
      'gymnast,apparatus,score\nann,UB,9.900\n',
    );
    for (const pair of stressPairs(ten, 'she', () => true)) {
      for (const one of pair) {
        const changed = stressed(ten, [one]);
        expect(standings(changed)).toMatchObject({ rows: [{ total: 9900 }] });
        for (const { low, likely, high, falls } of changed.ranges) {
          expect(low!).toBeLessThanOrEqual(likely!);
          expect(likely!).toBeLessThanOrEqual(high!);
          expect(high!).toBeLessThanOrEqual(10_000);
          expect(falls!).toBeLessThanOrEqual(1);
        }
      }
    }
  });

  it('is judged by the words, the whole way', () => {
    const easy = claim(meet, 'dora', { phrase: 'likely' });
    expect(easy).toMatchObject({ scale: 'efsa', phrase: 'likely', verdict: 'overstated' });
    expect(claim(meet, 'dora', { phrase: 'almost impossible' }).verdict).toBe('holds');
    expect(claim(meet, 'ann').verdict).toBeNull();
    expect(claim(meet, 'ann', { scale: 'ipcc' }).scale).toBe('ipcc');
  });

  it('what was drawn counts as its interval: never in a sample is not impossible', () => {
    const far = meetFrom(
      `discipline: wag
scoring: open
ties: []
gymnasts:
  - { id: ann, on: [BB, FX], carried: 28.000, ranges: { BB: { low: 12.9, likely: 13, high: 13.1, falls: 0 }, FX: { low: 12.9, likely: 13, high: 13.1, falls: 0 } } }
  - { id: bea, on: [BB, FX], carried: 27.620, ranges: { BB: { low: 12.9, likely: 13, high: 13.1, falls: 0 }, FX: { low: 12.9, likely: 13, high: 13.1, falls: 0 } } }
`,
    );
    const { stresses, chance, chanceHigh } = claim(far, 'bea', { phrase: 'impossible' });
    const drawn = stresses.find((s) => s.what === 'good and bad days count');
    // It can be, and never was in 100,000 meets. Wilson, none of n: z² / (n + z²).
    expect(chance).toBeGreaterThan(0);
    expect(drawn).toMatchObject({ chance: 0, low: 0 });
    const z2 = 1.959963984540054 ** 2;
    expect(drawn?.high).toBeCloseTo(z2 / (100_000 + z2), 12);
    expect(chanceHigh).toBeGreaterThanOrEqual(drawn?.high ?? 1);
  });

  it('what cannot be stays impossible on good and bad days', () => {
    const settled = meetFrom(
      `discipline: wag
scoring: open
ties: []
gymnasts:
  - { id: ann, on: [BB, FX], carried: 28.000, ranges: { BB: { low: 12, likely: 13, high: 14, falls: 0 }, FX: { low: 12, likely: 13, high: 14, falls: 0 } } }
  - { id: bea, on: [BB, FX], carried: 20.000, ranges: { BB: { low: 12, likely: 13, high: 14, falls: 0 }, FX: { low: 12, likely: 13, high: 14, falls: 0 } } }
`,
    );
    expect(claim(settled, 'bea', { phrase: 'impossible' })).toMatchObject({ verdict: 'holds' });
    expect(claim(settled, 'ann', { phrase: 'certain' })).toMatchObject({ verdict: 'holds' });
  });

  it('says where good and bad days change nothing', () => {
    const single = claim(meet, 'ann');
    expect(single.stresses.map((s) => s.what)).not.toContain('good and bad days count');
    expect(single.notTried).toEqual([
      { what: 'good and bad days count', why: 'nobody has more than one routine to come' },
    ]);
    expect(claim(meet, 'ann', { to: 'beat:bea' }).notTried).toMatchObject([
      { why: expect.stringContaining('one rival') },
    ]);
    expect(claimOfTwo({ behind: '0.8', remaining: 2 }).notTried).toEqual([]);
    expect(claimOfTwo({ behind: '0.8', remaining: 1 }).notTried.length).toBe(1);
  });

  it.each<[options: object, message: RegExp]>([
    [{ scale: 'mine' }, /there is no scale "mine"/],
    [{ phrase: 'gutsy' }, /cannot be matched/],
    [{ to: 'total:13.000' }, /a claim is about places and rivals/],
    [{ to: 'glory' }, /is not a target/],
    [{ to: 'hold' }, /no place to hold/],
  ])('%j is refused', (options, message) => {
    expect(() => claim(meet, 'ann', options)).toThrow(message);
  });

  it('when all is over is certain', () => {
    const over = meetFrom(
      YAML,
      'gymnast,apparatus,score\nann,FX,13.5\nbea,FX,13.0\ncleo,FX,12\ndora,FX,11\n',
    );
    expect(claim(over, 'ann', { phrase: 'certain' })).toMatchObject({
      chance: 1,
      stresses: [],
      verdict: 'holds',
    });
    expect(claim(over, 'bea').chance).toBe(0);
  });
});

describe('two equals', () => {
  it('level with one routine each, the one behind draws level or passes every second time', () => {
    const { chance, bound } = claimOfTwo({ behind: '0', remaining: 1 });
    expect(bound).toBe('upper');
    // Both pass, or they tie: 1/2 and half of the ties.
    const { contenders } = chances(meetOfTwo({ behind: '0', remaining: 1 }));
    const tie = contenders[0]!.win + contenders[1]!.win - 1;
    expect(chance).toBeCloseTo(0.5 + tie / 2, 12);
  });

  it('the further behind and the fewer to come, the less likely', () => {
    const at = (behind: string, remaining: number) => claimOfTwo({ behind, remaining }).chance;
    expect(at('0.3', 2)).toBeGreaterThan(at('0.6', 2));
    expect(at('0.6', 2)).toBeGreaterThan(at('0.6', 1));
    expect(at('0.6', 3)).toBeGreaterThan(at('0.6', 2));
  });

  it('a gap of under a tenth is a race; 0.8 in the ten system with two to come is nearly none', () => {
    // Rules of thumb, common practice without a published source.
    const asked = { discipline: 'wag', scoring: 'ten' };
    expect(claimOfTwo({ ...asked, behind: '0.1', remaining: 2 }).term).toBe(
      'about as likely as not',
    );
    const far = claimOfTwo(
      { ...asked, behind: '0.8', remaining: 2 },
      { phrase: 'all but out of reach' },
    );
    expect(far.term).toBe('almost impossible');
    // The verdict leans on how often both fall: docs/claims.md.
    expect(far.verdict).toBe('borderline');
    expect(far.dependsOn).toContain('there are twice as many falls');
  });

  it.each([
    [{ behind: 'much', remaining: 2 }, /is not a score/],
    // Once an error inside: with the points both start with it was too large.
    [{ behind: '990', remaining: 2 }, /^--behind: "1000.000" is too large for a score/],
    [{ behind: '0.8', remaining: 0 }, /nobody has/],
    [{ behind: '0.8', remaining: 5 }, /nobody has/],
    [{ behind: '0.8', remaining: Number.NaN }, /nobody has/],
    [{ behind: '0.8', remaining: 2, discipline: 'acro' }, /no discipline/],
    [{ behind: '0.8', remaining: 2, scoring: 'old' }, /no scoring/],
  ])('%j is refused', (of, message) => {
    expect(() => claimOfTwo(of)).toThrow(message);
  });
});

describe('all that hurts at once', () => {
  // Nine routines to come: everything against them at once brings them below 1%, nothing by itself does.
  const dual = openMeet(join(EXAMPLES, 'dual.yaml'));

  it('makes no phrase right that is wrong whatever is tried by itself', () => {
    const { verdict, chance, stresses, dependsOn } = claim(dual, 'MRF', {
      phrase: 'almost impossible',
    });
    const together = stresses.find((s) => s.what === 'all that hurts comes together');
    expect(chance).toBeGreaterThan(0.3);
    expect(together?.chance).toBeLessThan(0.01);
    expect([verdict, dependsOn]).toEqual(['overstated', []]);
  });
});
