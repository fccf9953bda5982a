/** Installed into an empty JavaScript project. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ADA_TO_WIN, MEET, type Packed, type Project, pack, project } from './stranger.js';

let packed: Packed;
let stranger: Project;

beforeAll(async () => {
  packed = await pack();
  stranger = await project(packed, {});
}, 120_000);
beforeEach((context) => {
  context.skip(stranger.unreachable !== null, stranger.unreachable ?? '');
});
afterAll(() => stranger?.clean());

/** As it was before Node could require ES modules, where this Node can be told so. */
const WITHOUT_MODULES = ['--no-experimental-require-module'].filter((flag) =>
  process.allowedNodeEnvironmentFlags.has(flag),
);

/** Prints what Ada needs to win, from the text of the meet and from its file. */
const PROGRAM = `
  const meet = files.openMeet('meet.yaml');
  const sheet = library.needs(meet, 'ada', { for: 'win' });
  const [{ level, ahead, onGrid, mark }] = library.written('needs', sheet, meet.scoring.decimals).needs;
  console.log(JSON.stringify({ level, ahead, onGrid, mark: mark.id }));
`;

async function printed(name: string, text: string): Promise<unknown> {
  stranger.write(name, text);
  const ran = await stranger.run(process.execPath, name);
  expect(ran).toMatchObject({ code: 0, err: '' });
  return JSON.parse(ran.out);
}

describe('the library', () => {
  it('is imported by an ES module', async () => {
    const imports = `import * as library from 'lastrotation';
      import * as files from 'lastrotation/files';`;
    expect(await printed('program.mjs', imports + PROGRAM)).toEqual(ADA_TO_WIN);
  });

  it('is imported by CommonJS, which awaits it', async () => {
    const program = `(async () => {
      const library = await import('lastrotation');
      const files = await import('lastrotation/files');
      ${PROGRAM}
    })();`;
    expect(await printed('program.cjs', program)).toEqual(ADA_TO_WIN);
  });

  it('is required by CommonJS, also where Node cannot require an ES module', async () => {
    const requires = `const library = require('lastrotation');
      const files = require('lastrotation/files');`;
    stranger.write('required.cjs', requires + PROGRAM);
    const ran = await stranger.run(process.execPath, ...WITHOUT_MODULES, 'required.cjs');
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(ran.out)).toEqual(ADA_TO_WIN);
  });

  it('draws the page by require as by import', async () => {
    const draws = `const meet = files.openMeet('meet.yaml');
      const assets = JSON.parse(require('node:fs').readFileSync('node_modules/lastrotation/dist/page/assets.json', 'utf8'));
      console.log(JSON.stringify(library.page(meet, { assets })));`;
    const required = await printed(
      'drawn.cjs',
      `const library = require('lastrotation'); const files = require('lastrotation/files'); ${draws}`,
    );
    const imported = await printed(
      'drawn.mjs',
      `import { createRequire } from 'node:module'; import * as library from 'lastrotation';
       import * as files from 'lastrotation/files'; const require = createRequire(import.meta.url); ${draws}`,
    );
    expect(required).toEqual(imported);
  });

  it.each([
    [
      'import',
      'one.mjs',
      "import { LastRotationError } from 'lastrotation'; import { openMeet } from 'lastrotation/files';",
    ],
    [
      'require',
      'one.cjs',
      "const { LastRotationError } = require('lastrotation'); const { openMeet } = require('lastrotation/files');",
    ],
  ])('has one class of errors, whichever door they come through: %s', async (_, name, loads) => {
    const program = `${loads}
      try { openMeet('nowhere.yaml'); } catch (error) {
        console.log(JSON.stringify([error instanceof LastRotationError, error.constructor.name]));
      }`;
    expect(await printed(name, program)).toEqual([true, 'LastRotationError']);
  });

  it('has by require all that it has by import, under its name', async () => {
    const program = `import { createRequire } from 'node:module';
      const require = createRequire(import.meta.url);
      const told = (door) => Object.entries(door).map(([name, value]) =>
        [name, typeof value, typeof value === 'function' ? value.name : Object.keys(value)]).sort();
      const doors = {};
      for (const door of ['lastrotation', 'lastrotation/files'])
        doors[door] = { imported: told(await import(door)), required: told(require(door)) };
      console.log(JSON.stringify(doors));`;
    const doors = (await printed('all.mjs', program)) as Record<string, Record<string, string[][]>>;
    for (const { imported = [], required } of Object.values(doors)) {
      expect(imported.length).toBeGreaterThan(10);
      expect(required).toEqual(imported);
      // A trace names the function that was called, with a figure where both doors have one of that name.
      const renamed = imported.filter(
        ([name, type, own]) => type === 'function' && `${own}`.replace(/\d+$/, '') !== name,
      );
      expect(renamed).toEqual([]);
    }
  });

  it('lets nobody in by a back door', async () => {
    const program = `import('lastrotation/dist/lib/score.js').then(
      () => console.log('"open"'),
      (error) => console.log(JSON.stringify(error.code)),
    );`;
    expect(await printed('back.mjs', program)).toBe('ERR_PACKAGE_PATH_NOT_EXPORTED');
  });
});

describe('the command', () => {
  const npx = (...args: readonly string[]) => stranger.run('npx', 'lastrotation', ...args);
  const linked = (...args: readonly string[]) =>
    stranger.run(join(stranger.path, 'node_modules', '.bin', 'lastrotation'), ...args);

  it('says how it is used, and which version it is', async () => {
    const help = await npx('--help');
    expect(help).toMatchObject({ code: 0, err: '' });
    expect(help.out).toMatch(/^Usage: lastrotation /);
    const { version } = packed.manifest;
    expect(await linked('--version')).toEqual({ code: 0, out: `${version}\n`, err: '' });
  });

  it('says what she needs', async () => {
    const sheet = await npx('needs', 'ada');
    expect(sheet).toMatchObject({ code: 0, err: '' });
    expect(sheet.out).toContain(ADA_TO_WIN.onGrid);
    const { out } = await linked('needs', 'ada', '--for', 'win', '--json');
    const { level, ahead, onGrid, mark } = JSON.parse(out).needs[0];
    expect({ level, ahead, onGrid, mark: mark.id }).toEqual(ADA_TO_WIN);
  });

  it('records a score', async () => {
    stranger.write('evening.yaml', MEET.yaml);
    const recorded = await linked('record', 'ada', 'FX', '13.533', '--meet', 'evening.yaml');
    expect(recorded).toMatchObject({ code: 0, err: '' });
    const log = readFileSync(join(stranger.path, 'evening.scores.csv'), 'utf8');
    expect(log).toMatch(/^ada,FX,13\.533,/m);
  });

  it('finds the example meets among the docs', async () => {
    const meet = 'node_modules/lastrotation/docs/examples/harbour.yaml';
    const board = await linked('standings', '--meet', meet);
    expect(board).toMatchObject({ code: 0, err: '' });
    expect(board.out).toContain('Brondt');
  });
});
