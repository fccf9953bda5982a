/** Who reads slowly or not at all is nobody's trouble. */
import { appendFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folder } from '../support/cli.js';
import { ask, type Reading, read, type Said, servedHere } from '../support/serving.js';
import { until } from '../support/until.js';

const has = (one: Reading, count: number) =>
  until(
    () => one.events().length >= count,
    () => one.text(),
  );

const rowsOf = (events: readonly Said[]) => events.map(({ rows }) => rows);

it('a reader that takes nothing holds nobody up, is let go, and misses nothing in the end', async () => {
  const place = folder('harbour.yaml', 'harbour.scores.csv');
  const meet = join(place.path, 'harbour.yaml');
  const serving = await servedHere(meet, { limits: { patienceMs: 300, mostReaders: 3 } });
  const { hostname, port } = new URL(serving.address);
  const slow = connect(Number(port), hostname);
  slow.write(`GET /events?contest=all HTTP/1.1\r\nHost: ${hostname}:${port}\r\n\r\n`);
  await new Promise<void>((resolve) => slow.once('readable', () => resolve()));
  const quick = read(serving.address, '/events?contest=all');
  const small = read(serving.address);
  await has(quick, 1);
  const isFull = async () =>
    (await ask(serving.address, '/events', { method: 'HEAD' })).status === 503;
  let count = 0;
  // What the system holds for a socket that nobody reads has to be full first.
  while (await isFull()) {
    // From the foot of the board to its top and back, so that every line is another.
    const rows = Array.from(
      { length: 4 },
      (_, k) => `tanakura,VT,${k % 2 === 0 ? 9 : 16}.${100 + (count % 800) + k}`,
    );
    appendFileSync(join(place.path, 'harbour.scores.csv'), `${rows.join(',,,,,,\n')},,,,,,\n`);
    count += rows.length;
    await has(quick, count + 1);
    await has(small, count + 1);
    expect(count).toBeLessThan(2000);
  }
  expect(rowsOf(small.events())).toEqual(rowsOf(quick.events()));
  let text = '';
  slow.setEncoding('utf8').on('data', (part) => {
    text += part;
  });
  slow.on('error', () => undefined);
  await new Promise<void>((resolve) => slow.once('close', () => resolve()));
  const ids = [...text.matchAll(/^id: (\d+\.\d{9})$/gm)].map(([, id]) => id ?? '');
  expect(ids.length).toBeLessThanOrEqual(count);
  const again = read(serving.address, '/events?contest=all', ids.at(-1));
  await until(
    () => again.events().at(-1)?.isLast === true,
    () => again.text().slice(0, 200),
  );
  expect(again.events()[0]?.since).toBe(ids.at(-1));
  expect(again.events().at(-1)?.rows).toBe(63 + count);
  await serving.close();
  place.clean();
});
