/** Ranges from a history, as facts of the sport. */
import { describe, expect, it } from 'vitest';
import { fitRanges } from '../../lib/history/fit.js';
import { type History, ranges, rangesFile, readHistory } from '../../lib/index.js';
import { meetFrom, readAll } from '../support/meet.js';

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score,d,e,nd';

/** Routines of one gymnast, a month apart. */
function routines(gymnast: string, apparatus: string, of: readonly (readonly [number, number])[]) {
  return of.map(([d, e], month) => {
    const score = (d + e).toFixed(3);
    const date = `2026-${String(month + 1).padStart(2, '0')}-10`;
    return `${gymnast},wag,${date},Cup ${month},final,${apparatus},${score},${d.toFixed(3)},${e.toFixed(3)},0`;
  });
}

function history(...lines: string[]): History {
  return readHistory({ file: 'results.csv', text: `${HEADER}\n${lines.join('\n')}\n` });
}

function rangeOf(from: History, gymnast: string, apparatus: string, before: string | null = null) {
  return fitRanges(from, { before }).find((f) => f.id === gymnast)!.ranges[apparatus]!;
}

const STEADY: [number, number][] = [
  [5.2, 8.2],
  [5.2, 8.3],
  [5.2, 8.1],
  [5.2, 8.2],
  [5.2, 8.3],
  [5.2, 8.1],
];

describe('a range from results', () => {
  it('lies around what she scores, reaches further down than up, and keeps its order', () => {
    const range = rangeOf(history(...routines('ann', 'FX', STEADY)), 'ann', 'FX');
    expect(range).toMatchObject({ d: 5200, results: 6, fell: 0 });
    expect(range.likely).toBeGreaterThan(13_100);
    expect(range.likely).toBeLessThan(13_600);
    expect(range.likely - range.low).toBeGreaterThan(range.high - range.likely);
    expect(range.low).toBeLessThan(range.likely);
    expect(range.falls).toBeLessThan(0.12);
  });

  it('a fall is seen in E, raises the chance of one, and leaves likely where it was', () => {
    const [first, ...rest] = STEADY;
    const fell: [number, number][] = [...rest, [5.2, 6.9]];
    const clean = rangeOf(history(...routines('ann', 'FX', [first!, ...rest])), 'ann', 'FX');
    const once = rangeOf(history(...routines('ann', 'FX', fell)), 'ann', 'FX');
    expect(once.fell).toBe(1);
    expect(once.falls).toBeGreaterThan(clean.falls + 0.05);
    expect(Math.abs(once.likely - clean.likely)).toBeLessThan(60);
  });

  it('is wider and nearer to what is usual where results are few', () => {
    const many = rangeOf(history(...routines('ann', 'FX', STEADY)), 'ann', 'FX');
    const one = rangeOf(history(...routines('ann', 'FX', STEADY.slice(0, 1))), 'ann', 'FX');
    expect(one.high - one.low).toBeGreaterThan(many.high - many.low);
    // An E of 8.2 is above the usual 7.5 on floor.
    expect(one.likely).toBeLessThan(many.likely);
  });

  it('what she has shown lately counts more', () => {
    const harder: [number, number][] = [...STEADY.slice(0, 3), [6.4, 8.2], [6.4, 8.2], [6.4, 8.2]];
    const easier: [number, number][] = [[6.4, 8.2], [6.4, 8.2], [6.4, 8.2], ...STEADY.slice(0, 3)];
    const up = rangeOf(history(...routines('ann', 'FX', harder)), 'ann', 'FX');
    const down = rangeOf(history(...routines('ann', 'FX', easier)), 'ann', 'FX');
    expect(up.d).toBeGreaterThan(down.d!);
    expect(up.likely).toBeGreaterThan(down.likely);
  });

  it('a score of 0.000 is no fall and no hit: it is left out, and said with its line', () => {
    const nothing = 'ann,wag,2026-07-10,Summer Cup,final,FX,0.000,5.200,0.000,0';
    const without = history(...routines('ann', 'FX', STEADY));
    const dirty = history(...routines('ann', 'FX', STEADY), nothing);
    expect(rangeOf(dirty, 'ann', 'FX')).toEqual(rangeOf(without, 'ann', 'FX'));
    expect(ranges(dirty).leftOut).toEqual([
      { line: 8, why: '0.000 says nothing for a range: an invalid vault, or a routine broken off' },
    ]);
    // In its meet it counts.
    expect(dirty.routines.at(-1)?.score).toBe(0);
    const only = history(nothing, ...routines('bea', 'FX', STEADY));
    expect(ranges(only).gymnasts.map((g) => g.id)).toEqual(['bea']);
  });

  it('the competition that is going on is named by any part of its name that fits one', () => {
    const from = history(...routines('ann', 'FX', STEADY));
    const of = (competition?: string) => ranges(from, { competition }).gymnasts[0]?.ranges.FX;
    // Its round was one of the highest.
    expect(of('cup 4')?.likely).toBeGreaterThan(of()?.likely ?? Number.NaN);
    expect(of('cup 4')?.within).toBeLessThan(of()?.within ?? Number.NaN);
    expect(() => of('cup')).toThrow('--competition: cup may be Cup 0 or Cup 1');
    expect(() => of('Harbour Cup')).toThrow('--competition: Harbour Cup is nowhere in the history');
  });

  it('the second vault is not the first', () => {
    const both = history(
      ...routines('ann', 'VT', [[5.0, 9.0]]),
      ...routines('ann', 'VT2', [[4.0, 8.5]]),
    );
    expect(rangeOf(both, 'ann', 'VT').likely).toBeGreaterThan(
      rangeOf(both, 'ann', 'VT2').likely + 800,
    );
  });

  it('before a day uses nothing of that day or later', () => {
    const all = routines('ann', 'FX', [...STEADY.slice(0, 3), [6.5, 9.5], [6.5, 9.5]]);
    const early = history(...all.slice(0, 3));
    expect(rangeOf(history(...all), 'ann', 'FX', '2026-04-10')).toEqual(
      rangeOf(early, 'ann', 'FX', '2026-04-10'),
    );
  });

  it('of a history without D and E rests on scores alone', () => {
    const bare = history(
      ...STEADY.map((_, i) => `ann,wag,2026-0${i + 1}-10,Cup ${i},final,FX,13.${i}00,,,`),
    );
    const range = rangeOf(bare, 'ann', 'FX');
    expect(range.d).toBeNull();
    expect(range.likely).toBeGreaterThan(12_900);
    expect(range.likely).toBeLessThan(13_500);
  });

  it('out of ten stays within ten', () => {
    const ten = history(
      ...STEADY.map((_, i) => `ann,wag,2026-0${i + 1}-10,Dual ${i},final,FX,9.9${i}0,,,`),
    );
    const { low, likely, high } = rangeOf(ten, 'ann', 'FX');
    expect(high).toBeLessThanOrEqual(10_000);
    expect(low).toBeLessThanOrEqual(likely);
    expect(likely).toBeLessThanOrEqual(high);
  });
});

