/**
 * Damaged files: whatever happens to a meet and its log, the answer is either their problems or the
 * right board. The board is worked out a second time here, from another reader of YAML and a plain
 * reading of DESIGN's rules.
 *
 * FUZZ_CASES and FUZZ_SEED make it run longer or elsewhere; a failure names its case, and
 * FUZZ_ONLY=<case> runs that alone.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import {
  LastRotationError,
  type Meet,
  needs,
  nextUp,
  type Problem,
  readMeet,
  type Standings,
  standings,
} from '../../lib/index.js';
import { afterRotations } from '../../lib/meet/meet.js';
import { readLog } from '../../lib/meet/read.js';
import { EXAMPLES } from '../support/cli.js';

const CASES = Number(process.env.FUZZ_CASES ?? 120);
const SEED = Number(process.env.FUZZ_SEED ?? 20260516);
const ONLY = process.env.FUZZ_ONLY === undefined ? null : Number(process.env.FUZZ_ONLY);

// ---------------------------------------------------------------- chance, the same every time

type Random = (below: number) => number;

/** A 32-bit generator; the same numbers for the same seed. */
function randomFrom(seed: number): Random {
  let state = (seed ^ 0x9e3779b9) >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) % below;
  };
}

function pick<T>(list: readonly T[], random: Random): T {
  return list[random(list.length)] as T;
}

// ---------------------------------------------------------------- damage

const GARBAGE = [
  '\u0000',
  '\t',
  '\r',
  '\n',
  '"',
  "'",
  ',',
  ';',
  ':',
  '- ',
  '[',
  ']',
  '{',
  '}',
  '#',
  '&a ',
  '*a',
  '!',
  '|',
  '>',
  '%',
  '@',
  '`',
  '~',
  '\\',
  '\uFEFF',
  '\u202e',
  '\u001b[31m',
  '😀',
  'é',
  '\ud800',
  '---\n',
  '...\n',
  'null',
  'DNS',
  'void',
  '0',
  '-1',
  '99999999999999999999',
  '1e9',
  'NaN',
  '__proto__',
] as const;

const NUMBERS = [
  '0',
  '1',
  '-1',
  '9.999',
  '13.5',
  '13,5',
  '14.0000',
  '99.999',
  '100000',
  '',
  '1e3',
  '٣',
  '007',
];

/** One kind of damage each; text in, text out. */
const DAMAGES: readonly ((text: string, random: Random) => string)[] = [
  // A character turned into another.
  (t, r) =>
    replaced(
      t,
      r(t.length),
      1,
      String.fromCharCode((t.charCodeAt(r(t.length)) || 65) ^ (1 << r(7))),
    ),
  (t, r) => replaced(t, r(t.length), 1, String.fromCharCode(32 + r(95))),
  // Characters lost or doubled.
  (t, r) => replaced(t, r(t.length), 1 + r(3), ''),
  (t, r) => doubled(t, r(t.length), 1 + r(6)),
  // Lines lost, doubled, swapped.
  (t, r) => lines(t, (l) => l.splice(r(l.length), 1 + r(3))),
  (t, r) =>
    lines(t, (l) => {
      const at = r(l.length);
      l.splice(r(l.length), 0, l[at] ?? '');
    }),
  (t, r) =>
    lines(t, (l) => {
      const [a, b] = [r(l.length), r(l.length)];
      [l[a], l[b]] = [l[b] ?? '', l[a] ?? ''];
    }),
  // The end or the beginning lost.
  (t, r) => t.slice(0, r(t.length)),
  (t, r) => t.slice(r(Math.min(400, t.length))),
  // Something in between.
  (t, r) => replaced(t, r(t.length), 0, pick(GARBAGE, r)),
  (t, r) => replaced(t, r(t.length), r(5), pick(GARBAGE, r)),
  // A number replaced, or one of its digits.
  (t, r) => token(t, /\d+(?:\.\d+)?/g, r, () => pick(NUMBERS, r)),
  (t, r) => token(t, /\d+(?:\.\d+)?/g, r, (n) => replaced(n, r(n.length), 1, String(r(10)))),
  // One word for another of the same file.
  (t, r) => {
    const words = t.match(/[A-Za-z]{2,}/g) ?? ['x'];
    return token(t, /[A-Za-z]{2,}/g, r, () => pick(words, r));
  },
  // Words in other letters, an indentation changed, quotes put round something.
  (t, r) => token(t, /[A-Za-z]{2,}/g, r, (w) => w.toUpperCase()),
  (t, r) => token(t, /^ +/gm, r, (w) => (r(2) === 0 ? `${w} ` : w.slice(1))),
  (t, r) => token(t, /[A-Za-z0-9.]+/g, r, (w) => `"${w}"`),
  (t, r) => token(t, /[,:]/g, r, () => pick([';', '', ' ', ',,', ' :'], r)),
  (t) => t.replaceAll('\n', '\r\n'),
  (t) => `\uFEFF${t}`,
];

