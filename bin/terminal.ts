/** What a terminal can take: its width, its colours, and nothing that could take it over. */
import pc from 'picocolors';

const DEFAULT_WIDTH = 100;

/** Columns to write in; tables are made for 100 and stay readable at 80. */
export function terminalWidth(): number {
  const asked = process.stdout.columns ?? Number(process.env.COLUMNS);
  return Number.isFinite(asked) && asked >= 40 ? asked : DEFAULT_WIDTH;
}

function wantsColour(): boolean {
  return process.stdout.isTTY === true && !process.env.NO_COLOR && process.env.TERM !== 'dumb';
}

/** Does nothing to a text unless standard output is a terminal that wants colour. */
export const colour = pc.createColors(wantsColour());

/** Control characters, and those that turn the direction of writing, made visible. */
export function safe(text: string): string {
  return /^[ -~]*$/.test(text) ? text : text.replace(UNSAFE, escaped);
}

const UNSAFE =
  /[\p{Cc}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/gu;

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

/** JSON on one line that is as safe on a terminal as a table. */
export function safeJson(value: unknown): string {
  return safe(JSON.stringify(value));
}

export function writeLine(text = ''): void {
  process.stdout.write(`${text}\n`);
}
