/** Whose range is whose: a gymnast's own, the ranges file's, or the usual one, part by part. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Meet, Range } from '../../lib/index.js';
import { meetFrom, readAll } from '../support/meet.js';
import { times } from '../support/times.js';

function rangeOf(meet: Meet, gymnast: string, apparatus: string): Range | undefined {
  const routine = meet.routines.find((r) => r.gymnast === gymnast && r.apparatus === apparatus);
  return routine === undefined ? undefined : meet.ranges[routine.index];
}

/** Of apparatus of a meet's own nothing is known to be usual, so that what is not given is missing. */
const OWN = 'discipline: [{ code: VT }, { code: UB }, { code: BB }, { code: FX }]';

/** What nobody has given. */
const none = {
  ...{ low: null, likely: null, high: null },
  ...{ falls: null, d: null, within: null, from: null },
};

describe('a range', () => {
  const yaml = `${OWN}
scoring: open
ranges: season.yaml
usual:
  VT: { low: 12.000, likely: 12.500, high: 13.000, falls: 0.05, d: 4.0 }
  ub: { low: 11.000, falls: 0.10 }
gymnasts:
  - id: ann
    ranges:
      VT: { likely: 12.600, falls: 0 }
      bb: { high: 14.000 }
  - id: bea
`;
  const season = `ann:
  VT: { low: 12.100, likely: 12.700 }
  FX: { low: 10, likely: 11, high: '12,1', falls: '0,5' }
bea:
  vt: { high: 13.200 }
stranger:
  VT: { low: 1.000 }
`;
  const meet = meetFrom(yaml, '', season);

  it('is merged part by part: own, then the file, then usual', () => {
    expect(rangeOf(meet, 'ann', 'VT')).toEqual({
      low: 12100,
      likely: 12600,
      high: 13000,
      falls: 0,
      d: 4000,
      within: null,
      from: 'own',
    });
    expect(rangeOf(meet, 'bea', 'VT')).toEqual({
      low: 12000,
      likely: 12500,
      high: 13200,
      falls: 0.05,
      d: 4000,
      within: null,
      from: 'file',
    });
    expect(rangeOf(meet, 'bea', 'UB')).toEqual({
      low: 11000,
      likely: null,
      high: null,
      falls: 0.1,
      d: null,
      within: null,
      from: 'usual',
    });
    expect(rangeOf(meet, 'ann', 'BB')).toMatchObject({ high: 14000, low: null, from: 'own' });
    expect(rangeOf(meet, 'bea', 'BB')).toEqual(none);
  });

  it('takes decimal commas and fewer decimals', () => {
    expect(rangeOf(meet, 'ann', 'FX')).toEqual({
      low: 10000,
      likely: 11000,
      high: 12100,
      falls: 0.5,
      d: null,
      within: null,
      from: 'file',
    });
  });

  it('moves with the D that is expected, as far as the limit; what is written beside that D stands', () => {
    const file =
      'ann: { VT: { low: 12.100, likely: 12.700, high: 13.200, falls: 0.1, d: 4.4, within: 0.2 } }\n';
    const of = (own: string) => {
      const list = `gymnasts: [{ id: ann, ranges: { VT: ${own} } }]`;
      const one = meetFrom(
        `${OWN}\nscoring: open\nceiling: 14\nranges: r.yaml\n${list}\n`,
        '',
        file,
      );
      return rangeOf(one, 'ann', 'VT');
    };
    const moved = { low: 12700, likely: 13300, high: 13800, d: 5000, within: 200, from: 'own' };
    expect(of('{ d: 5.0 }')).toMatchObject(moved);
    expect(of('{ d: 4.4 }')).toMatchObject({ low: 12100, likely: 12700, high: 13200 });
    expect(of('{ d: 5.4 }')).toMatchObject({ low: 13100, likely: 13700, high: 14000 });
    expect(of('{ d: 5.0, high: 13.5 }')).toMatchObject({ ...moved, high: 13500 });
    expect(of('{ d: 5.0, likely: 13 }')).toMatchObject({ likely: 13000, low: 12700, within: null });
  });

  it('what is missing of it is said, gymnast by gymnast', () => {
    const said = readAll(yaml, '', season).problems.filter((p) => p.code === 'missing-range');
    expect(said.map((p) => [p.line, p.message])).toEqual([
      [8, 'ann has no range on UB (likely, high), BB (low, likely, falls)'],
      [12, 'bea has no range on UB (likely, high), BB, FX'],
    ]);
  });

  it('where nobody has any, that is one note', () => {
    const said = readAll(`${OWN}\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n`);
    expect(said.problems.map((p) => [p.severity, p.code])).toEqual([['note', 'missing-range']]);
  });

  it('near misses in a ranges file are said; strangers from the rest of the season are not', () => {
    const { problems } = readAll(
      yaml,
      '',
      'anna:\n  VT: { low: 1.000 }\nzora:\n  VT: { low: 2 }\n',
    );
    expect(problems.filter((p) => p.code === 'unknown-gymnast')).toMatchObject([
      { severity: 'warning', file: 'season.yaml', line: 1, mend: 'did you mean `ann`?' },
    ]);
  });

  it('of the second vault never comes from the first', () => {
    const vaults = (ranges: string, usual: string) =>
      meetFrom(
        `${OWN}\nscoring: open\nranges: r.yaml\ncontests: [{ kind: apparatus, on: VT, vaults: 2 }]\nusual: ${usual}\ngymnasts: [{ id: ann, ranges: ${ranges} }]\n`,
        '',
        'ann: { VT: { low: 12.000 } }\n',
      );
    const first = '{ VT: { low: 12.000, likely: 13.000, high: 14.000, falls: 0.1, d: 5.0 } }';
    expect(rangeOf(vaults(first, first), 'ann', 'VT2')).toEqual(none);
    expect(rangeOf(vaults(first, first), 'ann', 'VT')?.likely).toBe(13000);
    expect(rangeOf(vaults(first, '{ VT2: { likely: 11.000 } }'), 'ann', 'VT2')).toEqual({
      ...none,
      likely: 11000,
      from: 'usual',
    });
    // Nor the first from the second.
    expect(
      rangeOf(vaults('{ VT2: { high: 11.000 } }', '{ VT2: { d: 5.0 } }'), 'ann', 'VT'),
    ).toEqual({
      ...none,
      low: 12000,
      from: 'file',
    });
  });

  it('is on the scale of the meet: four decimals where it publishes four', () => {
    const meet4 = meetFrom(
      'discipline: wag\nscoring: ten\ndecimals: 4\ngymnasts: [{ id: ann, ranges: { VT: { low: 9.5, likely: 9.8125, high: 9.9 } } }]\n',
    );
    expect(rangeOf(meet4, 'ann', 'VT')).toMatchObject({ low: 95000, likely: 98125, high: 99000 });
    expect(meet4.scoring.fall).toBe(5000);
  });

  it('any parts given anywhere are merged by the same rule', () => {
    const PARTS = ['low', 'likely', 'high', 'falls', 'd', 'within'] as const;
    // Whatever is given, low ≤ likely ≤ high and all below d + 10.
    const source = (digit: number) =>
      fc.subarray([...PARTS]).map((parts) => ({ parts: new Set<string>(parts), digit }));
    const written = (given: { parts: ReadonlySet<string>; digit: number }) => {
      const values = {
        low: `12.00${given.digit}`,
        likely: `12.50${given.digit}`,
        high: `13.00${given.digit}`,
        falls: `0.0${given.digit}`,
        d: `5.00${given.digit}`,
        within: `0.10${given.digit}`,
      };
      const pairs = PARTS.filter((p) => given.parts.has(p)).map((p) => `${p}: ${values[p]}`);
      return `{ ${pairs.join(', ')} }`;
    };
    fc.assert(
      fc.property(source(1), source(2), source(3), (own, file, usual) => {
        const one = meetFrom(
          `${OWN}\nscoring: open\nranges: r.yaml\nusual: { VT: ${written(usual)} }\ngymnasts: [{ id: ann, ranges: { VT: ${written(own)} } }]\n`,
          '',
          `ann: { VT: ${written(file)} }\n`,
        );
        const sources = [own, file, usual];
        const sourceOf = (part: (typeof PARTS)[number]) => sources.find((s) => s.parts.has(part));
        const d = sourceOf('d')?.digit ?? null;
        // Given with another D than the one that is expected, a score moves by what that is more.
        const score = (part: 'low' | 'likely' | 'high', base: number) => {
          const from = sourceOf(part);
          if (from === undefined) return null;
          const by = d === null || !from.parts.has('d') ? 0 : d - from.digit;
          return base + from.digit + by;
        };
        const first = sources.findIndex((s) => [...s.parts].some((p) => p !== 'within'));
        const falls = sourceOf('falls')?.digit;
        // How sure somebody is of a likely goes with that likely; whoever comes before may know better.
        const likelyAt = sources.findIndex((s) => s.parts.has('likely'));
        const sure = sources.slice(0, likelyAt + 1).find((s) => s.parts.has('within'));
        expect(rangeOf(one, 'ann', 'VT')).toEqual({
          low: score('low', 12000),
          likely: score('likely', 12500),
          high: score('high', 13000),
          falls: falls === undefined ? null : falls / 100,
          d: d === null ? null : 5000 + d,
          within: sure === undefined ? null : 100 + sure.digit,
          from: (['own', 'file', 'usual'] as const)[first] ?? null,
        });
      }),
      { numRuns: times(100), seed: 20260520 },
    );
  });
});
