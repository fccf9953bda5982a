/** Tab in a shell: what may come next, from the command and from the meet at hand. */
import { spawnSync } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COVE_FILES, folder, run } from '../support/cli.js';
import { hasShell, openShell, shellEnv } from '../support/shell.js';
import { HAS_TERMINAL } from '../support/terminal.js';

let place: ReturnType<typeof folder>;
beforeAll(() => {
  place = folder(...COVE_FILES, 'finals.yaml', 'team.yaml');
});
afterAll(() => place.clean());

/** What is offered for a line, the last word unfinished, and how the shell is to go on. */
function offered(words: readonly string[], env: Record<string, string> = {}) {
  const at = { cwd: place.path, env: { LASTROTATION_MEET: 'cove.yaml', ...env } };
  const { code, out, err } = run(['complete', '--', ...words], at);
  expect([code, err]).toEqual([0, '']);
  const lines = out.trimEnd().split('\n');
  return { how: lines.at(-1), words: lines.slice(0, -1).map((line) => line.split('\t')[0]) };
}

describe('what is offered', () => {
  it.each<[words: string[], some: string[]]>([
    [['st'], ['standings', 'story']],
    [
      ['needs', 'bro'],
      ['brondt', 'bronze'],
    ],
    [['needs', 'Bro'], ['Brondt']],
    [['needs', 'Wr'], ['Wren']],
    [['needs', 'brondt', 'be'], ['beam']],
    [['outcomes', 'brondt', 'U'], ['UB']],
    [['record', 'brondt', 'fl'], ['floor']],
    [
      ['record', 'brondt', 'floor', 'D'],
      ['DNS', 'DNF'],
    ],
    [['standings', '--contest', 'a'], ['all-around']],
    [['standings', '--contest=be'], ['beam']],
    [['needs', 'brondt', '--on', 'v'], ['vault']],
    [
      ['needs', '--w'],
      ['--why', '--when'],
    ],
    [
      ['needs', '--when', ''],
      ['now', 'rotation', 'end'],
    ],
    [['needs', '--no'], ['--no-color']],
    [['graphics', '--kind', 'me'], ['medals']],
    [
      ['suppose', 'brondt', 'floor', 'li'],
      ['lindkvarn', 'likely'],
    ],
    [
      ['claim', '--scale', 'i'],
      ['ipcc', 'icd203'],
    ],
    [
      ['completion', ''],
      ['bash', 'zsh', 'fish'],
    ],
    [
      ['standings', '--meet', 'finals.yaml', '--contest', 'V'],
      ['VT', 'VT2'],
    ],
    [['standings', '--meet=team.yaml', '--contest', 't'], ['team']],
  ])('%j: %j', (words, some) => {
    expect(offered(words)).toEqual({ how: ':4', words: some });
  });

  it('every command but those that are hidden', () => {
    const all = offered(['']).words;
    expect(all).toEqual(expect.arrayContaining(['new', 'record', 'live', 'completion', 'help']));
    expect(all).not.toEqual(expect.arrayContaining(['complete']));
    expect(all).not.toContain('captions');
    expect(new Set(all).size).toBe(all.length);
  });

  it.each([[['needs', '--meet', '']], [['new', 'l']], [['story', '--svg', '']], [['ranges', '']]])(
    'files for %j',
    (words) => {
      expect(offered(words)).toEqual({ how: ':0', words: [] });
    },
  );

  it('the meet is the one of the line, of the environment, or meet.yaml', () => {
    const named = (env: Record<string, string>, ...more: string[]) =>
      offered(['needs', ...more, 'kur'], env).words;
    expect(named({})).toEqual([]);
    expect(named({}, '--meet', 'finals.yaml')).toEqual(['kuroshimane']);
    expect(named({ LASTROTATION_MEET: 'finals.yaml' })).toEqual(['kuroshimane']);
  });

  it('of a meet that cannot be read only what every meet has, without a word', () => {
    writeFileSync(join(place.path, 'broken.yaml'), 'gymnasts: [{ id: "');
    for (const file of ['nowhere.yaml', 'broken.yaml']) {
      expect(offered(['needs', '--meet', file, 'g']).words).toEqual(['gold']);
      expect(offered(['record', '--meet', file, 'bro'])).toEqual({ how: ':4', words: [] });
    }
  });

  it('of a meet that is not sound whoever can be read', () => {
    const text =
      'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: ann }, { id: bea }]\n';
    writeFileSync(join(place.path, 'unsound.yaml'), text);
    expect(offered(['needs', '--meet', 'unsound.yaml', 'be']).words).toEqual(['bea', 'beam']);
  });

  it('nothing that a shell would not take as one plain word', () => {
    const ids = ['a b', 'a$(touch x)', 'a`touch x`', "a'", 'a;touch x', 'a.b-c_1', 'aé'];
    const list = ids.map((id) => `  - { id: ${JSON.stringify(id)}, name: Some Body }`).join('\n');
    writeFileSync(
      join(place.path, 'odd.yaml'),
      `discipline: wag\nscoring: open\ngymnasts:\n${list}\n`,
    );
    const { words } = offered(['needs', '--meet', 'odd.yaml', 'a']);
    expect(words).toEqual(['a.b-c_1', 'aé', 'advance']);
  });
});

