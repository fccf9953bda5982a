/** The meets that `chances --draws` writes. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folder, ROOT, run } from '../support/cli.js';

const SAMPLE = 500;

describe('the file of draws', () => {
  const place = folder();
  afterAll(() => place.clean());
  const meet = join(ROOT, 'docs/examples/harbour.yaml');
  const file = join(place.path, 'draws.csv');
  const drawn = ['chances', '--meet', meet, '--sample', `${SAMPLE}`, '--seed', '7', '--json'];

  it('gives the printed chances exactly, and every total its place', () => {
    const { code, out } = run([...drawn, '--draws', file]);
    expect(code).toBe(0);
    expect(run(drawn).out).toBe(out);
    const [header, ...rows] = readFileSync(file, 'utf8').trimEnd().split('\n');
    expect(header).toBe('draw,id,total,place');
    const ends = rows.map((row) => {
      const [draw = '', id = '', total = '', rank = ''] = row.split(',');
      expect(total).toMatch(/^\d+\.\d{3}$/);
      return { draw: Number(draw), id, total: Number(total), place: Number(rank) };
    });
    const { contenders } = JSON.parse(out) as {
      contenders: { id: string; win: number; medal: number; places: number[]; total: unknown }[];
    };
    const inIt = contenders.filter((c) => c.total !== null);
    expect(ends.length).toBe(SAMPLE * inIt.length);
    expect(inIt.length).toBe(contenders.length - 1);
    for (const { id, win, medal } of contenders) {
      const hers = ends.filter((e) => e.id === id);
      expect(hers.filter((e) => e.place === 1).length / SAMPLE).toBe(win);
      expect(hers.filter((e) => e.place <= 3).length / SAMPLE).toBeCloseTo(medal, 12);
    }
    for (let draw = 1; draw <= SAMPLE; draw++) {
      const these = ends.slice((draw - 1) * inIt.length, draw * inIt.length);
      expect(new Set(these.map((e) => e.draw))).toEqual(new Set([draw]));
      for (const { total, place: rank } of these) {
        // A tie may be broken, but nobody is behind a lower total.
        expect(rank).toBeGreaterThan(these.filter((e) => e.total > total).length);
        expect(rank).toBeLessThanOrEqual(these.filter((e) => e.total >= total).length);
      }
    }
  });

  it('needs a sample of its size, and takes the place of nothing else', () => {
    const other = join(place.path, 'other.csv');
    for (const args of [[], ['--precision', '0.01'], ['--sample', '250001'], ['--through']]) {
      expect(run(['chances', '--meet', meet, ...args, '--draws', other]).code).toBe(2);
    }
    expect(existsSync(other)).toBe(false);
    writeFileSync(other, 'mine');
    expect(run([...drawn, '--draws', other])).toMatchObject({ code: 2, out: '' });
    expect(readFileSync(other, 'utf8')).toBe('mine');
  });
});
