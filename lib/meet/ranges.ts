/** Whose range is whose: a gymnast's own, the ranges file's, or what is usual for everyone. */
import { type Apparatus, withFollowUps } from '../apparatus.js';
import { formatScore } from '../score.js';
import { scoreLimit } from '../scoring.js';
import { type Checking, complain } from './checking.js';
import type { RangesEntry } from './document.js';
import {
  type Gymnast,
  isScored,
  type Meet,
  NO_RANGE,
  type Range,
  type Routine,
  routineAt,
  type Schedule,
} from './meet.js';
import { nearest, type ProblemList, plain, report, type Severity } from './problems.js';
import type { RangeParts } from './schema.js';
import { completed, type Tonight, usualFigures } from './usual.js';
import { entriesOf } from './values.js';
import { apparatusMend } from './which-apparatus.js';

const PARTS = ['low', 'likely', 'high', 'falls', 'd'] as const;

/** Where the parts of one range were written. */
interface Given {
  readonly parts: RangeParts | undefined;
  readonly from: NonNullable<Range['from']>;
}

/** The first source that gives a part wins, part by part. */
function merged(sources: readonly Given[]): Range {
  const pick = <P extends (typeof PARTS)[number]>(part: P) =>
    sources.find((s) => s.parts?.[part] !== undefined)?.parts?.[part] ?? null;
  const range = { low: pick('low'), likely: pick('likely'), high: pick('high') };
  const from = sources.find((s) => PARTS.some((p) => s.parts?.[p] !== undefined))?.from ?? null;
  return { ...range, falls: pick('falls'), d: pick('d'), from };
}

/**
 * The ranges that are given, by gymnast of the list, by apparatus of the meet: also of who has no routine
 * there, since she may step in.
 */
export function readRanges(
  checking: Checking,
  fileEntries: readonly RangesEntry[],
  fileList: ProblemList,
  { gymnasts }: Pick<Schedule, 'gymnasts'>,
  apparatus: readonly Apparatus[],
): Range[][] {
  const { document, scoring, list } = checking;
  const listed = new Map(entriesOf(document.gymnasts).map(([i, g]) => [g.id, { i, g }] as const));
  const inFile = new Map(fileEntries.map((entry) => [entry.gymnast, entry] as const));
  // A file made from results knows names, not the ids of this meet.
  const byName = new Map(fileEntries.map((entry) => [plain(entry.gymnast), entry] as const));
  noteStrangers(fileEntries, fileList, gymnasts);
  const rangeOf = ({ id, name }: Gymnast, { code, limit }: Apparatus): Range => {
    const own = listed.get(id);
    const file = inFile.get(id) ?? byName.get(plain(name));
    const range = merged([
      { parts: own?.g.ranges?.[code], from: 'own' },
      { parts: file?.ranges[code], from: 'file' },
      { parts: document.usual?.[code], from: 'usual' },
    ]);
    const [where, line, what] =
      own?.g.ranges?.[code] !== undefined
        ? [list, checking.lineOf(['gymnasts', own.i, 'ranges', code]), `${code} of ${id}`]
        : file?.ranges[code] !== undefined
          ? [fileList, file.lineOf([code]), `${code} of ${id}`]
          : [list, checking.lineOf(['usual', code]), `usual ${code}`];
    for (const [message, mend] of wrongRange(range, scoring, limit)) {
      const said = `${what}: ${message}`;
      // What is usual is wrong once, not once for everyone.
      if (where.problems.some((p) => p.message === said)) continue;
      report(where, 'error', 'wrong-range', line, said, mend);
    }
    return range;
  };
  return gymnasts.map((gymnast) => apparatus.map((a) => rangeOf(gymnast, a)));
}

/** By routine: the range that the files give. */
export function givenIn(
  { planned, rangesGiven, apparatus }: Pick<Meet, 'planned' | 'rangesGiven' | 'apparatus'>,
  routines: readonly Pick<Routine, 'gymnast' | 'apparatus'>[],
): Range[] {
  const rowOf = new Map(planned.gymnasts.map((g, i) => [g.id, i] as const));
  const columnOf = new Map(apparatus.map((a, i) => [a.code, i] as const));
  return routines.map((routine) => {
    const row = rangesGiven[rowOf.get(routine.gymnast) ?? -1];
    return row?.[columnOf.get(routine.apparatus) ?? -1] ?? NO_RANGE;
  });
}

type Wrong = readonly [message: string, mend: string];

function wrongRange(
  { low, likely, high }: Range,
  scoring: Checking['scoring'],
  apparatusLimit: number | null,
): Wrong[] {
  const show = (s: number) => formatScore(s, scoring.decimals);
  const steps = [
    ['low', low],
    ['likely', likely],
    ['high', high],
  ] as const;
  const given = steps.flatMap(([name, value]) => (value === null ? [] : [{ name, value }]));
  const wrong = given.flatMap((upper, i): Wrong[] => {
    const lower = given[i - 1];
    if (lower === undefined || lower.value <= upper.value) return [];
    return [
      [
        `${lower.name} ${show(lower.value)} is above ${upper.name} ${show(upper.value)}`,
        'write them in the order low, likely, high; what is left out comes from `usual`',
      ],
    ];
  });
  const limit = scoreLimit(scoring, apparatusLimit);
  const top = given.at(-1);
  if (top !== undefined && top.value > limit) {
    wrong.push([`${top.name} ${show(top.value)} is over the limit of ${show(limit)}`, 'lower it']);
  }
  return wrong;
}