/** Damage that a log survives more often: rows that mean something else. */
const LOG_DAMAGES: typeof DAMAGES = [
  (t, r) => rowAdded(t, r, 'void'),
  (t, r) => rowAdded(t, r, 'DNS'),
  (t, r) => rowAdded(t, r, 'DNF'),
  (t, r) => rowAdded(t, r, `${10 + r(5)}.${100 + r(900)}`),
  (t, r) => lines(t, (l) => l.splice(1 + r(l.length), 1 + r(20))),
  (t, r) => lines(t, (l) => l.splice(1 + r(l.length))),
  // Columns in another order.
  (t, r) => {
    const order = [0, 1, 2, 3, 4, 5, 6, 7].sort(() => r(3) - 1);
    return lines(t, (l) =>
      l.forEach((row, i) => {
        const fields = row.split(',');
        if (fields.length === 8) l[i] = order.map((c) => fields[c]).join(',');
      }),
    );
  },
  // Columns lost at the end.
  (t, r) => {
    const keep = 3 + r(5);
    return t
      .split('\n')
      .map((row) => row.split(',').slice(0, keep).join(','))
      .join('\n');
  },
  (t, r) => t.replaceAll(',', pick([';', '\t'], r)),
  (t, r) => t.replaceAll(',', ';').replaceAll(/(\d)\.(\d{3};)/g, r(2) === 0 ? '$1,$2' : '$1.$2'),
];

function replaced(text: string, at: number, length: number, by: string): string {
  return text.slice(0, at) + by + text.slice(at + length);
}

function doubled(text: string, at: number, length: number): string {
  return text.slice(0, at + length) + text.slice(at);
}

function lines(text: string, change: (list: string[]) => void): string {
  const list = text.split('\n');
  change(list);
  return list.join('\n');
}

function token(text: string, what: RegExp, random: Random, by: (found: string) => string): string {
  const found = [...text.matchAll(what)];
  if (found.length === 0) return text;
  const one = pick(found, random);
  return replaced(text, one.index, one[0].length, by(one[0]));
}

/** A row for a routine that is in the log, or one for another of its gymnasts. */
function rowAdded(text: string, random: Random, score: string): string {
  const rows = text.split('\n').filter((l) => /^[a-z]+,[A-Z]{2},/.test(l));
  if (rows.length === 0) return text;
  const [gymnast] = pick(rows, random).split(',');
  const [, apparatus] = pick(rows, random).split(',');
  const at = '2026-05-16T15:00:00.000Z';
  const row =
    random(2) === 0 ? `${gymnast},${apparatus}` : pick(rows, random).split(',').slice(0, 2).join();
  return `${text}${row},${score},,,,,${at}\n`;
}

interface Case {
  readonly name: string;
  readonly meet: string;
  readonly log: string;
}

/** The damaged files of a case; which example, which file and how follow from its number alone. */
function damagedCase(number: number, examples: readonly Case[]): Case {
  const random = randomFrom(SEED + number * 7919);
  // The demo mostly; the other one has teams, rotations written out and the other scoring.
  const example = examples[random(8) === 0 ? 1 : 0] as Case;
  let { meet, log } = example;
  const which = random(10);
  const times = 1 + Math.floor(random(6) / 3) + (random(12) === 0 ? 4 : 0);
  for (let i = 0; i < times; i++) {
    if (which < 4 || which === 9) meet = pick(DAMAGES, random)(meet, random) || ' ';
    if (which >= 4) log = pick(random(2) === 0 ? DAMAGES : LOG_DAMAGES, random)(log, random) || ' ';
  }
  return { name: example.name, meet, log };
}

// ---------------------------------------------------------------- the meet, read a second time

interface PlainRoutine {
  readonly gymnast: string;
  readonly code: string;
  readonly rotation: number;
  readonly likely: number | null;
}

interface PlainContest {
  readonly id: string;
  readonly kind: 'all-around' | 'apparatus' | 'team';
  readonly on: string;
  readonly count: number;
  readonly ties: readonly string[];
}

interface PlainMeet {
  readonly codes: readonly string[];
  readonly open: boolean;
  readonly units: number;
  readonly gymnasts: readonly {
    id: string;
    team: string | null;
    on: readonly string[];
    carried: number;
  }[];
  readonly teams: readonly { id: string; carried: number }[];
  readonly contests: readonly PlainContest[];
  readonly routines: readonly PlainRoutine[];
  readonly rotations: number;
}

type Tree = string | Tree[] | { readonly [key: string]: Tree };

class CannotRead extends Error {}

