/** Every example in the public doc comments compiles, runs, and gives what it says. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EXAMPLES, ROOT } from '../support/cli.js';
import { DOORS, examplesOf, programOf } from './examples.js';

interface Found {
  readonly at: string;
  readonly got: unknown;
  readonly wanted: unknown;
}

/** Puts the demo meet back before each example, and prints what was found at the end. */
const HARNESS = `
import { cpSync } from 'node:fs';
const found = [];
const plain = (value) => value === undefined ? 'undefined' : JSON.parse(JSON.stringify(value));
export const gives = (at, got, wanted) => found.push({ at, got: plain(got), wanted: plain(wanted) });
export async function refuses(at, ask, wanted) {
  try { await ask(); gives(at, 'no error', wanted); } catch (error) { gives(at, error.code, wanted); }
}
export async function run(examples) {
  for (const example of examples) { cpSync('before', '.', { recursive: true }); await example(); }
  process.stdout.write(JSON.stringify(found));
}
`;
const DECLARED = `
export function gives(at: string, got: unknown, wanted: unknown): void;
export function refuses(at: string, ask: () => Promise<unknown>, wanted: string): Promise<void>;
export function run(examples: readonly (() => Promise<void>)[]): Promise<void>;
`;
const OPTIONS = {
  target: 'es2022',
  lib: ['es2023'],
  types: [],
  module: 'nodenext',
  strict: true,
  exactOptionalPropertyTypes: true,
  noUncheckedIndexedAccess: true,
};

const TEXT = { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 } as const;

let place: string;
beforeAll(() => {
  place = mkdtempSync(join(tmpdir(), 'lastrotation-'));
  mkdirSync(join(place, 'node_modules'));
  symlinkSync(ROOT, join(place, 'node_modules', 'lastrotation'));
  for (const folder of ['before', '.']) {
    for (const file of ['harbour.yaml', 'harbour.scores.csv']) {
      cpSync(join(EXAMPLES, file), join(place, folder, file));
    }
  }
  writeFileSync(join(place, 'harness.mjs'), HARNESS);
  writeFileSync(join(place, 'harness.d.mts'), DECLARED);
  compile();
});
afterAll(() => rmSync(place, { recursive: true, force: true }));

const nameOf = (door: string) => door.replace('/', '-');

/** Both doors at once, since most of the time goes into what they have in common. */
function compile(): void {
  const programs = Object.entries(DOORS).map(([door, file]) => {
    const program = programOf(door as keyof typeof DOORS, examplesOf(file));
    writeFileSync(join(place, `${nameOf(door)}.mts`), program);
    return `${nameOf(door)}.mts`;
  });
  const project = { compilerOptions: OPTIONS, files: programs };
  writeFileSync(join(place, 'tsconfig.json'), JSON.stringify(project));
  const compiler = join(ROOT, 'node_modules/typescript/bin/tsc');
  try {
    execFileSync(process.execPath, [compiler, '-p', 'tsconfig.json'], { ...TEXT, cwd: place });
  } catch (error) {
    throw new Error((error as { stdout: string }).stdout);
  }
}

function ran(door: string): readonly Found[] {
  const printed = execFileSync(process.execPath, [`${nameOf(door)}.mjs`], { ...TEXT, cwd: place });
  return JSON.parse(printed) as readonly Found[];
}

describe.each(Object.keys(DOORS) as (keyof typeof DOORS)[])('%s', (door) => {
  const examples = examplesOf(DOORS[door]);

  it('has an example of everything', () => {
    expect(examples.length).toBeGreaterThan(10);
    expect(examples.filter((e) => e.code === null).map((e) => e.of)).toEqual([]);
  });

  it('says in each what comes of it', () => {
    expect(examples.filter((e) => !e.code?.includes('// → ')).map((e) => e.of)).toEqual([]);
  });

  it('compiles, and gives what the examples say', () => {
    const found = ran(door);
    expect(found.length).toBe(examples.flatMap((e) => e.code?.match(/\/\/ → /g) ?? []).length);
    expect(found.map(({ at, got }) => ({ at, is: got }))).toEqual(
      found.map(({ at, wanted }) => ({ at, is: wanted })),
    );
  });
});
