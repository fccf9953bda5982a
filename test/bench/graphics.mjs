/**
 * From a score in the log to the new lines, over a whole evening of the 24-gymnast demo meet:
 * node test/bench/graphics.mjs. A row is added, the files are read again, every kind of line but the
 * medals in order is made and the file of lines is on disk: what `graphics --json --follow --out` does with
 * a score once the system has told it. The scores are those of the demo, then each likely score. Besides the
 * time by the clock the time the processor worked, which is what it takes on a machine with nothing
 * else to do. The library must have been built.
 */
import {
  appendFileSync,
  copyFileSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { inside } from './inside.mjs';

const { LINE_KINDS, atRow, followMeet, graphics, graphicsAs, openMeet, rangeAt, writeMadeFile } =
  await inside('lib/files/index.ts', 'lib/index.ts', 'lib/meet/meet.ts');

const folder = mkdtempSync(join(tmpdir(), 'lastrotation-graphics-'));
const meetPath = join(folder, 'harbour.yaml');
const log = join(folder, 'harbour.scores.csv');
const out = join(folder, 'lines.json');
copyFileSync('docs/examples/harbour.yaml', meetPath);
copyFileSync('docs/examples/harbour.scores.csv', log);
const demo = openMeet(meetPath);
const [head = '', ...rows] = readFileSync(log, 'utf8').trimEnd().split('\n');
const at = '2026-05-16T15:00:00.000Z';
const rest = demo.routines
  .filter((r) => demo.results[r.index] === null)
  .sort((a, b) => a.rotation - b.rotation)
  .map((r) => {
    const likely = ((rangeAt(demo, r.index).likely ?? 0) / 1000).toFixed(3);
    const values = { gymnast: r.gymnast, apparatus: r.apparatus, score: likely, at };
    return head
      .split(',')
      .map((column) => Reflect.get(values, column) ?? '')
      .join(',');
  });
writeFileSync(log, `${head}\n`);

const kinds = LINE_KINDS.filter((kind) => kind !== 'medals');
const following = followMeet(meetPath, {
  make: ({ meet, log: source, sources }) => {
    const { before, rows: count, at: written } = atRow(meet, source);
    const answer = graphics(meet, { before, kinds, rows: count, at: written });
    writeMadeFile(out, graphicsAs([answer], 'json', meet.scoring.decimals), sources);
    return answer;
  },
});

/**
 * @param {string} name
 * @param {number[]} times
 */
function print(name, times) {
  const sorted = times.sort((a, b) => a - b);
  const q = (/** @type {number} */ part) =>
    (sorted[Math.ceil(part * sorted.length) - 1] ?? Number.NaN).toFixed(1);
  console.log(`${name}: median ${q(0.5)} ms, 95% ${q(0.95)} ms, worst ${q(1)} ms`);
}

try {
  /** @type {number[]} */
  const waits = [];
  /** @type {number[]} */
  const works = [];
  for (const [i, row] of [...rows, ...rest].entries()) {
    appendFileSync(log, `${row}\n`);
    const worked = process.cpuUsage();
    const since = performance.now();
    if (following.look().value.rows !== i + 1) throw new Error(`not followed: ${row}`);
    waits.push(performance.now() - since);
    const { user, system } = process.cpuUsage(worked);
    works.push((user + system) / 1000);
  }
  console.log(`Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model}`);
  console.log(`${waits.length} scores, from the row in the log to the lines on disk`);
  print('by the clock', waits);
  print('the processor at work', works);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
