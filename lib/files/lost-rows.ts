/** Rows of a score log that stood and are gone: a log is only ever added to. */
import { LastRotationError } from '../error.js';
import { type LogValues, parseLog } from '../meet/log.js';
import { type Problem, plain } from '../meet/problems.js';
import type { Source } from '../meet/read.js';

/** So many rows somebody may have mended by hand; more are lost. */
export const MOST_MENDED = 3;

export interface Loss {
  readonly error: LastRotationError;
  /** Of rows that stood before. */
  readonly lost: number;
  /** Few of them, and the log has others and was not cut off within a row. */
  readonly isMend: boolean;
  /** The same for the same rows. */
  readonly mark: string;
}

/**
 * What a log lacks of what it was; null when nothing of it is gone, in whatever order and manner it is written.
 * One that is not sound is nobody's mend.
 */
export function lossOf(
  path: string,
  before: Source | null,
  now: Source | null,
  isWhole = true,
): Loss | null {
  if (before === null || now?.text.startsWith(before.text) === true) return null;
  const { rows: stand, isCut } = rowsOf(now);
  const counts = new Map<string, number>();
  for (const row of stand) counts.set(identity(row), (counts.get(identity(row)) ?? 0) + 1);
  const gone = rowsOf(before).rows.filter((row) => {
    const count = counts.get(identity(row)) ?? 0;
    counts.set(identity(row), count - 1);
    return count <= 0;
  });
  if (gone.length === 0) return null;
  const isMend = isWhole && !isCut && stand.length > 0 && gone.length <= MOST_MENDED;
  const error = stand.length === 0 ? allGone(path, now, gone.length) : someGone(path, gone, isMend);
  return { error, lost: gone.length, isMend, mark: gone.map(identity).join('\n') };
}

function rowsOf(source: Source | null): { rows: readonly LogValues[]; isCut: boolean } {
  const problems: Problem[] = [];
  const { rows } = parseLog(source?.text ?? '', { file: source?.file ?? '', problems });
  const isCut = problems.some((p) => p.code === 'half-written');
  return { rows: rows.map((row) => row.values), isCut };
}

/** What a row does, however a spreadsheet writes it; a note or a time that is written anew is no loss. */
function identity({ note: _, at: __, ...values }: LogValues): string {
  return Object.values(values).map(plainValue).join('\t');
}

/** `13,50` is `13.5`, and no deduction is one of nothing. */
function plainValue(value: string): string {
  if (!/^\d+([.,]\d*)?$/.test(value)) return plain(value);
  const [points = '', fraction = ''] = value.split(/[.,]/);
  const digits = fraction.replace(/0+$/, '');
  return `${points.replace(/^0+/, '')}${digits === '' ? '' : `.${digits}`}`;
}

function allGone(file: string, now: Source | null, lost: number): LastRotationError {
  const rows = lost === 1 ? 'a row' : `${lost} rows`;
  return new LastRotationError(
    `the log is ${now === null ? 'gone' : 'empty'}, and ${rows} with it`,
    {
      kind: 'file',
      code: 'log-gone',
      file,
      mend: 'put it back; to go on without it, start again',
    },
  );
}

/** So many rows are named. */
const MOST_NAMED = 3;

function someGone(file: string, gone: readonly LogValues[], isMend: boolean): LastRotationError {
  const named = gone.slice(0, MOST_NAMED).map((r) => `${r.gymnast} ${r.apparatus} ${r.score}`);
  const more = gone.length - named.length;
  const what = gone.length === 1 ? 'a row that stood is' : `${gone.length} rows that stood are`;
  const them = gone.length === 1 ? 'it' : 'them';
  return new LastRotationError(
    `${what} gone from the log: ${named.join(', ')}${more > 0 ? ` and ${more} more` : ''}`,
    {
      kind: 'file',
      code: 'log-shrunk',
      file,
      mend: isMend
        ? `put ${them} back; a log that stands so for ten seconds is taken as it is`
        : `put ${them} back; to go on without ${them}, start again`,
    },
  );
}