function mapOf(tree: Tree | undefined): { readonly [key: string]: Tree } {
  return tree !== undefined && typeof tree === 'object' && !Array.isArray(tree) ? tree : {};
}

function listOf(tree: Tree | undefined): Tree[] {
  return Array.isArray(tree) ? tree : [];
}

/** A text; what is empty counts as not written. */
function textOf(tree: Tree | undefined): string | undefined {
  if (typeof tree !== 'string') return undefined;
  return ['', '~', 'null'].includes(tree) ? undefined : tree;
}

function idOf(tree: Tree | undefined): string {
  const text = textOf(tree)?.trim();
  if (text === undefined) throw new CannotRead('no id');
  return text;
}

function codeOf(tree: Tree | undefined): string {
  return idOf(tree).toUpperCase();
}

function scoreOf(text: string, decimals: number): number {
  const match = /^(\d{1,9})(?:[.,](\d+))?$/.exec(text.trim());
  if (match === null || (match[2]?.length ?? 0) > decimals) throw new CannotRead(`score ${text}`);
  return Math.round(Number(`${match[1]}.${match[2] ?? 0}`) * 10 ** decimals);
}

/** By code, whatever its case. */
function byCode(tree: Tree | undefined): Map<string, { readonly [key: string]: Tree }> {
  return new Map(Object.entries(mapOf(tree)).map(([k, v]) => [k.trim().toUpperCase(), mapOf(v)]));
}

function plainMeet(text: string): PlainMeet {
  // That reader does not know that a lone CR ends a line.
  const lines = text.replace(/^\uFEFF/, '').replaceAll(/\r\n?/g, '\n');
  const document = parseDocument(lines, { schema: 'failsafe' });
  const [problem] = document.errors;
  if (problem !== undefined) throw new CannotRead(problem.message);
  const root = mapOf(document.toJS() as Tree);
  const decimals = textOf(root.decimals) === '4' ? 4 : 3;
  const amount = (tree: Tree | undefined) => {
    const written = textOf(tree);
    return written === undefined ? 0 : scoreOf(written, decimals);
  };
  const open = textOf(root.scoring) === 'open';
  const discipline =
    typeof root.discipline === 'string'
      ? root.discipline === 'mag'
        ? ['FX', 'PH', 'SR', 'VT', 'PB', 'HB']
        : ['VT', 'UB', 'BB', 'FX']
      : listOf(root.discipline).map((d) => codeOf(mapOf(d).code));

  const own = (tree: Tree | undefined) => (Array.isArray(tree) ? tree.map(String) : undefined);
  const given = listOf(root.contests).length > 0 ? listOf(root.contests) : ['all-around'];
  const contests = given.map((tree): PlainContest => {
    const { kind = tree, id, on, count, ties, vaults } = mapOf(tree);
    if (vaults !== undefined && vaults !== '1') throw new CannotRead('two vaults');
    const rest = { id: textOf(id)?.trim(), on: '', count: 1 };
    if (kind === 'team') {
      const best = open ? ['best-scores'] : [];
      return {
        ...rest,
        id: rest.id ?? 'team',
        kind,
        count: Number(count),
        ties: own(ties) ?? best,
      };
    }
    if (kind === 'apparatus') {
      const byE = open ? ['execution', 'difficulty'] : [];
      const code = codeOf(on);
      return { ...rest, id: rest.id ?? code, kind, on: code, ties: own(ties) ?? byE };
    }
    const all =
      own(ties) ?? own(root.ties) ?? (open ? ['best-scores', 'execution', 'difficulty'] : []);
    return { ...rest, id: rest.id ?? 'all-around', kind: 'all-around', ties: all };
  });
  const counted = (code: string) => contests.some((c) => c.kind !== 'apparatus' || c.on === code);
  const codes = discipline.filter(counted);

  const listed = listOf(root.gymnasts).map((tree) => {
    const g = mapOf(tree);
    return {
      id: idOf(g.id),
      team: textOf(g.team)?.trim() ?? null,
      on: Array.isArray(g.on) ? g.on.map(codeOf) : null,
      carried: amount(g.carried),
      ranges: byCode(g.ranges),
    };
  });
  const orders = rotationsOf(root, codes, listed);
  const gymnasts = listed.map(({ id, team, on, carried }) => {
    const fromRotations = codes.filter((c) =>
      orders.some((stations) => stations.some((s) => s.code === c && s.order.includes(id))),
    );
    const default_ =
      root.groups === undefined && root.rotations !== undefined ? fromRotations : codes;
    return { id, team, carried, on: on === null ? default_ : codes.filter((c) => on.includes(c)) };
  });

  const usual = byCode(root.usual);
  const likelyOf = (id: string, code: string) => {
    const hers = listed.find((g) => g.id === id)?.ranges.get(code)?.likely;
    const written = textOf(hers) ?? textOf(usual.get(code)?.likely);
    return written === undefined ? null : scoreOf(written, decimals);
  };
  const routines: PlainRoutine[] = [];
  orders.forEach((stations, r) => {
    const up = stations.map(({ code, order }) => ({
      code,
      order: order.filter((id) => gymnasts.find((g) => g.id === id)?.on.includes(code)),
    }));
    const most = Math.max(0, ...up.map((s) => s.order.length));
    for (let i = 0; i < most; i++) {
      for (const { code, order } of up) {
        const gymnast = order[i];
        if (gymnast === undefined) continue;
        routines.push({ gymnast, code, rotation: r + 1, likely: likelyOf(gymnast, code) });
      }
    }
  });

  const named = [...new Set(listed.flatMap((g) => g.team ?? []))];
  const teams =
    root.teams === undefined || textOf(root.teams) === ''
      ? named.map((id) => ({ id, carried: 0 }))
      : listOf(root.teams).map((t) => ({
          id: idOf(mapOf(t).id),
          carried: amount(mapOf(t).carried),
        }));
  return {
    codes,
    open,
    units: 10 ** decimals,
    gymnasts,
    teams,
    contests,
    routines,
    rotations: orders.length,
  };
}

