/** The stream: the present state at once, every score in order, and nothing missed by who comes back. */
import { appendFileSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Limits, Serving } from '../../bin/serve/server.js';
import { COVE_FILES, folder } from '../support/cli.js';
import { wrongIn } from '../support/schemas.js';
import { ask, type Reading, read, type Said, servedHere } from '../support/serving.js';
import { until } from '../support/until.js';

let place: ReturnType<typeof folder>;
let meet: string;
let log: string;
const running: Serving[] = [];
const reading: Reading[] = [];
beforeEach(() => {
  place = folder(...COVE_FILES);
  meet = join(place.path, 'cove.yaml');
  log = join(place.path, 'cove.scores.csv');
});
afterEach(async () => {
  for (const one of reading.splice(0)) one.end();
  for (const one of running.splice(0)) await one.close();
  place.clean();
});

async function served(limits: Partial<Limits> = {}): Promise<Serving> {
  const serving = await servedHere(meet, { limits });
  running.push(serving);
  return serving;
}

function reader({ address }: Serving, path?: string, since?: string): Reading {
  const one = read(address, path, since);
  reading.push(one);
  return one;
}

const has = (one: Reading, count: number) =>
  until(
    () => one.events().length >= count,
    () => one.text(),
  );

/** Rows of the log, each another score of one gymnast. */
const row = (i: number) => `brondt,BB,13.${String(i).padStart(3, '0')},,,,,,\n`;
const score = (...is: readonly number[]) => appendFileSync(log, is.map(row).join(''));
const rowsOf = (events: readonly Said[]) => events.map(({ rows }) => rows);

/** Each leads on from the one before it. */
function expectChain(events: readonly Said[], from: string | null): void {
  let before = from;
  for (const { since, sequence } of events) {
    expect(since).toBe(before);
    before = sequence;
  }
}

/** What a program holds that applies the changes as they come. */
function linesHeld(events: readonly Said[], contest: string): Map<string, unknown> {
  const held = new Map<string, unknown>();
  for (const { since, changes } of events) {
    if (since === null) held.clear();
    const of = changes?.find((c) => c.contest === contest);
    for (const id of of?.withdrawn ?? []) held.delete(id);
    for (const line of [...(of?.added ?? []), ...(of?.changed ?? [])]) held.set(line.id, line);
  }
  return held;
}

async function linesNow({ address }: Serving): Promise<Map<string, unknown>> {
  const { lines } = JSON.parse((await ask(address, '/graphics')).text);
  return new Map(lines.map((line: { id: string }) => [line.id, line]));
}

