/**
 * Evenings that leave the plan: scores in any order, awaited, under inquiry, changed and taken back, who
 * steps in, who goes up later. What is said of such a meet is what is said of one whose file has the
 * order as it was and whose log has nothing but the scores that stand; and nothing that was called certain
 * on the way is undone by what comes after.
 */

import fc from 'fast-check';
import { findContest } from '../../../lib/contest/contest.js';
import { placeGoal } from '../../../lib/contest/goal.js';
import { bothSenses, settledIn } from '../../../lib/contest/settled.js';
import {
  chances,
  type Meet,
  type Need,
  needsOfAll,
  readMeet,
  record,
  standings,
} from '../../../lib/index.js';
import {
  amount,
  factsOf,
  type LogLine,
  readSketch,
  type Sketch,
  yamlOf,
} from '../../support/random-meet.js';
import { type Case, caseArb, contestId, randomFrom } from '../asking.js';

/** A row of the log, as it is told. */
interface Row {
  readonly gymnast: string;
  readonly apparatus: string;
  readonly score: string;
  readonly d?: string;
}

/** What a list of rows comes to, told by the design alone. */
interface Told {
  /** By rotation, by apparatus: who goes up, each with those she stands in for. */
  readonly orders: readonly Readonly<Record<string, readonly string[][]>>[];
  readonly on: ReadonlyMap<string, ReadonlySet<string>>;
  /** By gymnast and apparatus: a score with its D, or a word. */
  readonly results: ReadonlyMap<string, { score: number; d: number | null } | 'DNS'>;
  readonly performed: ReadonlySet<string>;
}

const key = (gymnast: string, apparatus: string) => `${gymnast}/${apparatus}`;
const stationOf = (code: string) => (code === 'VT2' ? 'VT' : code);

/** A row, with those that stood when it came. */
interface Left extends Row {
  readonly stood: readonly Row[];
}

/** The rows that are left when each `void` has taken away the last one of its gymnast and apparatus. */
function left(rows: readonly Row[]): Left[] {
  const kept: (Left | null)[] = [];
  for (const row of rows) {
    if (row.score !== 'void') {
      kept.push({ ...row, stood: kept.flatMap((k) => k ?? []) });
      continue;
    }
    const same = (k: Row | null) => k?.gymnast === row.gymnast && k.apparatus === row.apparatus;
    kept[kept.findLastIndex(same)] = null;
  }
  return kept.flatMap((k) => k ?? []);
}

