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
afterAll(() => {
  packed?.clean();
  stranger?.clean();
});

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

  it('is required by CommonJS where Node can', async (context) => {
    const can = 'require_module' in process.features && process.features.require_module === true;
    context.skip(!can, `Node ${process.version} cannot require an ES module`);
    const requires = `const library = require('lastrotation');
      const files = require('lastrotation/files');`;
    expect(await printed('required.cjs', requires + PROGRAM)).toEqual(ADA_TO_WIN);
  });

  it('has one class of errors, whichever door they come through', async () => {
    const program = `import { LastRotationError } from 'lastrotation';
      import { openMeet } from 'lastrotation/files';
      try { openMeet('nowhere.yaml'); } catch (error) {
        console.log(error instanceof LastRotationError);
      }`;
    expect(await printed('error.mjs', program)).toBe(true);
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
