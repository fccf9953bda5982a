/** `page`: one HTML file with everything there is to see of a contest, that asks nobody for anything. */
import { renderToString } from 'preact-render-to-string';
import { CAUTION } from '../caution.js';
import type { Meet } from '../meet/meet.js';
import { contestInWords, doneInWords, titleOf } from '../report/words.js';
import type { Story } from '../story/story.js';
import { ChancesSection } from './chances.js';
import { Desk } from './desk.js';
import { type PageFacts, pageFacts } from './facts.js';
import { Paper } from './paper.js';
import { Routines } from './routine.js';
import { type Follows, packed } from './state.js';
import { StorySection } from './story.js';

/** The page's own script and style, made when the package is built, with their SHA-256 in base64. */
export interface PageAssets {
  /** Run before the page is there. */
  readonly head: string;
  /** Of `head`. */
  readonly headHash: string;
  /** What makes the page answer questions and follow an evening. */
  readonly script: string;
  /** Of `script`. */
  readonly scriptHash: string;
  /** How it looks, on screen and on paper. */
  readonly style: string;
  /** Of `style`. */
  readonly styleHash: string;
}

/** What a page is made of, and how it learns of news. */
export interface PageOptions {
  /** Id of a contest, or the code of an apparatus; without it the one that is on. */
  readonly contest?: string | null | undefined;
  /** `lastrotation/page/assets.json`, as the package has it. */
  readonly assets: PageAssets;
  /** The story of the contest, which the page tells; without one it says that there is none. */
  readonly story?: Story | null | undefined;
  /** Where the pages of other contests are, by id. */
  readonly others?:
    | readonly {
        /** The id of another contest of the meet. */
        readonly contest: string;
        /** Where its page is, as a link from this one. */
        readonly href: string;
      }[]
    | undefined;
  /** How an open page learns of new scores: not at all by default. */
  readonly follows?: Follows | undefined;
  /** Another for every other state of the page; needed where it follows. */
  readonly version?: string | undefined;
  /** Since when the files could not be read, as a time in ISO form. */
  readonly stale?: string | null | undefined;
}

/** The parts of a page, in the order in which they stand there. */
const PARTS = [
  ['desk', 'Desk'],
  ['routine', 'Routine'],
  ['chances', 'Chances'],
  ['story', 'Story'],
  ['what-if', 'What if'],
  ['paper', 'Paper'],
] as const;

/**
 * The Content-Security-Policy of a page (https://www.w3.org/TR/CSP3/): it may run its own script and use its
 * own style; where it follows, it may ask where it came from for what is new, or show its own file.
 * @param assets - `lastrotation/page/assets.json`, as the package has it.
 * @param follows - How the page learns of new scores; null where it does not.
 * @returns The value of the header, or of the `meta` element.
 * @example
 * const none = { head: '', headHash: 'h', script: '', scriptHash: 's', style: '', styleHash: 't' };
 * pagePolicy(none).includes("default-src 'none'") // → true
 */
export function pagePolicy(
  { headHash, scriptHash, styleHash }: PageAssets,
  follows: Follows = null,
): string {
  return [
    "default-src 'none'",
    `script-src 'sha256-${headHash}' 'sha256-${scriptHash}'`,
    `style-src 'sha256-${styleHash}'`,
    ...(follows === 'events' ? ["connect-src 'self'"] : []),
    ...(follows === 'file' ? ['frame-src file:'] : []),
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

/**
 * The page as a text, of the first contest in which something is to come where none is named.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param options - What it is made of; only `assets` is required.
 * @returns HTML, whole and by itself: nothing is loaded from elsewhere.
 * @throws `unknown-contest`: the meet has no such contest
 * @throws `too-many-routines`: a team's routines can add up in too many ways
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const none = { head: '', headHash: '', script: '', scriptHash: '', style: '', styleHash: '' };
 * page(meet, { assets: none }).startsWith('<!doctype html>') // → true
 * page(meet, { assets: none, contest: 'nowhere' }) // → throws unknown-contest
 */
export function page(meet: Meet, options: PageOptions): string {
  const { assets, follows = null, version = '' } = options;
  const facts = pageFacts(meet, options.contest);
  const title = titleOf(meet, facts.contest.id);
  const html = renderToString(
    <html lang="en" data-version={version}>
      <head>
        <meta charSet="utf-8" />
        <meta httpEquiv="Content-Security-Policy" content={pagePolicy(assets, follows)} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="generator" content="lastrotation" />
        <meta name="color-scheme" content="light dark" />
        {/* Shown once it is whole, so that nothing moves under the reader while it arrives
            (https://html.spec.whatwg.org/#link-type-expect); Preact has no type for `blocking`. */}
        <link rel="expect" href="#script" {...{ blocking: 'render' }} />
        <script dangerouslySetInnerHTML={{ __html: assets.head }} />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: assets.style }} />
      </head>
      <body>
        <Body facts={facts} title={title} {...options} />
        <script
          type="application/json"
          id="state"
          dangerouslySetInnerHTML={{
            __html: packed({ meet, contest: facts.contest.id, version, follows }),
          }}
        />
        <script id="script" dangerouslySetInnerHTML={{ __html: assets.script }} />
      </body>
    </html>,
  );
  return `<!doctype html>\n${html}\n`;
}

interface BodyProps extends Pick<PageOptions, 'story' | 'others' | 'stale'> {
  readonly facts: PageFacts;
  readonly title: string;
}

function Body({ facts, title, story = null, others = [], stale = null }: BodyProps) {
  return (
    <div id="page">
      <header>
        <h1>
          <bdi>{title}</bdi>
        </h1>
        <p class="quiet progress">{doneInWords(facts.meet, facts.contest)}</p>
        <p class="quiet caution">{CAUTION}</p>
        {stale === null ? null : (
          <p class="warning" role="status">
            The files cannot be read: this is how it stood at <time dateTime={stale}>{stale}</time>.
          </p>
        )}
        {others.length === 0 ? null : (
          <nav aria-label="Other contests">
            {others.map(({ contest, href }) => (
              <a href={href} key={contest}>
                {contestInWords(facts.meet, contest)}
              </a>
            ))}
          </nav>
        )}
        <nav aria-label="Parts of this page">
          {PARTS.map(([id, name]) => (
            <a href={`#${id}`} key={id}>
              {name}
            </a>
          ))}
        </nav>
      </header>
      <main>
        <Desk {...facts} />
        <Routines {...facts} />
        <ChancesSection {...facts} />
        <StorySection {...facts} story={story} />
        <WhatIfSection />
        <Paper {...facts} />
      </main>
      <footer>
        <p>{CAUTION}</p>
      </footer>
    </div>
  );
}

/** Filled by the script of the page, which alone can work it out. */
function WhatIfSection() {
  return (
    <section id="what-if" aria-labelledby="what-if-head">
      <h2 id="what-if-head">What if</h2>
      <div id="what-if-own" data-own>
        <p class="quiet">For this the page needs its script, which is not running here.</p>
      </div>
    </section>
  );
}
