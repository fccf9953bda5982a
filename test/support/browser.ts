/** A real Chromium, driven by tests; those that need one are left out, saying so, where there is none. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { ROOT } from './cli.js';

/** The one without a window first, which opens a page in less than half of the time. */
const PATHS = [
  '/usr/bin/chromium-headless-shell',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

export const BROWSER = [process.env.LASTROTATION_BROWSER ?? '', ...PATHS].find(existsSync);
if (BROWSER === undefined) {
  console.warn('LEFT OUT: no Chromium is installed; LASTROTATION_BROWSER may name one.');
}

/**
 * No part of the browser asks the network for anything of its own, and what a window would suggest while an
 * address is typed is not made ready, which keeps one core busy as long as a page is open.
 */
export const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup',
];

export async function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: BROWSER ?? '', args: FLAGS });
}

/** What must not happen in a page: messages, errors, requests to anywhere else. */
export interface Trouble {
  readonly said: string[];
  readonly asked: string[];
}

/** A page opened in a context of its own, and what went wrong in it. */
export async function open(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
): Promise<{ page: Page; trouble: Trouble }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const trouble: Trouble = { said: [], asked: [] };
  page.on('console', (message) => trouble.said.push(message.text()));
  page.on('pageerror', (error) => trouble.said.push(error.message));
  page.on('request', (request) => {
    if (!request.url().startsWith(url.split(/[?#]/)[0] ?? url)) trouble.asked.push(request.url());
  });
  await page.goto(url);
  return { page, trouble };
}

/** The texts of all that fit, spaces as they are shown. */
export async function texts(page: Page, selector: string): Promise<string[]> {
  const all = await page.locator(selector).allInnerTexts();
  return all.map((text) => text.replace(/\s+/g, ' ').trim());
}

/** The rules of accessibility, as axe-core has them, that a page breaks: name and where. */
export async function broken(page: Page): Promise<string[]> {
  await page.evaluate(readFileSync(join(ROOT, 'node_modules/axe-core/axe.min.js'), 'utf8'));
  return page.evaluate(async () => {
    // biome-ignore lint/suspicious/noExplicitAny: axe puts itself there
    const { violations } = await (window as any).axe.run();
    return violations.flatMap((v: { id: string; nodes: { html: string }[] }) =>
      v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 120)}`),
    );
  });
}
