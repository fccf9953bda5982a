/** The page in a real browser: its figures are those of the library, and it does nothing that it should not. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { appendFileSync, copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageAssets } from '../../bin/page-assets.js';
import { openMeet } from '../../lib/files/index.js';
import {
  chances,
  formatScore,
  type Meet,
  needs,
  nextUp,
  page,
  standings,
  suppose,
} from '../../lib/index.js';
import { BROWSER, broken, launch, open, type Trouble, texts } from '../support/browser.js';
import { COMMAND, COVE_FILES, EXAMPLES, folder, run } from '../support/cli.js';

const show = (score: number) => formatScore(score, 3);

/** How much of what was seen has moved since the page was opened: https://wicg.github.io/layout-instability/ */
async function moved(page: Page): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((done) => {
        let sum = 0;
        new PerformanceObserver((list) => {
          for (const entry of list.getEntries())
            sum += (entry as unknown as { value: number }).value;
        }).observe({ type: 'layout-shift', buffered: true });
        setTimeout(() => done(sum), 100);
      }),
  );
}

describe.skipIf(BROWSER === undefined)('a page', () => {
  let browser: Browser;
  const place = folder('harbour.yaml', 'harbour.scores.csv', ...COVE_FILES);
  const fileOf = (name: string) => join(place.path, `${name}.html`);
  const urlOf = (name: string) => `file://${fileOf(name)}`;
  const pageOf = (name: string) => {
    const meet = join(place.path, `${name}.yaml`);
    const ran = run(['page', '--meet', meet, '--out', fileOf(name)]);
    if (ran.code !== 0) throw new Error(ran.err);
  };
  beforeAll(async () => {
    browser = await launch();
    pageOf('harbour');
    pageOf('cove');
  });
  afterAll(async () => {
    await browser?.close();
    place.clean();
  });

  describe('of the demo meet', () => {
    const meet = openMeet(join(EXAMPLES, 'harbour.yaml'));
    let url: string;
    /** Opened once, and only looked at. */
    let page: Page;
    let trouble: Trouble;
    beforeAll(async () => {
      url = urlOf('harbour');
      ({ page, trouble } = await open(browser, url));
    });
    afterAll(() => page?.context().close());

    it('has the board of the library, every figure of it', async () => {
      const rows = await texts(page, '#desk .board tbody tr:not(.under)');
      const expected = standings(meet).rows;
      expect(rows.length).toBe(expected.length);
      for (const [i, row] of expected.entries()) {
        const cells = (rows[i] ?? '').split(' ');
        expect(rows[i]).toContain(row.name);
        expect(cells).toContain(`${show(row.total)}${row.levelWith.length > 0 ? '*' : ''}`);
        if (row.projected !== null) expect(cells).toContain(`${show(row.projected)},`);
        for (const score of Object.values(row.scores)) {
          if (typeof score === 'number') expect(cells).toContain(show(score));
        }
      }
    });

    it('has a card for each of the next up with what she needs to win and for a medal', async () => {
      const cards = await texts(page, '#desk .card');
      expect(cards.length).toBe(nextUp(meet).length);
      for (const [i, { gymnast }] of nextUp(meet).entries()) {
        const name = meet.gymnasts.find((g) => g.id === gymnast)?.name ?? '';
        expect(cards[i]).toContain(name);
        for (const [target, to] of [
          ['win', 'to win'],
          ['medal', 'for a medal'],
        ] as const) {
          const [need] = needs(meet, gymnast, { for: target, when: 'end', rivals: 'likely' }).needs;
          const score = need?.onGrid ?? null;
          if (score === null) expect(cards[i]).not.toMatch(new RegExp(`[0-9] ${to}`));
          else expect(cards[i]).toContain(`${show(score)} ${to}`);
        }
      }
      // Ida Brondt on beam, worked out by hand in docs/guide.md: gold from 14.700, a medal from 13.766.
      expect(cards.find((c) => c.startsWith('Beam'))).toMatch(
        /14\.700 to win.*13\.766 for a medal/,
      );
    });

    it('has everyone’s chances', async () => {
      const rows = await texts(page, '#chances table:first-of-type tbody tr');
      for (const { id, win, medal } of chances(meet).contenders) {
        const name = meet.gymnasts.find((g) => g.id === id)?.name ?? '';
        const row = rows.find((r) => r.startsWith(name)) ?? '';
        for (const chance of [win, medal].filter((c) => c >= 0.001)) {
          expect(row).toContain(`${(chance * 100).toFixed(1)}%`);
        }
      }
    });

    it('draws where gold begins at its score, between the scores of the axis', async () => {
      const { marks, ticks } = await page.evaluate(() => {
        const picture = [...document.querySelectorAll('.picture')].find((p) =>
          p.textContent?.includes('gold from'),
        );
        const all = [...(picture?.querySelectorAll('text') ?? [])];
        const lines = [...(picture?.querySelectorAll('line[stroke-dasharray]') ?? [])];
        return {
          marks: lines.map((l) => Number(l.getAttribute('x1'))),
          ticks: all
            .filter((t) => /^\d+\.\d{3}$/.test(t.textContent ?? ''))
            .map((t) => [Number(t.textContent), Number(t.getAttribute('x'))] as const),
        };
      });
      const [first, last] = [ticks[0], ticks.at(-1)];
      if (first === undefined || last === undefined) throw new Error('no axis');
      const x = (score: number) =>
        first[1] + ((score - first[0]) / (last[0] - first[0])) * (last[1] - first[1]);
      expect(marks.length).toBe(2);
      for (const score of [14.7, 13.766]) {
        expect(Math.min(...marks.map((m) => Math.abs(m - x(score))))).toBeLessThan(0.2);
      }
    });

    it('has said nothing, asked nobody and moved nothing since it was opened', async () => {
      expect(trouble).toEqual({ said: [], asked: [] });
      expect(await moved(page)).toBe(0);
    });

    it('moves nothing while it arrives in pieces', async () => {
      const html = readFileSync(fileOf('harbour'), 'utf8');
      const desk = html.indexOf('<h2 id="routine-head"');
      const server = createServer(async (_, reply) => {
        reply.setHeader('content-type', 'text/html; charset=utf-8');
        for (let at = 0; at < desk; at += 600) {
          reply.write(html.slice(at, Math.min(at + 600, desk)));
          await pause(20);
        }
        reply.end(html.slice(desk));
      }).listen(0, '127.0.0.1');
      await once(server, 'listening');
      const { port } = server.address() as AddressInfo;
      const slow = await open(browser, `http://127.0.0.1:${port}/`);
      expect(await moved(slow.page)).toBe(0);
      expect(await texts(slow.page, '#desk .card')).toEqual(await texts(page, '#desk .card'));
      await slow.page.context().close();
      server.close();
    });

    it('is never wider than the screen', async () => {
      for (const width of [360, 560, 768, 1024, 1280, 1920, 2560]) {
        await page.setViewportSize({ width, height: 900 });
        const seen = await page.evaluate(() => document.documentElement.scrollWidth);
        expect(seen).toBe(width);
      }
    });

    it('shows the routine of anybody else who is chosen', async () => {
      await page.getByLabel('Another routine:').selectOption('tanakura FX');
      const [sheet] = await texts(page, '#another .sheet');
      const [need] = needs(meet, 'tanakura', { for: 'win' }).needs;
      expect(sheet).toContain(show(need?.onGrid ?? 0));
      expect(await page.locator('#another .picture').count()).toBe(1);
    });
  });

  describe('of six', () => {
    let meet: Meet;
    let url: string;
    beforeAll(() => {
      meet = openMeet(join(place.path, 'cove.yaml'));
      url = urlOf('cove');
    });

    it('answers what if as suppose does, for what is typed and for what is slid', async () => {
      const { page, trouble } = await open(browser, url);
      await page.getByLabel('Ida Brondt, beam: type a score, or DNS').fill('14.7');
      await expectIf(page, meet, [{ gymnast: 'brondt', apparatus: 'BB', score: '14.700' }]);
      // One step of a slider is one real score, with the keyboard as with the mouse.
      const slider = page.getByLabel('Wren Adeyemi, beam: slide to a score');
      await slider.focus();
      await page.keyboard.press('ArrowRight');
      const set = await page.getByLabel('Wren Adeyemi, beam: type a score, or DNS').inputValue();
      expect(set).toBe('14.066');
      await expectIf(page, meet, [
        { gymnast: 'brondt', apparatus: 'BB', score: '14.700' },
        { gymnast: 'adeyemi', apparatus: 'BB', score: set },
      ]);
      await page.getByLabel('Suzu Tanakura, floor: type a score, or DNS').evaluate((input) => {
        input.closest('details')?.setAttribute('open', '');
      });
      await page.getByLabel('Suzu Tanakura, floor: type a score, or DNS').fill('DNS');
      await expectIf(page, meet, [
        { gymnast: 'brondt', apparatus: 'BB', score: '14.700' },
        { gymnast: 'adeyemi', apparatus: 'BB', score: set },
        { gymnast: 'tanakura', apparatus: 'FX', score: 'DNS' },
      ]);
      expect(trouble).toEqual({ said: [], asked: [] });
      await page.context().close();
    });

    it('says what is wrong with a score beside it, and goes on with the others', async () => {
      const { page } = await open(browser, url);
      await page.getByLabel('Ida Brondt, beam: type a score, or DNS').fill('14.7');
      await page.getByLabel('Wren Adeyemi, beam: type a score, or DNS').fill('147');
      expect(await texts(page, '#what-if .error')).toHaveLength(1);
      await expectIf(page, meet, [{ gymnast: 'brondt', apparatus: 'BB', score: '14.700' }]);
      await page.getByText('clear all').click();
      expect(await page.locator('#what-if .outcome .report').count()).toBe(0);
      await page.context().close();
    });

    it('can be read without scripts, all but what if', async () => {
      const { page } = await open(browser, url, { javaScriptEnabled: false });
      const heads = await texts(page, 'h2');
      expect(heads).toEqual(
        expect.arrayContaining(['Desk', 'Routine', 'Chances', 'What if', 'Paper']),
      );
      const [text] = await texts(page, '#what-if');
      expect(text).toContain('needs its script');
      await page.context().close();
    });
  });

  it.each([
    ['harbour', 360, 'light'],
    ['cove', 1280, 'dark'],
  ] as const)(
    'of %s breaks no rule of accessibility %i pixels wide, %s',
    async (name, width, colorScheme) => {
      const viewport = { width, height: 900 };
      const { page } = await open(browser, urlOf(name), { viewport, colorScheme, bypassCSP: true });
      await page.getByLabel('Ida Brondt, beam: type a score, or DNS').fill('14.7');
      expect(await broken(page)).toEqual([]);
      await page.context().close();
    },
  );

  it('takes over what is recorded elsewhere, and keeps what was typed', async () => {
    const meet = join(place.path, 'cove.yaml');
    const log = join(place.path, 'cove.scores.csv');
    const out = join(place.path, 'followed.html');
    const following = spawn(process.execPath, [
      COMMAND,
      'page',
      '--meet',
      meet,
      '--out',
      out,
      '--follow',
    ]);
    await once(following.stdout, 'data');
    const { page, trouble } = await open(browser, `file://${out}`);
    const [routine, later] = nextUp(openMeet(meet));
    if (routine === undefined || later === undefined) throw new Error('nobody is next up');
    const typed = page.locator('#what-if input[type=text]').nth(2);
    await typed.fill('13.5');
    await typed.focus();
    await page.evaluate(() => window.scrollTo(0, 500));
    const [before] = await texts(page, 'header .progress');
    appendFileSync(log, `${routine.gymnast},${routine.apparatus},13.800,,,,,,\n`);
    await expect
      .poll(() => texts(page, 'header .progress'), { timeout: 60_000 })
      .not.toEqual([before]);
    const after = openMeet(meet);
    const rows = await texts(page, '#desk .board tbody tr');
    for (const { name, total } of standings(after).rows) {
      expect(rows.find((row) => row.includes(name))).toContain(show(total));
    }
    // The routine that is scored is not asked about any more; what was typed for another stays with it.
    const values = await page
      .locator('#what-if input[type=text]')
      .evaluateAll((all) => all.map((input) => (input as HTMLInputElement).value));
    expect(values.filter((v) => v !== '')).toEqual(['13.5']);
    expect(await page.evaluate(() => document.activeElement?.getAttribute('type'))).toBe('text');
    expect(trouble.said).toEqual([]);
    following.kill();
    await page.context().close();
  });

  it('prints one sheet for each rotation to come', async () => {
    // The demo meet in its third rotation of four, and six before the first.
    const six = join(place.path, 'before.yaml');
    copyFileSync(join(place.path, 'cove.yaml'), six);
    writeFileSync(fileOf('before'), page(openMeet(six), { assets: pageAssets() }));
    for (const [name, sheets] of [
      ['harbour', 2],
      ['before', 4],
    ] as const) {
      const opened = await open(browser, urlOf(name));
      const pdf = (await opened.page.pdf({ preferCSSPageSize: true })).toString('latin1');
      expect([name, pdf.match(/\/Type\s*\/Page[^s]/g)?.length]).toEqual([name, sheets]);
      await opened.page.context().close();
    }
  });

  it('keeps a hostile name a name', async () => {
    const name = '<img src=x onerror=document.title="taken"> </script><script>alert(1)</script>';
    const other = folder();
    const meet = join(other.path, 'meet.yaml');
    writeFileSync(
      meet,
      [
        `title: ${JSON.stringify(name)}`,
        'discipline: wag',
        'scoring: open',
        'usual:',
        ...['VT', 'UB', 'BB', 'FX'].map(
          (a) => `  ${a}: { low: 12, likely: 13, high: 14, falls: 0.1 }`,
        ),
        'gymnasts:',
        `  - { id: ann, name: ${JSON.stringify(name)} }`,
        '  - { id: bea, name: "בת־שבע الياس 山田" }',
        '  - { id: cleo, name: "Ó Cléirigh, <b>Cleo</b> & co" }',
      ].join('\n'),
    );
    const ran = run(['page', '--meet', meet]);
    expect(ran.code).toBe(0);
    const { page, trouble } = await open(browser, `file://${join(other.path, 'meet.html')}`);
    expect(await page.title()).toBe(`${name}: all-around`);
    await page.locator('#what-if input[type=text]').first().fill('13.5');
    expect(await texts(page, '#what-if .outcome tbody tr:first-child')).not.toEqual([]);
    expect(await page.locator('img, #page script, #page b').count()).toBe(0);
    expect(await texts(page, '#desk .board')).toEqual([expect.stringContaining('山田')]);
    expect(trouble).toEqual({ said: [], asked: [] });
    await page.context().close();
    other.clean();
  });
});

