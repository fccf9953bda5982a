/** What is made into files: never over what somebody else has there. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folder, run } from '../support/cli.js';

const place = folder('tenths.yaml', 'tenths.scores.csv');
afterAll(() => place.clean());
const cwd = place.path;
const MEET = ['--meet', 'tenths.yaml'];
const textOf = (name: string) => readFileSync(join(cwd, name), 'utf8');

describe('a picture or a page', () => {
  it.each([
    ['chances', '--svg'],
    ['story', '--svg'],
    ['page', '--out'],
  ])('of %s is written, and written again, and over nothing else', (command, option) => {
    const ask = (file: string) => run([command, ...MEET, option, file], { cwd });
    expect(ask('made').code).toBe(0);
    expect(textOf('made')).toMatch(/^<(svg|!doctype html)/);
    expect(ask('made').code).toBe(0);
    writeFileSync(join(cwd, 'other.yaml'), 'discipline: wag\n');
    const { code, err } = ask('other.yaml');
    expect([code, err]).toEqual([
      2,
      `other.yaml: is there already, and is something else\n  name another with ${option}\n`,
    ]);
    expect(textOf('other.yaml')).toBe('discipline: wag\n');
    expect(ask('tenths.yaml').err).toContain('is one of the files that this is made from');
    writeFileSync(join(cwd, 'made'), '');
  });

  it('is beside the meet file where nothing is named', () => {
    const { out } = run(['page', ...MEET], { cwd });
    expect(out).toMatch(/^tenths\.html: \d+ KB; open it in a browser\n$/);
    const said = JSON.parse(run(['page', ...MEET, '--json'], { cwd }).out);
    expect(said).toEqual({ file: 'tenths.html', bytes: Buffer.byteLength(textOf('tenths.html')) });
  });

  it('is XML whatever the meet is called', () => {
    const title = 'title: "Cup ]]> \\uFFFF & <b> \\u0022"\n';
    const text = textOf('tenths.yaml').replace(/^title:.*\n/m, title);
    writeFileSync(join(cwd, 'odd.yaml'), text);
    const ran = run(['chances', '--meet', 'odd.yaml', '--svg', 'odd.svg'], { cwd });
    expect(ran.code).toBe(0);
    const svg = textOf('odd.svg');
    expect(svg).not.toMatch(/\]\]>|[\uFFFE\uFFFF]|<b>/);
    expect(svg).toContain('Cup ]]&gt;');
  });
});
