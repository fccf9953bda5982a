/** The page as the server gives it: an open one takes over what is recorded, and asks nobody else. */
import { appendFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Serving } from '../../bin/serve/server.js';
import { openMeet } from '../../lib/files/index.js';
import { formatScore, standings } from '../../lib/index.js';
import { BROWSER, launch, open, texts } from '../support/browser.js';
import { folder } from '../support/cli.js';
import { ask, servedHere } from '../support/serving.js';

describe.skipIf(BROWSER === undefined)('a page that is served', () => {
  const place = folder('mill-lane.yaml', 'mill-lane.scores.csv');
  const meet = join(place.path, 'mill-lane.yaml');
  const log = join(place.path, 'mill-lane.scores.csv');
  let browser: Browser;
  let serving: Serving;
  beforeAll(async () => {
    browser = await launch();
    serving = await servedHere(meet);
  });
  afterAll(async () => {
    await browser?.close();
    await serving.close();
    place.clean();
  });

  it('takes over a score that is recorded, and a mistake in the file and its mending', async () => {
    const { page, trouble } = await open(browser, serving.address);
    await page.waitForTimeout(300);
    const [before = ''] = await texts(page, 'header .progress');
    expect(before).toMatch(/^\d+ of \d+ routines are done\.$/);
    const { routines, results } = openMeet(meet);
    const next = routines.find((r) => results[r.index] === null);
    appendFileSync(log, `${next?.gymnast},${next?.apparatus},9.700\n`);
    await expect
      .poll(() => texts(page, 'header .progress'), { timeout: 60_000 })
      .not.toEqual([before]);
    const rows = await texts(page, '#desk .board tbody tr:not(.under)');
    for (const { name, total } of standings(openMeet(meet)).rows) {
      expect(rows.find((row) => row.includes(name))).toContain(formatScore(total, 3));
    }
    expect(trouble).toEqual({ said: [], asked: [] });
    await page.context().close();
  });

  it('has a way to the other contests of the meet', async () => {
    const { page, trouble } = await open(browser, serving.address);
    const links = page.getByRole('navigation', { name: 'Other contests' }).getByRole('link');
    const [name = ''] = await links.allInnerTexts();
    await links.first().click();
    expect(await page.title()).toContain(name);
    expect(trouble).toEqual({ said: [], asked: [] });
    await page.context().close();
  });

  it('says by a header, too, what the page may do', async () => {
    const reply = await ask(serving.address, '/');
    const policy = String(reply.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).toMatch(/script-src 'sha256-\S+' 'sha256-\S+'; style-src 'sha256-\S+'/);
    expect(policy).not.toContain('unsafe');
    const nowhere = await ask(serving.address, '/?contest=nowhere');
    expect(nowhere.status).toBe(404);
  });
});