/** Waits for the board and the chances that `suppose` gives. */
async function expectIf(
  page: Page,
  meet: Meet,
  supposed: { gymnast: string; apparatus: string; score: string }[],
): Promise<void> {
  const answer = suppose(meet, supposed);
  const { after, before } = answer.chances;
  const pairs = (after?.contenders ?? []).flatMap((is) => {
    const was = before?.contenders.find((c) => c.id === is.id);
    const name = meet.gymnasts.find((g) => g.id === is.id)?.name ?? '';
    const change = Math.abs(is.win - (was?.win ?? 0));
    if (was === undefined || change < 0.001 || is.win < 0.001 || was.win < 0.001) return [];
    return [`${name} ${percent(was.win)} → ${percent(is.win)}`];
  });
  expect(pairs.length).toBeGreaterThan(0);
  await expect
    .poll(async () => (await texts(page, '#what-if .outcome tbody tr')).join('\n'), {
      timeout: 20_000,
    })
    .toContain(pairs[0]);
  const rows = await texts(page, '#what-if .outcome tbody tr');
  for (const pair of pairs) expect(rows.some((row) => row.startsWith(pair))).toBe(true);
  for (const row of answer.after.rows) {
    if (row.projected === null) continue;
    const shown = rows.find((r) => r.includes(row.name) && r.includes(show(row.projected ?? 0)));
    expect(shown, row.name).toContain(show(row.total));
  }
}

function percent(chance: number): string {
  return `${(chance * 100).toFixed(1)}%`;
}