/** In one line, so that a shell reads nothing by halves. */
function scriptIn(shell: string): string {
  const file = join(place.path, `script.${shell}`);
  writeFileSync(file, run(['completion', shell]).out);
  return file;
}

const withoutShell = (name: string) => {
  const isThere = hasShell(name) && HAS_TERMINAL;
  if (!isThere) console.warn(`${name} is not there: what Tab does in it is not tried`);
  return !isThere;
};

describe.skipIf(withoutShell('bash'))('bash', () => {
  it('completes ids, values and files', async () => {
    const env = shellEnv(place.path, { PS1: '> ', LASTROTATION_MEET: 'cove.yaml' });
    const shell = openShell(['bash', '--norc', '--noprofile', '-i'], place.path, env);
    await shell.press(`bind 'set bell-style none'; . ${scriptIn('bash')}; echo re''ady\r`, 'ready');
    await shell.press('lastrotation outcomes tanak\t', 'tanakura ');
    await shell.press('\u0015lastrotation standings --contest=bea\t', '--contest=beam ');
    await shell.press('\u0015lastrotation needs --meet fina\t', 'finals.yaml ');
    const list = await shell.press('\u0015lastrotation st\t\t', 'story');
    expect(list).toContain('standings');
    await shell.end();
  });

  it('runs nothing of what is typed, nor of what a meet file holds', async () => {
    const text =
      'discipline: wag\nscoring: open\ngymnasts: [{ id: "zz$(touch ran)" }, { id: zzz }]\n';
    writeFileSync(join(place.path, 'foreign.yaml'), text);
    const env = shellEnv(place.path, { PS1: '> ', LASTROTATION_MEET: 'foreign.yaml' });
    const shell = openShell(['bash', '--norc', '--noprofile', '-i'], place.path, env);
    await shell.press(`. ${scriptIn('bash')}; echo re''ady\r`, 'ready');
    await shell.press('lastrotation needs zz\t', 'zzz ');
    await shell.press('\u0015lastrotation needs $(touch ran) zz\t', 'zzz ');
    expect(existsSync(join(place.path, 'ran'))).toBe(false);
    await shell.end();
  });
});

describe.skipIf(withoutShell('zsh'))('zsh', () => {
  it('completes ids and values, with what they stand for', async () => {
    const env = shellEnv(place.path, { PS1: '> ', LASTROTATION_MEET: 'cove.yaml' });
    const shell = openShell(['zsh', '-f', '-i'], place.path, env);
    const begin = `autoload -Uz compinit; compinit -u -D; . ${scriptIn('zsh')}; echo re''ady\r`;
    await shell.press(begin, 'ready');
    await shell.press('lastrotation outcomes tanak\t', 'ura ');
    const list = await shell.press('\u0015lastrotation needs br\t\t', 'Ida Brondt');
    expect(list).toContain('bronze');
    await shell.press('\u0015lastrotation needs --meet fina\t', 'ls.yaml ');
    await shell.end();
  });
});

describe.skipIf(withoutShell('fish'))('fish', () => {
  const asked = (line: string) =>
    spawnSync('fish', ['--no-config', '-c', `source ${scriptIn('fish')}; complete -C '${line}'`], {
      cwd: place.path,
      env: shellEnv(place.path, { LASTROTATION_MEET: 'cove.yaml' }),
      encoding: 'utf8',
    }).stdout.trimEnd();

  it('completes ids and values, with what they stand for', () => {
    expect(asked('lastrotation outcomes tanak')).toBe('tanakura\tSuzu Tanakura');
    expect(asked('lastrotation standings --contest=bea')).toBe('--contest=beam\tBB');
    expect(asked('lastrotation needs --meet fina')).toContain('finals.yaml');
    expect(
      asked('lastrotation st')
        .split('\n')
        .map((l) => l.split('\t')[0]),
    ).toEqual(['standings', 'story']);
  });
});
