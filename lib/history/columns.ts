/** The columns of a results history, by the many names people give them. */
import { LastRotationError } from '../error.js';
import { type Header, type Line, namedValues, readHeader, splitLine } from '../meet/csv.js';
import { type Problem, type ProblemList, plain, report } from '../meet/problems.js';
import type { LeftOut } from './routine.js';

export const REQUIRED = [
  'gymnast',
  'discipline',
  'date',
  'competition',
  'round',
  'apparatus',
  'score',
] as const;
export const COLUMNS = [...REQUIRED, 'd', 'e', 'nd', 'noc', 'place', 'rotation'] as const;
export type Column = (typeof COLUMNS)[number];

/** What else a column is called, in small letters; where two are the same column, the first counts. */
const OTHERS: Readonly<Record<string, Column>> = Object.fromEntries(
  (
    [
      ['gymnast', 'athlete', 'gymnast name', 'athlete name', 'name', 'full name', 'competitor'],
      ['discipline', 'gender', 'sex', 'disc'],
      ['date', 'meet date', 'competition date', 'day', 'when'],
      ['competition', 'meet', 'comp', 'meet name', 'competition name', 'event name', 'tournament'],
      ['round', 'phase', 'stage'],
      ['apparatus', 'app', 'apparatus code', 'apparatus name', 'event'],
      ['score', 'total', 'total score', 'final score', 'final', 'result', 'mark'],
      ['d', 'd score', 'd-score', 'dscore', 'd_score', 'difficulty', 'difficulty score', 'dv'],
      ['e', 'e score', 'e-score', 'escore', 'e_score', 'execution', 'execution score'],
      ['nd', 'penalty', 'penalties', 'pen', 'deduction', 'deductions', 'neutral deductions'],
      ['nd', 'neutral deduction'],
      ['noc', 'nation', 'country', 'nat', 'federation', 'fed'],
      ['place', 'rank', 'position', 'pos'],
      ['rotation', 'rot'],
    ] as const
  ).flatMap(([column, ...names]) => names.map((name) => [name, column])),
);

/** The first line of a history, and notes on the columns it calls otherwise. Throws where it cannot be used. */
export function headerOf(
  file: string,
  first: Line | undefined,
  list: ProblemList,
): { header: Header<Column>; notes: readonly LeftOut[] } {
  const header =
    first && readHeader(first, COLUMNS, REQUIRED, list, (name) => OTHERS[name] ?? null);
  if (!header) throw unreadable(file, list.problems);
  const notes = splitLine(first.text, header.delimiter).flatMap((name, i): LeftOut[] => {
    const column = header.columns[i] ?? null;
    if (column === null || column === plain(name)) return [];
    return [{ line: first.number, why: `the column ${name} is read as ${column}` }];
  });
  return { header, notes };
}

/** All that is missing at once, so that nobody has to come back for the next. */
function unreadable(file: string, problems: readonly Problem[]): LastRotationError {
  const errors = problems.filter((p) => p.severity === 'error');
  const [first] = errors;
  const missing = errors
    .filter((p) => p.code === 'missing-column')
    .map((p) => p.message.replace('the first line has no column ', ''));
  const guesses = errors.map((p) => p.mend).filter((mend) => mend?.startsWith('did you mean'));
  const isMissing = missing.length > 1 && missing.length === errors.length;
  return new LastRotationError(
    isMissing
      ? `the first line has no columns ${missing.join(', ')}`
      : (first?.message ?? 'there is nothing in it'),
    {
      kind: 'file',
      code: first?.code ?? 'empty',
      file,
      line: first?.line ?? null,
      mend:
        (isMissing ? guesses.join('; ') || null : first?.mend) ??
        `begin with a line that names the columns: ${REQUIRED.join(',')}`,
    },
  );
}

/** The values of a row by column; null, with the reason in the list, where it is none. */
export function valuesOf(
  fields: readonly string[],
  header: Header<Column>,
  line: number,
  list: ProblemList,
): Record<Column, string> | null {
  const values = namedValues(fields, header, COLUMNS, line, list);
  if (values === null || header.delimiter !== ',') return values;
  const next = fields[header.columns.indexOf('score') + 1] ?? '';
  const isWhole = values.d !== '' && values.e !== '';
  // Without quotes a decimal comma makes two values of one score.
  if (isWhole || !/^\d+$/.test(values.score) || !/^\d{1,4}$/.test(next)) return values;
  report(
    list,
    'error',
    'comma-in-score',
    line,
    `"${values.score},${next}" may be one score or two values`,
    'put a score with a comma in quotes',
  );
  return null;
}
