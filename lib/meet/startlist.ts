/** `new`: a meet file from a start list, or an empty one with comments. */
import { type Apparatus, apparatusCalled, DISCIPLINES, type DisciplineCode } from '../apparatus.js';
import { formatScore, parseScore } from '../score.js';
import {
  isEmptyRow,
  joinQuoted,
  namedValues,
  physicalLines,
  readHeader,
  splitLine,
} from './csv.js';
import { withIds } from './ids.js';
import type { KnownRules } from './known-rules.js';
import { didYouMean, isSound, type Problem, type ProblemList, plain, report } from './problems.js';
import { readMeetBy, type Source } from './read.js';

const COLUMNS = ['id', 'name', 'team', 'group', 'on', 'carried'] as const;

export interface NewMeetOptions {
  readonly title?: string | null;
  readonly discipline?: DisciplineCode;
  readonly scoring?: 'open' | 'ten';
}

export interface NewMeet {
  /** The text of the meet file; null when the start list cannot be used. */
  readonly text: string | null;
  readonly gymnasts: number;
  readonly groups: number;
  readonly problems: readonly Problem[];
}

/** What an apparatus is called. */
type Called = Pick<Apparatus, 'code' | 'name'>;

interface Entrant {
  readonly id: string;
  readonly name: string;
  readonly team: string;
  readonly group: string;
  readonly on: string;
  readonly carried: string;
}

/**
 * A meet file's text. The start list is a CSV with a column `name`, and if wanted `id`, `team`,
 * `group` (the apparatus it starts on, its number, or bye), `on` and `carried`; its rows are in start
 * order. Without one the file has an example to write over.
 */
export function newMeetBy(
  rules: KnownRules,
  startList: Source | null,
  options: NewMeetOptions = {},
): NewMeet {
  const problems: Problem[] = [];
  const list: ProblemList = { file: startList?.file ?? '', problems };
  const discipline = options.discipline ?? 'wag';
  const apparatus = DISCIPLINES[discipline].apparatus.map(([code, name]) => ({ code, name }));
  const codes: string[] = apparatus.map((a) => a.code);
  const entrants = startList === null ? EXAMPLE : readStartList(startList.text, apparatus, list);
  const groups = groupsOf(entrants, codes, list);
  const text = meetText(entrants, groups, codes, discipline, options);
  // Whatever a start list may hold: a meet file that is not sound is not written.
  if (isSound(problems)) {
    for (const p of readMeetBy(rules, { meet: { file: list.file, text } }).problems) {
      if (p.severity === 'error') report(list, 'error', p.code, null, p.message, p.mend);
    }
  }
  return {
    text: isSound(problems) ? text : null,
    gymnasts: entrants.length,
    groups: groups.filter((g) => g.order.length > 0).length,
    problems,
  };
}

/** Invented. */
const EXAMPLE: readonly Entrant[] = [
  { id: 'first', name: 'First Gymnast', team: '', group: '', on: '', carried: '' },
  { id: 'second', name: 'Second Gymnast', team: '', group: '', on: '', carried: '' },
];