/** Ranges on apparatus that the discipline does not have would be lost without a word. */
export function noteStrangeApparatus(
  checking: Checking,
  fileEntries: readonly RangesEntry[],
  fileList: ProblemList,
  discipline: readonly Apparatus[],
): void {
  const { document, list, lineOf } = checking;
  const all = withFollowUps(discipline);
  const known = all.map((a) => a.code);
  const strange = (ranges: object | undefined) =>
    Object.keys(ranges ?? {}).filter((code) => !known.includes(code));
  const say = (where: ProblemList, severity: Severity, line: number | null, code: string) =>
    report(
      where,
      severity,
      'unknown-apparatus',
      line,
      `a range on ${code}, which is not an apparatus of the discipline`,
      apparatusMend(code, all, 'one of'),
    );
  for (const code of strange(document.usual)) say(list, 'error', lineOf(['usual', code]), code);
  for (const [i, g] of entriesOf(document.gymnasts)) {
    for (const code of strange(g.ranges)) {
      say(list, 'error', lineOf(['gymnasts', i, 'ranges', code]), code);
    }
  }
  for (const entry of fileEntries) {
    for (const code of strange(entry.ranges)) say(fileList, 'warning', entry.lineOf([code]), code);
  }
}

/** A ranges file may cover a whole season; only a near miss is worth a word. */
function noteStrangers(
  entries: readonly RangesEntry[],
  list: ProblemList,
  gymnasts: readonly Gymnast[],
): void {
  const ids = gymnasts.flatMap((g) => (g.unnamed ? [] : [g.id]));
  const names = new Set(gymnasts.map((g) => plain(g.name)));
  for (const { gymnast, lineOf } of entries) {
    if (ids.includes(gymnast) || names.has(plain(gymnast))) continue;
    const near = nearest(
      gymnast,
      ids.filter((id) => !entries.some((e) => e.gymnast === id)),
    );
    if (near === null) continue;
    report(
      list,
      'warning',
      'unknown-gymnast',
      lineOf([]),
      `gymnast \`${gymnast}\` is not in the meet`,
      `did you mean \`${near}\`?`,
    );
  }
}

/** What the files leave open of the ranges, filled in with what is usual and what was scored tonight. */
export function completeRanges(meet: Meet): Range[] {
  const tonight = new Map<string, Tonight[]>();
  for (const { gymnast, apparatus, index } of meet.routines) {
    const result = meet.results[index];
    if (!isScored(result)) continue;
    const scores = tonight.get(gymnast) ?? [];
    scores.push({ apparatus, score: result.score });
    tonight.set(gymnast, scores);
  }
  // Those of whom nothing is known have one range, not equal ones: what follows from it follows once.
  const unknown = new Map<string, Range>();
  return meet.given.map((given, index) => {
    const { gymnast, apparatus } = routineAt(meet, index);
    if (!isIncomplete(given)) return given;
    const scores = tonight.get(gymnast) ?? [];
    const isUnknown = scores.length === 0 && given.from === null;
    const before = isUnknown ? unknown.get(apparatus) : undefined;
    if (before !== undefined) return before;
    const whole = completed(meet.scoring, meet.discipline, apparatus, given, scores);
    const range = whole === null ? given : { ...given, ...whole, from: given.from ?? 'usual' };
    if (isUnknown) unknown.set(apparatus, range);
    return range;
  });
}

const WHOLE = ['low', 'likely', 'high', 'falls'] as const;

function isIncomplete(range: Range): boolean {
  return WHOLE.some((part) => range[part] === null);
}

/** What is missing of the ranges, gymnast by gymnast, and what is done about it. */
export function noteMissingRanges(
  checking: Checking,
  gymnasts: readonly Gymnast[],
  routines: readonly Routine[],
  ranges: readonly Range[],
): void {
  const { discipline } = checking.document;
  const code = typeof discipline === 'string' ? discipline : null;
  const isKnown = routines.every(
    ({ apparatus }) => usualFigures(checking.scoring.system, code, apparatus) !== null,
  );
  const incomplete = new Map<string, string[]>();
  for (const { gymnast, apparatus, index } of routines) {
    const range = ranges[index];
    const missing = WHOLE.filter((part) => range?.[part] === null);
    if (missing.length === 0) continue;
    const what = missing.length === 4 ? apparatus : `${apparatus} (${missing.join(', ')})`;
    incomplete.set(gymnast, [...(incomplete.get(gymnast) ?? []), what]);
  }
  const mend = isKnown
    ? 'give ranges; until then what is usual on the apparatus stands in, fitted to the scores tonight'
    : 'give ranges, or `usual` for everyone';
  // Reserves have nothing to come, and need none.
  if (incomplete.size > 0 && ranges.every((r) => r.from === null)) {
    const message = isKnown
      ? 'nobody has a range, so what is usual stands in for all that is to come'
      : 'nobody has a range, so only the board and what it takes right now can be told';
    complain(checking, 'note', 'missing-range', ['gymnasts'], message, mend);
    return;
  }
  // Those who are not known yet lack the same, which is said once.
  const unnamed = new Set(gymnasts.flatMap((g) => (g.unnamed ? [g.id] : [])));
  const lacking = [...incomplete].find(([id]) => unnamed.has(id))?.[1];
  if (lacking !== undefined) {
    const message = `nobody who is still to be named has a range on ${lacking.join(', ')}`;
    const usual = isKnown ? 'give `usual`; until then what is usual in the sport stands in' : mend;
    complain(checking, 'warning', 'missing-range', ['groups'], message, usual);
  }
  for (const [gymnast, what] of incomplete) {
    if (unnamed.has(gymnast)) continue;
    const i = entriesOf(checking.document.gymnasts).find(([, g]) => g.id === gymnast)?.[0] ?? 0;
    const message = `${gymnast} has no range on ${what.join(', ')}`;
    complain(checking, 'warning', 'missing-range', ['gymnasts', i], message, mend);
  }
}
