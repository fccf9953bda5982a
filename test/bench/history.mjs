/**
 * A results history of 600,000 rows (54 MB), invented, and what `ranges` and `backtest` take for it:
 * node test/bench/history.mjs [rows] [ranges|backtest], after a build. Prints seconds by the clock, seconds of
 * the processor and the most memory; the history is removed again.
 */
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

const COMMAND = fileURLToPath(new URL('../../dist/cli/lastrotation.cjs', import.meta.url));
const ROWS = Number(process.argv[2] ?? 600_000);
const ROUNDS = ['qualification', 'team final', 'all-around final', 'apparatus final'];
const OF = { wag: ['VT', 'UB', 'BB', 'FX'], mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'] };
const GYMNASTS = 6000;

const random = xoroshiro128plus(7);
const uniform = () => ((random.next() >>> 0) + 0.5) / 2 ** 32;
/** About normal: twelve uniform numbers less six. */
const normal = () => Array.from({ length: 12 }, uniform).reduce((a, b) => a + b, -6);

/** Everybody has a level; each meet takes two dozen of one discipline through all rounds and apparatus. */
function write(path) {
  const file = openSync(path, 'w');
  writeSync(file, 'gymnast,discipline,date,competition,round,apparatus,score,d,e,nd,noc\n');
  const levels = Array.from({ length: GYMNASTS }, () => 7.6 + 0.4 * normal());
  const name = (i) => `Gymnast Number ${String(i).padStart(4, '0')}`;
  let rows = 0;
  for (let meet = 0; rows < ROWS; meet++) {
    const discipline = meet % 2 === 0 ? 'wag' : 'mag';
    const first = new Date(Date.UTC(2005, 0, 1) + meet * 12 * 3600 * 1000);
    const half = GYMNASTS / 2;
    const field = Array.from(
      { length: 24 },
      () => (meet % 2) * half + Math.floor(half * uniform()),
    );
    const lines = [];
    for (const [day, round] of ROUNDS.entries()) {
      const date = new Date(first.getTime() + day * 24 * 3600 * 1000).toISOString().slice(0, 10);
      const up = round === 'apparatus final' ? field.slice(0, 8) : field;
      for (const on of OF[discipline]) {
        for (const i of new Set(up)) {
          const d = Math.round(10 * (5 + 0.4 * normal())) / 10;
          const fall = uniform() < 0.1 ? 1 : 0;
          const e = Math.round(30 * Math.min(levels[i] + 0.3 * normal() - fall, 9.9)) / 30;
          const thousandths = Math.floor(1000 * e + 0.001);
          const score = ((1000 * d + thousandths) / 1000).toFixed(3);
          lines.push(
            `${name(i)},${discipline},${date},Meet ${meet},${round},${on},${score},${d.toFixed(3)},${(thousandths / 1000).toFixed(3)},0.000,N${String(i % 40).padStart(2, '0')}`,
          );
        }
      }
    }
    rows += lines.length;
    writeSync(file, `${lines.join('\n')}\n`);
  }
  closeSync(file);
  return rows;
}

const folder = mkdtempSync(join(tmpdir(), 'lastrotation-'));
try {
  const path = join(folder, 'results.csv');
  console.log(`${write(path)} rows`);
  for (const word of (process.argv[3] ?? 'ranges backtest').split(' ')) {
    const words = ['-f', '%e %U %M', process.execPath, COMMAND, word, path];
    const { status, stderr } = spawnSync('/usr/bin/time', words, {
      encoding: 'utf8',
      maxBuffer: 1e9,
    });
    const [clock, processor, kilobytes] = (stderr.trim().split('\n').at(-1) ?? '').split(' ');
    const megabytes = Math.round(kilobytes / 1024);
    console.log(
      `${word}: ${clock} s by the clock, ${processor} s of the processor, ${megabytes} MB`,
    );
    if (status !== 0) console.log(stderr.slice(0, 300));
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
