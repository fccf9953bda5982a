/** The text of a meet file that is made from a start list. */
import type { MeetKind } from './start-kinds.js';
import type { Orders, StartGroup } from './start-orders.js';
import type { Entrant } from './start-rows.js';

export interface NewText {
  readonly title: string | null;
  readonly discipline: string;
  readonly scoring: 'open' | 'ten';
  readonly codes: readonly string[];
  readonly kind: MeetKind | null;
  /** Lines under `contests:`; null where they are left open. */
  readonly contests: readonly string[] | null;
  readonly entrants: readonly Entrant[];
  readonly lineups: ReadonlyMap<string, Orders>;
  readonly finals: Orders | null;
  readonly groups: readonly StartGroup[];
}

export function meetText(made: NewText): string {
  const { title, discipline, scoring, codes } = made;
  const name = (title ?? '').replace(/[\p{Cc}\s]+/gu, ' ').trim();
  const range =
    scoring === 'open'
      ? '{ low: 12.900, likely: 13.500, high: 14.000, falls: 0.05, d: 5.0 }'
      : '{ low: 9.600, likely: 9.800, high: 9.950, falls: 0.05 }';
  return `${[
    '# A meet for lastrotation. Every key: docs/files.md. Check it with: lastrotation check',
    name === '' ? '# title: the name of the meet' : `title: ${flow(name)}`,
    `discipline: ${discipline}                 # wag: women; mag: men`,
    `${`scoring: ${scoring}`.padEnd(32)}# open: D + E - ND; ten: out of 10.000`,
    ...contestText(made),
    '',
    '# The realistic scores of a routine without a fall, and the chance of a fall. `usual` is for',
    '# whoever has no range of her own; her own stand with her: ranges: { VT: { likely: 13.900 } }',
    '# usual:',
    ...codes.map((code) => `#   ${code}: ${range}`),
    '',
    'gymnasts:',
    ...made.entrants.map(gymnastLine),
    '',
    ...teamText(made.lineups),
    ...orderText(made),
  ].join('\n')}\n`;
}

function contestText({ contests, codes, kind }: NewText): string[] {
  if (contests !== null) {
    const medals = kind === 'qualification' ? [] : ['# medals: 3'];
    return ['', `# What is decided: ${kind}.`, 'contests:', ...contests, ...medals];
  }
  return [
    '# contests:                     # all-around when nothing is said',
    '#   - all-around',
    `#   - { kind: apparatus, on: ${codes[0]} }`,
    '#   - { kind: team, up: 4, count: 3 }',
    '# medals: 3',
  ];
}

function gymnastLine(entrant: Entrant): string {
  const { id, name, family, short, say, country, bib, team, on, carried } = entrant;
  const called = Object.entries({ family: family ?? '', short, say, country, bib, team });
  const rest = [
    ...called.map(([key, value]) => (value === '' ? '' : `, ${key}: ${flow(value)}`)),
    on === '' ? '' : `, on: [${on.split(' ').join(', ')}]`,
    carried === '' ? '' : `, carried: ${carried}`,
  ];
  return `  - { id: ${flow(id)}, name: ${flow(name)}${rest.join('')} }`;
}

function teamText(lineups: ReadonlyMap<string, Orders>): string[] {
  if (lineups.size === 0) return [];
  return [
    '# Who of a team goes up on each apparatus, first up first; who is in no line-up is a reserve.',
    'teams:',
    ...[...lineups].flatMap(([team, orders]) => [
      `  - id: ${flow(team)}`,
      '    lineup:',
      ...Object.entries(orders).map(([code, order]) => `      ${code}: ${flowList(order)}`),
    ]),
    '',
  ];
}

function orderText({ entrants, codes, finals, groups }: NewText): string[] {
  if (finals !== null) {
    return [
      '# One final after another, each in its start order; who is in none is a reserve.',
      'rotations:',
      ...Object.entries(finals).map(([code, order]) => `  - { ${code}: ${flowList(order)} }`),
    ];
  }
  if (groups.length > 0) {
    return [
      '# Where each group begins, and who goes up, first up first.',
      'groups:',
      ...groups.map(({ session, stops, order }) => {
        const which = session === null ? '' : `session: ${session}, `;
        const where =
          stops.length > 1 ? `route: [${stops.join(', ')}]` : `start: ${stops.join('')}`;
        return `  - { ${which}${where}, order: ${flowList(order)} }`;
      }),
    ];
  }
  return [
    '# Groups: where each begins, and who goes up, first up first. Without groups or rotations',
    '# everyone goes up apparatus by apparatus, in the order of the list above.',
    '# groups:',
    `#   - { start: ${codes[0]}, order: ${flowList(entrants.map((e) => e.id))} }`,
  ];
}

/** A value as YAML takes it inside braces: bare where nothing in it could mean something else. */
function flow(text: string): string {
  return /^[\p{L}][\p{L}\p{N} .'’-]*$/u.test(text) && !/^(null|true|false|~)$/i.test(text)
    ? text
    : JSON.stringify(text);
}

function flowList(ids: readonly string[]): string {
  return `[${ids.map(flow).join(', ')}]`;
}
