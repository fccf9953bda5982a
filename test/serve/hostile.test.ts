/** What does harm is refused in words, and forgotten: afterwards it still answers, and is as small as before. */
import { connect, type Socket } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { COVE_FILES, folder, run } from '../support/cli.js';
import {
  ask,
  get,
  mostMemory,
  read,
  send,
  servedByCommand,
  servedHere,
} from '../support/serving.js';
import { until } from '../support/until.js';

const place = folder(...COVE_FILES);
const meet = join(place.path, 'cove.yaml');
afterAll(() => place.clean());

/** A hundred of each, different ones where that makes a difference. */
const HARM: Readonly<Record<string, (i: number, host: string) => string | Buffer>> = {
  'paths out of the folder': (i, host) =>
    get(
      [
        '/../../etc/passwd',
        '/needs/../../../etc/passwd',
        '/%2e%2e/%2e%2e/etc/passwd',
        '/needs/..%2f..%2fetc%2fpasswd',
        '/..\\..\\etc\\passwd',
        '/needs/%c0%ae%c0%ae%c0%af',
        '/needs/....//....//etc/passwd',
        '/file:///etc/passwd',
        '/./.git/config',
        '/cove.yaml',
      ][i % 10] ?? '',
      host,
    ),
  'null bytes and broken codes': (i, host) =>
    get(
      [
        '/needs/%00',
        '/standings%00.json',
        '/needs/a%0d%0aX-Bad:1',
        '/needs/%ff%fe',
        '/needs/%',
        '/needs/%zz',
        '/%E0%A4%A',
        '/needs/brondt?for=%00',
        '/needs/%u0000',
        '/suppose?score=%0a:%0d:%00',
      ][i % 10] ?? '',
      host,
    ),
  'raw bytes in the first line': (i) =>
    Buffer.from([...Buffer.from('GET /'), i, 0, 255, 13, 10, 13, 10]),
  'line breaks for the stream': (i, host) =>
    get(`/events?since=1%0d%0aid:%20${i}&contest=%0aevent:x`, host),
  'addresses too long': (i, host) => get(`/needs/${'x'.repeat(4080 + i * 50)}`, host),
  'headers too large': (i, host) => get('/', host, `X-Large: ${'x'.repeat(17_000 + i * 1000)}\r\n`),
  'headers too many': (i, host) =>
    get('/', host, Array.from({ length: 200 + i }, (_, k) => `X-${k}: 1\r\n`).join('')),
  bodies: (i, host) => get('/standings', host, `Content-Length: ${i + 1}\r\n`, 'x'.repeat(i + 1)),
  'bodies in pieces': (i, host) =>
    get(
      '/standings',
      host,
      'Transfer-Encoding: chunked\r\n',
      `${(i + 1).toString(16)}\r\n${'x'.repeat(i + 1)}\r\n0\r\n\r\n`,
    ),
  'two lengths': (i, host) =>
    get(
      '/',
      host,
      `Content-Length: 0\r\nContent-Length: ${i + 1}\r\nTransfer-Encoding: chunked\r\n`,
    ),
  'a second request hidden in the first': (i, host) =>
    get('/', host, `Content-Length: ${40 + i}\r\n`, get('/needs/brondt', host)),
  'other methods': (i, host) =>
    `${['POST', 'PUT', 'DELETE', 'CONNECT', 'OPTIONS', 'TRACE', 'BREW', 'get', '', 'PRI'][i % 10]} / HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`,
  'other protocols': (i) =>
    Buffer.concat([
      Buffer.from([22, 3, 1, 2, i]),
      Buffer.from('SSH-2.0\r\n\r\nPRI * HTTP/2.0\r\n\r\n'),
    ]),
  'another protocol asked for': (_, host) =>
    get('/events', host, 'Upgrade: websocket\r\nSec-WebSocket-Key: x\r\n')
      .replace('close', 'Upgrade, close')
      .replace('/events', '/check'),
  'foreign names': (i) => get('/', `elsewhere${i}.example`),
  'foreign pages': (i, host) => get('/', host, `Origin: http://elsewhere${i}.example\r\n`),
  'names of properties': (i, host) =>
    get(
      `/${['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'needs?__proto__=1', 'needs/__proto__', 'standings?constructor=1', 'needs?for=constructor', 'suppose?score=__proto__:VT:1', 'graphics?kind=toString'][i % 10]}`,
      host,
    ),
};

describe('a hundred of each that do harm', () => {
  let command: Awaited<ReturnType<typeof servedByCommand>>;
  let expected: string;
  beforeAll(async () => {
    command = await servedByCommand(meet);
    expected = run(['standings', '--json', '--meet', meet]).out;
  });
  afterAll(() => command.child.kill('SIGKILL'));

  const stillAnswers = async () => {
    expect((await ask(command.address, '/standings')).text).toBe(expected);
    const stream = read(command.address);
    await until(() => stream.events().length === 1, stream.text);
    stream.end();
  };

  it.each(Object.entries(HARM))('%s', async (_, harm) => {
    const { host } = new URL(command.address);
    const all = Array.from({ length: 100 }, (_, i) => harm(i, host));
    const replies = await Promise.all(all.map((bytes) => send(command.address, bytes)));
    for (const reply of replies) {
      expect(reply).not.toMatch(/root:|\n {4}at |node_modules|node:internal/);
      expect(reply).not.toContain(place.path);
      expect(reply).not.toMatch(/^X-Bad/m);
      // One answer at most for what is one request.
      expect(reply.split(/^HTTP\/1\.1 /m).length).toBeLessThanOrEqual(2);
      if (reply !== '') expect(reply).toMatch(/^HTTP\/1\.1 (200|4\d\d) /);
    }
    await stillAnswers();
  });

  it('connections that are never finished, and headers that come too slowly', async () => {
    const quick = await servedHere(meet, { limits: { requestMs: 500 } });
    const { hostname, port, host } = new URL(quick.address);
    const ends: Promise<void>[] = [];
    const timers: NodeJS.Timeout[] = [];
    const open = (begin: (socket: Socket) => void) => {
      const socket = connect(Number(port), hostname, () => begin(socket));
      socket.on('error', () => undefined).on('data', () => undefined);
      ends.push(new Promise((resolve) => socket.on('close', () => resolve())));
    };
    for (let i = 0; i < 100; i++) {
      open(() => undefined);
      open((socket) => socket.write(`GET / HTTP/1.1\r\nHost: ${host}\r\nX-`));
      open((socket) => {
        socket.write('GET / HTTP/1.1\r\n');
        timers.push(setInterval(() => socket.write('X: 1\r\n'), 50));
      });
    }
    expect((await ask(quick.address, '/standings')).status).toBe(200);
    await Promise.all(ends);
    for (const timer of timers) clearInterval(timer);
    expect((await ask(quick.address, '/standings')).status).toBe(200);
    await quick.close();
  });

  it('readers of the stream that go at once, and questions nobody waits for', async () => {
    const { hostname, port, host } = new URL(command.address);
    for (let i = 0; i < 100; i++) {
      const path = i % 2 === 0 ? '/events?contest=all' : `/needs/brondt?for=total:${50 + i / 100}`;
      await new Promise<void>((resolve) => {
        const socket = connect(Number(port), hostname, () => {
          socket.write(get(path, host), () => socket.destroy());
        });
        socket.on('error', () => undefined).on('close', () => resolve());
      });
    }
    await stillAnswers();
  });

  it('has taken little memory', () => {
    const most = mostMemory(command.child);
    if (most !== null) expect(most).toBeLessThan(400);
    expect(command.said().trimEnd().split('\n')).toHaveLength(1);
  });
});
