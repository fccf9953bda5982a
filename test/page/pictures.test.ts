/** What pictures show lies where it belongs. */
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openMeet, readMeetFiles } from '../../lib/files/index.js';
import { chances, chancesPicture, routinePicture, story, storyPicture } from '../../lib/index.js';
import { apart } from '../../lib/page/pictures/frame.js';
import { linear } from '../../lib/page/pictures/scale.js';
import { EXAMPLES } from '../support/cli.js';

const HARBOUR = join(EXAMPLES, 'harbour.yaml');
const meet = openMeet(HARBOUR);

/** The numbers of an attribute, in the order of the picture. */
const all = (text: string, pattern: RegExp) =>
  [...text.matchAll(pattern)].map(([, number = '']) => Number(number));

describe('labels that would meet', () => {
  it('are pushed apart, in their order, between the bounds wherever there is room', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 1, maxLength: 6 }),
        (wanted) => {
          const placed = apart(wanted, 15, [0, 100]);
          const order = wanted
            .map((y, i) => ({ y, at: placed[i] ?? 0 }))
            .sort((a, b) => a.at - b.at);
          for (const [k, { y, at }] of order.entries()) {
            expect(at).toBeGreaterThanOrEqual(0);
            expect(at).toBeLessThanOrEqual(100);
            const next = order[k + 1];
            if (next === undefined) continue;
            expect(next.at - at).toBeGreaterThanOrEqual(15);
            expect(next.y).toBeGreaterThanOrEqual(y);
          }
        },
      ),
    );
  });

  it('stay where they are wanted where they do not meet', () => {
    expect(apart([80, 10, 40], 15, [0, 100])).toEqual([80, 10, 40]);
    expect(apart([50, 50], 15, [0, 100])).toEqual([50, 65]);
    expect(apart([100, 98], 15, [0, 100])).toEqual([100, 85]);
  });
});

it('a scale goes from one end to the other', () => {
  const x = linear([13, 15], [100, 300]);
  expect([x(13), x(14), x(15)]).toEqual([100, 200, 300]);
  expect(linear([7, 7], [0, 10])(7)).toBe(5);
});

describe('her routine', () => {
  const text = routinePicture(meet, 'brondt');

  it('says what a fall costs and how often it comes', () => {
    // Beam: a fall 14% of the time, so one 0.14 x 0.86 and two 0.14 x 0.14 (DESIGN, "The distribution").
    expect(text).toContain('one fall 12.0%');
    expect(text).toContain('two falls 2.0%');
    const x = (words: string) =>
      Number(new RegExp(`<text x="([\\d.]+)"[^>]*>${words}`).exec(text)?.[1]);
    // A fall costs 1.000 in the open system: as far apart as 1.000 on the axis.
    const ticks = [...text.matchAll(/<text x="([\d.]+)"[^>]*>(\d\d\.\d{3})</g)];
    const [first, last] = [ticks[0], ticks.at(-1)];
    const point =
      (Number(last?.[1]) - Number(first?.[1])) / (Number(last?.[2]) - Number(first?.[2]));
    expect(x('one fall') - x('two falls')).toBeCloseTo(point, 0);
    expect((x('one fall') - Number(first?.[1])) / point + Number(first?.[2])).toBeCloseTo(
      13.366,
      1,
    );
  });

  it('is smooth where real scores lie unevenly, highest near what is expected', () => {
    const [edge = ''] = [...text.matchAll(/<path d="M([^"]*)" fill="none"/g)].map(
      (m) => m[1] ?? '',
    );
    const ys = all(edge, /,([\d.]+)(?=C|$)/g);
    expect(ys.length).toBeGreaterThan(60);
    // Three hills: it bends the other way a few times, and not at every other score.
    const steps = ys.slice(1).map((y, i) => y - (ys[i] ?? 0));
    const bends = steps.slice(1).map((step, i) => step - (steps[i] ?? 0));
    const real = bends.filter((bend) => Math.abs(bend) > 0.25);
    const turns = real.slice(1).filter((bend, i) => bend * (real[i] ?? 0) < 0).length;
    expect(Math.min(...ys)).toBeCloseTo(66, 0);
    expect(turns).toBeLessThanOrEqual(8);
  });
});

