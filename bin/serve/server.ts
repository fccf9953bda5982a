/** The server: one port, on which only what the guard lets through is answered. */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { getRequestListener } from '@hono/node-server';
import type { Command } from 'commander';
import { type FileNews, fileNews, followMeet } from '../../lib/files/index.js';
import { LastRotationError, type OnRows, standings } from '../../lib/index.js';
import { safeJson } from '../terminal.js';
import { answering, JSON_TYPE } from './answers.js';
import { makeApp, type PageOf, pagesOf } from './app.js';
import { eventsOf } from './events.js';
import { openFeed } from './feed.js';
import { guardHeaders, type House, namesOf, newKey, type Refusal, refusalOf } from './guard.js';

export interface ServeOptions {
  readonly meetPath: string;
  readonly contest?: string | undefined;
  readonly port: number;
  /** Undefined: only this machine can ask. */
  readonly host?: string | undefined;
  /** A page of one's own that may read, by its origin. */
  readonly origin?: string | undefined;
  readonly makeProgram: () => Command;
  /** Is told what is wrong with the files, and when they are well again. */
  readonly onNews: (news: FileNews) => void;
  /** The page is made before anybody asks, and this is told how many rows of the log are done. */
  readonly onRows?: OnRows | undefined;
  readonly limits?: Partial<Limits>;
}

export interface Limits {
  /** Of the stream. */
  readonly mostReaders: number;
  /** A reader that takes nothing for so long is let go. */
  readonly patienceMs: number;
  /** After so long without a change the stream shows that it is alive. */
  readonly aliveMs: number;
  /** Within this a request has to be there whole. */
  readonly requestMs: number;
}

const LIMITS: Limits = {
  mostReaders: 1200,
  patienceMs: 20_000,
  aliveMs: 15_000,
  // A long answer to somebody else holds the clock up, and nobody is to be refused for that.
  requestMs: 60_000,
};

/** Beside the readers of the stream so many connections are taken. */
const OTHER_CONNECTIONS = 300;

export interface Serving {
  /** To be opened, with the key where there is one. */
  readonly address: string;
  readonly close: () => Promise<void>;
}

/** Throws when the files cannot be read to begin with, or nothing can be listened on. */
export async function serveMeet(options: ServeOptions): Promise<Serving> {
  const { meetPath, contest, makeProgram, onNews } = options;
  const limits = { ...LIMITS, ...options.limits };
  const following = followMeet(meetPath, {
    make: (files) => {
      // Where the contest is no longer in the file, the last answers stay, as with any mistake in it.
      standings(files.meet, { contest });
      return files;
    },
  });
  const { host } = options;
  const origin = options.origin === undefined ? null : originOf(options.origin);
  const key = host === undefined ? null : newKey();
  const server = serverWith(limits);
  const port = await listening(server, options.port, host ?? '127.0.0.1');
  const house: House = { host: host ?? '127.0.0.1', port, key, origin };

  let last = following.look();
  const feed = openFeed(last, limits.aliveMs);
  const now = () => {
    const { files, stale, revision } = feed.now();
    return { state: `${revision} ${stale ?? ''}`, files: { files, stale } };
  };
  const page = pagesOf(feed, options.onRows);
  const app = makeApp({
    feed,
    contest,
    page,
    events: eventsOf({ feed, ...limits }),
    answer: answering({ makeProgram, meetPath, contest, now }),
  });
  const answer = getRequestListener(app.fetch, { overrideGlobalObjects: false });
  server.on('request', (request, response) => {
    const refusal = guarded(request, response, house);
    if (refusal === null) void answer(request, response);
    else refuse(response, refusal);
  });
  const end = following.watch((state) => {
    for (const news of fileNews(last, state)) onNews(news);
    const isOther = state.value !== last.value || state.stale !== last.stale;
    last = state;
    if (isOther) feed.take(state);
  });
  if (options.onRows !== undefined) setImmediate(() => madeAhead(page, contest));
  return {
    address: addressOf(house),
    close: () =>
      new Promise((done) => {
        end();
        feed.close();
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

/** What goes wrong with it is told to whoever asks for it. */
function madeAhead(page: PageOf, contest: string | undefined): void {
  try {
    page(contest);
  } catch {
    // It is made again when it is asked for.
  }
}

function serverWith({ mostReaders, requestMs }: Limits): Server {
  const server = createServer({
    maxHeaderSize: 16 * 1024,
    headersTimeout: requestMs,
    requestTimeout: requestMs,
    keepAliveTimeout: 5_000,
    connectionsCheckingInterval: Math.min(requestMs, 1_000),
  });
  server.maxHeadersCount = 100;
  server.maxConnections = mostReaders + OTHER_CONNECTIONS;
  return server;
}

function listening(server: Server, port: number, host: string): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => reject(notListening(error, port, host)));
    server.listen(port, host, () => resolve((server.address() as AddressInfo).port));
  });
}

function notListening(error: NodeJS.ErrnoException, port: number, host: string): Error {
  if (error.code === 'EADDRINUSE' || error.code === 'EACCES') {
    const message =
      error.code === 'EACCES' ? `port ${port} is not free to all` : `port ${port} is taken`;
    const mend = 'choose another with --port, or any that is free with --port 0';
    return new LastRotationError(message, { kind: 'usage', code: 'port-taken', mend });
  }
  if (error.code === 'EADDRNOTAVAIL' || error.code === 'ENOTFOUND' || error.code === 'EAI_AGAIN') {
    const message = `this machine has no address "${host}"`;
    const mend = 'name one of its addresses, or 0.0.0.0 for all of them';
    return new LastRotationError(message, { kind: 'usage', code: 'no-such-address', mend });
  }
  return error;
}

/** The page that is named, as a browser calls it. */
function originOf(text: string): string {
  const isWeb = URL.canParse(text) && /^https?:$/.test(new URL(text).protocol);
  if (isWeb) return new URL(text).origin;
  throw new LastRotationError(`--origin: "${text}" is no address of a page`, {
    kind: 'usage',
    code: 'wrong-option',
    mend: 'write it like http://localhost:3000',
  });
}

function addressOf({ host, port, key }: House): string {
  const [name = host] = namesOf(host);
  return `http://${name}:${port}/${key === null ? '' : `?key=${key}`}`;
}

function guarded(request: IncomingMessage, response: ServerResponse, house: House): Refusal | null {
  const isAsking = house.origin !== null && request.headers.origin === house.origin;
  for (const [name, value] of Object.entries(guardHeaders(house, isAsking))) {
    response.setHeader(name, value);
  }
  return refusalOf(request, house);
}

function refuse(response: ServerResponse, refusal: Refusal): void {
  if (refusal.status === 303) {
    response.writeHead(303, refusal.headers).end();
    return;
  }
  const { status, code, message, mend, headers = {} } = refusal;
  const error = { code, message, file: null, line: null, mend };
  response.writeHead(status, { 'Content-Type': JSON_TYPE, ...headers });
  response.end(`${safeJson({ error })}\n`);
}
