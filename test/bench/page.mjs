/**
 * From a score in the log to the pixels of an open page, and how fast what if answers: node test/bench/page.mjs
 * Needs a Chromium, and `npm run build`.
 */
import { spawn } from 'node:child_process';
import { appendFileSync, cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const EXAMPLES = new URL('../../docs/examples/', import.meta.url).pathname;
const COMMAND = new URL('../../dist/cli/lastrotation.cjs', import.meta.url).pathname;
const [, , from = '40'] = process.argv;

const folder = mkdtempSync(join(tmpdir(), 'lastrotation-'));
const meet = join(folder, 'harbour.yaml');
const log = join(folder, 'harbour.scores.csv');
cpSync(join(EXAMPLES, 'harbour.yaml'), meet);
const rows = readFileSync(join(EXAMPLES, 'harbour.scores.csv'), 'utf8').trim().split('\n');

const browser = await chromium.launch({
  executablePath: process.env.LASTROTATION_BROWSER ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});

/** Milliseconds until the page that is open shows each row that is appended. */
async function latencies(url) {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(url);
  await page.waitForTimeout(1000);
  const times = [];
  for (const row of rows.slice(Number(from))) {
    const before = await page.textContent('header .progress');
    const begun = performance.now();
    appendFileSync(log, `${row}\n`);
    await page
      .waitForFunction(
        (text) => document.querySelector('header .progress')?.textContent !== text,
        before,
        { polling: 'raf', timeout: 10_000 },
      )
      .then(() => times.push(performance.now() - begun))
      // A row that is no score says nothing in the header.
      .catch(() => undefined);
    await page.waitForTimeout(400);
  }
  await page.close();
  return times.sort((a, b) => a - b);
}

function said(what, times) {
  const at = (share) => times[Math.min(Math.floor(times.length * share), times.length - 1)];
  const figures = [0, 0.5, 0.9, 1].map((share) => at(share).toFixed(0));
  console.log(`${what}: least, median, 9 in 10, most of ${times.length}: ${figures.join(' ')} ms`);
}

async function following(args, ready) {
  writeFileSync(log, `${rows.slice(0, Number(from)).join('\n')}\n`);
  const child = spawn(process.execPath, [COMMAND, ...args, '--meet', meet]);
  const text = await new Promise((done) => child.stdout.once('data', (d) => done(String(d))));
  const times = await latencies(ready(text));
  child.kill();
  return times;
}

const out = join(folder, 'page.html');
said('a file', await following(['page', '--out', out, '--follow'], () => `file://${out}`));
said('served', await following(['serve', '--port', '0'], (text) => /http:\S+/.exec(text)[0]));

const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
await page.goto(`file://${out}`);
const times = await page.evaluate(async () => {
  const slider = document.querySelector('#what-if input[type=range]');
  const found = [];
  for (let k = 0; k < 30; k++) {
    const begun = performance.now();
    slider.value = String(10 + k);
    slider.dispatchEvent(new Event('input', { bubbles: true }));
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    found.push(performance.now() - begun);
  }
  return found.sort((a, b) => a - b);
});
said('what if, to the second frame after', times);
await browser.close();
rmSync(folder, { recursive: true, force: true });
