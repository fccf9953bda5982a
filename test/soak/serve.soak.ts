/**
 * A thousand readers of the stream (`READERS=n`) while a hundred scores come in (`SCORES=n`), some of them
 * slow, some of them gone and back: none misses one, and the server stays small.
 */
import { appendFileSync } from 'node:fs';
import { get, type IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { folder } from '../support/cli.js';
import { ask, mostMemory, servedByCommand } from '../support/serving.js';
import { until } from '../support/until.js';

const READERS = Number(process.env.READERS ?? 1000);
const SCORES = Number(process.env.SCORES ?? 100);
const BEGUN = 63;
/** From score to score, in milliseconds: a meet takes half a minute. */
const PAUSE = Number(process.env.PAUSE ?? 200);

/** What one of them was told, whatever connection it came by. */
interface Listener {
  readonly rows: number[];
  last: string | undefined;
  /** Where an event did not lead on from the one before it. */
  gaps: number;
  reply: IncomingMessage | null;
  /** Gone, or taking nothing: how late it is told then is its own doing. */
  isAway: boolean;
}

function listen(address: string, listener: Listener, told: (rows: number) => void): void {
  const headers = listener.last === undefined ? {} : { 'Last-Event-ID': listener.last };
  const asked = get(`${address}events`, { agent: false, headers }, (reply) => {
    listener.reply = reply;
    let rest = '';
    reply.setEncoding('utf8').on('data', (part: string) => {
      const blocks = (rest + part).split('\n\n');
      rest = blocks.pop() ?? '';
      for (const block of blocks) {
        const data = /^data: (.*)$/m.exec(block)?.[1];
        if (data === undefined) continue;
        const { rows, since, sequence } = JSON.parse(data);
        // Who comes back and has missed nothing is told just that.
        if (since === sequence) continue;
        if (listener.last !== undefined && since !== listener.last) listener.gaps += 1;
        listener.last = sequence;
        listener.rows.push(rows);
        if (!listener.isAway) told(rows);
      }
    });
    reply.on('error', () => undefined);
  });
  asked.on('error', () => undefined);
}

const quantileOf = (values: readonly number[], share: number) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length * share)] ?? Number.NaN;

it('a thousand readers and a hundred scores', async () => {
  const place = folder('harbour.yaml', 'harbour.scores.csv');
  const { child, address } = await servedByCommand(join(place.path, 'harbour.yaml'));
  try {
    const listeners = Array.from({ length: READERS }, (): Listener => {
      return { rows: [], last: undefined, gaps: 0, reply: null, isAway: false };
    });
    const written = new Map<number, number>();
    const delays: number[] = [];
    const told = (rows: number) => {
      const at = written.get(rows);
      if (at !== undefined) delays.push(performance.now() - at);
    };
    for (const [i, listener] of listeners.entries()) {
      listen(address, listener, told);
      if (i % 50 === 49) await pause(20);
    }
    await until(
      () => listeners.every(({ rows }) => rows.length === 1),
      () => `${listeners.filter(({ rows }) => rows.length === 1).length} readers`,
    );
    const before = mostMemory(child);
    for (let i = 0; i < SCORES; i++) {
      // Every tenth score finds some of them gone, and every seventh some that take nothing for a while.
      const some = listeners.filter((_, k) => k % 20 === i % 20);
      if (i % 10 === 0) for (const { reply } of some) reply?.destroy();
      if (i % 7 === 0) for (const { reply } of some) reply?.pause();
      const isDisturbed = i % 10 === 0 || i % 7 === 0;
      for (const listener of listeners) listener.isAway = isDisturbed && some.includes(listener);
      written.set(BEGUN + i + 1, performance.now());
      appendFileSync(
        join(place.path, 'harbour.scores.csv'),
        `brondt,BB,13.${String(i).padStart(3, '0')},,,,,,\n`,
      );
      await pause(PAUSE);
      if (i % 10 === 0) for (const listener of some) listen(address, listener, told);
      if (i % 7 === 0) for (const { reply } of some) reply?.resume();
    }
    await until(
      () => listeners.every(({ rows }) => rows.at(-1) === BEGUN + SCORES),
      () => `${listeners.filter(({ rows }) => rows.at(-1) !== BEGUN + SCORES).length} are behind`,
    );
    const all = Array.from({ length: SCORES + 1 }, (_, i) => BEGUN + i);
    for (const { rows, gaps } of listeners) expect([gaps, rows]).toEqual([0, all]);
    const asked = performance.now();
    expect((await ask(address, '/standings')).status).toBe(200);
    const most = mostMemory(child);
    process.stdout.write(
      `${READERS} readers, ${SCORES} scores, ${delays.length} events: from the write to the reader ` +
        `median ${quantileOf(delays, 0.5).toFixed(0)} ms, 99 of 100 within ${quantileOf(delays, 0.99).toFixed(0)} ms; ` +
        `an answer after it in ${(performance.now() - asked).toFixed(0)} ms; ` +
        `memory ${before?.toFixed(0)} MiB with all connected, ${most?.toFixed(0)} MiB at most\n`,
    );
    if (most !== null) expect(most).toBeLessThan(400);
  } finally {
    child.kill('SIGKILL');
    place.clean();
  }
});
