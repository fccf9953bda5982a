/** What a terminal can take: its width, its colours, and nothing that could take it over. */
import stringWidth from 'fast-string-width';
import pc from 'picocolors';

const DEFAULT_WIDTH = 100;

/** Columns to write in; tables are made for 100 and stay readable at 80. */
export function terminalWidth(): number {
  // Through a pipe such as `| head` the terminal is still the one that errors go to.
  const asked = process.stdout.columns ?? process.stderr.columns ?? Number(process.env.COLUMNS);
  return Number.isFinite(asked) && asked >= 40 ? asked : DEFAULT_WIDTH;
}

/** Options that every command takes; the last one counts. */
export const COLOUR_OPTIONS = ['--color', '--no-color'] as const;

/**
 * Whether to colour: the option says so, or else NO_COLOR, or else FORCE_COLOR (0 and false are no); where none
 * of them speaks, whether standard output is a terminal. An empty variable says nothing.
 */
function wantsColour(): boolean {
  const words = process.argv.slice(2);
  const end = words.indexOf('--');
  const before = end < 0 ? words : words.slice(0, end);
  const option = before.findLast((word) => COLOUR_OPTIONS.some((flag) => flag === word));
  if (option !== undefined) return option === '--color';
  const { NO_COLOR, FORCE_COLOR, TERM } = process.env;
  if (NO_COLOR) return false;
  if (FORCE_COLOR) return !/^(0|false)$/i.test(FORCE_COLOR);
  return process.stdout.isTTY === true && TERM !== 'dumb';
}

/** Does nothing to a text unless colour is wanted. */
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
/** Until somebody ends the command with Ctrl-C, or another program does. */
export function untilStopped(): Promise<void> {
  return new Promise((done) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => done());
  });
}

export function safeJson(value: unknown): string {
  return safe(JSON.stringify(value));
}

/** Where what a command prints goes, and the exit code it ends with. */
export interface Output {
  readonly write: (text: string) => void;
  readonly endWith: (exitCode: number) => void;
}

/** The output of the command itself. */
export const STANDARD_OUTPUT: Output = {
  write: (text) => void process.stdout.write(text),
  endWith: (exitCode) => {
    process.exitCode = exitCode;
  },
};

let outputNow = (): Output => STANDARD_OUTPUT;

/** Where it goes from now on: asked anew for every line, since several questions may be answered at once. */
export function printTo(other: () => Output): void {
  outputNow = other;
}

export function writeLine(text = ''): void {
  outputNow().write(`${text}\n`);
}

export function endWith(exitCode: number): void {
  outputNow().endWith(exitCode);
}

/** How many columns of a terminal a text takes. */
export function columnsOf(text: string): number {
  return /^[\x20-\x7e\u00a0-\u00ac\u00ae-\u024f]*$/.test(text) ? text.length : stringWidth(text);
}

/** The beginning of a text and …, where it takes more columns than there are. */
export function cut(text: string, width: number): string {
  if (columnsOf(text) <= width) return text;
  let beginning = '';
  for (const { segment } of new Intl.Segmenter().segment(text)) {
    if (columnsOf(beginning + segment) >= width) break;
    beginning += segment;
  }
  return `${beginning.trimEnd()}…`;
}

/** Breaks a text into lines of at most `width` columns, at its blanks. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const line = lines.at(-1);
    if (line === undefined || columnsOf(line) + 1 + columnsOf(word) > width) lines.push(word);
    else lines[lines.length - 1] = `${line} ${word}`;
  }
  return lines;
}

/** Prints words on as many lines as they take. */
export function writeWords(text: string, style: (text: string) => string = String): void {
  for (const line of wrap(safe(text), terminalWidth())) writeLine(style(line));
}
