/** Chances as lengths, drawn in characters. */
import type { reports } from '../../lib/index.js';
import { terminalWidth } from '../terminal.js';

/** From this width of the terminal on there is room for longer bars. */
const WIDE = 100;
const LONG = 10;
const SHORT = 6;

/** `>99.9%` and a blank. */
const PERCENT_WIDTH = 7;

const EIGHTHS = ['', '▏', '▎', '▍', '▌', '▋', '▊', '▉'];

/** A chance as a bar of so many columns, in eighths of one. */
function bar(chance: number, width: number): string {
  const eighths = Math.min(Math.max(Math.round(chance * width * 8), chance > 0 ? 1 : 0), width * 8);
  const rest = EIGHTHS[eighths % 8] ?? '';
  return `${'█'.repeat(Math.floor(eighths / 8))}${rest}`;
}

/** A bar and the chance it stands for, the bar shorter where there is little room; or a bar alone. */
export function barWithText(chance: number, text: string): string {
  if (text === '') return bar(chance, LONG);
  const width = terminalWidth() >= WIDE ? LONG : SHORT;
  // A word stands a blank behind the bar.
  const said = text.length < PERCENT_WIDTH ? text.padStart(PERCENT_WIDTH) : ` ${text}`;
  return bar(chance, width).padEnd(width) + said;
}

const HEIGHTS = ['▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];

/** So many characters at most tell how chances went. */
const SPARK = 24;

/**
 * Chances in order of time as heights, an eighth of 100% each. Where there are more than characters, each
 * stands for as many neighbours and shows the last of them: what was so at its end.
 */
export function sparkline(chances: readonly number[]): string {
  const width = Math.min(chances.length, SPARK);
  const lastOf = (k: number) => chances[Math.ceil(((k + 1) * chances.length) / width) - 1] ?? 0;
  return Array.from({ length: width }, (_, k) => {
    const height = Math.floor(lastOf(k) * HEIGHTS.length);
    return HEIGHTS[Math.min(Math.max(height, 0), HEIGHTS.length - 1)] ?? '';
  }).join('');
}

/** Columns of a picture from 0 to 100%. */
export const PICTURE = 41;

/** What was said and what happened on one line from 0 to 100%. */
export function compared({ said, happened, interval }: reports.Comparison): string {
  const at = (p: number) => Math.round(p * (PICTURE - 1));
  const line = new Array<string>(PICTURE).fill(' ');
  if (interval !== null) line.fill('─', at(interval[0]), at(interval[1]) + 1);
  if (said !== null) line[at(said)] = '│';
  if (happened !== null) line[at(happened)] = '●';
  return line.join('');
}