describe('a reader', () => {
  it('is told the present state at once, then every score in its order, one by one', async () => {
    const serving = await served();
    const one = reader(serving);
    await has(one, 1);
    expect(one.status()).toBe(200);
    const [first] = one.events();
    expect(first).toMatchObject({
      since: null,
      rows: 17,
      stale: null,
      isLast: true,
      changes: null,
    });
    for (let i = 0; i < 5; i++) {
      score(i);
      await has(one, i + 2);
    }
    // Several in one write are several events.
    score(5, 6, 7);
    await has(one, 9);
    expect(rowsOf(one.events())).toEqual([17, 18, 19, 20, 21, 22, 23, 24, 25]);
    expectChain(one.events(), null);
    expect(one.events().map(({ isLast }) => isLast)).toEqual([
      ...[true, true, true, true, true, true],
      ...[false, false, true],
    ]);
    for (const event of one.events()) expect(wrongIn('event', event)).toEqual([]);
    const { headers } = await ask(serving.address, '/standings');
    expect(headers['lastrotation-sequence']).toBe(one.events().at(-1)?.sequence);
  });

  it('who names a contest holds the lines of graphics after every event', async () => {
    const serving = await served();
    const one = reader(serving, '/events?contest=all');
    await has(one, 1);
    expect(one.events()[0]?.changes?.map(({ contest }) => contest)).toEqual(['all-around']);
    expect(linesHeld(one.events(), 'all-around')).toEqual(await linesNow(serving));
    for (let i = 0; i < 4; i++) {
      score(i * 100);
      await has(one, i + 2);
      expect(linesHeld(one.events(), 'all-around')).toEqual(await linesNow(serving));
    }
    expect(one.events()[4]?.changes?.[0]?.changed.length).toBeGreaterThan(0);
    for (const event of one.events()) expect(wrongIn('event', event)).toEqual([]);
    const kinds = reader(serving, '/events?kind=standing&kind=need');
    await has(kinds, 1);
    const lines = [...linesHeld(kinds.events(), 'all-around').values()] as { kind: string }[];
    expect(new Set(lines.map(({ kind }) => kind))).toEqual(new Set(['standing', 'need']));
  });

  it.each([
    ['/events?contest=nowhere', 404],
    ['/events?kind=nonsense', 400],
    ['/events?out=x', 400],
  ])('%s is an error and no stream', async (path, status) => {
    const reply = await ask((await served()).address, path);
    expect([reply.status, Object.keys(JSON.parse(reply.text))]).toEqual([status, ['error']]);
  });

  it('is shown that the stream is alive', async () => {
    const one = reader(await served({ aliveMs: 30 }));
    await until(
      () => (one.text().match(/^: /gm) ?? []).length >= 3,
      () => one.text(),
    );
    expect(one.events()).toHaveLength(1);
  });

  it('of a head asks for no stream, and holds no place in it', async () => {
    const serving = await served({ mostReaders: 1 });
    for (let i = 0; i < 5; i++) {
      expect((await ask(serving.address, '/events', { method: 'HEAD' })).status).toBe(200);
    }
    await has(reader(serving), 1);
  });

  it('finds no room where too many read, until one of them goes', async () => {
    const serving = await served({ mostReaders: 3 });
    const three = [reader(serving), reader(serving), reader(serving)];
    for (const one of three) await has(one, 1);
    const full = await ask(serving.address, '/events');
    expect([full.status, full.headers['retry-after']]).toEqual([503, '1']);
    expect(JSON.parse(full.text).error.code).toBe('busy');
    expect((await ask(serving.address, '/standings')).status).toBe(200);
    three[0]?.end();
    let last: Reading = reader(serving);
    await until(
      () => {
        if (last.status() === 503) last = reader(serving);
        return last.events().length === 1;
      },
      () => String(last.status()),
    );
  });
});