interface PlainStation {
  readonly code: string;
  readonly order: readonly string[];
}

/** Rotation by rotation, the stations in order; a bye has the code ''. */
function rotationsOf(
  root: { readonly [key: string]: Tree },
  codes: readonly string[],
  listed: readonly { id: string }[],
): PlainStation[][] {
  if (typeof root.groups === 'object') {
    const groups = listOf(root.groups).map((tree) => {
      const start = idOf(mapOf(tree).start);
      return {
        start: start.toLowerCase() === 'bye' ? '' : start.toUpperCase(),
        order: listOf(mapOf(tree).order).map(idOf),
      };
    });
    const byes = groups.some((g) => g.start === '');
    const circle = byes ? groups.map((g) => g.start) : codes;
    const turns = textOf(root.startOrder) !== 'fixed';
    const walkers = groups.map((g, i) => ({ ...g, at: byes ? i : circle.indexOf(g.start) }));
    return circle.map(() => {
      const stations = circle.flatMap((code, place): PlainStation[] =>
        walkers.filter((w) => w.at === place).map((w) => ({ code, order: [...w.order] })),
      );
      for (const w of walkers) {
        const [first] = w.order;
        if (turns && circle[w.at] !== '' && first !== undefined)
          w.order = [...w.order.slice(1), first];
        w.at = (w.at + 1) % circle.length;
      }
      return stations.map((s) => ({ ...s, order: s.code === '' ? [] : s.order }));
    });
  }
  if (typeof root.rotations === 'object') {
    return listOf(root.rotations).map((tree) => {
      const stations = Object.entries(mapOf(tree)).map(([code, order]) => ({
        code: code.trim().toUpperCase(),
        order: listOf(order).map(idOf),
      }));
      return codes.flatMap((code) => stations.filter((s) => s.code === code));
    });
  }
  return codes.map((code) => [{ code, order: listed.map((g) => g.id) }]);
}

// ---------------------------------------------------------------- the log, read a second time

interface PlainScore {
  readonly score: number;
  readonly d: number | null;
  readonly e: number | null;
}
type PlainResult = PlainScore | 'DNS' | 'DNF';

const TOOL_HEADER = 'gymnast,apparatus,score,d,e,nd,note,at';
const TOOL_HEADER_NOW = 'gymnast,apparatus,score,d,e,nd,status,note,at';
const TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;

/** All values of a table, quoted or not, with the line each row begins on. */
function tableOf(
  text: string,
  delimiter: string,
  oneLine: boolean,
): { line: number; fields: string[] }[] {
  const rows: { line: number; fields: string[] }[] = [];
  let [line, begun, field, quoted, written] = [1, 1, '', false, false];
  let fields: string[] = [];
  const endRow = () => {
    fields.push(field.trim());
    if (fields.some((f) => f !== '') || fields.length > 1) rows.push({ line: begun, fields });
    [fields, field, quoted, written] = [[], '', false, false];
  };
  for (let i = 0; i < text.length; i++) {
    const c = text[i] as string;
    const isEnd = c === '\n' || c === '\r';
    if (isEnd && text[i - 1] === '\r' && c === '\n') {
      if (quoted && !oneLine) field += c;
      begun = line;
      continue;
    }
    if (isEnd) line++;
    if (quoted && !(isEnd && oneLine)) {
      if (c === '"' && text[i + 1] === '"') field += text[i++];
      else if (c === '"') quoted = false;
      else field += c;
    } else if (c === '"' && field === '' && !written) [quoted, written] = [true, true];
    else if (c === delimiter) {
      fields.push(field.trim());
      [field, written] = ['', false];
    } else if (isEnd) {
      endRow();
      begun = line;
    } else field += c;
  }
  if (field !== '' || fields.length > 0) endRow();
  return rows;
}

