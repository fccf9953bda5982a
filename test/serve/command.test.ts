/** The command `serve` as built: what it prints, how it ends, and that a kill costs nobody a score. */
import { appendFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { COVE_FILES, folder, run } from '../support/cli.js';
import { ask, read, type Said, servedByCommand } from '../support/serving.js';
import { until } from '../support/until.js';

let place: ReturnType<typeof folder>;
let meet: string;
const running: Awaited<ReturnType<typeof servedByCommand>>[] = [];
beforeEach(() => {
  place = folder(...COVE_FILES);
  meet = join(place.path, 'cove.yaml');
});
afterEach(() => {
  for (const one of running.splice(0)) one.child.kill('SIGKILL');
  place.clean();
});

async function served(...args: string[]) {
  const one = await servedByCommand(meet, ...args);
  running.push(one);
  return one;
}

const score = (i: number) =>
  appendFileSync(
    join(place.path, 'cove.scores.csv'),
    `brondt,BB,13.${String(i).padStart(3, '0')},,,,,,\n`,
  );

describe('serve', () => {
  it('says on one line where it is, answers there, and ends at once when it is asked to', async () => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      const { said, address, child, ended } = await served();
      expect(said()).toMatch(
        /^Open http:\/\/127\.0\.0\.1:\d+\/ in a browser\. Ctrl-C ends it\.\n$/,
      );
      const page = await ask(address, '/');
      expect(page.headers['content-type']).toBe('text/html; charset=UTF-8');
      expect(page.text).toContain('Suzu Tanakura');
      const stream = read(address);
      await until(() => stream.events().length === 1, stream.text);
      child.kill(signal);
      expect(await ended).toBe(0);
      await until(stream.isOver, stream.text);
      expect(said().split('\n')).toHaveLength(2);
    }
  });

  it('a kill and a new start: who comes back misses nothing and is told nothing twice', async () => {
    const all: Said[] = [];
    let port = '0';
    for (let round = 0; round < 3; round++) {
      const one = await served('--port', port);
      ({ port } = new URL(one.address));
      const stream = read(one.address, '/events', all.at(-1)?.sequence);
      const missed = round === 0 ? 1 : 2;
      await until(() => stream.events().length === missed, stream.text);
      score(10 * round);
      await until(() => stream.events().length === missed + 1, stream.text);
      one.child.kill('SIGKILL');
      await one.ended;
      await until(stream.isOver, stream.text);
      all.push(...stream.events());
      score(10 * round + 1);
      score(10 * round + 2);
    }
    expect(all.map(({ rows }) => rows)).toEqual([17, 18, 19, 20, 21, 22, 23, 24]);
    expect(all.map(({ since }) => since)).toEqual([
      null,
      ...all.slice(0, -1).map(({ sequence }) => sequence),
    ]);
  });

  it('with --host prints an address with a key', async () => {
    const { address, said } = await served('--port', '0', '--host', '127.0.0.1');
    expect(said()).toMatch(/\?key=[\w-]{22} in a browser/);
    expect((await ask(address, '/standings')).status).toBe(401);
    const { search } = new URL(address);
    expect((await ask(address, `/standings${search}`)).status).toBe(303);
  });

  it('says that a port is taken, and what to do', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await until(
      () => other.listening,
      () => 'no port',
    );
    const bound = other.address();
    const port = String(typeof bound === 'object' ? bound?.port : '');
    const ran = run(['serve', '--port', port, '--meet', meet]);
    other.close();
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toBe(
      `lastrotation: port ${port} is taken\n  choose another with --port, or any that is free with --port 0\n`,
    );
  });

  it.each([
    [['--port', '65536'], 2, 'there is no port 65536'],
    [['--port', 'x'], 2, '"x" is not a whole number'],
    [['--host', '203.0.113.7'], 2, 'this machine has no address "203.0.113.7"'],
    [['--contest', 'nowhere'], 2, 'nowhere'],
    [['--origin', 'localhost:3000'], 2, 'is no address of a page'],
  ])('%j is said to be wrong at once', (args, code, words) => {
    const ran = run(['serve', ...args, '--meet', meet]);
    expect([ran.code, ran.out]).toEqual([code, '']);
    expect(ran.err).toContain(words);
    expect(ran.err.trimEnd().split('\n')).toHaveLength(2);
  });

  it('needs a meet that is sound to begin with', () => {
    appendFileSync(meet, 'nonsense: 1\n');
    const ran = run(['serve', '--meet', meet]);
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toContain('nonsense');
  });

  it('says what is wrong with the files while it serves, and that they are well again', async () => {
    const one = await served();
    appendFileSync(join(place.path, 'cove.scores.csv'), 'brondt,BB,130.000,,,,,,\n');
    await until(() => one.said().includes('130.000'), one.said);
    expect((await ask(one.address, '/standings')).headers['lastrotation-stale']).toBeDefined();
  });
});