function readStartList(text: string, known: readonly Called[], list: ProblemList): Entrant[] {
  const lines = physicalLines(text.replace(/^\uFEFF/, '')).filter((l) => !isEmptyRow(l.text));
  const [first, ...rest] = lines;
  if (first === undefined) {
    report(list, 'error', 'empty-file', null, 'is empty', 'begin with a line name,team,group');
    return [];
  }
  const header = readHeader(first, COLUMNS, ['name'], list);
  if (header === null) return [];
  const entrants: Entrant[] = [];
  for (const line of joinQuoted(rest, header.delimiter, list)) {
    const fields = splitLine(line.text, header.delimiter);
    const values = namedValues(fields, header, COLUMNS, line.number, list);
    if (values === null) continue;
    if (values.name === '' && values.id === '') {
      report(list, 'error', 'missing-name', line.number, 'this row has no name', 'give one');
      continue;
    }
    const invisible = COLUMNS.find((c) => /\p{Cc}/u.test(values[c].replace(/[\t\r\n]/g, ' ')));
    if (invisible !== undefined) {
      const message = `the ${invisible} holds characters that cannot be seen`;
      report(list, 'error', 'wrong-value', line.number, message, 'write it anew');
      continue;
    }
    const id = values.id.replace(/\s+/g, ' ');
    if (id !== '' && entrants.some((e) => e.id === id)) {
      const message = `the id ${id} stands twice`;
      report(list, 'error', 'gymnast-twice', line.number, message, 'keep one');
      continue;
    }
    entrants.push({
      ...values,
      name: values.name === '' ? id : values.name.replace(/\s+/g, ' '),
      id,
      team: values.team.replace(/\s+/g, ' '),
      group: startOf(values.group, known, line.number, list),
      on: apparatusIn(values.on, known, line.number, list),
      carried: carriedIn(values.carried, line.number, list),
    });
  }
  if (entrants.length === 0 && list.problems.length === 0) {
    report(list, 'error', 'no-gymnasts', null, 'names no gymnast', 'add a row for each');
  }
  return withIds(entrants);
}

/** A group that was named but is none; it has been reported. */
const UNKNOWN = '?';

/** A group by the apparatus it starts on, by its number, or bye. */
function startOf(group: string, known: readonly Called[], line: number, list: ProblemList): string {
  if (group === '') return '';
  if (plain(group) === 'bye') return 'bye';
  const found = apparatusCalled(known, group);
  const numbered = /^\d+$/.test(group) ? known[Number(group) - 1] : undefined;
  const [first = numbered] = found;
  if (first !== undefined && found.length < 2) return first.code;
  const codes = known.map((a) => a.code);
  report(
    list,
    'error',
    'unknown-group',
    line,
    first === undefined
      ? `group "${group}" is no apparatus to start on`
      : `group "${group}" may be ${found.map((a) => a.name).join(' or ')}`,
    didYouMean(
      group.toUpperCase(),
      [...codes, 'bye'],
      `a number from 1 to ${codes.length}, or one of`,
    ),
  );
  return UNKNOWN;
}

/** No apparatus has a name of more words. */
const MOST_WORDS = 3;

/** `VT FX`, or `vault, uneven bars`, with whatever stands between: the codes, each with a blank after it. */
function apparatusIn(
  on: string,
  known: readonly Called[],
  line: number,
  list: ProblemList,
): string {
  const words = on
    .replace(/^\[|\]$/g, '')
    .split(/[\s,;/]+/)
    .filter((w) => w !== '');
  const given: string[] = [];
  for (let at = 0; at < words.length; ) {
    // The longest name first: "high bar" is no "bar" that is high.
    const spans = [...Array(MOST_WORDS).keys()].map((n) => words.slice(at, at + MOST_WORDS - n));
    const span = spans.find((s) => apparatusCalled(known, s.join(' ')).length > 0) ?? [];
    const found = apparatusCalled(known, span.join(' '));
    const [first] = found;
    if (first !== undefined && found.length === 1) given.push(first.code);
    else reportUnknown(span.length > 0 ? span.join(' ') : (words[at] ?? ''), found);
    at += Math.max(span.length, 1);
  }
  return given.join(' ');

  function reportUnknown(text: string, found: readonly Called[]): void {
    const mend = didYouMean(
      text.toUpperCase(),
      known.map((a) => a.code),
      'one of',
    );
    const names = found.map((a) => a.name).join(' or ');
    const message = found.length > 0 ? `"${text}" may be ${names}` : `"${text}" is no apparatus`;
    report(list, 'error', 'unknown-apparatus', line, message, mend);
  }
}

function carriedIn(carried: string, line: number, list: ProblemList): string {
  if (carried === '') return '';
  const parsed = parseScore(carried, 3);
  if ('value' in parsed) return formatScore(parsed.value, 3);
  report(list, 'error', 'wrong-score', line, `carried: ${parsed.wrong}`, parsed.mend);
  return '';
}