describe('who comes back', () => {
  it.each(['header', 'query'])('is told what was missed and nothing else, by %s', async (how) => {
    const serving = await served();
    const one = reader(serving, '/events?contest=all');
    await has(one, 1);
    score(1, 2);
    await has(one, 3);
    one.end();
    score(3);
    score(4, 5);
    const { sequence = '' } = one.events().at(-1) ?? {};
    const other = reader(serving);
    await until(
      () => other.events().at(-1)?.rows === 22,
      () => other.text(),
    );
    const again =
      how === 'header'
        ? reader(serving, '/events?contest=all', sequence)
        : reader(serving, `/events?contest=all&since=${sequence}`);
    await has(again, 3);
    expect(rowsOf(again.events())).toEqual([20, 21, 22]);
    expectChain(again.events(), sequence);
    const held = linesHeld([...one.events(), ...again.events()], 'all-around');
    expect(held).toEqual(await linesNow(serving));
  });

  it('after nothing has happened is told just that', async () => {
    const serving = await served();
    const one = reader(serving, '/events?contest=all');
    await has(one, 1);
    const { sequence = '' } = one.events()[0] ?? {};
    const again = reader(serving, '/events?contest=all', sequence);
    await has(again, 1);
    expect(again.events()[0]).toMatchObject({ since: sequence, sequence, isLast: true });
    expect(again.events()[0]?.changes?.[0]).toMatchObject({
      added: [],
      changed: [],
      withdrawn: [],
    });
  });

  it('may say how many rows it knows', async () => {
    const one = reader(await served(), '/events?since=14');
    await has(one, 3);
    expect(rowsOf(one.events())).toEqual([15, 16, 17]);
    expect(one.events()[0]?.since).toMatch(/^14\.\d{9}$/);
  });

  it.each(['nonsense', '17.000000000', '18', '99999999999', '-1', '14.1', '', '1e2', '17.'])(
    'with "%s" is told all there is',
    async (since) => {
      const one = reader(await served(), `/events?since=${encodeURIComponent(since)}`);
      await has(one, 1);
      expect(one.events()[0]).toMatchObject({ since: null, rows: 17 });
    },
  );

  it('from far behind is brought up to date in one step', async () => {
    const serving = await served();
    score(...Array.from({ length: 120 }, (_, i) => i));
    const other = reader(serving);
    await until(
      () => other.events().at(-1)?.rows === 137,
      () => other.text(),
    );
    const one = reader(serving, '/events?contest=all&since=17');
    await has(one, 1);
    expect(rowsOf(one.events())).toEqual([137]);
    expect(one.events()[0]?.since).toMatch(/^17\./);
  });

  it('to a server that was started anew misses nothing and is told nothing twice', async () => {
    const first = await served();
    const one = reader(first, '/events?contest=all');
    await has(one, 1);
    score(1, 2);
    await has(one, 3);
    await first.close();
    running.splice(0);
    await until(one.isOver, one.text);
    score(3, 4);
    const second = await served();
    const again = reader(second, '/events?contest=all', one.events().at(-1)?.sequence);
    await has(again, 2);
    score(5);
    await has(again, 3);
    const all = [...one.events(), ...again.events()];
    expect(rowsOf(all)).toEqual([17, 18, 19, 20, 21, 22]);
    expectChain(all, null);
    expect(linesHeld(all, 'all-around')).toEqual(await linesNow(second));
  });

  it('after the meet file or a row has changed meanwhile is told all anew', async () => {
    const first = await served();
    const one = reader(first);
    await has(one, 1);
    await first.close();
    running.splice(0);
    const { sequence = '' } = one.events()[0] ?? {};
    const text = readFileSync(meet, 'utf8');
    writeFileSync(meet, text.replace('Ida Brondt', 'Ida Brand'));
    const named = reader(await served(), '/events', sequence);
    await has(named, 1);
    expect(named.events()[0]).toMatchObject({ since: null, rows: 17 });
    writeFileSync(meet, text);
    writeFileSync(
      log,
      readFileSync(log, 'utf8').replace(/^(tanakura,VT,)[\d.]+.*$/m, '$114.400,,,,,,'),
    );
    const mended = reader(await served(), '/events', sequence);
    await has(mended, 1);
    expect(mended.events()[0]).toMatchObject({ since: null, rows: 17 });
  });
});

describe('files', () => {
  it('another meet file is an event with the same rows, also for who comes back', async () => {
    const serving = await served();
    const one = reader(serving, '/events?contest=all');
    await has(one, 1);
    writeFileSync(meet, readFileSync(meet, 'utf8').replace('Ida Brondt', 'Ida Brand'));
    await has(one, 2);
    const [was, is] = one.events();
    expect(is).toMatchObject({ since: was?.sequence, rows: 17 });
    expect(is?.sequence).not.toBe(was?.sequence);
    expect(JSON.stringify(is?.changes)).toContain('Ida Brand"');
    const again = reader(serving, '/events?contest=all', was?.sequence);
    await has(again, 1);
    expect(again.events()[0]).toEqual(is);
    score(1);
    await has(one, 3);
    expectChain(one.events(), null);
    expect(linesHeld(one.events(), 'all-around')).toEqual(await linesNow(serving));
  });

  it('that go stale are said, and that they are well again', async () => {
    const serving = await served();
    const one = reader(serving, '/events?contest=all');
    await has(one, 1);
    renameSync(log, `${log}.away`);
    await has(one, 2);
    const [was, is] = one.events();
    expect(is).toMatchObject({ since: was?.sequence, sequence: was?.sequence, rows: 17 });
    expect(Date.parse(is?.stale ?? '')).toBeGreaterThan(0);
    expect(is?.changes?.[0]).toMatchObject({ added: [], changed: [], withdrawn: [] });
    const late = reader(serving, '/events', was?.sequence);
    await has(late, 1);
    expect(late.events()[0]?.stale).toBe(is?.stale);
    renameSync(`${log}.away`, log);
    await has(one, 3);
    expect(one.events()[2]).toMatchObject({ sequence: was?.sequence, stale: null });
    score(1);
    await has(one, 4);
    expect(rowsOf(one.events())).toEqual([17, 17, 17, 18]);
    expect(linesHeld(one.events(), 'all-around')).toEqual(await linesNow(serving));
  });
});
