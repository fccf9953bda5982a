/** What is wrong with a text that is no YAML, in words for somebody who does not know the parser. */

export interface SyntaxProblem {
  readonly line: number | null;
  readonly message: string;
  readonly mend: string;
}

/** By the parser's reason: what it means. */
const REASONS: readonly (readonly [reason: RegExp, message: string, mend: string])[] = [
  [/tab character/, 'a tab is used to indent', 'indent with spaces'],
  [/missed comma/, 'a comma is missing between two values', 'put one, or quotes round the text'],
  [/indentation/, 'the indentation does not fit the lines above', 'line it up with its neighbours'],
  [
    /colon is missed|multiline key|implicit/,
    'a colon is missing, or a text needs quotes',
    'write key: value',
  ],
  [/maxDepth/, 'its values are nested too deeply', 'is it the right file?'],
  [/alias|anchor/, 'a * or & stands for nothing', 'put the text in quotes'],
  [
    /document separator/,
    'this does not belong to what stands above it',
    'look at the indentation, and for a missing colon',
  ],
];

const ANYTHING = [
  'cannot be read as YAML from here on',
  'look for a missing quote, colon or bracket here or a line above',
] as const;

/**
 * Describes a parser's complaint. A parser stumbles where a line no longer fits, which is often
 * after the slip itself: an open bracket or quote, a missing colon.
 */
export function describeSyntax(
  text: string,
  reason: string,
  position: number | null,
): SyntaxProblem {
  if (position === null) return { line: null, message: ANYTHING[0], mend: ANYTHING[1] };
  const line = lineOf(text, position);
  const open = /missed comma|tab character/.test(reason) ? null : openAt(text, position);
  if (open !== null) {
    const [what, mend] =
      open.mark === '[' || open.mark === '{'
        ? ['bracket', 'close it with ] or }']
        : ['quote', 'close it'];
    return { line: open.line, message: `a ${what} is opened and never closed`, mend };
  }
  const lines = text.split(/\r\n|\n|\r/);
  if (openAt(text, position) === null && colonInText(lines[line - 1] ?? '')) {
    return {
      line,
      message: 'a colon stands inside a text',
      mend: 'put the text in quotes, or begin a new line',
    };
  }
  const [, message, mend] = REASONS.find(([pattern]) => pattern.test(reason)) ?? ['', ...ANYTHING];
  // A line without a colon is only missed when the next one comes.
  const late =
    /colon is missed|multiline key/.test(reason) && (lines[line - 1] ?? '').includes(':');
  const before = late ? lines.slice(0, line - 1).findLastIndex((l) => l.trim() !== '') : -1;
  return { line: before >= 0 ? before + 1 : line, message, mend };
}

/** `title: Harbour: the final` */
function colonInText(line: string): boolean {
  return line.length < 500 && /:\s[^"'[{#]*:\s/.test(line);
}

function lineOf(text: string, position: number): number {
  return (text.slice(0, position).match(/\r\n|\n|\r/g)?.length ?? 0) + 1;
}

/** The quote, or the innermost bracket, that is open at a position; null when none is. */
function openAt(text: string, position: number): { mark: string; line: number } | null {
  const brackets: { mark: string; at: number }[] = [];
  let quote: { mark: string; at: number } | null = null;
  // Quotes and comments only begin where a value could.
  let atStart = true;
  for (let i = 0; i < Math.min(position, text.length); i++) {
    const c = text[i] ?? '';
    if (quote !== null) {
      if (c === '\\' && quote.mark === '"') i++;
      else if (c === quote.mark) quote = null;
      continue;
    }
    if (c === '#' && /^$|\s/.test(text[i - 1] ?? '')) {
      while (i < text.length && !/[\r\n]/.test(text[i] ?? '')) i++;
      atStart = true;
    } else if (atStart && (c === '"' || c === "'")) quote = { mark: c, at: i };
    else if ((atStart || brackets.length > 0) && (c === '[' || c === '{')) {
      brackets.push({ mark: c, at: i });
      atStart = true;
      continue;
    } else if (brackets.length > 0 && (c === ']' || c === '}')) brackets.pop();
    if (!/[ \t]/.test(c)) atStart = /[:,\-\r\n]/.test(c);
  }
  const open = quote ?? brackets.at(-1);
  return open === undefined ? null : { mark: open.mark, line: lineOf(text, open.at) };
}
