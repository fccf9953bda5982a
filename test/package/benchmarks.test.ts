/** Benchmarks take parts of the library that no compiler looks up for them: each of them is there. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';

const FOLDER = join(ROOT, 'test/bench');

/** What a benchmark takes, and of which modules: `const { a, b } = await inside('lib/x.ts', …)`. */
const TAKEN = /const \{([^}]*)\}\s*=\s*await inside\(([^)]*)\)/;

const benchmarks = readdirSync(FOLDER).flatMap((file) => {
  const [, names = '', modules = ''] = TAKEN.exec(readFileSync(join(FOLDER, file), 'utf8')) ?? [];
  const taken = names.split(',').flatMap((name) => name.trim().split(/ *: */)[0] || []);
  return modules === '' ? [] : [{ file, taken, modules: modules.match(/lib\/[^']*/g) ?? [] }];
});

it('are looked at', () => expect(benchmarks.length).toBeGreaterThan(3));

it.each(benchmarks)('$file finds all that it takes', async ({ taken, modules }) => {
  const found = await Promise.all(modules.map((module) => import(join(ROOT, module))));
  const names = found.flatMap((module) => Object.keys(module));
  expect(taken.filter((name) => !names.includes(name))).toEqual([]);
  expect(taken.length).toBeGreaterThan(0);
});
