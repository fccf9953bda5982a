/**
 * The comments on what the two doors export. Everything has words: on itself, its members and its parameters; every
 * function has an example, and says with its code each error that the code behind it can throw. The pages of the
 * reference are those that the comments make now: npm run reference.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';

const REFERENCE = join(ROOT, 'docs/reference');

interface Exported {
  /** `lastrotation reports needs` */
  readonly name: string;
  /** `lib/needs/sheet.ts` */
  readonly from: string;
  readonly words: string;
  readonly tags: readonly (readonly [tag: string, text: string])[];
  readonly isFunction: boolean;
  readonly parameters: readonly string[];
  readonly members: readonly { readonly name: string; readonly words: string }[];
  /** Codes, each with the way from the export to where it is thrown. */
  readonly thrown: readonly (readonly [code: string, way: string])[];
}

/** The pages that the comments make, and what they are made from. */
const made = { pages: '', face: [] as readonly Exported[], functions: [] as readonly Exported[] };
let place: string;
beforeAll(() => {
  place = mkdtempSync(join(tmpdir(), 'lastrotation-reference-'));
  const [pages, face] = [join(place, 'pages'), join(place, 'face.json')];
  execFileSync(process.execPath, [join(ROOT, 'bin/build/reference/pages.mjs'), pages, face]);
  Object.assign(made, { pages, face: JSON.parse(readFileSync(face, 'utf8')) });
  made.functions = made.face.filter(({ isFunction }) => isFunction);
});
afterAll(() => rmSync(place, { recursive: true, force: true }));

const textsOf = ({ tags }: Exported, tag: string) =>
  tags.filter(([name]) => name === tag).map(([, text]) => text);

/** Words without the marks of a comment, in lower case: to see whether they say more than a name. */
const bare = (text: string) => text.replace(/[^a-z]/gi, '').toLowerCase();

/** Nothing, or the name again: `The id.` of `id`. */
function saysNothing(name: string, words: string): boolean {
  const said = bare(words.replace(/^(the|a|an|its|her) /i, ''));
  return said.length < 3 || said === bare(name);
}

it('finds the doors', () => {
  expect(made.functions.length).toBeGreaterThan(100);
  expect(made.face.flatMap(({ members }) => members).length).toBeGreaterThan(900);
  expect(made.face.map(({ name }) => name)).toContain('lastrotation reports needs');
});

describe('words', () => {
  it('on every export', () => {
    const silent = made.face.filter(({ name, words }) =>
      saysNothing(name.split(' ').at(-1) ?? '', words),
    );
    expect(silent.map(({ from, name }) => `${from}: ${name}`)).toEqual([]);
  });

  it('on every member', () => {
    const silent = made.face.flatMap(({ from, name, members }) =>
      members
        .filter((member) => saysNothing(member.name, member.words))
        .map((member) => `${from}: ${name}.${member.name}`),
    );
    expect(silent).toEqual([]);
  });

  it('on every parameter, by its name where it has one', () => {
    const wrong = made.functions.flatMap((one) => {
      const said = textsOf(one, 'param').map((text) => /^(\S+) - \S/.exec(text)?.[1] ?? '');
      const isTold = one.parameters.map((name, i) => /^[{[]/.test(name) || said[i] === name);
      const isRight = said.length === one.parameters.length && isTold.every(Boolean);
      return isRight ? [] : [`${one.from}: ${one.name}(${one.parameters}) but ${said}`];
    });
    expect(wrong).toEqual([]);
  });
});

describe('every function', () => {
  it('has an example', () => {
    const without = made.functions.filter((one) => textsOf(one, 'example').length === 0);
    expect(without.map(({ from, name }) => `${from}: ${name}`)).toEqual([]);
  });

  it('says the code of every error it can throw, and of no other', () => {
    const codesSaid = (one: Exported) =>
      textsOf(one, 'throws').flatMap((text) => {
        const [codes] = text.replace(/\s*\([^)]*\)/g, '').split(': ');
        return codes?.replaceAll('`', '').split(/,\s*/) ?? [];
      });
    const said = made.functions.map((one) => [one.name, codesSaid(one).sort()]);
    const thrown = made.functions.map(({ name, thrown }) => [
      name,
      thrown.map(([code]) => code).sort(),
    ]);
    expect(said).toEqual(thrown);
  });
});

describe('the pages of the reference', () => {
  it('are as the comments have them', () => {
    const now = pagesIn(made.pages);
    const kept = pagesIn(REFERENCE);
    expect(Object.keys(kept)).toEqual(Object.keys(now));
    const stale = Object.keys(now).filter((file) => now[file] !== kept[file]);
    expect(stale).toEqual([]);
    expect(Object.keys(now).length).toBeGreaterThan(300);
  });

  it('link to nothing that is not there', () => {
    const broken = Object.entries(pagesIn(REFERENCE)).flatMap(([file, text]) =>
      [...text.matchAll(/\]\(([^)#\s]+)/g)]
        .map(([, link = '']) => link)
        .filter((link) => !/^https?:/.test(link))
        .filter(
          (link) => !statSync(join(REFERENCE, dirname(file), link), { throwIfNoEntry: false }),
        )
        .map((link) => `${file}: ${link}`),
    );
    expect(broken).toEqual([]);
  });
});

function pagesIn(folder: string): Record<string, string> {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  const pages = files.filter((file) => statSync(join(folder, file)).isFile()).sort();
  return Object.fromEntries(pages.map((file) => [file, readFileSync(join(folder, file), 'utf8')]));
}