describe('her chances by her next score', () => {
  const text = routinePicture(meet, 'brondt');

  it('are drawn at every real score as they are, steps included', () => {
    const { curve } = chances(meet, 'brondt');
    const points = curve?.points ?? [];
    // The axis of scores, and that of chances from 0 to 100%.
    const ticks = [...text.matchAll(/<text x="([\d.]+)"[^>]*>(\d\d\.\d{3})</g)];
    const [first, last] = [ticks[0], ticks.at(-1)].map((t) => [Number(t?.[1]), Number(t?.[2])]);
    const scale = linear([first?.[1] ?? 0, last?.[1] ?? 0], [first?.[0] ?? 0, last?.[0] ?? 0]);
    const [win = '', medal = ''] = [...text.matchAll(/<path d="M([^"]*)" fill="none"/g)]
      .slice(1)
      .map((m) => m[1] ?? '');
    for (const [path, target] of [
      [win, 'win'],
      [medal, 'medal'],
    ] as const) {
      // Each piece of a path ends at a point; the two pairs before it are where the piece is headed.
      const ends = path.split('C').map((piece) => piece.split(',').slice(-2).map(Number));
      expect(ends.length).toBeGreaterThan(60);
      const drawn = points.slice(-ends.length);
      for (const [k, [x = 0, y = 0]] of ends.entries()) {
        const point = drawn[k];
        expect(Math.abs(x - scale((point?.score ?? 0) / 1000))).toBeLessThan(0.3);
        expect(Math.abs((364 - y) / (364 - 244) - (point?.[target] ?? 0))).toBeLessThan(0.001);
      }
    }
  });

  it('are told to who does not see them, and each thing once', () => {
    const [, label = ''] = /aria-label="([^"]*)"/.exec(text) ?? [];
    const sentences = label.split('. ');
    expect(new Set(sentences).size).toBe(sentences.length);
  });
});

describe('the field', () => {
  it('has a bar as long as the chance', () => {
    const answer = chances(meet);
    const text = chancesPicture(meet, answer);
    const bars = all(text, /<rect x="[\d.]+" y="2" width="([\d.]+)"/g);
    const likeliest = [...answer.contenders].sort((a, b) => b.win - a.win)[0];
    // Of each pair the first is all there is, the second the chance.
    expect((bars[1] ?? 0) / (bars[0] ?? 1)).toBeCloseTo(likeliest?.win ?? 0, 2);
    expect((bars[3] ?? 0) / (bars[2] ?? 1)).toBeCloseTo(likeliest?.medal ?? 0, 2);
    expect(text).toContain('no basis for betting');
  });
});

describe('the evening', () => {
  it('has its turning points at their scores', () => {
    const told = story(meet, readMeetFiles(HARBOUR).log);
    const text = storyPicture(meet, told);
    const marks = all(text, /<circle cx="([\d.]+)"/g);
    expect(marks.length).toBe(told.turningPoints.length);
    for (const [k, row] of told.turningPoints.entries()) {
      const at = told.points.findIndex((p) => p.row === row) + 1;
      expect(marks[k]).toBeCloseTo(50 + ((745 - 50) * at) / (told.points.length + 1), 0);
    }
    // The line of the likeliest jumps there: its height before and after is her chance.
    const [, line = ''] = /<path d="M([^"]*)"/.exec(text) ?? [];
    const last = line.split('L').at(-1)?.split(/[,VH]/).map(Number);
    const best = Math.max(...(told.points.at(-1)?.chances ?? []).map((c) => c.win));
    expect(last?.at(-1)).toBeCloseTo(352 - (352 - 62) * best, 0);
  });
});
