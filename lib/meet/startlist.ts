/** `new`: a meet file from a start list, or an empty one with comments. */
import { DISCIPLINES, type DisciplineCode } from '../apparatus.js';
import type { KnownRules } from './known-rules.js';
import { isSound, type Problem, type ProblemList, report } from './problems.js';
import { readMeetBy, type Source } from './read.js';
import { type Entrant, readStartList, UNKNOWN } from './start-rows.js';

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

/**
 * A meet file's text. The start list is a CSV with a column `name`, and if wanted `id`, `team`,
 * `group` (the apparatus it starts on, its number, or bye), `on`, `carried` and what a gymnast is called
 * (`family`, `short`, `say`, `country`, `bib`); its rows are in start order. Without one the file has an example to write over.
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

const NOTHING = {
  family: null,
  short: '',
  say: '',
  country: '',
  bib: '',
  team: '',
  group: '',
  on: '',
  carried: '',
};

/** Invented. */
const EXAMPLE: readonly Entrant[] = [
  { ...NOTHING, id: 'first', name: 'First Gymnast' },
  { ...NOTHING, id: 'second', name: 'Second Gymnast' },
];

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
  const gymnasts = entrants.map(({ id, name, family, short, say, country, bib, ...theRest }) => {
    const { team, on, carried } = theRest;
    const called = Object.entries({ family: family ?? '', short, say, country, bib });
    const rest = [
      ...called.map(([key, value]) => (value === '' ? '' : `, ${key}: ${flow(value)}`)),
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
