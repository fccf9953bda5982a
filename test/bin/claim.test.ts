/** `claim` and `ranges` as a user runs them. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answer, COVE, folder, run } from '../support/cli.js';

const HERE = ['--meet', COVE];

interface Answer {
  readonly chance: number;
  readonly verdict: string | null;
  readonly stresses: readonly { readonly what: string; readonly chance: number }[];
}

describe('claim', () => {
  it('answers with the keys of the contract, and the chance of `chances`', () => {
    const said = answer<Answer>(['claim', 'brondt', '--phrase', 'almost impossible', ...HERE]);
    for (const key of [
      'chance',
      'chanceLow',
      'chanceHigh',
      'bound',
      'scale',
      'term',
      'phrase',
      'verdict',
      'stresses',
      'precedent',
    ]) {
      expect(said).toHaveProperty(key);
    }
    const field = answer<{ contenders: { id: string; win: number; medal: number }[] }>([
      'chances',
      ...HERE,
    ]);
    const brondt = field.contenders.find((c) => c.id === 'brondt');
    expect(said.chance).toBe(brondt?.win);
    expect(said.verdict).toBe('overstated');
    const medal = answer<Answer>(['claim', 'brondt', '--to', 'medal', ...HERE]);
    expect(medal.chance).toBe(brondt?.medal);
    expect(medal.verdict).toBeNull();
  });

  it('says the verdict in a sentence, at 80 columns too', () => {
    const asked = ['claim', 'brondt', '--phrase', 'almost impossible to make up', ...HERE];
    const { out, code } = run(asked, { env: { COLUMNS: '80' } });
    expect(code).toBe(0);
    expect(out).toContain('Ida Brondt to win (all-around)');
    expect(out.replaceAll('\n', ' ')).toMatch(
      /“almost impossible to make up” is overstated: it means 0 to 1%, but the chance is [\d.]+%, and nothing that was tried brings it below [\d.]+%\./,
    );
    expect(out).toMatch(/almost impossible +0 to 1% +← the phrase/);
    expect(out).toContain('no basis for betting');
    expect(Math.max(...out.split('\n').map((l) => l.length))).toBeLessThanOrEqual(80);
  });

  it('says from where to where a stated number is taken', () => {
    const { out } = run(['claim', 'brondt', '--phrase', 'a 5% chance', ...HERE]);
    expect(out.replaceAll('\n', ' ')).toContain(
      '“5% chance” is taken to mean 5%, give or take: from 3.4 to 7.3%, where the odds are half as long again or as short.',
    );
  });

  it('about two equals says that it bounds the chance to win', () => {
    const asked = ['claim', '--behind', '0.8', '--remaining', '2', '--scoring', 'ten'];
    expect(answer(asked)).toMatchObject({ bound: 'upper', contest: null, scale: 'efsa' });
    const { out } = run(asked);
    expect(out).toContain('To win, the others must be beaten too');
    expect(out.replaceAll('\n', ' ')).toContain(
      'The chance is worked out from what is usual on each apparatus.',
    );
  });

  it.each([
    [[], 2, /a claim needs a name/],
    [['--behind', '0.8'], 2, /a claim needs a name/],
    [['--behind', '0.8', '--remaining', 'two'], 2, /"two" is not a whole number\n.*such as 2$/m],
    [['--behind', '0.8', '--remaining', ''], 2, /--remaining: "" is not a whole number/],
    [['--behind', '0.8', '--remaining', '9'], 2, /nobody has 9 routines to come/],
    [['brondt', '--behind', '0.8', ...HERE], 2, /--behind is about two equals/],
    [['brondt', '--phrase', 'gutsy', ...HERE], 2, /use one of its words: “?almost impossible/],
    [['brondt', '--scale', 'mine', ...HERE], 2, /efsa/],
    [['nobody', ...HERE], 1, /nobody/],
    [['brondt', '--to', 'beat:nobody', ...HERE], 1, /nobody/],
  ])('%j ends with %i', (args, code, words) => {
    const ran = run(['claim', ...args]);
    expect(ran).toMatchObject({ code, out: '' });
    expect(ran.err).toMatch(words);
    expect(ran.err.trimEnd().split('\n').length).toBeLessThanOrEqual(2);
  });
});

describe('the rows of a history', () => {
  const columns = 'gymnast,discipline,date,competition,round,apparatus,score,rotation';
  const scores = ['ann', 'bea', 'cleo', 'dot'].flatMap((gymnast, g) =>
    ['VT', 'UB', 'BB', 'FX'].map((code, k) => {
      const rotation = gymnast === 'ann' && code === 'UB' ? 'second' : String(((g + k) % 4) + 1);
      return `${gymnast},wag,2026-05-01,May Cup,all-around final,${code},1${3 - (g % 2)}.5,${rotation}`;
    }),
  );
  const text = [columns, ...scores, scores[0], 'eve,wag,2026-05-01,May Cup,final,VT,13'].join('\n');
  let place: ReturnType<typeof folder>;
  beforeAll(() => {
    place = folder();
    writeFileSync(join(place.path, 'results.csv'), text);
  });
  afterAll(() => place.clean());

  it.each([
    [['backtest', 'results.csv']],
    [['claim', '--behind', '1', '--remaining', '1', '--history', 'results.csv']],
  ])('%j says which were left out, and what could not be read', (args) => {
    const { out } = run(args, { cwd: place.path });
    expect(out).toContain('17 rows were used, 1 left out:');
    expect(out).toContain('line 18: the same routine as line 2');
    expect(out).toContain('Note, line 3: "second" is not a rotation, and is ignored');
  });

  it('for programs too', () => {
    const said = answer(['backtest', 'results.csv'], { cwd: place.path });
    expect(said).toMatchObject({ used: 17, leftOut: [{ line: 18 }], notes: [{ line: 3 }] });
  });
});

describe('ranges', () => {
  let place: ReturnType<typeof folder>;
  const HISTORY = `gymnast,discipline,date,competition,round,apparatus,score,d,e,nd
quill,wag,2026-03-01,Spring Cup,final,VT,13.500,5.000,8.500,0
quill,wag,2026-04-01,April Cup,final,VT,13.600,5.000,8.600,0
quill,wag,2026-05-01,May Cup,final,VT,13.600,5.000,8.500,0
harrow,wag,2026-05-01,May Cup,final,BB,12.100,5.000,7.100,0
harrow,wag,2026-06-01,June Cup,final,BB,0.000,5.000,0.000,0
`;
  beforeAll(() => {
    place = folder();
    writeFileSync(join(place.path, 'results.csv'), HISTORY);
  });
  afterAll(() => place.clean());
  const here = (args: string[]) => run(['ranges', ...args], { cwd: place.path });

  it('answers with the keys of the contract', () => {
    const said = answer<{ gymnasts: unknown[]; leftOut: unknown[] }>(['ranges', 'results.csv'], {
      cwd: place.path,
    });
    expect(said.gymnasts).toMatchObject([
      { id: 'quill', discipline: 'wag', ranges: { VT: { d: '5.000', results: 2 } } },
      { id: 'harrow', discipline: 'wag', ranges: { BB: { results: 1 } } },
    ]);
    expect(said.leftOut).toEqual([
      { line: 4, why: 'D 5.000 + E 8.500 - ND 0.000 is 13.500, not 13.600' },
      { line: 6, why: '0.000 says nothing for a range: an invalid vault, or a routine broken off' },
    ]);
  });

  it('prints YAML that can be pasted, and what was left out', () => {
    const { out } = here(['results.csv', 'quill']);
    expect(out).toMatch(/^quill:\n {2}VT: \{ low: [\d.]+, likely: 13\.\d+, high: /m);
    expect(out).toContain('3 rows were used, 2 left out:');
    expect(out).toContain('line 4: D 5.000 + E 8.500');
    expect(out).not.toContain('harrow:');
  });

  it('writes a file that a meet can name, over its own, never over another', () => {
    expect(here(['results.csv', '--into', 'r.yaml']).code).toBe(0);
    expect(here(['results.csv', 'quill', '--into', 'r.yaml']).code).toBe(0);
    const written = readFileSync(join(place.path, 'r.yaml'), 'utf8');
    expect(written).toContain('quill:');
    expect(written).not.toContain('harrow:');
    writeFileSync(
      join(place.path, 'meet.yaml'),
      'discipline: wag\nscoring: open\nranges: r.yaml\ncontests: [{ kind: apparatus, on: VT }]\ngymnasts: [{ id: quill }]\n',
    );
    const sheet = answer<{ range: { from: string } }>(['needs', 'quill'], { cwd: place.path });
    expect(sheet.range.from).toBe('file');
    writeFileSync(join(place.path, 'mine.yaml'), 'quill: { VT: { low: 13 } }\n');
    const refused = here(['results.csv', '--into', 'mine.yaml']);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toContain('was not made by `ranges`');
    expect(readFileSync(join(place.path, 'mine.yaml'), 'utf8')).toContain('low: 13 ');
    const lost = here(['results.csv', '--into', 'nowhere/r.yaml']);
    expect(lost).toMatchObject({ code: 3, out: '' });
    expect(existsSync(join(place.path, 'nowhere'))).toBe(false);
  });

  it.each([
    [['missing.csv'], 2, /no such file/],
    [['results.csv', 'quil1'], 1, /did you mean `quill`/],
    [['results.csv', '--before', '2020-01-01'], 1, /no results before/],
    [['results.csv', '--before', 'soon'], 2, /--before/],
    [['meet.yaml'], 2, /has no columns gymnast, discipline/],
  ])('%j ends with %i', (args, code, words) => {
    const ran = here(args);
    expect(ran).toMatchObject({ code, out: '' });
    expect(ran.err).toMatch(words);
    expect(ran.err.trimEnd().split('\n').length).toBeLessThanOrEqual(2);
  });
});

describe('backtest', () => {
  const place = folder();
  afterAll(() => place.clean());

  it('says what a seed is', () => {
    const row = 'quill,wag,2026-03-01,Spring Cup,final,VT,13.500';
    const head = 'gymnast,discipline,date,competition,round,apparatus,score';
    writeFileSync(join(place.path, 'results.csv'), `${head}\n${row}\n`);
    const ran = run(['backtest', 'results.csv', '--seed', 'abc'], { cwd: place.path });
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err.trimEnd().split('\n')).toEqual([
      expect.stringContaining('--seed: "abc" is not a whole number'),
      '  a seed is any whole number, such as 7',
    ]);
  });
});