function simple(text: string): string {
  return text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
}

/** The results by `gymnast code`. `aside`: lines that were reported as set aside. */
function plainResults(
  meet: PlainMeet,
  log: string,
  aside: ReadonlySet<number>,
): Map<string, PlainResult> {
  const text = log.replace(/^\uFEFF/, '');
  const firstLine = text.split(/\r\n|\n|\r/).find((l) => l.trim() !== '') ?? '';
  const count = (d: string) =>
    firstLine
      .split(d)
      .filter((n) => TOOL_HEADER.split(',').includes(simple(n.replaceAll('"', '').trim()))).length;
  const delimiter = [',', ';', '\t'].reduce((a, b) => (count(b) > count(a) ? b : a));
  const second = text.split(/\r\n|\n|\r/).filter((l) => l.trim() !== '')[1] ?? '';
  const isToolHeader = [TOOL_HEADER, TOOL_HEADER_NOW].includes(firstLine);
  const byTool = isToolHeader && TIME.test(second.split(',').at(-1)?.trim() ?? '');
  const [header, ...rows] = tableOf(text, delimiter, byTool);
  const columns = header?.fields.map(simple) ?? [];
  const stacks = new Map<string, PlainResult[]>();
  for (const { line, fields: written } of rows) {
    if (aside.has(line)) continue;
    // A row of the tool from before there was a status.
    const at = columns.indexOf('status');
    const isOld = byTool && at >= 0 && written.length === columns.length - 1;
    const fields =
      isOld && TIME.test(written.at(-1) ?? '')
        ? [...written.slice(0, at), '', ...written.slice(at)]
        : written;
    const value = (column: string) => {
      const at = columns.indexOf(column);
      return at < 0 ? '' : (fields[at] ?? '');
    };
    if (fields.slice(columns.length).some((f) => f !== ''))
      throw new CannotRead(`line ${line} is too long`);
    const who = value('gymnast');
    const exact = meet.gymnasts.filter((g) => g.id === who);
    const alike =
      exact.length > 0 ? exact : meet.gymnasts.filter((g) => simple(g.id) === simple(who));
    const [gymnast] = alike;
    // Who has gone from the meet file had her score taken by the tool, and it stops nothing.
    if (gymnast === undefined && alike.length === 0 && TIME.test(value('at'))) continue;
    if (gymnast === undefined || alike.length > 1)
      throw new CannotRead(`line ${line}: who is ${who}`);
    const code = value('apparatus').toUpperCase();
    if (!meet.codes.includes(code) && TIME.test(value('at'))) continue;
    if (!meet.codes.includes(code)) throw new CannotRead(`line ${line}: ${code}`);
    const isHers = meet.routines.some((r) => r.gymnast === gymnast.id && r.code === code);
    const key = `${gymnast.id} ${code}`;
    const stack = stacks.get(key) ?? [];
    stacks.set(key, stack);
    const word = value('score').toUpperCase();
    if (word === 'VOID') stack.pop();
    else if (word === 'DNS' || word === 'DNF') stack.push(word);
    else stack.push(plainScore(meet, value, line));
    if (!isHers) stacks.delete(key);
  }
  return new Map(
    [...stacks].flatMap(([key, stack]) => {
      const result = stack.at(-1);
      return result === undefined ? [] : [[key, result] as const];
    }),
  );
}

function plainScore(meet: PlainMeet, value: (column: string) => string, line: number): PlainScore {
  const decimals = meet.units === 1000 ? 3 : 4;
  const part = (column: string) => (value(column) === '' ? null : scoreOf(value(column), decimals));
  const score = scoreOf(value('score'), decimals);
  const nd = part('nd') ?? 0;
  let [d, e] = [part('d'), part('e')];
  if (d !== null && e !== null) {
    if (Math.max(0, d + e - nd) !== score) throw new CannotRead(`line ${line}: the sum`);
  } else if (d !== null) e = score + nd - d;
  else if (e !== null) d = score + nd - e;
  if ((d ?? 0) < 0 || (e ?? 0) < 0) {
    if (meet.open) throw new CannotRead(`line ${line}: negative`);
    [d, e] = [part('d'), part('e')];
  }
  const limit = (meet.open ? 17 : 10) * meet.units;
  const most = d === null ? limit : Math.min(limit, d + 10 * meet.units);
  if (score > most) throw new CannotRead(`line ${line}: over the limit`);
  return { score, d, e };
}

// ---------------------------------------------------------------- the board, worked out again