function toldBy(sketch: Sketch, rows: readonly Row[]): Told {
  const facts = factsOf({ ...sketch, log: [] });
  const last = Math.max(0, ...facts.routines.map((r) => r.rotation));
  const orders = Array.from({ length: last }, (): Record<string, string[][]> => ({}));
  for (const { gymnast, apparatus, rotation } of facts.routines) {
    if (apparatus === 'VT2') continue;
    const here = orders[rotation - 1] ?? {};
    here[apparatus] = [...(here[apparatus] ?? []), [gymnast]];
  }
  const on = new Map([...facts.on].map(([id, codes]) => [id, new Set(codes)] as const));
  const results = new Map<string, { score: number; d: number | null } | 'DNS'>();
  /** Performed: nobody can step in any more. */
  const performed = new Set<string>();
  const units = (text: string) => Number(text.replace('.', ''));
  for (const { gymnast, apparatus, score, d, stood } of left(rows)) {
    const [how, whom = ''] = score.split(':');
    if (how === 'after') {
      for (const r of orders) {
        const list = r[stationOf(apparatus)] ?? [];
        const [hers, place] = [gymnast, whom].map((id) => list.find(([first]) => first === id));
        if (hers === undefined || place === undefined) continue;
        const others = list.filter((entry) => entry !== hers);
        r[stationOf(apparatus)] = others.flatMap((entry) =>
          entry === place ? [entry, hers] : [entry],
        );
      }
    } else if (how === 'for') {
      for (const code of facts.apparatus.filter((c) => c !== 'VT2')) {
        if (apparatus !== 'all' && code !== stationOf(apparatus)) continue;
        const isFree = [code, ...(code === 'VT' ? ['VT2'] : [])].every((done) => {
          const was = results.get(key(whom, done));
          // Who steps in does so from here on: what was performed then is not hers.
          const then = stood.filter((r) => r.gymnast === whom && r.apparatus === done);
          const result = then.findLast((r) => /^\d|^DN/.test(r.score))?.score;
          const isUp = then.some((r) => r.score === 'up');
          if (result === undefined ? isUp : result !== 'DNS') return false;
          return was === 'DNS' || (was === undefined && !performed.has(key(whom, done)));
        });
        const entries = orders.flatMap((r) => r[code] ?? []);
        const entry = entries.find(([first]) => first === whom);
        if (!isFree || entry === undefined || on.get(gymnast)?.has(code)) continue;
        entry.unshift(gymnast);
        for (const done of [code, ...(code === 'VT' ? ['VT2'] : [])]) {
          if (!on.get(whom)?.has(done)) continue;
          on.get(gymnast)?.add(done);
          results.set(key(whom, done), 'DNS');
        }
      }
    } else if (score === 'up') performed.add(key(gymnast, apparatus));
    else if (score === 'DNS') results.set(key(gymnast, apparatus), 'DNS');
    else if (/^\d/.test(score)) {
      const shown = { score: units(score), d: d === undefined ? null : units(d) };
      results.set(key(gymnast, apparatus), shown);
    }
  }
  return { orders, on, results, performed };
}

/** The meet that was planned as it went, with nothing in its log but what stands. */
function plainSketch(sketch: Sketch, { orders, on, results, performed }: Told): Sketch {
  const awaited = [...performed].flatMap((id): LogLine[] => {
    const [gymnast = '', apparatus = ''] = id.split('/');
    return results.has(id) ? [] : [{ gymnast, apparatus, score: 'up', d: null, e: null, nd: null }];
  });
  const scored = [...results].map(([id, result]): LogLine => {
    const [gymnast = '', apparatus = ''] = id.split('/');
    const [score, d] = result === 'DNS' ? [result, null] : [result.score, result.d];
    return { gymnast, apparatus, score, d, e: null, nd: null };
  });
  const flat = (lists: readonly (readonly string[])[]) => lists.flat();
  const rotations = orders.map((r) =>
    Object.fromEntries(Object.entries(r).map(([code, lists]) => [code, flat(lists)])),
  );
  return {
    ...sketch,
    rotations,
    groups: null,
    teams: sketch.teams.map(({ id, carried }) => ({ id, carried })),
    gymnasts: sketch.gymnasts.map(({ unnamed, ...g }) => ({
      ...g,
      on: [...(on.get(g.id) ?? [])],
    })),
    log: [...scored, ...awaited],
  };
}

/** What is said of a meet, by contender. */
function answersOf(meet: Meet, contest: string): unknown {
  const { rows } = standings(meet, { contest });
  const board = rows.map(({ id, place, tied, total, done, projected, scores }) => {
    return [id, { place, tied, total, done, projected, scores }] as const;
  });
  const needed = (['win', 'medal', 'lead'] as const).map((target) => {
    const { gymnasts } = needsOfAll(meet, { contest, for: target });
    return gymnasts.map(({ contender, gymnast, apparatus, needs }) => {
      const said = needs.map((n: Need) => [n.status, n.ahead, n.onGrid, n.level, n.tieGoesTo]);
      return [contender, gymnast, apparatus, said] as const;
    });
  });
  return {
    board: Object.fromEntries(board),
    needed: needed.map((all) => Object.fromEntries(all.map(([id, ...rest]) => [id, rest]))),
  };
}

