/** The programs of docs/library.md: each runs where a reader puts it, prints what stands under it, and is small. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BROWSER, launch, open } from '../support/browser.js';
import { ROOT } from '../support/cli.js';

interface Program {
  readonly file: string;
  readonly code: string;
  /** The block after it, where that is what it prints. */
  readonly prints: string | null;
}

const document = readFileSync(join(ROOT, 'docs/library.md'), 'utf8');
const blocks = [...document.matchAll(/^```(\w+)(?: file=(\S+))?\n([\s\S]*?)^```$/gm)].map(
  ([, kind = '', file = '', code = '']) => ({ kind, file, code }),
);
const programs: readonly Program[] = blocks.flatMap(({ file, code }, i) => {
  const next = blocks[i + 1];
  return file === '' ? [] : [{ file, code, prints: next?.kind === 'text' ? next.code : null }];
});
const printing = programs.filter(({ prints }) => prints !== null);

let place: string;
beforeAll(() => {
  place = mkdtempSync(join(tmpdir(), 'lastrotation-library-'));
  mkdirSync(join(place, 'node_modules'));
  symlinkSync(ROOT, join(place, 'node_modules', 'lastrotation'));
  for (const { file, code } of programs) writeFileSync(join(place, file), code);
});
afterAll(() => rmSync(place, { recursive: true, force: true }));

it('are eight, of less than fifteen lines each', () => {
  const small = programs.filter(({ file }) => file.endsWith('.mjs') && file !== 'meet.mjs');
  expect(small.length).toBe(8);
  expect(document.match(/^## \d\. /gm)?.length).toBe(8);
  const long = small.filter(({ code }) => code.trim().split('\n').length >= 15);
  expect(long.map(({ file }) => file)).toEqual([]);
});

describe('prints what stands under it', () => {
  it.each(printing.map(({ file, prints }) => [file, prints]))('%s', (file, prints) => {
    const options = { cwd: place, encoding: 'utf8' } as const;
    expect(execFileSync(process.execPath, [file ?? ''], options)).toBe(prints);
  });

  it('but for the page, and the meet of all of them', () => {
    const silent = programs.filter(({ prints }) => prints === null).map(({ file }) => file);
    expect(silent).toEqual(['meet.mjs', 'page.mjs', 'page.html']);
  });
});

it.skipIf(BROWSER === undefined)(
  'the page answers in a browser, and says what is wrong',
  async () => {
    const [entry, outfile] = [join(place, 'page.mjs'), join(place, 'page.js')];
    await build({ entryPoints: [entry], bundle: true, outfile, logLevel: 'silent' });
    const browser = await launch();
    try {
      const { page, trouble } = await open(browser, `file://${place}/page.html`);
      const asked = async (who: string) => {
        await page.fill('input', who);
        await page.click('button');
        return page.locator('output').textContent();
      };
      // The most there is on vault that is above the leader's 13.700, by three judges' tenths.
      expect(await asked('bea')).toBe('13.733');
      expect(await asked('nobody')).toContain('nobody here is called "nobody"');
      expect(trouble.said).toEqual([]);
    } finally {
      await browser.close();
    }
  },
);
