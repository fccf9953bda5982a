/** The stream of what happens: an event for every score, of which a reader that comes back misses none. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { HttpBindings } from '@hono/node-server';
import type { Context } from 'hono';
import { type SSEStreamingApi, streamSSE } from 'hono/streaming';
import {
  changesBetween,
  type EventChanges,
  type EventSaid,
  type Graphics,
  graphics,
  type LogPoint,
  type Written,
  written,
} from '../../lib/index.js';
import { safeJson } from '../terminal.js';
import { type Feed, keepIn, type Mark, type Step } from './feed.js';

/** Which lines somebody wants the changes of. */
export interface Wish {
  /** `all` for every contest of the meet; undefined for the first. */
  readonly contest: string | undefined;
  readonly kinds: readonly string[] | null;
}

export interface EventsOptions {
  readonly feed: Feed;
  /** Who takes nothing for so long is let go. */
  readonly patienceMs: number;
  readonly mostReaders: number;
}

export interface Events {
  readonly isFull: () => boolean;
  /** Throws where what is wished for is unknown. */
  readonly stream: (c: ServeContext, since: string | null, wish: Wish | null) => Response;
}

export type ServeContext = Context<{ Bindings: HttpBindings }>;

/** A browser that has lost the stream comes back after so many milliseconds. */
const RETRY_MS = 1000;

export function eventsOf({ feed, patienceMs, mostReaders }: EventsOptions): Events {
  const textOf = eventTexts(feed);
  let readers = 0;

  const read = async (stream: SSEStreamingApi, first: Step | null, wish: Wish | null) => {
    let has: string | null = first === null ? feed.now().mark.sequence : null;
    let told: string | null = null;
    let step = first;
    for (let isFirst = true; !stream.aborted; isFirst = false) {
      const beat = feed.pulse();
      if (!isFirst) step = feed.after(has);
      const { mark, stale } = feed.now();
      // Where there is nothing new somebody who comes is told so, and all are when the files go stale.
      const then: Step | null =
        step ?? (isFirst || stale !== told ? { since: mark, to: mark } : null);
      if (then !== null) {
        const next = wish === null ? then : tellable(then);
        const retry = isFirst ? { retry: RETRY_MS } : {};
        const id: string = next.to.sequence;
        const data = textOf(next, stale, wish);
        if (!(await inTime(stream.writeSSE({ event: 'scores', id, data, ...retry })))) return;
        [has, told] = [id, stale];
        await nextTurn();
        continue;
      }
      const what = await beat;
      if (what === 'closed') return;
      if (what === 'alive' && !(await inTime(stream.write(': still here\n\n')))) return;
    }
  };
  /** Lines are compared where both states are known; where one is no more, all there is is told anew. */
  const tellable = (step: Step): Step => {
    const { since, to } = step;
    const isKnown = (since === null || feed.pointOf(since) !== null) && feed.pointOf(to) !== null;
    return isKnown ? step : { since: null, to: feed.now().mark };
  };
  const inTime = async (writing: Promise<unknown>): Promise<boolean> => {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<boolean>((resolve) => {
      timer = setTimeout(() => resolve(false), patienceMs);
    });
    const isTaken = await Promise.race([writing.then(() => true), late]);
    clearTimeout(timer);
    return isTaken;
  };

  return {
    isFull: () => readers >= mostReaders,
    stream: (c, since, wish) => {
      const has = since === null ? null : feed.known(since);
      const first = feed.after(has);
      // What cannot be answered is an error now, and no stream that breaks off.
      if (wish !== null) textOf({ since: null, to: feed.now().mark }, null, wish);
      readers += 1;
      const { outgoing } = c.env;
      outgoing.once('close', () => {
        readers -= 1;
      });
      const response = streamSSE(c, async (stream) => {
        try {
          await read(stream, first, wish);
        } finally {
          stream.abort();
          // Whoever takes nothing would not take the end of the stream either.
          outgoing.destroy();
        }
      });
      response.headers.set('Cache-Control', 'no-store');
      return response;
    },
  };
}

/** So many events are kept as texts: all readers of one stream are sent the same. */
const MOST_TEXTS = 32;

/** So many sets of lines are kept, to be compared with those that follow. */
const MOST_LINES = 8;

type EventText = (step: Step, stale: string | null, wish: Wish | null) => string;

function eventTexts(feed: Feed): EventText {
  const texts = new Map<string, string>();
  const lines = new Map<string, readonly Graphics[]>();

  const linesAt = (mark: Mark, wish: Wish): readonly Graphics[] => {
    const key = JSON.stringify([mark.sequence, wish.contest, wish.kinds]);
    const known = lines.get(key);
    const point = known === undefined ? feed.pointOf(mark) : null;
    const made = known ?? (point === null ? [] : linesOf(point, wish));
    keepIn(lines, key, made, MOST_LINES);
    return made;
  };
  const changesOf = ({ since, to }: Step, wish: Wish): readonly Written<EventChanges>[] => {
    const { decimals } = feed.now().files.meet.scoring;
    const were = since === null ? [] : linesBefore(() => linesAt(since, wish));
    return linesAt(to, wish).map((now) => {
      const was = were.find(({ contest }) => contest === now.contest) ?? null;
      const all = written('graphicsChanges', changesBetween(was, now), decimals);
      const { contest, added, changed, withdrawn, awaited, underInquiry, caution } = all;
      return { contest, added, changed, withdrawn, awaited, underInquiry, caution };
    });
  };
  return (step, stale, wish) => {
    const { since, to } = step;
    const isLast = to.sequence === feed.now().mark.sequence;
    const asked = [wish?.contest, wish?.kinds];
    const key = JSON.stringify([since?.sequence, to.sequence, stale, isLast, ...asked]);
    const known = texts.get(key);
    if (known !== undefined) return known;
    const said: Written<EventSaid> = {
      sequence: to.sequence,
      since: since?.sequence ?? null,
      rows: to.rows,
      at: to.at,
      stale,
      isLast,
      changes: wish === null ? null : changesOf(step, wish),
    };
    const text = safeJson(said);
    keepIn(texts, key, text, MOST_TEXTS);
    return text;
  };
}

function linesOf({ meet, before, rows, at }: LogPoint, { contest, kinds }: Wish): Graphics[] {
  const isOfAll = contest === 'all' && !meet.contests.some(({ id }) => id === 'all');
  const contests = isOfAll ? meet.contests.map(({ id }) => id) : [contest];
  return contests.map((one) => graphics(meet, { contest: one, kinds, before, rows, at }));
}

/** A contest that is new has no lines before. */
function linesBefore(lines: () => readonly Graphics[]): readonly Graphics[] {
  try {
    return lines();
  } catch {
    return [];
  }
}
