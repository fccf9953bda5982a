/**
 * Everything the two doors export has words: on itself, its members and its parameters; every function
 * has an example, and says with its code each error that the code behind it can throw.
 */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';

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

const face = JSON.parse(
  execFileSync(process.execPath, [join(ROOT, 'bin/build/reference/face.mjs')], {
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  }),
) as readonly Exported[];
const functions = face.filter(({ isFunction }) => isFunction);

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
  expect(functions.length).toBeGreaterThan(100);
  expect(face.flatMap(({ members }) => members).length).toBeGreaterThan(900);
  expect(face.map(({ name }) => name)).toContain('lastrotation reports needs');
});

describe('words', () => {
  it('on every export', () => {
    const silent = face.filter(({ name, words }) =>
      saysNothing(name.split(' ').at(-1) ?? '', words),
    );
    expect(silent.map(({ from, name }) => `${from}: ${name}`)).toEqual([]);
  });

  it('on every member', () => {
    const silent = face.flatMap(({ from, name, members }) =>
      members
        .filter((member) => saysNothing(member.name, member.words))
        .map((member) => `${from}: ${name}.${member.name}`),
    );
    expect(silent).toEqual([]);
  });

  it('on every parameter, by its name where it has one', () => {
    const wrong = functions.flatMap((one) => {
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
    const without = functions.filter((one) => textsOf(one, 'example').length === 0);
    expect(without.map(({ from, name }) => `${from}: ${name}`)).toEqual([]);
  });

  it('says the code of every error it can throw, and of no other', () => {
    const codesSaid = (one: Exported) =>
      textsOf(one, 'throws').flatMap((text) => {
        const [codes] = text.replace(/\s*\([^)]*\)/g, '').split(': ');
        return codes?.replaceAll('`', '').split(/,\s*/) ?? [];
      });
    const said = functions.map((one) => [one.name, codesSaid(one).sort()]);
    const thrown = functions.map(({ name, thrown }) => [name, thrown.map(([code]) => code).sort()]);
    expect(said).toEqual(thrown);
  });
});
