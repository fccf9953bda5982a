/** How an open page learns that there is a newer one. */
import type { PageState } from '../state.js';
import { knownToParent, LOOK, type Told } from './look.js';

/** How often a page looks at its own file, in milliseconds. */
const EVERY_MS = 150;

/**
 * Whether this page is only being looked at by another one, which does not know it: then it tells what it is,
 * and does nothing else.
 */
export function isLookedAt(): boolean {
  if (knownToParent() === null) return false;
  const told: Told = { html: document.documentElement.outerHTML };
  window.parent.postMessage(told, '*');
  return true;
}

/** Calls back with the text of the page, each time it is another. */
export function follow(first: PageState, taken: (html: string) => string): void {
  if (first.follows === 'events') followEvents(taken);
  if (first.follows === 'file') followFile(first.version, taken);
}

/** A page that came over HTTP is told when to ask again. */
function followEvents(taken: (html: string) => string): void {
  let isAsking = false;
  let isDue = false;
  const ask = async () => {
    if (isAsking) {
      isDue = true;
      return;
    }
    isAsking = true;
    do {
      isDue = false;
      const answer = await fetch(location.pathname + location.search, { cache: 'no-store' }).catch(
        () => null,
      );
      if (answer?.ok === true) taken(await answer.text());
    } while (isDue);
    isAsking = false;
  };
  const events = new EventSource('events');
  events.addEventListener('scores', ask);
  events.addEventListener('open', () => sayLost(null));
  events.addEventListener('error', () => {
    if (document.getElementById('lost') === null) sayLost(new Date());
  });
}

/** Above everything, since when nothing is heard from the server; null where it is heard again. */
function sayLost(since: Date | null): void {
  document.getElementById('lost')?.remove();
  if (since === null) return;
  const line = document.createElement('p');
  line.id = 'lost';
  line.className = 'lost';
  line.setAttribute('role', 'status');
  line.textContent = `No connection since ${clock(since)}: this is how it stood then.`;
  document.body.prepend(line);
}

/** As a clock shows it here. */
export function clock(time: Date): string {
  return time.toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' });
}

/** A page on a disk may not read its own file, but a frame may show it, and tell what it shows. */
function followFile(first: string, taken: (html: string) => string): void {
  let known = first;
  let frame: HTMLIFrameElement | null = null;
  const look = () => {
    if (document.hidden) return;
    frame?.remove();
    frame = document.createElement('iframe');
    frame.hidden = true;
    frame.title = 'the same page, as it is now';
    const [file = ''] = location.href.split('#');
    frame.src = `${file}${LOOK}${encodeURIComponent(known)}`;
    document.body.append(frame);
  };
  window.addEventListener('message', ({ source, data }: MessageEvent<Told | null>) => {
    if (frame === null || source !== frame.contentWindow) return;
    if (typeof data?.html === 'string') known = taken(data.html);
  });
  setInterval(look, EVERY_MS);
}
