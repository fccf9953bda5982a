/**
 * From a typed line to the end of what is said, over a whole evening of the 24-gymnast demo meet:
 * node test/bench/live.mjs. One desk in one process, every row on disk before it is answered; the
 * scores are those of the demo, then each likely score. The library must have been built.
 */
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { inside } from './inside.mjs';

const { openMeet, rangeAt } = await inside('lib/files/index.ts', 'lib/meet/meet.ts');

const QUESTIONS = ['needs', 'standings', 'next'];

/**
 * The session as the command has it.
 * @param {string} folder
 */
async function sessionIn(folder) {
  const outfile = join(folder, 'session.cjs');
  await build({
    stdin: {
      contents: `export { openSession } from './bin/live/session.js';
        export { makeProgram } from './bin/program.js';
        export { openBoard } from './lib/files/index.js';`,
      resolveDir: '.',
      loader: 'ts',
    },
    outfile,
    bundle: true,
    minify: true,
    platform: 'node',
    format: 'cjs',
    target: 'node20',
    define: { LASTROTATION_VERSION: '"bench"' },
    supported: { 'dynamic-import': false },
    logLevel: 'error',
  });
  return import(pathToFileURL(outfile).href);
}

/**
 * @param {string} name
 * @param {number[]} times
 */
function print(name, times) {
  const sorted = times.sort((a, b) => a - b);
  const at = (/** @type {number} */ q) =>
    (sorted[Math.ceil(q * sorted.length) - 1] ?? Number.NaN).toFixed(1).padStart(7);
  console.log(
    `${name.padEnd(12)} ${String(sorted.length).padStart(5)} ${at(0.5)} ${at(0.95)} ${at(1)}`,
  );
}

/** @returns {number[]} */
const numbers = () => [];

const folder = mkdtempSync(join(tmpdir(), 'lastrotation-live-'));
try {
  const meetPath = join(folder, 'harbour.yaml');
  const log = join(folder, 'harbour.scores.csv');
  copyFileSync('docs/examples/harbour.yaml', meetPath);
  copyFileSync('docs/examples/harbour.scores.csv', log);
  const demo = openMeet(meetPath);
  const rows = readFileSync(log, 'utf8').trimEnd().split('\n').slice(1);
  const rest = demo.routines
    .filter((r) => demo.results[r.index] === null)
    .sort((a, b) => a.rotation - b.rotation)
    .map((r) => {
      const likely = ((rangeAt(demo, r.index).likely ?? 0) / 1000).toFixed(3);
      return `${r.gymnast} ${r.apparatus} ${likely}`;
    });
  const scores = [...rows.map((row) => row.split(',').slice(0, 3).join(' ')), ...rest];
  rmSync(log);

  const { openSession, openBoard, makeProgram } = await sessionIn(folder);
  const session = openSession({
    meetPath,
    contest: undefined,
    board: openBoard(meetPath),
    confirm: async () => true,
    answer: (/** @type {readonly string[]} */ words) =>
      makeProgram().parseAsync(words, { from: 'user' }),
  });
  const write = process.stdout.write.bind(process.stdout);
  let said = 0;
  /** @param {string} line */
  const timed = async (line) => {
    process.stdout.write = /** @type {any} */ (
      (/** @type {string} */ text) => {
        said += text.length;
        return true;
      }
    );
    const begin = performance.now();
    await session.handle(line);
    const time = performance.now() - begin;
    process.stdout.write = write;
    return time;
  };
  const times = new Map(['a score', ...QUESTIONS].map((name) => [name, numbers()]));
  // The prompt says it when it opens.
  await timed('next');
  for (const score of scores) {
    times.get('a score')?.push(await timed(score));
    for (const question of QUESTIONS) times.get(question)?.push(await timed(question));
  }
  const stands = openMeet(meetPath).results.filter((r) => r !== null).length;
  if (stands !== demo.routines.length || said === 0) throw new Error(`only ${stands} scores stand`);
  console.log(`Node ${process.version}, ${cpus().length} cores, ${scores.length} scores`);
  console.log('line         times  median    95%   worst, ms');
  for (const [name, all] of times) print(name, all);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
