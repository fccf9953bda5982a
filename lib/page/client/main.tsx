/** What runs in an open page: what if, another routine, and taking over what is new. */
import morphdom from 'morphdom';
import { h, render } from 'preact';
import { type PageState, unpacked } from '../state.js';
import { Another } from './another.js';
import { clock, follow, isLookedAt } from './follow.js';
import { WhatIf } from './what-if.js';

/** Its types are those of CommonJS, and the bundle takes the module. */
const morph = morphdom as unknown as (
  from: Element,
  to: Element,
  options: { readonly onBeforeElUpdated: (from: Element, to: Element) => boolean },
) => void;

function begin(): void {
  if (isLookedAt()) return;
  const state = stateIn(document);
  if (state === null) return;
  show(state);
  follow(state, (html) => takeOver(html) ?? state.version);
}

function stateIn(page: Document): PageState | null {
  const text = page.getElementById('state')?.textContent;
  return text == null ? null : unpacked(text);
}

/** The parts that are worked out in the page. */
function show({ meet, contest }: PageState): void {
  const parts = [
    ['what-if-own', WhatIf],
    ['another', Another],
  ] as const;
  for (const [id, Part] of parts) {
    const place = document.getElementById(id);
    if (place === null) continue;
    if (!place.hasAttribute('data-live')) {
      place.textContent = '';
      place.setAttribute('data-live', '');
    }
    render(h(Part, { meet, contest }), place);
  }
  for (const time of document.querySelectorAll('time')) {
    time.textContent = clock(new Date(time.dateTime));
  }
}

/** Everything as the newer page has it; what is typed here, and where it is scrolled, stays. */
function takeOver(html: string): string | null {
  const page = new DOMParser().parseFromString(html, 'text/html');
  const state = stateIn(page);
  const [here, there] = [document.getElementById('page'), page.getElementById('page')];
  if (state === null || here === null || there === null) return null;
  morph(here, there, {
    onBeforeElUpdated: (from, to) => !from.hasAttribute('data-own') && !from.isEqualNode(to),
  });
  document.title = page.title;
  show(state);
  document.documentElement.dataset.version = state.version;
  return state.version;
}

begin();
