/**
 * Computes the figures of docs/honesty.md again: node test/reference/honesty.mjs [--check]. Reads the open data from
 * the folder that LASTROTATION_DATA names (docs/rules.md), and writes the tables between the two marks of the
 * document; with --check it writes nothing, and fails where they are not what is computed. The library must
 * have been built.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readHistoryFile } from '../../dist/lib/files/index.js';
import { backtest, reports } from '../../dist/lib/index.js';
import { inside } from '../bench/inside.mjs';

const { asMarkdown } = await inside('lib/report/markdown.ts');

const DOCUMENT = 'docs/honesty.md';
const [BEGIN, END] = ['<!-- figures -->', '<!-- end of figures -->'];

const folder = process.env.LASTROTATION_DATA ?? '';
if (folder === '') throw new Error('LASTROTATION_DATA does not name the folder of the open data');
const history = readHistoryFile(join(folder, 'routines-2022-2023.csv'));

const allAround = sections({ contest: 'all-around', against: 'days' });
const parts = [
  ['All-around finals', allAround.filter((s) => isOfFinals(s) || titleOf(s).startsWith('With '))],
  ['Team finals', sections({ contest: 'team' }).filter(isOfFinals)],
  ['Apparatus finals', sections({ contest: 'apparatus' }).filter(isOfFinals)],
  ['Single routines', allAround.filter((s) => /^(One routine|How many scores)/.test(titleOf(s)))],
];
const figures = parts.map(([name, report]) => {
  const text = asMarkdown(report).replace(/^## /gm, '#### ');
  return `### ${name}\n\n${text}`;
});

const text = readFileSync(DOCUMENT, 'utf8');
const [from, to] = [text.indexOf(BEGIN) + BEGIN.length, text.indexOf(END)];
const made = `${text.slice(0, from)}\n\n${figures.join('\n')}\n${text.slice(to)}`;
if (!process.argv.includes('--check')) writeFileSync(DOCUMENT, made);
else if (bare(made) !== bare(text)) {
  const [was, is] = [text, made].map((t) => t.split('\n'));
  const at = is.findIndex((line, i) => bare(line) !== bare(was[i] ?? ''));
  console.error(`${DOCUMENT}:${at + 1} has\n${was[at]}\nand computed is\n${is[at]}`);
  process.exitCode = 1;
}

/** @param {import('../../dist/lib/index.js').BacktestOptions} options */
function sections(options) {
  return reports.backtest(backtest(history, options));
}

function titleOf([first]) {
  return first?.kind === 'title' ? first.text : '';
}

function isOfFinals(section) {
  return /finals?(, | since )|^(How far off|To win|To medal)/.test(titleOf(section));
}

/** Without what a formatter of tables puts between the bars. */
function bare(/** @type {string} */ table) {
  return table.replace(/[ -]*\|[ -]*/g, '|').replace(/:-+|-+:/g, ':');
}
