/** A report that says what it was made from, so that it can be made again. */
import { asMarkdown } from './report/markdown.js';
import type { Report } from './report/report.js';

/** Where a report comes from. */
export interface Stamp {
  /** What stands over it. */
  readonly title: string;
  /** Of the package that made it. */
  readonly version: string;
  /** The files it was made from, each with the SHA-256 of its bytes in hexadecimal. */
  readonly files: readonly {
    /** As it was named. */
    readonly file: string;
    /** 64 characters, as `sha256OfFile` gives them. */
    readonly sha256: string;
  }[];
  /** Of everything that was drawn. */
  readonly seed: number;
  /** What makes the same report again. */
  readonly command: string;
}

/**
 * How such a file begins, so that no other is written over.
 * @example
 * STAMPED.startsWith('<!--') // → true
 */
export const STAMPED = '<!-- Made by lastrotation. -->';

/**
 * Markdown: the stamp, then the report with all of its tables. It holds no time of day: the same files and
 * seed make the same text.
 * @param stamp - Where the report comes from.
 * @param report - From one of `reports`.
 * @example
 * const stamp = { title: 'Chances', version: '1.0.0', files: [], seed: 7, command: 'lastrotation chances' };
 * const title = { kind: 'title', text: 'The field', aside: null, tone: null } as const;
 * stampedReport(stamp, [[title]]).trimEnd().split('\n').at(-1) // → '## The field'
 */
export function stampedReport(stamp: Stamp, report: Report): string {
  const { title, version, files, seed, command } = stamp;
  const lines = [
    `- Made by lastrotation ${version}, seed ${seed}.`,
    ...files.map(({ file, sha256 }) => `- From \`${file}\`, SHA-256 \`${sha256}\`.`),
    '- The same again:',
  ];
  const head = `${STAMPED}\n\n# ${title}\n\n${lines.join('\n')}\n\n\`\`\`sh\n${command}\n\`\`\``;
  return `${head}\n\n${asMarkdown(report)}`;
}