/** Everybody's chances, where they are quick to work out. */
function chancesOf(meet: Meet, contest: string): Record<string, readonly number[]> | null {
  const { rows } = standings(meet, { contest });
  if (rows.length > 5 || rows.some((r) => r.toCome.length > 2)) return null;
  try {
    const { contenders } = chances(meet, null, { contest });
    return Object.fromEntries(contenders.map((c) => [c.id, c.places] as const));
  } catch {
    // A range is missing.
    return null;
  }
}

type Random = (below: number) => number;

/** A row that the meet takes: something that may happen next. */
function somethingTold(sketch: Sketch, meet: Meet, random: Random): Row | null {
  const pick = <T>(list: readonly T[]): T | undefined => list[random(list.length)];
  const routine = pick(meet.routines);
  if (routine === undefined) return null;
  const { gymnast, apparatus, index } = routine;
  const result = meet.results[index];
  const some = pick(meet.gymnasts)?.id ?? '';
  const whole = { gymnast, apparatus };
  switch (random(12)) {
    case 0:
      return { ...whole, score: 'up' };
    case 1:
      return { ...whole, score: 'inquiry' };
    case 2:
      return { ...whole, score: 'confirmed' };
    case 3:
      return { ...whole, score: 'void' };
    case 4:
      return random(3) === 0 ? { ...whole, score: 'DNS' } : null;
    case 5:
      return { ...whole, score: `after:${some}` };
    case 6:
      return {
        gymnast: some,
        apparatus: random(2) === 0 ? 'all' : apparatus,
        score: `for:${gymnast}`,
      };
    default:
      // A score that stands is changed now and then.
      return result === null || random(4) === 0 ? scoreFor(sketch, meet, routine, random) : null;
  }
}

/** Any score the rules allow, and now and then with a D that nobody expected. */
function scoreFor(
  { decimals, scoring }: Sketch,
  meet: Meet,
  { gymnast, apparatus, index }: Meet['routines'][number],
  random: Random,
): Row {
  const limit = meet.apparatus.find((a) => a.code === apparatus)?.limit ?? null;
  const most = Math.min(
    limit ?? 16 * 10 ** decimals,
    scoring === 'ten' ? 10 ** (decimals + 1) : 9e9,
  );
  const range = meet.ranges[index];
  const likely = range?.likely ?? most;
  const units = random(3) === 0 ? random(most + 1) : Math.min(likely + random(3), most);
  const score = amount(units, decimals);
  const d = Math.max(units - 10 ** (decimals + 1), 0) + random(2);
  const hasD = scoring === 'open' && random(2) === 0 && d <= units;
  return { gymnast, apparatus, score, ...(hasD ? { d: amount(d, decimals) } : {}) };
}

/** Tells a row; the meet stays as it is where the row is refused. */
function tell(meet: Meet, row: Row): { meet: Meet; written: Row | null; status: string } {
  try {
    const { meet: next, recorded } = record(meet, row);
    const { gymnast, apparatus, score, d, status } = recorded.row;
    const written = { gymnast: gymnast ?? '', apparatus: apparatus ?? '', score: score ?? '' };
    return {
      meet: next,
      written: d === null ? written : { ...written, d },
      status: status ?? '',
    };
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error;
    return { meet, written: null, status: '' };
  }
}

interface Evening {
  readonly meet: Meet;
  readonly rows: readonly Row[];
  readonly log: string;
  /** The meets on the way. */
  readonly meets: readonly Meet[];
}

function eveningOf(sketch: Sketch, random: Random, steps: number): Evening {
  let meet = readSketch({ ...sketch, log: [] });
  const rows: Row[] = [];
  const meets: Meet[] = [];
  let log = 'gymnast,apparatus,score,d,status\n';
  for (let i = 0; i < steps; i++) {
    const row = somethingTold(sketch, meet, random);
    if (row === null) continue;
    const { meet: next, written, status } = tell(meet, row);
    if (written === null) continue;
    meet = next;
    meets.push(meet);
    rows.push(written);
    const { gymnast, apparatus, score, d = '' } = written;
    log += `${[gymnast, apparatus, score, d, status].join(',')}\n`;
  }
  return { meet, rows, log, meets };
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([k, v]) => [k, sorted(v)]));
}

