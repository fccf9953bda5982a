/** Tables in little room: names are shortened, all by the same rule, before a column is left out. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folder, run } from '../support/cli.js';

const USUAL = ['VT', 'UB', 'BB', 'FX']
  .map((code) => `${code}: { low: 12.0, likely: 13.0, high: 13.6, falls: 0.1 }`)
  .join(', ');

const place = folder();
afterAll(() => place.clean());

/** The lines of a table, from its heads on. */
function board(columns: number, long: string, args = ['standings']): string[] {
  const file = join(place.path, 'meet.yaml');
  const names = ['Ada Quill', 'Ruth Okafor', 'Mina Okafor', long];
  const gymnasts = names.map((name, i) => `{ id: g${i}, name: ${name}, team: NQY }`);
  writeFileSync(
    file,
    `discipline: wag\nscoring: open\nusual: { ${USUAL} }\ngymnasts: [${gymnasts.join(', ')}]\n`,
  );
  const { out } = run([...args, '--meet', file], { env: { COLUMNS: String(columns) } });
  const lines = out.split('\n');
  return lines.slice(lines.findIndex((line) => /\bname\b/.test(line)));
}

const HEADS = ['name', 'team', 'total', 'done', 'to come', 'projected finish'];
const LONG = 'Theodora Papadimitrakopoulou-Konstantinidou';
const namesIn = (lines: readonly string[]) =>
  lines.slice(1, 5).map((line) => line.replace(/^.{5} /, '').split(/ {2,}/)[1] ?? '');
const headsIn = (lines: readonly string[]) => lines[0]?.trim().split(/ {2,}/);

describe('one long name', () => {
  const wide = board(120, LONG);

  it('stands whole where there is room', () => {
    expect(headsIn(wide)).toEqual(expect.arrayContaining(HEADS));
    expect(wide.join('\n')).toContain(LONG);
    expect(wide.join('\n')).toContain('Ruth Okafor');
  });

  it('is shortened with all the others, then cut, and takes no column away', () => {
    const lengths = [115, 102, 92, 86].map((columns) => {
      const lines = board(columns, LONG);
      expect(headsIn(lines), lines.join('\n')).toEqual(headsIn(wide));
      const text = lines.join('\n');
      expect(text).not.toContain('Not shown');
      expect(text).not.toMatch(/Theodora P|Ruth|Mina|Ada Quill/);
      expect(text).toMatch(/R\. Okafor/);
      expect(text).toMatch(/M\. Okafor/);
      for (const line of lines) expect(line.length).toBeLessThanOrEqual(columns);
      return /Papa\S+/.exec(text)?.[0].length ?? 0;
    });
    expect(lengths).toEqual([...lengths].sort((a, b) => b - a));
    expect(lengths.at(-1)).toBeLessThan(lengths[0] ?? 0);
  });

  it('leaves no column out that would be there with a name of twelve letters', () => {
    for (let columns = 52; columns <= 100; columns += 12) {
      const lines = board(columns, LONG);
      // And no name is cut to fewer.
      expect(/Papa\S+/.exec(lines.join('\n'))?.[0].length).toBeGreaterThanOrEqual(12);
      expect(headsIn(lines), `${columns}`).toEqual(headsIn(board(columns, 'Dora Marshlanders')));
    }
  });

  it('takes an initial before the family name stands alone', () => {
    const full = Math.max(...board(120, LONG).map((line) => line.length));
    const lines = board(full - 1, LONG);
    expect(lines.join('\n')).toContain('T. Papadimitrakopoulou-Konstantinidou');
    expect(lines.join('\n')).toContain('A. Quill');
    expect(namesIn(lines)).toHaveLength(4);
  });

  it('takes no place of the medals away', () => {
    const lines = board(80, LONG, ['chances']);
    const heads = lines.find((line) => line.startsWith('chance '));
    expect(heads?.split(/ {2,}/)).toEqual(['chance', '1st', '2nd', '3rd']);
  });
});

it('nothing but names is cut', () => {
  const file = join(place.path, 'teams.yaml');
  const team = 'Lower Thorn Gymnastics Association';
  const gymnasts = `{ id: ada, name: ${LONG}, team: ${team} }, { id: bea, name: Bea Harrow }`;
  writeFileSync(file, `discipline: wag\nscoring: open\ngymnasts: [${gymnasts}]\n`);
  for (const columns of [60, 80, 90, 100]) {
    const { out } = run(['standings', '--meet', file], { env: { COLUMNS: `${columns}` } });
    expect(out.includes(team), out).toBe(!/not shown[^.]*team/i.test(out));
  }
});

it('two whose names begin alike are cut no further than tells them apart', () => {
  const alike = ['Ada Konstantinidopoulou-Berg', 'Bea Konstantinidopoulou-Lund'];
  const file = join(place.path, 'alike.yaml');
  const gymnasts = alike.map((name, i) => `{ id: g${i}, name: ${name}, team: NQY }`);
  writeFileSync(file, `discipline: wag\nscoring: open\ngymnasts: [${gymnasts.join(', ')}]\n`);
  const { out } = run(['standings', '--meet', file], { env: { COLUMNS: '50' } });
  expect(out).toContain('Konstantinidopoulou-B…');
  expect(out).toContain('Konstantinidopoulou-L…');
});
