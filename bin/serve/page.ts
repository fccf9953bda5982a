/** The page at `/`. */
import type { SoundFiles } from '../../lib/files/index.js';
import { reports, standings } from '../../lib/index.js';
import { safe } from '../terminal.js';

export interface PageOptions {
  /** The contest it opens with; undefined for the first of the meet. */
  readonly contest: string | undefined;
  /** Of the files it is made of, as `/events` counts: its stream goes on from there. */
  readonly sequence: string;
  /** Null, or since when these are the last files that could be read. */
  readonly stale: string | null;
}

/** What the page may load and do, sent beside it. */
export const PAGE_POLICY =
  "default-src 'none'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** The whole page as one HTML text. */
export function pageText({ meet }: SoundFiles, options: PageOptions): string {
  const { contest, sequence, stale } = options;
  const report = reports.standings(meet, standings(meet, { contest }));
  const title = escaped(meet.title ?? 'lastrotation');
  const since = stale === null ? '' : ` data-stale="${escaped(stale)}"`;
  return `<!doctype html>
<html lang="en" data-sequence="${escaped(sequence)}"${since}>
<meta charset="utf-8">
<title>${title}</title>
<h1>${title}</h1>
${report.map((section) => section.map(blockText).join('\n')).join('\n')}
</html>
`;
}

function blockText(block: reports.Block): string {
  if (block.kind === 'title') return `<h2>${escaped(block.text)}</h2>`;
  if (block.kind === 'table') return tableText(block);
  if (block.kind === 'problem') return `<p>${escaped(block.message)}</p>`;
  return `<p>${escaped(block.text)}</p>`;
}

function tableText({ columns, rows }: reports.Table): string {
  const row = (tag: string, texts: readonly string[]) =>
    `<tr>${texts.map((text) => `<${tag}>${escaped(text)}</${tag}>`).join('')}</tr>`;
  const heads = columns.map(({ head }) => head);
  const lines = rows.map(({ cells }) =>
    row(
      'td',
      cells.map(({ text, items }) => items?.join(', ') ?? text),
    ),
  );
  return `<table>\n${[row('th', heads), ...lines].join('\n')}\n</table>`;
}

function escaped(text: string): string {
  return text
    .split('\n')
    .map(safe)
    .join('\n')
    .replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}
