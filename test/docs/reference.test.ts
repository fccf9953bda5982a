/** The pages of the reference are those that the comments make now: npm run reference. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';

const REFERENCE = join(ROOT, 'docs/reference');

function pagesIn(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  const pages = files.filter((file) => statSync(join(folder, file)).isFile()).sort();
  return Object.fromEntries(pages.map((file) => [file, readFileSync(join(folder, file), 'utf8')]));
}

it('are as the comments have them', () => {
  const out = mkdtempSync(join(tmpdir(), 'lastrotation-reference-'));
  try {
    execFileSync(process.execPath, [join(ROOT, 'bin/build/reference/pages.mjs'), out]);
    const made = pagesIn(out);
    const kept = pagesIn(REFERENCE);
    expect(Object.keys(kept)).toEqual(Object.keys(made));
    const stale = Object.keys(made).filter((file) => made[file] !== kept[file]);
    expect(stale).toEqual([]);
    expect(Object.keys(made).length).toBeGreaterThan(300);
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
});

it('link to nothing that is not there', () => {
  const broken = Object.entries(pagesIn(REFERENCE)).flatMap(([file, text]) =>
    [...text.matchAll(/\]\(([^)#\s]+)/g)]
      .map(([, link = '']) => link)
      .filter((link) => !/^https?:/.test(link))
      .filter((link) => !statSync(join(REFERENCE, dirname(file), link), { throwIfNoEntry: false }))
      .map((link) => `${file}: ${link}`),
  );
  expect(broken).toEqual([]);
});
