/** The rows of a start list. */
import { apparatusWritten, type Called, withFollowUps } from '../apparatus.js';
import {
  isEmptyRow,
  joinQuoted,
  namedValues,
  physicalLines,
  readHeader,
  splitLine,
} from './csv.js';
import { type ProblemList, report } from './problems.js';
import {
  apparatusIn,
  carriedIn,
  countIn,
  groupIn,
  type LeftOut,
  noteLeftOut,
  UNREADABLE,
} from './start-values.js';
import { countryIn, isBib } from './values.js';

const COLUMNS = [
  'id',
  'name',
  'family',
  'short',
  'say',
  'country',
  'bib',
  'team',
  'session',
  'group',
  'on',
  'carried',
] as const;

type Column = (typeof COLUMNS)[number];

/**
 * What start lists call them as well, in small letters without accents: in English, and (from memory) in French,
 * German, Spanish, Italian and Portuguese, as apparatus are.
 */
const OTHER_NAMES: ReadonlyMap<string, Column> = new Map(
  Object.entries({
    name: 'gymnast, nom, gymnaste, turnerin, turner, nombre, gimnasta, nome, ginnasta, nominativo',
    family: 'nom de famille, nachname, familienname, apellidos, apellido, cognome, sobrenome',
    country: 'nation, noc, nat, pays, land, pais, paese, nazione',
    bib: 'number, start number, no, dossard, startnummer, startnr, dorsal, pettorale, numero',
    team: 'equipe, club, verein, mannschaft, equipo, squadra, societa, clube',
    session: 'subdivision, durchgang, suddivisione, subdivisao',
    group: 'start, starts on, first apparatus, groupe, gruppe, riege, grupo, gruppo',
  } satisfies Partial<Record<Column, string>>).flatMap(([column, names]) =>
    names.split(', ').map((name): [string, Column] => [name, column as Column]),
  ),
);

/** A row of the list; what it leaves open is empty or null. */
export interface Entrant extends Readonly<Record<Exclude<Column, 'family' | 'session'>, string>> {
  readonly family: string | null;
  readonly session: number | null;
  /** By apparatus: the position in which she goes up there. */
  readonly positions: Readonly<Record<string, number>>;
  /** Whether the list has her for a second vault. */
  readonly vaultsTwice: boolean;
  readonly line: number;
}

/** Most sessions, and most who go up on an apparatus. */
const MOST_SESSIONS = 99;
const MOST_UP = 200;

/** Everyone on the list; who has no id has an empty one. */
export function readStartList(
  text: string,
  known: readonly Called[],
  list: ProblemList,
): Entrant[] {
  const lines = physicalLines(text.replace(/^\uFEFF/, '')).filter((l) => !isEmptyRow(l.text));
  const [first, ...rest] = lines;
  if (first === undefined) {
    report(list, 'error', 'empty-file', null, 'is empty', 'begin with a line name,team,group');
    return [];
  }
  const all = withFollowUps(known.map((a) => ({ ...a, limit: null, follows: null })));
  const columns: readonly string[] = [...COLUMNS, ...all.map((a) => a.code)];
  const alsoCalled = (name: string) => {
    const [one, ...more] = apparatusWritten(all, name);
    return OTHER_NAMES.get(name) ?? (more.length === 0 ? one?.code : undefined) ?? null;
  };
  const header = readHeader(first, columns, ['name'], list, alsoCalled);
  if (header === null) return [];
  const entrants: Entrant[] = [];
  const leftOut: LeftOut[] = [];
  for (const line of joinQuoted(rest, header.delimiter, list)) {
    const fields = splitLine(line.text, header.delimiter);
    const values = namedValues(fields, header, columns, line.number, list);
    const row = values && textsOf(values, entrants, { line: line.number, list });
    if (row !== null) entrants.push(entrantOf(row, all, { line: line.number, list }, leftOut));
  }
  if (entrants.length === 0 && list.problems.length === 0) {
    report(list, 'error', 'no-gymnasts', null, 'names no gymnast', 'add a row for each');
  }
  noteLeftOut(leftOut, list);
  return entrants;
}

type Texts = (column: string) => string;

/** The values of a row by column, each on one line; null for a row that cannot be used. */
function textsOf(
  values: Readonly<Record<string, string>>,
  before: readonly Entrant[],
  { line, list }: { readonly line: number; readonly list: ProblemList },
): Texts | null {
  const wrong = (
    code: 'missing-name' | 'wrong-value' | 'gymnast-twice',
    message: string,
    mend: string,
  ) => {
    report(list, 'error', code, line, message, mend);
    return null;
  };
  const texts = (column: string) => (values[column] ?? '').replace(/\s+/g, ' ');
  const id = texts('id');
  if (id === '' && texts('name') === '') {
    return wrong('missing-name', 'this row has no name', 'give one');
  }
  const invisible = Object.keys(values).find((c) => /\p{Cc}/u.test(texts(c)));
  if (invisible !== undefined) {
    const message = `the ${invisible} holds characters that cannot be seen`;
    return wrong('wrong-value', message, 'write it anew');
  }
  if (id !== '' && before.some((e) => e.id === id)) {
    return wrong('gymnast-twice', `the id ${id} stands twice`, 'keep one');
  }
  return texts;
}

function entrantOf(
  texts: Texts,
  all: ReturnType<typeof withFollowUps>,
  cell: { readonly line: number; readonly list: ProblemList },
  leftOut: LeftOut[],
): Entrant {
  const { line } = cell;
  const stations = all.filter((a) => a.follows === null);
  const fitting = (column: LeftOut['column'], value: string, fit: string | null) => {
    if (fit === null && value !== '') leftOut.push({ column, line, value });
    return fit ?? '';
  };
  const positions = stations.flatMap(({ code, name }): [string, number][] => {
    const mend =
      'write the position in which she goes up there, 1, 2, …; nothing where she does not';
    const position = countIn(texts(code), MOST_UP, `position on ${name}`, mend, cell);
    return position === null || position === UNREADABLE ? [] : [[code, position]];
  });
  const [id, bib, country] = [texts('id'), texts('bib'), texts('country')];
  return {
    id,
    name: texts('name') === '' ? id : texts('name'),
    family: texts('family') === '' ? null : texts('family'),
    short: texts('short'),
    say: texts('say'),
    country: fitting('country', country, countryIn(country)),
    bib: fitting('bib', bib, isBib(bib) ? bib : null),
    team: texts('team'),
    session: countIn(texts('session'), MOST_SESSIONS, 'session', 'write 1, 2, …', cell),
    group: groupIn(texts('group'), stations, cell),
    on: apparatusIn(texts('on'), stations, cell),
    carried: carriedIn(texts('carried'), cell),
    positions: Object.fromEntries(positions),
    vaultsTwice: all.some((a) => a.follows !== null && texts(a.code) !== ''),
    line,
  };
}
