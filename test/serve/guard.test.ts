/** Who may ask, and what is done with those who do harm: refused in words, and forgotten. */
import { connect, type Socket } from 'node:net';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { ServeOptions, Serving } from '../../bin/serve/server.js';
import { folder, run } from '../support/cli.js';
import { wrongIn } from '../support/schemas.js';
import {
  ask,
  mostMemory,
  type Reply,
  read,
  send,
  servedByCommand,
  servedHere,
} from '../support/serving.js';
import { until } from '../support/until.js';

const place = folder('harbour.yaml', 'harbour.scores.csv');
const meet = join(place.path, 'harbour.yaml');
afterAll(() => place.clean());

const running: Serving[] = [];
afterEach(async () => {
  for (const one of running.splice(0)) await one.close();
});

async function served(options: Partial<ServeOptions> = {}): Promise<Serving> {
  const serving = await servedHere(meet, options);
  running.push(serving);
  return serving;
}

const codeOf = ({ text }: Reply) => JSON.parse(text).error.code;

const SECURITY = {
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cache-control': 'no-store',
  'cross-origin-resource-policy': 'same-origin',
};

describe('every answer', () => {
  it('has the headers that keep it to whoever asked', async () => {
    const { address } = await served();
    const paths = [
      '/',
      '/standings',
      '/needs/nobody',
      '/nowhere',
      '/standings?x',
      `/${'x'.repeat(5000)}`,
    ];
    const replies = await Promise.all([
      ...paths.map((path) => ask(address, path)),
      ask(address, '/events', { method: 'HEAD' }),
      ask(address, '/standings', { method: 'DELETE' }),
      ask(address, '/standings', { headers: { Origin: 'http://elsewhere.example' } }),
      ask(address, '/standings', { headers: { Host: 'elsewhere.example' } }),
    ]);
    expect(replies.map(({ status }) => status)).toEqual([
      ...[200, 200, 404, 404, 400, 414],
      ...[200, 405, 403, 421],
    ]);
    for (const { headers } of replies) {
      expect(headers).toMatchObject(SECURITY);
      expect(headers['access-control-allow-origin']).toBeUndefined();
      expect(headers['content-security-policy']).toContain("default-src 'none'");
      expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
      expect(headers['x-powered-by']).toBeUndefined();
    }
    const stream = read(address);
    await until(() => stream.events().length === 1, stream.text);
    stream.end();
  });

  it.each(['POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS', 'TRACE', 'PROPFIND', 'QUERY'])(
    'is for GET and HEAD, not for %s',
    async (method) => {
      const { address } = await served();
      for (const path of ['/', '/standings', '/events', '/nowhere']) {
        const reply = await ask(address, path, { method });
        expect([reply.status, reply.headers.allow]).toEqual([405, 'GET, HEAD']);
        expect(codeOf(reply)).toBe('wrong-method');
        expect(wrongIn('error', JSON.parse(reply.text))).toEqual([]);
      }
    },
  );
});

describe('a name that is not its own', () => {
  it.each([
    'elsewhere.example',
    'elsewhere.example:PORT',
    '127.0.0.1',
    '127.0.0.1:1',
    '127.0.0.2:PORT',
    'localhost.elsewhere.example:PORT',
    '127.0.0.1.elsewhere.example:PORT',
    '0.0.0.0:PORT',
    '127.0.0.1:PORT@elsewhere.example',
    'elsewhere.example@127.0.0.1:PORT',
    '[::]:PORT',
    'user:pass@127.0.0.1:PORT',
    '0x7f.1:PORT',
    '2130706433:PORT',
    ':PORT',
  ])('%s', async (name) => {
    const { address } = await served();
    const { port } = new URL(address);
    for (const path of ['/', '/standings', '/events']) {
      const back = await send(address, get(path, name.replace('PORT', port)));
      expect(back).toMatch(/^HTTP\/1\.1 421 /);
      expect(back).toContain('"foreign-host"');
    }
  });

  it('and none, two, or one in the first line', async () => {
    const { address } = await served();
    const { host } = new URL(address);
    const own = `Host: ${host}\r\n`;
    const all = [
      'GET / HTTP/1.0\r\n\r\n',
      'GET / HTTP/1.1\r\nConnection: close\r\n\r\n',
      `GET / HTTP/1.1\r\n${own}Host: elsewhere.example\r\nConnection: close\r\n\r\n`,
      `GET / HTTP/1.1\r\n${own}${own}Connection: close\r\n\r\n`,
      `GET http://elsewhere.example/ HTTP/1.1\r\n${own}Connection: close\r\n\r\n`,
      `GET * HTTP/1.1\r\n${own}Connection: close\r\n\r\n`,
    ];
    for (const bytes of all) expect(await send(address, bytes)).toMatch(/^HTTP\/1\.1 4\d\d /);
  });

  it.each(['localhost', 'LOCALHOST', '127.0.0.1', '[::1]'])('%s is its own', async (name) => {
    const { address } = await served();
    const Host = `${name}:${new URL(address).port}`;
    const reply = await ask(address, '/standings', {
      headers: { Host, Origin: `http://${Host.toLowerCase()}` },
    });
    expect(reply.status).toBe(200);
  });
});

