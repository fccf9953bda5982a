/** The codes that are listed are those that are used. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, expectTypeOf, it } from 'vitest';
import {
  ERROR_CODES,
  type ErrorCode,
  LastRotationError,
  PROBLEM_CODES,
  type Problem,
  type ProblemCode,
} from '../lib/index.js';
import { ROOT } from './support/cli.js';

const sources = ['lib', 'bin'].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && file !== 'codes.ts')
    .map((file) => readFileSync(join(ROOT, folder, file), 'utf8')),
);
const code = '[a-z0-9]+(?:-[a-z0-9]+)*';

/** What stands where a code is given: to the makers of errors and problems, or under `code`. */
function codesGiven(): ReadonlySet<string> {
  const places = [
    `\\b(?:badUsage|noAnswer|complaint|bad|refused)\\(\\s*(?:'(?:usage|writing)',\\s*)?'(${code})'`,
    `\\b(?:report|complain)\\([^'()]*'(?:error|warning|note)',\\s*'(${code})'`,
    `\\bcode: (?:[\\w?.]+ \\?\\? )?'(${code})'`,
  ];
  return new Set(
    places.flatMap((place) =>
      sources.flatMap((text) => [...text.matchAll(new RegExp(place, 'g'))].map((m) => m[1] ?? '')),
    ),
  );
}

it('every code that is given to an error or a problem is listed', () => {
  const given = codesGiven();
  expect(given.size).toBeGreaterThan(80);
  const listed: readonly string[] = ERROR_CODES;
  // What is wrong inside the command is no error of the library.
  expect([...given].filter((c) => !listed.includes(c) && c !== 'internal')).toEqual([]);
});

it('every code that is listed is given somewhere', () => {
  const isGiven = (c: string) => sources.some((text) => text.includes(`'${c}'`));
  expect(ERROR_CODES.filter((c) => !isGiven(c))).toEqual([]);
});

it('no code is listed twice, and every problem may become an error', () => {
  expect(new Set(ERROR_CODES).size).toBe(ERROR_CODES.length);
  expectTypeOf<ProblemCode>().toExtend<ErrorCode>();
  expect(PROBLEM_CODES.length).toBeLessThan(ERROR_CODES.length);
});

it('errors and problems have no other code, for the compiler', () => {
  expectTypeOf<LastRotationError['code']>().toEqualTypeOf<ErrorCode>();
  expectTypeOf<Problem['code']>().toEqualTypeOf<ProblemCode>();
  // @ts-expect-error: there is no such code
  expect(new LastRotationError('', { kind: 'usage', code: 'bad-luck' }).code).toBe('bad-luck');
});