interface PlainRow {
  readonly id: string;
  readonly total: number;
  readonly place: number | null;
  readonly tied: boolean;
  readonly done: number;
  readonly toCome: readonly string[];
  readonly projected: number | null;
  readonly scores: Record<string, number | 'DNS' | 'DNF' | null>;
}

interface Standing extends Omit<PlainRow, 'place' | 'tied'> {
  readonly out: boolean;
  readonly open: boolean;
  readonly carried: number;
  readonly values: readonly number[];
  readonly sums: { readonly d: number | null; readonly e: number | null };
}

function standingsOf(
  meet: PlainMeet,
  contest: PlainContest,
  results: ReadonlyMap<string, PlainResult>,
): Standing[] {
  const team = contest.kind === 'team';
  const codes = contest.kind === 'apparatus' ? [contest.on] : meet.codes;
  const contenders = team
    ? meet.teams.map((t) => ({ ...t, who: meet.gymnasts.filter((g) => g.team === t.id) }))
    : meet.gymnasts
        .filter(
          (g) =>
            codes.every((c) => g.on.includes(c)) ||
            (contest.kind === 'all-around' && g.carried > 0),
        )
        .map((g) => ({
          id: g.id,
          carried: contest.kind === 'all-around' ? g.carried : 0,
          who: [g],
        }));
  const first = (ids: readonly string[]) => {
    const at = meet.routines.findIndex((r) => ids.includes(r.gymnast) && codes.includes(r.code));
    return at < 0 ? meet.routines.length : at;
  };
  return contenders
    .map((c) => ({ c, at: first(c.who.map((g) => g.id)) }))
    .sort((a, b) => a.at - b.at)
    .map(({ c }) => {
      const ids = c.who.map((g) => g.id);
      const hers = meet.routines.filter((r) => ids.includes(r.gymnast) && codes.includes(r.code));
      const resultOf = (r: PlainRoutine) => results.get(`${r.gymnast} ${r.code}`) ?? null;
      const parts = (value: (r: PlainRoutine) => number | null) =>
        codes.map((code) => {
          const values = hers.filter((r) => r.code === code).flatMap((r) => value(r) ?? []);
          if (values.length === 0) return null;
          values.sort((a, b) => b - a);
          return values.slice(0, contest.count).reduce((a, b) => a + b, 0);
        });
      const scored = (r: PlainRoutine) => {
        const result = resultOf(r);
        return result !== null && typeof result === 'object' ? result.score : null;
      };
      const sum = (values: readonly (number | null)[]) =>
        values.reduce<number>((a, b) => a + (b ?? 0), c.carried);
      const values = parts(scored);
      const toCome = hers.filter((r) => resultOf(r) === null);
      const out = !team && hers.some((r) => typeof resultOf(r) === 'string');
      const component = (which: 'd' | 'e') => {
        let all = 0;
        for (const r of hers) {
          const result = resultOf(r);
          const part = result !== null && typeof result === 'object' ? result[which] : null;
          if (part === null) return null;
          all += part;
        }
        return all;
      };
      const shown = hers.map((r): [string, number | 'DNS' | 'DNF' | null] => {
        const result = resultOf(r);
        return [r.code, result !== null && typeof result === 'object' ? result.score : result];
      });
      return {
        id: c.id,
        carried: c.carried,
        total: sum(values),
        done: hers.filter((r) => scored(r) !== null).length,
        toCome: toCome.map((r) => r.code),
        projected:
          out || toCome.some((r) => r.likely === null)
            ? null
            : sum(parts((r) => scored(r) ?? (resultOf(r) === null ? r.likely : null))),
        scores: Object.fromEntries(
          team ? codes.map((code, i) => [code, values[i] ?? null]) : shown,
        ),
        out,
        open: toCome.length > 0,
        values: values.filter((v) => v !== null),
        sums: { d: component('d'), e: component('e') },
      };
    });
}

/** What a rule compares; null where the data is not there. */
function tieKey(rule: string, s: Standing): number[] | null {
  if (rule === 'execution') return s.sums.e === null ? null : [s.sums.e];
  if (rule === 'difficulty') return s.sums.d === null ? null : [s.sums.d];
  if (rule !== 'best-scores') throw new CannotRead(`tie rule ${rule}`);
  if (s.carried > 0) return null;
  const sorted = [...s.values].sort((a, b) => b - a);
  return sorted
    .slice(1)
    .map((_, i) => sorted.slice(0, sorted.length - 1 - i).reduce((a, b) => a + b, 0));
}