describe('a page from elsewhere', () => {
  const FOREIGN: readonly Readonly<Record<string, string>>[] = [
    { Origin: 'http://elsewhere.example' },
    { Origin: 'null' },
    { Origin: '' },
    { Origin: 'http://127.0.0.1' },
    { Origin: 'http://127.0.0.1:1' },
    { Origin: 'file://' },
    { 'Sec-Fetch-Site': 'cross-site' },
    { 'Sec-Fetch-Site': 'same-site' },
    { 'Sec-Fetch-Site': 'cross-site', 'Sec-Fetch-Mode': 'navigate' },
    { 'Sec-Fetch-Site': 'nonsense' },
  ];
  it.each(FOREIGN)('is told nothing: %j', async (headers) => {
    const { address } = await served();
    for (const path of ['/', '/standings', '/events']) {
      const reply = await ask(address, path, { headers });
      expect([reply.status, codeOf(reply)]).toEqual([403, 'foreign-origin']);
    }
  });

  it.each(['same-origin', 'none'])('a request that comes from %s is answered', async (site) => {
    const { address } = await served();
    const headers = { 'Sec-Fetch-Site': site };
    expect((await ask(address, '/', { headers })).status).toBe(200);
  });

  it('may read where it is named, and only that one', async () => {
    const { address } = await served({ origin: 'http://localhost:3000/overlay.html' });
    const named = { Origin: 'http://localhost:3000', 'Sec-Fetch-Site': 'same-site' };
    const { status, headers } = await ask(address, '/standings', { headers: named });
    expect([status, headers['access-control-allow-origin'], headers.vary]).toEqual([
      ...[200, 'http://localhost:3000', 'Origin'],
    ]);
    const other = await ask(address, '/standings', {
      headers: { Origin: 'http://localhost:3001' },
    });
    expect([other.status, other.headers['access-control-allow-origin']]).toEqual([403, undefined]);
    await expect(servedHere(meet, { origin: 'null' })).rejects.toThrow('no address of a page');
  });
});

describe('with --host', () => {
  const withKey = async () => {
    const { address } = await served({ host: '127.0.0.1' });
    const key = new URL(address).searchParams.get('key') ?? '';
    return { address, key, cookie: `lastrotation-${new URL(address).port}=${key}` };
  };

  it('a key of 128 bits is printed, another each time', async () => {
    const [one, two] = [await withKey(), await withKey()];
    expect(one.key).toMatch(/^[\w-]{22}$/);
    expect(two.key).not.toBe(one.key);
  });

  it('nobody is answered without it', async () => {
    const { address, key } = await withKey();
    const wrong = `${key.slice(0, -1)}${key.endsWith('A') ? 'B' : 'A'}`;
    const tried: Record<string, string>[] = [
      {},
      { Authorization: `Bearer ${wrong}` },
      { Authorization: `Basic ${key}` },
      { Authorization: 'Bearer ' },
      { Authorization: key },
      { Cookie: `lastrotation-1=${key}` },
      { Cookie: `lastrotation-${new URL(address).port}=${wrong}` },
      { Cookie: `lastrotation-${new URL(address).port}=` },
    ];
    for (const path of [
      '/',
      '/standings',
      '/events',
      '/nowhere',
      `/?key=${wrong}`,
      '/?key=',
      '/?k=1',
    ]) {
      for (const headers of tried) {
        const reply = await ask(address, path, { headers });
        expect([reply.status, codeOf(reply)]).toEqual([401, 'wrong-key']);
        expect(JSON.stringify(reply)).not.toContain(key);
      }
    }
    // Not even where it comes from a name that is not its own.
    const headers = { Host: 'elsewhere.example', Authorization: `Bearer ${key}` };
    expect((await ask(address, '/', { headers })).status).toBe(421);
  });

  it('whoever has it is answered: a program with each question, a browser once', async () => {
    const { address, key, cookie } = await withKey();
    const plain = run(['standings', '--json', '--contest=UB', '--meet', meet]).out;
    const path = '/standings?contest=UB';
    const byBearer = await ask(address, path, { headers: { Authorization: `Bearer ${key}` } });
    expect([byBearer.status, byBearer.text]).toEqual([200, plain]);
    const first = await ask(address, `${path}&key=${key}`);
    expect([first.status, first.headers.location, first.text]).toEqual([303, path, '']);
    expect(first.headers['set-cookie']).toEqual([`${cookie}; HttpOnly; SameSite=Strict; Path=/`]);
    expect(first.headers).toMatchObject(SECURITY);
    const second = await ask(address, path, { headers: { Cookie: `other=1; ${cookie}` } });
    expect([second.status, second.text]).toEqual([200, plain]);
  });

  it('nobody is sent to another machine with it', async () => {
    const { address, key } = await withKey();
    for (const path of [
      '//elsewhere.example',
      '///elsewhere.example/x',
      '/\\elsewhere.example',
      '/%2F/elsewhere.example',
    ]) {
      const { status, headers } = await ask(address, `${path}?key=${key}`);
      expect(status).toBe(303);
      expect(new URL(headers.location ?? '', address).host).toBe(new URL(address).host);
    }
  });
});

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
        '/harbour.yaml',
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
        '/needs/brandt?for=%00',
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
    get('/', host, `Content-Length: ${40 + i}\r\n`, get('/needs/brandt', host)),
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

function get(path: string, host: string, headers = '', body = ''): string {
  return `GET ${path} HTTP/1.1\r\nHost: ${host}\r\n${headers}Connection: close\r\n\r\n${body}`;
}

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
    const quick = await served({ limits: { requestMs: 500 } });
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
  });

  it('readers of the stream that go at once, and questions nobody waits for', async () => {
    const { hostname, port, host } = new URL(command.address);
    for (let i = 0; i < 100; i++) {
      const path = i % 2 === 0 ? '/events?contest=all' : `/needs/brandt?for=total:${50 + i / 100}`;
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