/**
 * Written out, with room for who steps in: the file of a plain meet has both on an apparatus. Where groups
 * have byes the stations stand in the order of the groups, which rotations cannot say, nor have they sessions
 * or anybody still to be named.
 */
function roomy(given: Sketch): Sketch {
  const isPlain =
    given.groups?.every((g) => g.start !== 'bye' && g.session === undefined) !== false &&
    given.gymnasts.every((g) => g.unnamed !== true);
  const sketch = { ...given, log: [] };
  return {
    ...(isPlain ? sketch : plainSketch(sketch, toldBy(sketch, []))),
    contests: sketch.contests.map((c) => (c.kind === 'team' ? { ...c, up: c.up + 20 } : c)),
  };
}

/** Whether nobody is up on two apparatus in one rotation, so that an order on one says nothing of another. */
function isPossible(sketch: Sketch): boolean {
  const turns = factsOf(sketch).routines.filter((r) => r.apparatus !== 'VT2');
  return new Set(turns.map((r) => `${r.gymnast} ${r.rotation}`)).size === turns.length;
}

export const eveningIsItsLog = fc.property(caseArb(1), ({ sketch: any, asks: [ask] }: Case) => {
  const sketch = roomy(any);
  fc.pre(isPossible(sketch));
  const random = randomFrom(ask?.seed ?? 0);
  const { meet, rows, log } = eveningOf(sketch, random, 20 + random(60));
  const source = { file: 'meet.yaml', text: yamlOf(sketch) };
  const { meet: read } = readMeet({ meet: source, log: { file: 'log', text: log } });
  const stop = (what: string): never => {
    throw new Error(`${what}\n\n${yamlOf(sketch)}\n${log}`);
  };
  if (read === null || !same(read, meet)) stop('recorded row by row, it is not what is read');
  const plain = readSketch(plainSketch(sketch, toldBy(sketch, rows)));
  for (const sketched of sketch.contests) {
    const contest = contestId(sketched);
    const [is, was] = [answersOf(meet, contest), answersOf(plain, contest)];
    if (!same(is, was)) {
      stop(`${contest}: ${JSON.stringify(sorted(is))}\n\nplain: ${JSON.stringify(sorted(was))}`);
    }
    const [likely, should] = [chancesOf(meet, contest), chancesOf(plain, contest)];
    for (const [id, places] of Object.entries(should ?? {})) {
      places.forEach((p, k) => {
        const q = likely?.[id]?.[k] ?? Number.NaN;
        if (!(Math.abs(p - q) <= 1e-9))
          stop(`${contest}: chance of ${id}, place ${k + 1}: ${q}, ${p}`);
      });
    }
  }
});

/** What is called certain of somebody, whatever anyone scores. */
interface Claim {
  readonly contest: string;
  readonly id: string;
  readonly status: 'secured' | 'out-of-reach';
  readonly place: number;
  /** Who was out then: what is certain speaks of scores, and not of who may withdraw. */
  readonly out: readonly string[];
  /** How many routines each had that nobody had withdrawn from. */
  readonly competing: ReadonlyMap<string, number>;
  /** What stood then and was under no inquiry. */
  readonly stood: ReadonlyMap<string, string>;
}

function claimsOf(meet: Meet, contest: string): Claim[] {
  const found = findContest(meet, contest);
  const out = outIn(meet, contest);
  const stood = standing(meet);
  const competing = competingIn(meet, contest);
  const targets = [
    { target: 'win', goal: placeGoal(1) },
    { target: 'medal', goal: placeGoal(found.medals) },
  ];
  return found.contenders.flatMap((c) => {
    const certain = settledIn(bothSenses(meet, found), found, c, targets).filter(
      (s) => s.by === 'limit',
    );
    return certain.map(({ target, status }) => {
      const place = target === 'win' ? 1 : found.medals;
      return { contest, id: c.id, status, place, out, competing, stood };
    });
  });
}

