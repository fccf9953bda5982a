/** The package as it is installed, the command and the library by import and by require, on the versions of Node that are supported. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Packed, type Project, pack, project } from '../package/stranger.js';

const COMMAND = 'node_modules/lastrotation/dist/cli/lastrotation.cjs';
const MEET = 'node_modules/lastrotation/docs/examples/harbour.yaml';
const WIN = `needs(readMeetFiles('${MEET}').meet, 'brondt', { for: 'win' }).needs[0].ahead`;

let packed: Packed;
let stranger: Project;

/** As it is installed: packed, in a folder with nothing else in it. */
beforeAll(async () => {
  packed = await pack();
  stranger = await project(packed, {});
});
afterAll(() => {
  stranger?.clean();
});

/** The npm package `node` brings its program; null where it cannot be had. */
function program(version: string): string | null {
  const which = ['-p', 'process.execPath'];
  const found = spawnSync('npx', ['-y', '-p', `node@${version}`, 'node', ...which], {
    encoding: 'utf8',
  });
  return found.status === 0 ? found.stdout.trim() : null;
}

describe.each(['20.0.0', '20', '22', '24', '25'])('Node %s', (version) => {
  it('says what she needs, twice: also with what it compiled the first time', (context) => {
    context.skip(stranger.unreachable !== null, stranger.unreachable ?? '');
    const node = program(version);
    if (node === null) {
      console.warn(`Skipped: Node ${version} cannot be had here.`);
      context.skip();
      return;
    }
    const cache = mkdtempSync(join(tmpdir(), 'lastrotation-versions-'));
    const env = { ...process.env, XDG_CACHE_HOME: cache, NODE_DISABLE_COMPILE_CACHE: undefined };
    const run = (...args: readonly string[]) => {
      const { status, stdout, stderr } = spawnSync(node, args, {
        cwd: stranger.path,
        env,
        encoding: 'utf8',
      });
      return { status, out: stdout, err: stderr };
    };
    try {
      const asked = [COMMAND, 'needs', 'brondt', '--for', 'win', '--meet', MEET, '--json'];
      const first = run(...asked);
      expect(first).toMatchObject({ status: 0, err: '' });
      expect(JSON.parse(first.out).needs[0].ahead).toBe('14.668');
      expect(readdirSync(join(cache, 'lastrotation'))).toHaveLength(1);
      expect(run(...asked)).toEqual(first);
      const imports = `import { needs } from 'lastrotation'; import { readMeetFiles } from 'lastrotation/files'; console.log(${WIN})`;
      expect(run('--input-type=module', '-e', imports)).toMatchObject({ out: '14668\n' });
      const requires = `const { needs } = require('lastrotation'); const { readMeetFiles } = require('lastrotation/files'); console.log(${WIN})`;
      expect(run('-e', requires)).toMatchObject({ status: 0, out: '14668\n' });
    } finally {
      rmSync(cache, { recursive: true, force: true });
    }
  });
});
