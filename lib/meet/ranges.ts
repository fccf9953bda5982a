/** Whose range is whose: a gymnast's own, the ranges file's, or what is usual for everyone. */
import { type Apparatus, withFollowUps } from '../apparatus.js';
import { asScore, formatScore, type Score, type Units } from '../score.js';
import { scoreLimit } from '../scoring.js';
import { type Checking, complain } from './checking.js';
import type { RangesEntry } from './document.js';
import {
  type Gymnast,
  isScored,
  limitAt,
  type Meet,
  NO_RANGE,
  type Range,
  type Routine,
  rangeAt,
  routineAt,
  type Schedule,
} from './meet.js';
import { nearest, type ProblemList, plain, report, type Severity } from './problems.js';
import type { RangeParts } from './schema.js';
import { derived } from './sound.js';
import { completed, type Field, type Tonight, usualFigures } from './usual.js';
import { entriesOf } from './values.js';
import { apparatusMend } from './which-apparatus.js';

const PARTS = ['low', 'likely', 'high', 'falls', 'd'] as const;

/** Where the parts of one range were written. */
interface Given {
  readonly parts: RangeParts | undefined;
  readonly from: NonNullable<Range['from']>;
}

/**
 * The first source that gives a part wins, part by part. Scores that were given with another D than the one
 * she is expected to show move with it.
 */
function merged(sources: readonly Given[], limit: Units): Range {
  const sourceOf = (part: (typeof PARTS)[number]) =>
    sources.find((s) => s.parts?.[part] !== undefined)?.parts;
  const d = sourceOf('d')?.d ?? null;
  const pick = (part: 'low' | 'likely' | 'high') => {
    const parts = sourceOf(part);
    return parts?.[part] === undefined ? null : movedBy(parts[part], d, parts.d, limit);
  };
  const range = { low: pick('low'), likely: pick('likely'), high: pick('high') };
  const from = sources.find((s) => PARTS.some((p) => s.parts?.[p] !== undefined))?.from ?? null;
  // How sure a later source is of another likely is no matter here.
  const upToLikely = sources.slice(0, sources.findIndex((s) => s.parts?.likely !== undefined) + 1);
  const within = upToLikely.find((s) => s.parts?.within !== undefined)?.parts?.within ?? null;
  return { ...range, falls: sourceOf('falls')?.falls ?? null, d, within, from };
}

/** A score that was expected with one D, with another: what is taken off stays the same. */
function movedBy(
  score: Score,
  d: Units | null,
  was: Units | null | undefined,
  limit: Units,
): Score {
  if (d === null || was == null || d === was) return score;
  return asScore(Math.max(Math.min(score + d - was, limit), 0));
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
    const sources: Given[] = [
      { parts: own?.g.ranges?.[code], from: 'own' },
      { parts: file?.ranges[code], from: 'file' },
      { parts: document.usual?.[code], from: 'usual' },
    ];
    const range = merged(sources, scoreLimit(scoring, limit));
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

/** What is wrong with the scores of a range, as far as they are given. */
export function wrongRange(
  { low, likely, high }: Pick<Range, 'low' | 'likely' | 'high'>,
  scoring: Pick<Checking['scoring'], 'decimals' | 'ceiling'>,
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

/** What there is to go by where a range is not given. */
interface Evidence {
  /** By gymnast. */
  readonly tonight: ReadonlyMap<string, readonly Tonight[]>;
  /** By apparatus. */
  readonly fields: ReadonlyMap<string, Field>;
}

function evidenceIn(meet: Meet): Evidence {
  const tonight = new Map<string, Tonight[]>();
  const sums = new Map<string, { gymnasts: number; sum: number }>();
  for (const { gymnast, apparatus, index } of meet.routines) {
    const result = meet.results[index];
    if (isScored(result)) {
      const scores = tonight.get(gymnast) ?? [];
      scores.push({ apparatus, score: result.score });
      tonight.set(gymnast, scores);
    }
    const { low, likely, high, from } = meet.given[index] ?? NO_RANGE;
    // What is usual for everyone is no word on anybody.
    if (low === null || likely === null || high === null || from === 'usual') continue;
    const { gymnasts, sum } = sums.get(apparatus) ?? { gymnasts: 0, sum: 0 };
    // The mean of a modified PERT.
    sums.set(apparatus, { gymnasts: gymnasts + 1, sum: sum + (low + 4 * likely + high) / 6 });
  }
  const fields = [...sums].map(([code, { gymnasts, sum }]) => {
    return [code, { gymnasts, level: sum / gymnasts }] as const;
  });
  return { tonight, fields: new Map(fields) };
}

/** What the files leave open of the ranges, filled in with what is usual and what was scored tonight. */
export function completeRanges(meet: Meet): Range[] {
  const evidence = evidenceIn(meet);
  // Those of whom nothing is known have one range, not equal ones: what follows from it follows once.
  const unknown = new Map<string, Range>();
  return meet.given.map((given, index) => {
    if (!isIncomplete(given)) return given;
    const { gymnast, apparatus } = routineAt(meet, index);
    const isUnknown = !evidence.tonight.has(gymnast) && given.from === null;
    const before = isUnknown ? unknown.get(apparatus) : undefined;
    if (before !== undefined) return before;
    const range = wholeRange(meet, index, given, evidence);
    if (isUnknown) unknown.set(apparatus, range);
    return range;
  });
}

function wholeRange(meet: Meet, index: number, given: Range, { tonight, fields }: Evidence): Range {
  const { scoring, discipline } = meet;
  const { gymnast, apparatus } = routineAt(meet, index);
  const scores = tonight.get(gymnast) ?? [];
  const field = fields.get(apparatus) ?? null;
  const whole = completed(scoring, discipline, apparatus, given, scores, field);
  return whole === null ? given : { ...given, ...whole, from: given.from ?? 'usual' };
}

/**
 * The meet where another D is expected in a routine to come: her range moves with it, since what is taken
 * off stays the same (docs/ranges.md).
 */
export function expecting(meet: Meet, index: number, d: Score): Meet {
  const limit = limitAt(meet, index);
  const moved = (range: Range): Range => {
    const by = (s: Score | null) => (s === null ? null : movedBy(s, d, range.d, limit));
    const { low, likely, high } = range;
    return { ...range, low: by(low), likely: by(likely), high: by(high), d };
  };
  const given = moved(meet.given[index] ?? NO_RANGE);
  const isUsual = isIncomplete(given) && rangeAt(meet, index).d === null;
  const range = isUsual
    ? wholeRange(meet, index, given, evidenceIn(meet))
    : moved(rangeAt(meet, index));
  const changed = (ranges: readonly Range[], to: Range) =>
    ranges.map((r, i) => (i === index ? to : r));
  return derived(meet, { given: changed(meet.given, given), ranges: changed(meet.ranges, range) });
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
