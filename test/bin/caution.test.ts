/** The caution about chances: wherever one is read, in one wording; and no chance is called exact. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { CAUTION } from '../../lib/index.js';
import { answer, COVE, COVE_FILES, folder, ROOT, run } from '../support/cli.js';
import { HAS_TERMINAL, openTerminal } from '../support/terminal.js';

const MEET = ['--meet', COVE];
const place = folder(...COVE_FILES);
afterAll(() => place.clean());

const HISTORY = join(place.path, 'results.csv');
writeFileSync(
  HISTORY,
  [
    'gymnast,discipline,date,competition,round,apparatus,score',
    ...['ann', 'bea', 'cleo', 'dot'].flatMap((who, i) =>
      ['VT', 'UB', 'BB', 'FX'].map(
        (on) => `${who},wag,2024-05-01,Quay Cup,all-around final,${on},1${3 - (i >> 1)}.${i}`,
      ),
    ),
  ].join('\n'),
);

/** Every command that answers with a chance. */
const ASKED: readonly (readonly string[])[] = [
  ['needs', 'brondt', ...MEET],
  ['needs', 'brondt', '--chance', ...MEET],
  ['outcomes', 'brondt', ...MEET],
  ['chances', ...MEET],
  ['chances', 'brondt', ...MEET],
  ['chances', '--sample', '500', '--seed', '1', ...MEET],
  ['suppose', 'brondt', 'BB', '14.9', ...MEET],
  ['story', '--meet', 'docs/examples/tenths.yaml'],
  ['claim', 'brondt', ...MEET],
  ['claim', '--behind', '0.8', '--remaining', '1'],
  ['backtest', HISTORY],
];

const titleOf = (args: readonly string[]) => args.join(' ').replace(HISTORY, 'results.csv');
const asOneLine = (text: string) => text.replace(/\s+/g, ' ');
const count = (text: string) => asOneLine(text).split(CAUTION).length - 1;

describe('the caution', () => {
  it.each(ASKED.map((args) => [titleOf(args), args] as const))(
    'stands once under %s, and no chance is exact',
    (_, args) => {
      const { out, code } = run(args);
      expect(code).toBe(0);
      expect(count(out)).toBe(1);
      expect(out).not.toMatch(/\bexact/i);
    },
  );

  it.each(
    [...ASKED, ['needs', ...MEET], ['graphics', ...MEET]].map((args) => [titleOf(args), args]),
  )('is the last key of the answer: %s', (_, args) => {
    const value = answer(args as string[]);
    expect(Object.keys(value).at(-1)).toBe('caution');
    expect(value.caution).toBe(CAUTION);
  });

  it.each([
    'record',
    'needs',
    'outcomes',
    'chances',
    'suppose',
    'graphics',
    'claim',
    'live',
    'story',
    'backtest',
  ])('stands in the help of %s', (command) => {
    const { out } = run(['help', command]);
    expect(out.split('\n')).toContain(CAUTION);
    expect(out).not.toMatch(/\bexact/i);
  });

  it('stands in the help of the whole', () => {
    expect(count(run(['help']).out)).toBe(1);
  });

  it.runIf(HAS_TERMINAL)('is said when an evening opens', async () => {
    const desk = await openTerminal(['live', '--meet', join(place.path, 'cove.yaml')], place.path);
    try {
      expect(count(await desk.shows('A score:'))).toBe(1);
    } finally {
      desk.kill();
      await desk.ended;
    }
  });

  it('is written once, and nobody says it in other words', () => {
    const files = ['lib', 'bin', 'docs'].flatMap((room) =>
      readdirSync(join(ROOT, room), { recursive: true, encoding: 'utf8' })
        .filter((path) => /\.(ts|md)$/.test(path))
        .map((path) => join(room, path)),
    );
    const saying = [...files, 'README.md'].filter((path) => {
      const text = asOneLine(readFileSync(join(ROOT, path), 'utf8'));
      // What is left once the caution is taken out.
      if (/betting|unofficial/i.test(text.replaceAll(CAUTION, ''))) throw new Error(path);
      return text.includes(CAUTION);
    });
    expect(saying.filter((path) => path.endsWith('.ts'))).toEqual([join('lib', 'caution.ts')]);
  });
});
