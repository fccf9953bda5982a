/** `new` as it is typed: what is wrong all at once, a first day by its path, and what it says it has written. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { answer, folder, run } from '../support/cli.js';

let cwd: string;
const write = (name: string, text: string) => writeFileSync(join(cwd, name), text);
beforeEach(() => {
  cwd = mkdtempSync(join(tmpdir(), 'lastrotation-new-'));
});
afterEach(() => rmSync(cwd, { recursive: true, force: true }));

describe('new', () => {
  it('tells all that is wrong, each in two lines, and writes nothing', () => {
    const rows = Array.from({ length: 12 }, (_, i) => `Ann Bell${i},A,x`);
    write('list.csv', ['name,team,VT', ...rows].join('\n'));
    const ran = run(['new', 'list.csv'], { cwd });
    const lines = ran.err.trimEnd().split('\n');
    expect([ran.code, ran.out, lines.length]).toEqual([2, '', 21]);
    expect(lines[0]).toBe('list.csv:2: position on vault "x" is no number');
    expect(lines[18]).toMatch(/^list\.csv:11: /);
    expect(lines.at(-1)).toBe('  and 2 more');
    expect(() => readFileSync(join(cwd, 'meet.yaml'))).toThrow();
    const json = run(['new', 'list.csv', '--json'], { cwd });
    expect(JSON.parse(json.err)).toMatchObject({ error: { line: 2, code: 'wrong-value' } });
  });

  it('names a first day from the folder of the meet file, wherever it is typed', () => {
    mkdirSync(join(cwd, 'two'));
    write('list.csv', 'name\nAnn Bell\nBea Marsh\n');
    run(['new', 'list.csv', '--meet', 'one.yaml'], { cwd });
    run(['record', 'bell', 'VT', '13.5', '--meet', 'one.yaml'], { cwd });
    run(['record', 'marsh', 'VT', '13.4', '--meet', 'one.yaml'], { cwd });
    const args = ['new', 'list.csv', '--meet', 'two/two.yaml', '--carried', 'one.yaml'];
    const made = run(args, { cwd });
    expect([made.code, made.err]).toEqual([0, '']);
    expect(made.out).toContain('What is decided: all-around.');
    expect(made.out).toContain('lastrotation check --meet two/two.yaml');
    const board = run(['standings', '--meet', 'two/two.yaml'], { cwd }).out;
    expect(board).toMatch(/brought in/);
    expect(board).toMatch(/Ann Bell +13\.500 .* 13\.500/);
  });

  it('says of a first day that is not there, or not sound, which it is and where', () => {
    write('list.csv', 'name\nAnn Bell\n');
    write('bad.yaml', 'discipline: wag\nscoring: opn\ngymnasts: [{ id: ann }]\n');
    const carried = (file: string) => run(['new', 'list.csv', '--carried', file], { cwd });
    expect(carried('one.yaml')).toMatchObject({
      code: 2,
      err: 'one.yaml: is not there\n  name the meet file of the first day\n',
    });
    expect(carried('bad.yaml').err).toMatch(/^bad\.yaml:2: .*\n {2}choose from: open, ten\n$/);
    expect(run(['new', 'list.csv', '--kind', 'day-two'], { cwd }).err).toContain('--carried');
    expect(run(['new', '--kind', 'dual'], { cwd }).code).toBe(2);
  });

  it('gives programs what sort of meet it is, and its contests', () => {
    write('list.csv', 'name,UB,FX\nAnn Bell,1,2\nBea Marsh,2,1\n');
    expect(answer(['new', 'list.csv'], { cwd })).toEqual({
      ...{ file: 'meet.yaml', kind: 'finals', contests: ['UB', 'FX'] },
      ...{ gymnasts: 2, groups: 0, problems: [] },
    });
  });
});

describe('a contest that is over', () => {
  it('is answered with those in which there is more to come', () => {
    const place = folder('finals.yaml', 'finals.scores.csv');
    try {
      const ran = run(['needs', '--meet', 'finals.yaml'], { cwd: place.path });
      expect([ran.code, ran.out]).toEqual([
        0,
        'Nobody has a routine to come on vault. There is more to come on bars, on beam and on floor.\n',
      ]);
    } finally {
      place.clean();
    }
  });
});
