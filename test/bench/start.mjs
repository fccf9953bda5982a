/**
 * How long the command takes from start to end, against starting and ending Node itself with an
 * empty script: node test/bench/start.mjs [PAIRS]. Both are measured in turn in one run, so that
 * what else the machine does falls on both. The command must have been built.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const COMMAND = 'dist/cli/lastrotation.cjs';
const MEET = ['--meet', 'docs/examples/harbour.yaml'];
const WARM_UP = 3;

/** @type {readonly (readonly string[])[]} */
const CALLS = [
  ['needs', 'brondt', ...MEET],
  ['needs', ...MEET],
  ['check', ...MEET],
  ['standings', ...MEET],
  ['outcomes', 'brondt', ...MEET],
  ['chances', ...MEET],
  ['--version'],
];

/**
 * Milliseconds from start to end, the output read as a pipe would be.
 * @param {readonly string[]} args
 * @returns {number}
 */
function timed(args) {
  const begin = process.hrtime.bigint();
  const { status, stderr } = spawnSync(process.execPath, args, { cwd: ROOT });
  const end = process.hrtime.bigint();
  if (status !== 0) throw new Error(`node ${args.join(' ')}: ${stderr}`);
  return Number(end - begin) / 1e6;
}

/**
 * @param {readonly number[]} values
 * @returns {number}
 */
function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? Number.NaN) + upper) / 2;
}

/**
 * One pair after another; who goes first changes every time.
 * @param {readonly string[]} call
 * @param {string} empty
 * @param {number} pairs
 */
function compare(call, empty, pairs) {
  /** @type {{ command: number, node: number }[]} */
  const measured = [];
  for (let i = -WARM_UP; i < pairs; i++) {
    const nodeFirst = i % 2 === 0 ? null : timed([empty]);
    const command = timed([COMMAND, ...call]);
    const node = nodeFirst ?? timed([empty]);
    if (i >= 0) measured.push({ command, node });
  }
  const ratios = measured.map(({ command, node }) => command / node);
  return {
    command: median(measured.map(({ command }) => command)),
    node: median(measured.map(({ node }) => node)),
    ratio: median(ratios),
    least: Math.min(...ratios),
    most: Math.max(...ratios),
  };
}

function main() {
  const pairs = Number(process.argv[2] ?? 31);
  if (!Number.isInteger(pairs) || pairs < 1) throw new RangeError('how many pairs?');
  const folder = mkdtempSync(join(tmpdir(), 'lastrotation-start-'));
  try {
    const empty = join(folder, 'empty.cjs');
    writeFileSync(empty, '');
    console.log(`Node ${process.version}, ${cpus()[0]?.model}, medians of ${pairs} pairs`);
    console.log('command            ms   Node ms   ratio (least to most)');
    for (const call of CALLS) {
      const { command, node, ratio, least, most } = compare(call, empty, pairs);
      const numbers = [command.toFixed(1).padStart(5), node.toFixed(1).padStart(9)].join(' ');
      const spread = `${ratio.toFixed(2).padStart(7)} (${least.toFixed(2)} to ${most.toFixed(2)})`;
      const asked = call.join(' ').replace(/ --meet.*/, '');
      console.log(`${asked.padEnd(15)} ${numbers} ${spread}`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

main();
