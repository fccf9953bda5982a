/** What is at which path: the page, the stream, and the answers by name. */
import type { HttpBindings } from '@hono/node-server';
import { Hono } from 'hono';
import { LastRotationError, type OnRows, pageMaker, pagePolicy } from '../../lib/index.js';
import { pageAssets } from '../page-assets.js';
import { type Answer, type Asked, errorAnswer, unknownPath } from './answers.js';
import type { Events, ServeContext, Wish } from './events.js';
import type { Feed } from './feed.js';

export interface AppOptions {
  readonly feed: Feed;
  readonly events: Events;
  readonly answer: (asked: Asked) => Promise<Answer>;
  readonly contest: string | undefined;
  /** Makes the page of a contest. */
  readonly page: PageOf;
}

export type PageOf = (contest: string | undefined) => string;

export function makeApp(options: AppOptions): Hono<{ Bindings: HttpBindings }> {
  const { feed, events, answer, page } = options;
  const policy = `${pagePolicy(pageAssets(), 'events')}; frame-ancestors 'none'`;
  const app = new Hono<{ Bindings: HttpBindings }>();
  app.get('/', (c) => {
    const query = queryOf(c);
    refuseKeys(query, ['contest']);
    c.header('Content-Security-Policy', policy);
    return c.html(page(query.get('contest') ?? options.contest));
  });
  app.get('/events', (c) => {
    if (events.isFull()) return sent(c, errorAnswer(FULL));
    const query = queryOf(c);
    refuseKeys(query, ['since', 'contest', 'kind']);
    if (c.req.method === 'HEAD') return c.body(null, 200, { 'Content-Type': 'text/event-stream' });
    const since = c.req.header('Last-Event-ID') ?? query.get('since');
    return events.stream(c, since, wishOf(query));
  });
  const answered = async (c: ServeContext, name: string, who: string | null) => {
    const { mark, stale } = feed.now();
    c.header('Lastrotation-Sequence', mark.sequence);
    if (stale !== null) c.header('Lastrotation-Stale', stale);
    return sent(c, await answer({ name, who, query: queryOf(c) }));
  };
  app.get('/:name', (c) => answered(c, c.req.param('name'), null));
  app.get('/:name/:who', (c) => answered(c, c.req.param('name'), c.req.param('who')));
  app.notFound((c) => sent(c, errorAnswer(unknownPath(c.req.path))));
  app.onError((error, c) => sent(c, errorAnswer(error)));
  return app;
}

function sent(c: ServeContext, { status, type, body }: Answer): Response {
  if (status === 503) c.header('Retry-After', '1');
  return c.body(body, status, { 'Content-Type': type });
}

/** What is asked, without the key. */
function queryOf(c: ServeContext): URLSearchParams {
  const { searchParams } = new URL(c.req.url);
  searchParams.delete('key');
  return searchParams;
}

function refuseKeys(query: URLSearchParams, known: readonly string[]): void {
  const unknown = [...query.keys()].find((key) => !known.includes(key));
  if (unknown === undefined) return;
  throw new LastRotationError(`there is no option "${unknown}"`, {
    kind: 'usage',
    code: 'bad-usage',
    mend: known.length === 0 ? 'leave it out' : `choose from ${known.join(', ')}`,
  });
}

/** Who names a contest or kinds wants the changes of their lines with each event. */
function wishOf(query: URLSearchParams): Wish | null {
  const contest = query.get('contest') ?? undefined;
  const kinds = query.getAll('kind');
  if (contest === undefined && kinds.length === 0) return null;
  return { contest, kinds: kinds.length === 0 ? null : kinds };
}

/** Each made once for as long as nothing changes. */
export function pagesOf(feed: Feed, onRows?: OnRows): PageOf {
  const maker = pageMaker(pageAssets(), onRows);
  let of: unknown = null;
  let since: string | null = null;
  let pages = new Map<string, string>();
  return (contest) => {
    const { files, stale, mark } = feed.now();
    if (of !== files || since !== stale) pages = new Map();
    [of, since] = [files, stale];
    const key = contest ?? '';
    const known = pages.get(key);
    if (known !== undefined) return known;
    const text = maker(files, { contest, follows: 'events', version: mark.sequence, stale });
    pages.set(key, text);
    return text;
  };
}

const FULL = new LastRotationError('too many are reading the stream already', {
  kind: 'question',
  code: 'busy',
  mend: 'close one of them, or come again later',
});