describe('a ranges file', () => {
  it('is one that a meet file can name, whatever the gymnasts are called', () => {
    const from = history(
      ...routines('ann', 'VT', STEADY),
      ...routines('no', 'VT', STEADY),
      ...routines('Ida: "the" Ålund', 'VT', STEADY),
    );
    const made = ranges(from);
    const file = rangesFile(made, from.decimals);
    const ids = ['ann', 'no', 'Ida: "the" Ålund'];
    const yaml = `discipline: wag\nscoring: open\nranges: r.yaml\ncontests: [{ kind: apparatus, on: VT }]\ngymnasts:\n${ids.map((id) => `  - { id: ${JSON.stringify(id)} }\n`).join('')}`;
    expect(readAll(yaml, '', file).problems).toEqual([]);
    const { ranges: read } = meetFrom(yaml, '', file);
    const { results: _, fell: __, ...expected } = made.gymnasts[0]!.ranges.VT!;
    expect(read).toEqual(ids.map(() => ({ ...expected, from: 'file' })));
  });

  it('finds her by name where the meet has an id of its own, and suits any decimals', () => {
    const from = history(
      ...routines('Ann Weller', 'VT', STEADY),
      'bea,wag,2026-01-10,Cup,final,VT,13.4567,,,',
    );
    expect(from.decimals).toBe(4);
    const file = rangesFile(ranges(from), from.decimals);
    expect(file).toMatch(/low: \d+\.\d\d0,/);
    const yaml =
      'discipline: wag\nscoring: open\nranges: r.yaml\ncontests: [{ kind: apparatus, on: VT }]\ngymnasts: [{ id: aw, name: Ann Weller }]\n';
    expect(readAll(yaml, '', file).problems.filter((p) => p.severity !== 'note')).toEqual([]);
    expect(meetFrom(yaml, '', file).ranges[0]).toMatchObject({ from: 'file', d: 5200 });
  });

  it('is of one discipline', () => {
    const both = history(
      ...routines('ann', 'VT', STEADY),
      'ann,mag,2026-01-10,Cup,final,VT,13.400,,,',
    );
    expect(() => rangesFile(ranges(both), both.decimals)).toThrow(/in both disciplines/);
    expect(rangesFile(ranges(both, { discipline: 'mag' }), both.decimals)).toContain('ann:');
  });

  it('names are found by any part, and the nearest is suggested', () => {
    const from = history(...routines('Ann Weller', 'VT', STEADY), ...routines('bea', 'VT', STEADY));
    expect(ranges(from, { gymnasts: ['weller'] }).gymnasts.map((g) => g.id)).toEqual([
      'Ann Weller',
    ]);
    expect(() => ranges(from, { gymnasts: ['baa'] })).toThrow(
      /nobody in the history is called baa/,
    );
    expect(() => ranges(from, { before: '2020-01-01' })).toThrow(/no results before 2020-01-01/);
    expect(() => ranges(from, { before: 'soon' })).toThrow(/--before/);
  });
});
