/** Who may ask, and what a request may be: looked at before anything of it is worked on. */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage, OutgoingHttpHeaders } from 'node:http';
import { networkInterfaces } from 'node:os';
import type { ErrorCode } from '../../lib/index.js';

export interface House {
  /** The address that is listened on. */
  readonly host: string;
  readonly port: number;
  /** Null where only this machine can ask. */
  readonly key: string | null;
  /** Another page that may read, by its origin; null for none. */
  readonly origin: string | null;
}

/** A request that is not answered, and why; or one that is sent on with its key in a cookie. */
export type Refusal =
  | {
      readonly status: 400 | 401 | 403 | 405 | 413 | 414 | 421;
      readonly code: ErrorCode;
      readonly message: string;
      readonly mend: string;
      readonly headers?: OutgoingHttpHeaders;
    }
  | { readonly status: 303; readonly headers: OutgoingHttpHeaders };

/** 128 bits by chance, as they can stand in an address. */
export function newKey(): string {
  return randomBytes(16).toString('base64url');
}

/** In characters: the longest question is a fraction of it. */
const LONGEST_URL = 4096;

/** What is wrong with a request; null where it may be answered. */
export function refusalOf(request: IncomingMessage, house: House): Refusal | null {
  return wrongForm(request) ?? wrongPlace(request, house) ?? wrongKey(request, house);
}

function wrongForm({ method, url = '', headers }: IncomingMessage): Refusal | null {
  if (method !== 'GET' && method !== 'HEAD') {
    return {
      status: 405,
      code: 'wrong-method',
      message: 'nothing can be changed here, only read',
      mend: 'ask with GET',
      headers: { Allow: 'GET, HEAD' },
    };
  }
  if (url.length > LONGEST_URL) {
    return {
      status: 414,
      code: 'too-long',
      message: `the address is longer than ${LONGEST_URL} characters`,
      mend: 'ask for less at once',
    };
  }
  const length = headers['content-length'];
  if ((length !== undefined && length !== '0') || headers['transfer-encoding'] !== undefined) {
    return {
      status: 413,
      code: 'with-body',
      message: 'a question has nothing but its address',
      mend: 'send no body',
      // What follows is not read, so it must not be taken for the next request.
      headers: { Connection: 'close' },
    };
  }
  if (url.startsWith('/')) return null;
  return {
    status: 400,
    code: 'unknown-path',
    message: 'that is no address of this server',
    mend: 'ask for a path, such as /standings',
  };
}

/**
 * A page from elsewhere may make a browser ask here, under its own name (a foreign Host) or under ours (a
 * foreign Origin): neither is answered.
 */
function wrongPlace({ headers, rawHeaders }: IncomingMessage, house: House): Refusal | null {
  const hosts = rawHeaders.filter((name, i) => i % 2 === 0 && name.toLowerCase() === 'host');
  const host = headers.host?.toLowerCase() ?? '';
  if (hosts.length !== 1 || !hostsOf(house).includes(host)) {
    return {
      status: 421,
      code: 'foreign-host',
      message: 'this server goes by another name',
      mend: 'open the address it printed when it was started',
    };
  }
  const { origin } = headers;
  if (origin !== undefined && origin === house.origin) return null;
  const site = headers['sec-fetch-site'];
  const isForeign = site !== undefined && site !== 'same-origin' && site !== 'none';
  if (!isForeign && (origin === undefined || origin === `http://${host}`)) return null;
  return {
    status: 403,
    code: 'foreign-origin',
    message: 'another page asks, and it is not told',
    mend: 'name the page with --origin when the server is started',
  };
}

/** The names under which this server may be asked, each with its port. */
function hostsOf({ host, port }: House): readonly string[] {
  const names = ['127.0.0.1', 'localhost', '[::1]', ...namesOf(host)];
  return names.flatMap((name) => [`${name}:${port}`, ...(port === 80 ? [name] : [])]);
}

/** As an address is written in front of a port. Listening everywhere is listening on every address there is. */
export function namesOf(host: string): readonly string[] {
  const isEverywhere = host === '0.0.0.0' || host === '::';
  const addresses = isEverywhere
    ? Object.values(networkInterfaces()).flatMap((all) => all ?? [])
    : [];
  const outer = addresses.filter((a) => !a.internal).map(({ address }) => address);
  return (isEverywhere ? outer : [host]).map((name) =>
    name.includes(':') ? `[${name}]` : name.toLowerCase(),
  );
}

/** With the key in the address a browser is given a cookie, and sent where the address shows no key. */
function wrongKey({ url = '/', headers }: IncomingMessage, house: House): Refusal | null {
  const { key, port } = house;
  if (key === null) return null;
  const cookie = `lastrotation-${port}`;
  const [, bearer] = /^Bearer +(\S+)$/i.exec(headers.authorization ?? '') ?? [];
  if (bearer !== undefined && isSame(bearer, key)) return null;
  const kept = (headers.cookie ?? '').split(/; */).find((one) => one.startsWith(`${cookie}=`));
  if (kept !== undefined && isSame(kept.slice(cookie.length + 1), key)) return null;
  const asked = new URL(url, 'http://here');
  if (isSame(asked.searchParams.get('key') ?? '', key)) {
    // A page from elsewhere is given no cookie, so it shows the key each time.
    if (headers.origin !== undefined && headers.origin === house.origin) return null;
    asked.searchParams.delete('key');
    // Two slashes at the beginning would be the name of another machine.
    const path = asked.pathname.replace(/^\/+/, '/');
    return {
      status: 303,
      headers: {
        'Set-Cookie': `${cookie}=${key}; HttpOnly; SameSite=Strict; Path=/`,
        Location: `${path}${asked.search}`,
      },
    };
  }
  return {
    status: 401,
    code: 'wrong-key',
    message: 'the key is missing or wrong',
    mend: 'open the address that was printed when the server was started, with its key',
    headers: { 'WWW-Authenticate': 'Bearer' },
  };
}

/** Takes as long whatever is wrong, so that nobody can feel the way to the key. */
function isSame(given: string, key: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given), digest(key));
}

/** On every answer: nothing of it is kept, framed, guessed at or read by another page. */
export function guardHeaders({ origin }: House, isAsking: boolean): Record<string, string> {
  const isLet = origin !== null && isAsking;
  return {
    'Content-Security-Policy': "default-src 'none'; frame-ancestors 'none'",
    'X-Content-Type-Options': 'nosniff',
    'Referrer-Policy': 'no-referrer',
    'Cache-Control': 'no-store',
    'Cross-Origin-Resource-Policy': isLet ? 'cross-origin' : 'same-origin',
    ...(isLet
      ? {
          'Access-Control-Allow-Origin': origin,
          'Access-Control-Expose-Headers': 'Lastrotation-Sequence, Lastrotation-Stale',
          Vary: 'Origin',
        }
      : {}),
  };
}