function plainBoard(
  meet: PlainMeet,
  contest: PlainContest,
  results: ReadonlyMap<string, PlainResult>,
): PlainRow[] {
  const all = standingsOf(meet, contest, results);
  const placed = all.filter((s) => s.done > 0 || s.carried > 0);
  const isAhead = (a: Standing, b: Standing): boolean => {
    if (a.out !== b.out) return b.out;
    if (a.total !== b.total) return a.total > b.total;
    const level = placed.filter((s) => s.out === a.out && s.total === a.total);
    if (a.out || level.some((s) => s.open)) return false;
    for (const rule of contest.ties) {
      const keys = level.map((s) => tieKey(rule, s));
      if (keys.some((k) => k === null || k.length !== keys[0]?.length)) continue;
      const [ka, kb] = [tieKey(rule, a) ?? [], tieKey(rule, b) ?? []];
      const at = ka.findIndex((v, i) => v !== kb[i]);
      if (at >= 0) return (ka[at] ?? 0) > (kb[at] ?? 0);
    }
    return false;
  };
  const ranked = placed
    .map((s) => ({ s, place: 1 + placed.filter((o) => o !== s && isAhead(o, s)).length }))
    .sort((a, b) => a.place - b.place);
  const row = ({ s, place }: { s: Standing; place: number | null }): PlainRow => ({
    id: s.id,
    total: s.total,
    place,
    tied: place !== null && ranked.filter((o) => o.place === place).length > 1,
    done: s.done,
    toCome: s.toCome,
    projected: s.projected,
    scores: s.scores,
  });
  const without = all.filter((s) => !placed.includes(s)).map((s) => ({ s, place: null }));
  return [...ranked, ...without].map(row);
}

/** The results of the first rotations alone. */
function upTo(meet: PlainMeet, rotation: number, results: ReadonlyMap<string, PlainResult>) {
  const early = new Set(
    meet.routines.filter((r) => r.rotation <= rotation).map((r) => `${r.gymnast} ${r.code}`),
  );
  return new Map([...results].filter(([key]) => early.has(key)));
}

// ---------------------------------------------------------------- the comparison

function boardOf(meet: Meet, board: Standings): PlainRow[] {
  const teamOf = new Map(meet.gymnasts.map((g) => [g.id, g.team]));
  // What is usual where the files are silent is not worked out here.
  const isUsual = (id: string, toCome: readonly string[]) =>
    meet.routines.some(
      (r) =>
        (r.gymnast === id || teamOf.get(r.gymnast) === id) &&
        toCome.includes(r.apparatus) &&
        meet.results[r.index] === null &&
        meet.given[r.index]?.likely === null,
    );
  return board.rows.map(({ id, total, place, tied, done, toCome, projected, scores }) => ({
    id,
    total,
    place,
    tied,
    done,
    toCome,
    projected: isUsual(id, toCome) ? null : projected,
    scores: { ...scores },
  }));
}

/** Compares every board of a sound meet with the one worked out here. */
function compareBoards(
  meet: Meet,
  again: PlainMeet,
  results: ReadonlyMap<string, PlainResult>,
): void {
  const own = again.contests;
  const codes: PlainContest[] = again.codes
    .filter((code) => !own.some((c) => c.id.toLowerCase() === code.toLowerCase()))
    .map((on) => ({
      id: on,
      kind: 'apparatus',
      on,
      count: 1,
      ties: again.open ? ['execution', 'difficulty'] : [],
    }));
  for (const contest of [...own, ...codes]) {
    const board = standings(meet, { contest: contest.id });
    expect(boardOf(meet, board), contest.id).toEqual(plainBoard(again, contest, results));
  }
  const [contest] = own;
  if (contest === undefined) throw new CannotRead('no contest');
  // Who moved, and the board after an earlier rotation.
  const board = standings(meet);
  const isOver = (rotation: number) =>
    again.routines.every((r) => r.rotation !== rotation || results.has(`${r.gymnast} ${r.code}`));
  const last = Math.max(0, ...again.routines.map((r) => r.rotation));
  let full = 0;
  while (full < last && isOver(full + 1)) full++;
  const [was, is] = [full - 1, full].map((r) =>
    plainBoard(again, contest, upTo(again, r, results)),
  );
  const placeIn = (rows: PlainRow[] | undefined, id: string) =>
    rows?.find((r) => r.id === id)?.place ?? null;
  for (const { id, place, moved, behind, total } of board.rows) {
    const [before, after] = [placeIn(was, id), placeIn(is, id)];
    const hasMoved = full >= 2 && before !== null && after !== null;
    expect(moved, id).toBe(hasMoved ? before - after : null);
    expect(behind, id).toBe(place === null ? null : (board.rows[0]?.total ?? 0) - total);
  }
  if (again.rotations > 1) {
    expect(boardOf(afterRotations(meet, 1), standings(meet, { after: 1 }))).toEqual(
      plainBoard(again, contest, upTo(again, 1, results)),
    );
  }
}