function competingIn(meet: Meet, contest: string): Map<string, number> {
  const isIn = (i: number) => meet.results[i] !== 'DNS' && meet.results[i] !== 'DNF';
  const { contenders } = findContest(meet, contest);
  return new Map(contenders.map((c) => [c.id, c.routines.filter(isIn).length]));
}

/** A reserve for somebody who had withdrawn, or of another team, is one more to beat. */
function hasMore(now: ReadonlyMap<string, number>, then: ReadonlyMap<string, number>): boolean {
  const sum = (all: ReadonlyMap<string, number>) => [...all.values()].reduce((a, b) => a + b, 0);
  return sum(now) > sum(then) || [...now].some(([id, n]) => n > (then.get(id) ?? n));
}

function standing(meet: Meet): Map<string, string> {
  return new Map(
    meet.routines.flatMap(({ gymnast, apparatus, index }) => {
      const result = meet.results[index] ?? null;
      if (result === null || (typeof result === 'object' && result.underInquiry)) return [];
      return [[key(gymnast, apparatus), JSON.stringify(result)] as const];
    }),
  );
}

function outIn(meet: Meet, contest: string): string[] {
  const { rows } = standings(meet, { contest });
  return rows.flatMap((r) => (r.projected === null && hasWord(r.scores) ? [r.id] : []));
}

function hasWord(scores: Readonly<Record<string, unknown>>): boolean {
  return Object.values(scores).some((s) => s === 'DNS' || s === 'DNF');
}

/** The evening to its end: every score comes, and every inquiry changes a score or leaves it. */
function ended(sketch: Sketch, begun: Meet, random: Random): Meet {
  let meet = begun;
  for (const routine of begun.routines) {
    const { index, gymnast, apparatus } = routine;
    const result = meet.results[index] ?? null;
    const isOpen = result === null || (typeof result === 'object' && result.underInquiry);
    if (!isOpen) continue;
    const row = scoreFor(sketch, meet, routine, random);
    const keeps = result !== null && random(3) === 0;
    ({ meet } = tell(meet, keeps ? { gymnast, apparatus, score: 'confirmed' } : row));
  }
  return meet;
}

export const nothingCertainIsUndone = fc.property(
  caseArb(1, { gymnasts: { min: 2, max: 6 } }),
  ({ sketch: any, asks: [ask] }: Case) => {
    const sketch = roomy(any);
    fc.pre(isPossible(sketch));
    const random = randomFrom(ask?.seed ?? 0);
    const { meets, log } = eveningOf(sketch, random, 80 + random(80));
    const contests = sketch.contests.map(contestId);
    const claims = meets.flatMap((meet) => contests.flatMap((contest) => claimsOf(meet, contest)));
    const last = meets.at(-1);
    if (last === undefined || claims.length === 0) return;
    for (let time = 0; time < 4; time++) {
      const end = ended(sketch, last, random);
      const now = standing(end);
      for (const { contest, id, status, place, out, competing, stood } of claims) {
        // A score that was wrong and has been corrected since is another meet.
        if ([...stood].some(([which, result]) => now.get(which) !== result)) continue;
        if (hasMore(competingIn(end, contest), competing)) continue;
        const { rows } = standings(end, { contest });
        const outNow = outIn(end, contest);
        const row = rows.find((r) => r.id === id);
        if (row === undefined || outNow.some((o) => !out.includes(o))) continue;
        // What is secured is secured if she competes; a team that withdrew altogether has no place.
        if (status === 'secured' && row.place === null) continue;
        const ends = outNow.includes(id)
          ? Number.POSITIVE_INFINITY
          : (row.place ?? Number.POSITIVE_INFINITY);
        if (status === 'secured' ? ends <= place : ends > place) continue;
        throw new Error(
          `${id} in ${contest}: ${status} ${place}, ends ${ends}\n\n${yamlOf(sketch)}\n${log}`,
        );
      }
    }
  },
);
