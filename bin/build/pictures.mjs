/**
 * Takes the pictures of docs/page.md anew, with the Chromium of this machine: node bin/build/pictures.mjs
 * Needs `npm run build`, and pdftoppm for the paper.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const OUT = 'docs/pictures';
const folder = mkdtempSync(join(tmpdir(), 'lastrotation-'));
const file = join(folder, 'harbour.html');
execFileSync(process.execPath, [
  ...['dist/cli/lastrotation.cjs', 'page', '--meet', 'docs/examples/harbour.yaml', '--out', file],
]);
const browser = await chromium.launch({
  executablePath: process.env.LASTROTATION_BROWSER ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});

async function opened(width, height, colorScheme = 'light') {
  const page = await browser.newPage({ viewport: { width, height }, colorScheme });
  await page.goto(`file://${file}`);
  return page;
}

const desk = await opened(1280, 900);
await desk.screenshot({ path: `${OUT}/desk-1280.png` });
await desk
  .locator('.routine .picture', { hasText: 'Brondt' })
  .screenshot({ path: `${OUT}/routine.png` });
await desk.locator('#story .picture').screenshot({ path: `${OUT}/story.png` });
await desk.getByLabel('Ida Brondt, beam: type a score, or DNS').fill('14.7');
await desk.locator('#what-if').scrollIntoViewIfNeeded();
await desk.locator('#what-if .outcome .report').waitFor();
await desk.evaluate(() => document.querySelector('#what-if')?.scrollIntoView());
await desk.screenshot({ path: `${OUT}/what-if.png` });
await desk.pdf({ path: join(folder, 'paper.pdf'), preferCSSPageSize: true });
const small = await opened(360, 740);
await small.screenshot({ path: `${OUT}/desk-360.png` });
const dark = await opened(1920, 1080, 'dark');
await dark.screenshot({ path: `${OUT}/desk-1920-dark.png` });
await browser.close();
const paper = ['-png', '-r', '70', '-f', '1', '-l', '1', '-singlefile'];
execFileSync('pdftoppm', [...paper, join(folder, 'paper.pdf'), `${OUT}/paper`]);
rmSync(folder, { recursive: true, force: true });