/** Lines of the log that the problems say are set aside; each must be one that may be. */
function linesAside(problems: readonly Problem[], log: string): Set<number> {
  const aside = problems.filter(
    (p) => p.file === 'log' && ['half-written', 'set-aside'].includes(p.code),
  );
  const all = log.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
  const columns = all.find((l) => l.trim() !== '')?.split(',').length;
  for (const { line } of aside) {
    const text = all[(line ?? 0) - 1] ?? '';
    const time = text.split(',').at(-1)?.trim() ?? '';
    // A row with all its values, none in quotes, and a whole time was never half written.
    expect(
      text.split(',').length === columns && !text.includes('"') && TIME.test(time),
      `set aside: ${text}`,
    ).toBe(false);
  }
  return new Set(aside.map((p) => p.line ?? 0));
}

type Outcome = 'refused' | 'right';

/** The examples' meets, so that a damaged log alone need not cost the reading of the meet each time. */
const wholes = new Map<string, Meet>();

function tryCase(
  { meet: meetText, log }: Case,
  plainOf: (text: string) => PlainMeet,
  withNeeds: boolean,
): Outcome {
  const source = { file: 'log', text: log };
  const whole = wholes.get(meetText);
  const { meet, problems } =
    whole !== undefined && !withNeeds
      ? readLog(whole, source)
      : readMeet({ meet: { file: 'meet', text: meetText }, log: source });
  for (const p of problems) {
    if (p.message.trim() === '' || p.mend.trim() === '') throw new Error(JSON.stringify(p));
    if (!['meet', 'log'].includes(p.file)) throw new Error(JSON.stringify(p));
    const most = (p.file === 'meet' ? meetText : log).split(/\r\n|\n|\r/).length;
    if (p.line !== null && !(p.line >= 1 && p.line <= most)) throw new Error(JSON.stringify(p));
  }
  if (problems.some((p) => p.severity === 'error')) {
    // Whoever goes on all the same gets an answer or an error of ours, nothing else.
    if (meet !== null) orOurs(() => standings(meet));
    return 'refused';
  }
  if (meet === null) throw new Error('no meet and no error');
  const again = plainOf(meetText);
  compareBoards(meet, again, plainResults(again, log, linesAside(problems, log)));
  const [next] = nextUp(meet);
  if (next !== undefined && withNeeds) {
    orOurs(() => {
      const sheet = needs(meet, next.gymnast);
      // Next up elsewhere, she may have finished in this contest.
      expect(sheet.finished !== null || sheet.needs.length > 0).toBe(true);
    });
  }
  return 'right';
}

function orOurs(action: () => unknown): void {
  try {
    action();
  } catch (error) {
    if (!(error instanceof LastRotationError)) throw error;
    expect(error.message).not.toBe('');
  }
}

function exampleCase(name: string): Case {
  const read = (file: string) => readFileSync(join(EXAMPLES, file), 'utf8');
  return { name, meet: read(`${name}.yaml`), log: read(`${name}.scores.csv`) };
}

const examples = [exampleCase('harbour'), exampleCase('mill-lane')];
for (const { meet: text } of examples) {
  const { meet } = readMeet({ meet: { file: 'meet', text } });
  if (meet !== null) wholes.set(text, meet);
}

/** Read once as long as it is the same text. */
function reader(): (text: string) => PlainMeet {
  const known = new Map<string, PlainMeet>();
  const kept = new Set(examples.map((e) => e.meet));
  return (text) => {
    const meet = known.get(text) ?? plainMeet(text);
    if (kept.has(text)) known.set(text, meet);
    return meet;
  };
}

describe('damaged files', () => {
  it('the second reading agrees on the examples as they are', () => {
    const plainOf = reader();
    for (const example of examples) expect(tryCase(example, plainOf, true)).toBe('right');
  });

  it(`end in problems or in the right board, ${CASES} times`, {
    timeout: 100_000 + CASES * 30,
  }, () => {
    const plainOf = reader();
    const outcomes = { refused: 0, right: 0 };
    const failures: string[] = [];
    for (let number = 0; number < CASES && failures.length < 5; number++) {
      if (ONLY !== null && number !== ONLY) continue;
      const damaged = damagedCase(number, examples);
      try {
        outcomes[tryCase(damaged, plainOf, number % 3 === 0)]++;
      } catch (error) {
        failures.push(
          `case ${number} of ${damaged.name}: ${error instanceof Error ? error.stack : error}`,
        );
        if (ONLY !== null) throw error;
      }
    }
    expect(failures.join('\n\n')).toBe('');
    if (process.env.FUZZ_COUNTS) process.stdout.write(`${JSON.stringify(outcomes)}\n`);
    // Neither outcome may be rare, or little is tried.
    if (ONLY === null) {
      expect(outcomes.refused).toBeGreaterThan(CASES / 5);
      expect(outcomes.right).toBeGreaterThan(CASES / 5);
    }
  });
});
