/** Who may ask: this machine and whoever has the key, under the server's own name, and no page from elsewhere. */
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type { ServeOptions, Serving } from '../../bin/serve/server.js';
import { COVE_FILES, folder, run } from '../support/cli.js';
import { wrongIn } from '../support/schemas.js';
import { ask, get, type Reply, read, send, servedHere } from '../support/serving.js';
import { until } from '../support/until.js';

const place = folder(...COVE_FILES);
const meet = join(place.path, 'cove.yaml');
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
