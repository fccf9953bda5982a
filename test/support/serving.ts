/** A meet that is served, here or by the command as built, and those who ask. */
import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { type IncomingHttpHeaders, type IncomingMessage, request } from 'node:http';
import { connect } from 'node:net';
import { makeProgram } from '../../bin/program.js';
import { type Limits, type ServeOptions, serveMeet } from '../../bin/serve/server.js';
import type { EventSaid, Written } from '../../lib/index.js';
import { COMMAND } from './cli.js';
import { until } from './until.js';

/** Served in this process, wherever there is room. */
export function servedHere(
  meetPath: string,
  options: Partial<ServeOptions> & { readonly limits?: Partial<Limits> } = {},
) {
  return serveMeet({ meetPath, port: 0, makeProgram, onNews: () => undefined, ...options });
}

/** Served by the command as built; ended by its process. */
export async function servedByCommand(meetPath: string, ...args: string[]) {
  const all = [COMMAND, 'serve', '--meet', meetPath, ...(args.length > 0 ? args : ['--port', '0'])];
  const child: ChildProcess = spawn(process.execPath, all, { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (data: Buffer) => {
      said += String(data);
    });
  }
  const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
  const address = () => /http:\/\/\S+/.exec(said)?.[0] ?? '';
  await until(
    () => said.includes('\n') || child.exitCode !== null,
    () => said,
  );
  return { child, ended, said: () => said, address: address() };
}

/** The most memory a process has had so far, in MiB; null where the system does not say. */
export function mostMemory({ pid }: ChildProcess): number | null {
  try {
    const [, kibibytes] =
      /VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? [];
    return kibibytes === undefined ? null : Number(kibibytes) / 1024;
  } catch {
    return null;
  }
}

export interface Reply {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
}

export interface AskOptions {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Asks as it is written, without making the path or the headers any better. */
export function ask(address: string, path: string, options: AskOptions = {}): Promise<Reply> {
  const { hostname, port } = new URL(address);
  return new Promise((resolve, reject) => {
    const asked = request({ hostname, port, path, agent: false, ...options }, (reply) => {
      let text = '';
      reply.setEncoding('utf8').on('data', (part: string) => {
        text += part;
      });
      reply.on('end', () =>
        resolve({ status: reply.statusCode ?? 0, headers: reply.headers, text }),
      );
      reply.on('error', reject);
    });
    asked.on('error', reject);
    asked.end();
  });
}

/** A request as it is written, after which the connection ends. */
export function get(path: string, host: string, headers = '', body = ''): string {
  return `GET ${path} HTTP/1.1\r\nHost: ${host}\r\n${headers}Connection: close\r\n\r\n${body}`;
}

/** Sends bytes, and gives all that comes back until the other side ends it. */
export function send(address: string, bytes: string | Buffer): Promise<string> {
  const { hostname, port } = new URL(address);
  return new Promise((resolve) => {
    let back = '';
    const socket = connect(Number(port), hostname, () => socket.write(bytes));
    socket.setEncoding('latin1').on('data', (part: string) => {
      back += part;
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(back));
  });
}

export type Said = Written<EventSaid>;

export interface Reading {
  readonly events: () => readonly Said[];
  /** All that has come, as it came. */
  readonly text: () => string;
  readonly status: () => number;
  readonly isOver: () => boolean;
  readonly end: () => void;
}

/** Reads the stream. */
export function read(address: string, path = '/events', since?: string): Reading {
  const { hostname, port } = new URL(address);
  let reply: IncomingMessage | null = null;
  let text = '';
  let isOver = false;
  const events: Said[] = [];
  const headers = since === undefined ? {} : { 'Last-Event-ID': since };
  const asked = request({ hostname, port, path, agent: false, headers }, (response) => {
    reply = response;
    let seen = 0;
    response.setEncoding('utf8').on('data', (part: string) => {
      text += part;
      for (let end = text.indexOf('\n\n', seen); end >= 0; end = text.indexOf('\n\n', seen)) {
        const said = eventIn(text.slice(seen, end));
        if (said !== null) events.push(said);
        seen = end + 2;
      }
    });
    response.on('error', () => undefined);
    response.on('close', () => {
      isOver = true;
    });
  });
  asked.on('error', () => {
    isOver = true;
  });
  asked.end();
  return {
    events: () => events,
    text: () => text,
    status: () => reply?.statusCode ?? 0,
    isOver: () => isOver,
    end: () => asked.destroy(),
  };
}

/** An event as it is written; its id has to be its sequence. Null for a comment. */
function eventIn(block: string): Said | null {
  const field = (name: string) => new RegExp(`^${name}: (.*)$`, 'm').exec(block)?.[1];
  const data = field('data');
  if (data === undefined) return null;
  const said = JSON.parse(data) as Said;
  if (field('event') !== 'scores' || field('id') !== said.sequence) throw new Error(block);
  return said;
}
