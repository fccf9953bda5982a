/** A meet file, a ranges file and a log with words where codes stand: the same meet. */
import { describe, expect, it } from 'vitest';
import { type ReadMeet, readMeet } from '../../lib/index.js';

const CODES = `discipline: wag
scoring: open
contests: [all-around, { kind: team, up: 2, count: 1 }, { kind: apparatus, on: BB }]
usual: { VT: { likely: 13.500 }, UB: { likely: 13.100 } }
teams: [{ id: NQY, lineup: { FX: [bea, ann] } }]
gymnasts:
  - { id: ann, team: NQY, on: [VT, UB, BB, FX], ranges: { BB: { likely: 14.000 } } }
  - { id: bea, team: NQY }
groups: [{ start: UB, order: [ann] }, { route: [FX, VT, BB, UB], order: [bea] }]
`;

/** The same, apparatus by apparatus in words. */
const inWords = (text: string) =>
  text
    .replaceAll('VT', 'vault')
    .replaceAll('UB', 'Uneven Bars')
    .replaceAll('BB', 'Schwebebalken')
    .replaceAll('FX', 'floor');

const read = (text: string, more: Partial<Parameters<typeof readMeet>[0]> = {}): ReadMeet =>
  readMeet({ meet: { file: 'm.yaml', text }, ...more });

const linesOf = ({ problems }: ReadMeet) => problems.map((p) => [p.line, p.message, p.mend]);

describe('words instead of codes', () => {
  it('make the same meet', () => {
    expect(inWords(CODES)).not.toBe(CODES);
    expect(read(CODES).meet).not.toBeNull();
    expect(read(inWords(CODES))).toEqual(read(CODES));
  });

  it('in written-out rotations, in a ranges file and in a log', () => {
    const text = `discipline: mag
scoring: open
ranges: r.yaml
gymnasts: [{ id: ann }]
rotations: [{ FX: [ann] }, { PH: [ann] }, { SR: [ann] }, { VT: [ann] }, { PB: [ann] }, { HB: [ann] }]
`;
    const words = text
      .replace('HB', 'high bar')
      .replace('PB', 'parallel bars')
      .replace('PH', 'Pauschenpferd');
    const files = (apparatus: string) => ({
      ranges: () => ({ file: 'r.yaml', text: `ann: { ${apparatus}: { likely: 13.000 } }` }),
      log: { file: 'm.csv', text: `gymnast,apparatus,score\nann,${apparatus},13.500` },
    });
    const coded = read(text, files('HB'));
    expect(coded.meet?.results.filter((r) => r !== null)).toHaveLength(1);
    expect(coded.meet?.rangesGiven[0]?.at(-1)?.likely).toBe(13000);
    expect(read(words, files('high bar'))).toEqual(coded);
  });

  it('of a discipline of the meet’s own', () => {
    const text = `discipline: [{ code: HP, name: hoop }, { code: BL, name: ball }]
scoring: open
gymnasts: [{ id: ann, on: [HP, BL] }]
groups: [{ start: HP, order: [ann] }]
`;
    expect(read(text).meet).not.toBeNull();
    expect(read(text.replace('start: HP', 'start: Hoop').replace('on: [HP', 'on: [hoop'))).toEqual(
      read(text),
    );
  });
});

describe('what cannot be one apparatus', () => {
  it('a misspelt word is told on its line', () => {
    expect(linesOf(read(CODES.replace('start: UB', 'start: bems')))).toContainEqual([
      9,
      'group 1 starts on BEMS, which is not part of this meet',
      'did you mean `bars` or `beam`?',
    ]);
  });

  it('a wrong range under a word too', () => {
    const found = read(
      inWords(CODES).replace('Bars: { likely: 13.100', 'Bars: { high: 13.000, likely: 13.100'),
    );
    expect(linesOf(found)).toContainEqual([
      4,
      expect.stringContaining('usual UB'),
      expect.any(String),
    ]);
  });

  it('bars of men are asked back', () => {
    const men = `discipline: mag
scoring: open
gymnasts: [{ id: ann }]
groups: [{ start: bars, order: [ann] }]
`;
    expect(linesOf(read(men))).toContainEqual([
      4,
      'group 1 starts on BARS, which is not part of this meet',
      'say which: PB or HB',
    ]);
    const log = { file: 'm.csv', text: 'gymnast,apparatus,score\nann,bars,13.500' };
    expect(linesOf(read(men.replace('start: bars', 'start: HB'), { log }))).toContainEqual([
      2,
      '"bars" may be parallel bars or high bar',
      'say which: PB or HB',
    ]);
  });

  it('a word and its code in one mapping are two', () => {
    const twice = CODES.replace('usual: { VT', 'usual: { vault: { likely: 13.000 }, VT');
    expect(read(twice).meet).toBeNull();
    expect(linesOf(read(twice))).toContainEqual([
      4,
      'a range on VAULT, which is not an apparatus of the discipline',
      'write `VT`',
    ]);
  });
});