/** The groups in the order they are named; with a bye, one for every apparatus. */
function groupsOf(
  entrants: readonly Entrant[],
  codes: readonly string[],
  list: ProblemList,
): { start: string; order: string[] }[] {
  const groups: { start: string; order: string[] }[] = [];
  const without = entrants.filter((e) => e.group === '');
  for (const { id, group } of entrants) {
    if (group === '' || group === UNKNOWN) continue;
    const existing = groups.find((g) => g.start === group);
    if (existing === undefined) groups.push({ start: group, order: [id] });
    else existing.order.push(id);
  }
  if (groups.length > 0 && without.length > 0) {
    const names = without.map((e) => e.name).join(', ');
    const message = `no group for ${names}`;
    report(list, 'error', 'gymnast-in-no-group', null, message, 'give all a group, or nobody');
  }
  if (groups.some((g) => g.start === 'bye')) {
    const missing = codes.filter((code) => !groups.some((g) => g.start === code));
    groups.push(...missing.map((start) => ({ start, order: [] })));
  }
  return groups;
}

/** A value as YAML takes it inside braces: bare where nothing in it could mean something else. */
function flow(text: string): string {
  return /^[\p{L}][\p{L}\p{N} .'’-]*$/u.test(text) && !/^(null|true|false|~)$/i.test(text)
    ? text
    : JSON.stringify(text);
}

function meetText(
  entrants: readonly Entrant[],
  groups: readonly { start: string; order: readonly string[] }[],
  codes: readonly string[],
  discipline: DisciplineCode,
  { title, scoring = 'open' }: NewMeetOptions,
): string {
  const first = codes[0] ?? 'VT';
  const name = (title ?? '').replace(/[\p{Cc}\s]+/gu, ' ').trim();
  const range =
    scoring === 'open'
      ? '{ low: 12.900, likely: 13.500, high: 14.000, falls: 0.05, d: 5.0 }'
      : '{ low: 9.600, likely: 9.800, high: 9.950, falls: 0.05 }';
  const gymnasts = entrants.map(({ id, name, team, on, carried }) => {
    const rest = [
      team === '' ? '' : `, team: ${flow(team)}`,
      on === '' ? '' : `, on: [${on.split(' ').join(', ')}]`,
      carried === '' ? '' : `, carried: ${carried}`,
    ];
    return `  - { id: ${flow(id)}, name: ${flow(name)}${rest.join('')} }`;
  });
  const written =
    groups.length === 0
      ? [
          '# Groups: where each begins, and who goes up, first up first. Without groups or rotations',
          '# everyone goes up apparatus by apparatus, in the order of the list above.',
          '# groups:',
          `#   - { start: ${first}, order: [${entrants.map((e) => flow(e.id)).join(', ')}] }`,
        ]
      : [
          '# Where each group begins, and who goes up, first up first.',
          'groups:',
          ...groups.map(
            (g) => `  - { start: ${g.start}, order: [${g.order.map(flow).join(', ')}] }`,
          ),
        ];
  return `${[
    '# A meet for lastrotation. Every key: docs/files.md. Check it with: lastrotation check',
    name === '' ? '# title: the name of the meet' : `title: ${flow(name)}`,
    `discipline: ${discipline}                 # wag: women; mag: men`,
    `scoring: ${scoring}                   # open: D + E - ND; ten: out of 10.000`,
    '# contests:                     # all-around when nothing is said',
    '#   - all-around',
    `#   - { kind: apparatus, on: ${first} }`,
    '#   - { kind: team, up: 4, count: 3 }',
    '# medals: 3',
    '',
    '# The realistic scores of a routine without a fall, and the chance of a fall. `usual` is for',
    '# whoever has no range of her own; her own stand with her: ranges: { VT: { likely: 13.900 } }',
    '# usual:',
    ...codes.map((code) => `#   ${code}: ${range}`),
    '',
    'gymnasts:',
    ...gymnasts,
    '',
    ...written,
  ].join('\n')}\n`;
}
