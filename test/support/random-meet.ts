/**
 * Random meets as a user would write them: a sketch, the texts made from it (meet file and score
 * log, so that they go through the real reader), and what the sketch says by the design alone (who
 * competes where and when, under which ranges, with which results). The reader is not asked.
 */
import fc from 'fast-check';
import { type Meet, readMeet, type TieRuleName } from '../../lib/index.js';

/** Every rule there is: a new one comes under the laws by being registered. */
export type Rule = TieRuleName;
/** Those that the judge of these meets knows (test/properties/naive.ts); test/properties/records has every rule. */
export const RULES: readonly Rule[] = [
  'best-scores',
  'execution',
  'difficulty',
  'best-vault',
  'highest-score',
];

export interface RangeSketch {
  readonly low?: number;
  readonly likely?: number;
  readonly high?: number;
  readonly falls?: number;
  readonly d?: number;
}

export interface GymnastSketch {
  readonly id: string;
  readonly team: string | null;
  /** Null where the file does not say. */
  readonly on: readonly string[] | null;
  readonly carried: number | null;
  readonly ranges: Readonly<Record<string, RangeSketch>>;
  /** Not in the list of the file, which has so many of a group still to be named. */
  readonly unnamed?: boolean;
}

export interface TeamSketch {
  readonly id: string;
  readonly carried: number | null;
  /** By apparatus: who goes up, first up first. */
  readonly lineup?: Readonly<Record<string, readonly string[]>>;
}

export interface GroupSketch {
  /** 1 where the file does not say. */
  readonly session?: number;
  /** A code, or `bye`; of no meaning where there is a route. */
  readonly start: string;
  readonly route?: readonly string[];
  /** Those who are still to be named come last. */
  readonly order: readonly string[];
}

export type ContestSketch = {
  readonly ties: readonly Rule[] | null;
  readonly medals: number | null;
} & (
  | { readonly kind: 'all-around' }
  | { readonly kind: 'team'; readonly up: number; readonly count: number }
  | { readonly kind: 'apparatus'; readonly on: string; readonly vaults: 1 | 2 }
);

/** One line of the log; amounts in units. */
export interface LogLine {
  readonly gymnast: string;
  readonly apparatus: string;
  readonly score: number | 'DNS' | 'DNF' | 'void' | 'up';
  readonly d: number | null;
  readonly e: number | null;
  readonly nd: number | null;
}

/** A meet, before it is written. All amounts in units. */
export interface Sketch {
  readonly discipline:
    | 'wag'
    | 'mag'
    | readonly { readonly code: string; readonly limit: number | null }[];
  readonly scoring: 'open' | 'ten';
  readonly decimals: 3 | 4;
  /** Steps in units; null for the default panel. */
  readonly panel: { readonly counting: number; readonly step: string } | null;
  readonly fall: number | null;
  /** Null where the file does not say. */
  readonly ceiling: number | null;
  readonly contests: readonly ContestSketch[];
  readonly startOrder: 'rotate' | 'fixed' | null;
  readonly teams: readonly TeamSketch[];
  readonly usual: Readonly<Record<string, RangeSketch>>;
  readonly gymnasts: readonly GymnastSketch[];
  readonly groups: readonly GroupSketch[] | null;
  readonly rotations: readonly Readonly<Record<string, readonly string[]>>[] | null;
  readonly log: readonly LogLine[];
}

const OLYMPIC = {
  wag: ['VT', 'UB', 'BB', 'FX'],
  mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'],
} as const;

// ---------------------------------------------------------------------------------------------
// Sketch → texts

export function amount(units: number, decimals: 3 | 4): string {
  const digits = String(units).padStart(decimals + 1, '0');
  return `${digits.slice(0, digits.length - decimals)}.${digits.slice(digits.length - decimals)}`;
}

export function yamlOf(sketch: Sketch): string {
  const show = (units: number) => amount(units, sketch.decimals);
  const pairs = (entries: readonly (readonly [string, string | number | null | undefined])[]) =>
    `{ ${entries
      .filter(([, value]) => value !== null && value !== undefined)
      .map(([key, value]) => `${key}: ${value}`)
      .join(', ')} }`;
  const list = (values: readonly string[]) => `[${values.join(', ')}]`;
  const score = (units: number | null | undefined) => (units == null ? null : show(units));
  const range = ({ low, likely, high, falls, d }: RangeSketch) =>
    pairs([
      ['low', score(low)],
      ['likely', score(likely)],
      ['high', score(high)],
      ['falls', falls],
      ['d', score(d)],
    ]);
  const ranges = (all: Readonly<Record<string, RangeSketch>>) =>
    pairs(Object.entries(all).map(([code, r]) => [code, range(r)] as const));

  const lines = ['title: An invented meet', `scoring: ${sketch.scoring}`];
  // Where a range is missing, the apparatus are listed: of those nothing is known to be usual.
  if (typeof sketch.discipline === 'string' && hasAllRanges(sketch)) {
    lines.push(`discipline: ${sketch.discipline}`);
  } else {
    lines.push('discipline:');
    const { discipline } = sketch;
    const apparatus =
      typeof discipline === 'string'
        ? OLYMPIC[discipline].map((code) => ({ code, limit: null }))
        : discipline;
    for (const { code, limit } of apparatus) {
      const entry = pairs([
        ['code', code],
        ['limit', score(limit)],
      ]);
      lines.push(`  - ${entry}`);
    }
  }
  if (sketch.panel !== null) {
    const { counting, step } = sketch.panel;
    lines.push(`panel: { counting: ${counting}, step: ${step} }`);
  }
  if (sketch.decimals !== 3) lines.push(`decimals: ${sketch.decimals}`);
  if (sketch.fall !== null) lines.push(`fall: ${show(sketch.fall)}`);
  if (sketch.ceiling !== null) lines.push(`ceiling: ${show(sketch.ceiling)}`);
  lines.push('contests:');
  for (const contest of sketch.contests) {
    const own =
      contest.kind === 'team'
        ? ([
            ['up', contest.up],
            ['count', contest.count],
          ] as const)
        : contest.kind === 'apparatus'
          ? ([
              ['on', contest.on],
              ['vaults', contest.vaults === 2 ? 2 : null],
            ] as const)
          : [];
    const entry = pairs([
      ['kind', contest.kind],
      ...own,
      ['ties', contest.ties === null ? null : list(contest.ties)],
      ['medals', contest.medals],
    ]);
    lines.push(`  - ${entry}`);
  }
  if (sketch.startOrder !== null) lines.push(`startOrder: ${sketch.startOrder}`);
  if (sketch.teams.length > 0) lines.push('teams:');
  for (const { id, carried, lineup } of sketch.teams) {
    const orders = Object.entries(lineup ?? {}).map(([code, ids]) => [code, list(ids)] as const);
    const entry = pairs([
      ['id', id],
      ['carried', score(carried)],
      ['lineup', orders.length === 0 ? null : pairs(orders)],
    ]);
    lines.push(`  - ${entry}`);
  }
  if (Object.keys(sketch.usual).length > 0) lines.push(`usual: ${ranges(sketch.usual)}`);
  lines.push('gymnasts:');
  for (const g of sketch.gymnasts.filter((g) => g.unnamed !== true)) {
    const entry = pairs([
      ['id', g.id],
      ['team', g.team],
      ['on', g.on === null ? null : list(g.on)],
      ['carried', score(g.carried)],
      ['ranges', Object.keys(g.ranges).length === 0 ? null : ranges(g.ranges)],
    ]);
    lines.push(`  - ${entry}`);
  }
  if (sketch.groups !== null) lines.push('groups:');
  for (const { session, start, route, order } of sketch.groups ?? []) {
    const isUnnamed = (id: string) =>
      sketch.gymnasts.some((g) => g.id === id && g.unnamed === true);
    const unnamed = order.filter(isUnnamed).length;
    const entry = pairs([
      ['session', session],
      route === undefined ? ['start', start] : ['route', list(route)],
      ['order', list(order.filter((id) => !isUnnamed(id)))],
      ['unnamed', unnamed === 0 ? null : unnamed],
    ]);
    lines.push(`  - ${entry}`);
  }
  if (sketch.rotations !== null) lines.push('rotations:');
  for (const rotation of sketch.rotations ?? []) {
    const stations = Object.entries(rotation).map(([code, order]) => [code, list(order)] as const);
    lines.push(`  - ${pairs(stations)}`);
  }
  return `${lines.join('\n')}\n`;
}

export function logOf({ log, decimals }: Pick<Sketch, 'log' | 'decimals'>): string {
  const cell = (value: number | null) => (value === null ? '' : amount(value, decimals));
  const lines = log.map(({ gymnast, apparatus, score, d, e, nd }) => {
    const written = typeof score === 'number' ? cell(score) : score;
    return [gymnast, apparatus, written, cell(d), cell(e), cell(nd), ''].join(',');
  });
  return `${['gymnast,apparatus,score,d,e,nd,note', ...lines].join('\n')}\n`;
}

/** The meet as the library reads it. Throws when it finds an error: sketches are sound. */
export function readSketch(sketch: Sketch): Meet {
  const { meet, problems } = readMeet({
    meet: { file: 'meet.yaml', text: yamlOf(sketch) },
    log: { file: 'meet.scores.csv', text: logOf(sketch) },
  });
  const errors = problems.filter((p) => p.severity === 'error');
  if (meet === null || errors.length > 0) {
    throw new Error(`the sketch is unsound: ${JSON.stringify(errors, null, 1)}`);
  }
  return meet;
}

// ---------------------------------------------------------------------------------------------
// What a sketch says, by the design

export interface RoutineFact {
  readonly key: string;
  readonly gymnast: string;
  readonly apparatus: string;
  /** Counted from 1 over all sessions. */
  readonly rotation: number;
}

/** D and E are null where they cannot be known. */
export interface ScoredFact {
  readonly score: number;
  readonly d: number | null;
  readonly e: number | null;
}

export interface Facts {
  readonly apparatus: readonly string[];
  readonly on: ReadonlyMap<string, readonly string[]>;
  /** In the order they go up. */
  readonly routines: readonly RoutineFact[];
  /** By routine key. */
  readonly ranges: ReadonlyMap<string, RangeSketch>;
  readonly results: ReadonlyMap<string, ScoredFact | 'DNS' | 'DNF' | null>;
  readonly limits: ReadonlyMap<string, number>;
  readonly fall: number;
  readonly panel: { readonly counting: number; readonly millionths: number };
  /** Rotation by rotation, over all sessions. */
  readonly turns: readonly RotationFact[];
}

export interface RotationFact {
  readonly session: number;
  /** Its rotation, counted from 1 within its session. */
  readonly inSession: number;
}

export function keyOf(gymnast: string, apparatus: string): string {
  return `${gymnast}/${apparatus}`;
}

export function pointOf({ decimals }: Pick<Sketch, 'decimals'>): number {
  return 10 ** decimals;
}

/** The apparatus its contests count, in the discipline's order. */
export function apparatusIn({ discipline, contests }: Pick<Sketch, 'discipline' | 'contests'>) {
  const all =
    typeof discipline === 'string' ? [...OLYMPIC[discipline]] : discipline.map((a) => a.code);
  const counted = all.filter((code) =>
    contests.some((c) => c.kind !== 'apparatus' || c.on === code),
  );
  const second = contests.some((c) => c.kind === 'apparatus' && c.vaults === 2);
  return counted.flatMap((code) => (second && code === 'VT' ? ['VT', 'VT2'] : [code]));
}

function hasAllRanges(sketch: Sketch): boolean {
  const parts = ['low', 'likely', 'high', 'falls'] as const;
  return sketch.gymnasts.every(({ ranges }) =>
    apparatusIn(sketch).every((code) =>
      parts.every((part) => (ranges[code]?.[part] ?? sketch.usual[code]?.[part]) != null),
    ),
  );
}

/** What a gymnast does when the file does not say. */
function everything(sketch: Pick<Sketch, 'discipline' | 'contests'>): string[] {
  const finalsOnly = sketch.contests.every((c) => c.kind === 'apparatus');
  return apparatusIn(sketch).filter((code) => code !== 'VT2' || finalsOnly);
}

function onOf(sketch: Sketch, gymnast: GymnastSketch): string[] {
  if (gymnast.on !== null) {
    return apparatusIn(sketch).filter((code) => gymnast.on?.includes(code) ?? false);
  }
  const lineup = sketch.teams.find((t) => t.id === gymnast.team)?.lineup ?? {};
  const all = everything(sketch).filter((code) => {
    const order = lineup[code === 'VT2' ? 'VT' : code];
    return order === undefined || order.includes(gymnast.id);
  });
  if (sketch.rotations === null) return all;
  const isUp = (code: string) =>
    sketch.rotations?.some((r) => r[code]?.includes(gymnast.id)) ?? false;
  return all.filter((code) => isUp(code === 'VT2' ? 'VT' : code));
}

/** One rotation: who goes up on each station, first up first. */
interface Turn {
  readonly session: number;
  readonly stations: readonly (readonly [string, readonly string[]])[];
}

/** Rotation by rotation, over all sessions. */
function turnsOf(sketch: Sketch, on: ReadonlyMap<string, readonly string[]>): Turn[] {
  const circle = apparatusIn(sketch).filter((code) => code !== 'VT2');
  const does = (id: string, code: string) => on.get(id)?.includes(code) ?? false;
  const { groups, rotations } = sketch;
  if (rotations !== null) {
    return rotations.map((r) => ({ session: 1, stations: Object.entries(r) }));
  }
  const onIt = (ids: readonly string[], code: string) =>
    [
      code,
      linedUp(
        sketch,
        ids.filter((id) => does(id, code)),
        code,
      ),
    ] as const;
  if (groups === null) {
    const ids = sketch.gymnasts.map((g) => g.id);
    return circle.map((code) => ({ session: 1, stations: [onIt(ids, code)] }));
  }
  const sessions = new Map<number, GroupSketch[]>();
  for (const session of [1, 2]) {
    const hers = groups.filter((g) => (g.session ?? 1) === session);
    if (hers.length > 0) sessions.set(session, hers);
  }
  return [...sessions].flatMap(([session, hers]) => turnsOfSession(sketch, session, hers, onIt));
}

/** A walk through the hall: who is done on a station goes to the next. */
function turnsOfSession(
  sketch: Sketch,
  session: number,
  groups: readonly GroupSketch[],
  onIt: (ids: readonly string[], code: string) => readonly [string, readonly string[]],
): Turn[] {
  const circle = apparatusIn(sketch).filter((code) => code !== 'VT2');
  const moving = groups.filter((g) => g.route === undefined);
  const stations = moving.some((g) => g.start === 'bye') ? moving.map((g) => g.start) : circle;
  const orders = groups.map((g) => [...g.order]);
  const places = groups.map((g) =>
    stations === circle ? circle.indexOf(g.start) : moving.indexOf(g),
  );
  const most = Math.max(
    moving.length === 0 ? 0 : stations.length,
    ...groups.map((g) => g.route?.length ?? 0),
  );
  return Array.from({ length: most }, (_, turn) => {
    const here = groups.map(({ route }, g) =>
      route === undefined ? stations[places[g] ?? 0] : (route[turn] ?? 'bye'),
    );
    const now = stations.flatMap((code) => {
      if (code === 'bye') return [];
      return here.flatMap((at, g) => (at === code ? [onIt(orders[g] ?? [], code)] : []));
    });
    // On to the next station; who competed turns.
    for (const [group, order] of orders.entries()) {
      if (here[group] !== 'bye' && sketch.startOrder !== 'fixed') {
        const first = order.shift();
        if (first !== undefined) order.push(first);
      }
      places[group] = ((places[group] ?? 0) + 1) % stations.length;
    }
    return { session, stations: now };
  });
}

/** Who of a team goes up is as its line-up says: whoever is due of it gives way to the next of that. */
function linedUp(sketch: Sketch, order: readonly string[], code: string): readonly string[] {
  const rest = new Map(
    sketch.teams.map((t) => [t.id, t.lineup?.[code]?.filter((id) => order.includes(id))] as const),
  );
  return order.map((id) => {
    const team = sketch.gymnasts.find((g) => g.id === id)?.team ?? '';
    return rest.get(team)?.shift() ?? id;
  });
}

function routinesOf(
  turns: readonly Turn[],
  on: ReadonlyMap<string, readonly string[]>,
): RoutineFact[] {
  const routines: RoutineFact[] = [];
  for (const [turn, { stations }] of turns.entries()) {
    for (let position = 0; stations.some(([, order]) => position < order.length); position++) {
      for (const [code, order] of stations) {
        const gymnast = order[position];
        if (gymnast === undefined) continue;
        for (const apparatus of code === 'VT' ? ['VT', 'VT2'] : [code]) {
          if (!(on.get(gymnast)?.includes(apparatus) ?? false)) continue;
          const key = keyOf(gymnast, apparatus);
          routines.push({ key, gymnast, apparatus, rotation: turn + 1 });
        }
      }
    }
  }
  return routines;
}

function scoredFact({ score, d, e, nd }: LogLine, scoring: 'open' | 'ten'): ScoredFact {
  const total = Number(score) + (nd ?? 0);
  const hers = {
    score: Number(score),
    d: d ?? (e === null ? null : total - e),
    e: e ?? (d === null ? null : total - d),
  };
  // In `ten` D is a start value that a score need not reach.
  return scoring === 'ten' && ((hers.d ?? 0) < 0 || (hers.e ?? 0) < 0)
    ? { score: hers.score, d, e }
    : hers;
}

/** A later row supersedes the earlier; `void` takes back the row that stands. */
function resultsOf(sketch: Sketch, routines: readonly RoutineFact[]) {
  const results = new Map<string, ScoredFact | 'DNS' | 'DNF' | null>();
  for (const { key } of routines) {
    const standing: (ScoredFact | 'DNS' | 'DNF')[] = [];
    for (const line of sketch.log) {
      if (keyOf(line.gymnast, line.apparatus) !== key) continue;
      // A routine whose score is awaited has no result.
      if (line.score === 'up') continue;
      if (line.score === 'void') standing.pop();
      else if (typeof line.score === 'string') standing.push(line.score);
      else standing.push(scoredFact(line, sketch.scoring));
    }
    results.set(key, standing.at(-1) ?? null);
  }
  return results;
}

type Limited = Pick<Sketch, 'discipline' | 'scoring' | 'decimals' | 'ceiling'>;

/** The highest score there can be on an apparatus, whatever D is shown. */
export function limitOn(sketch: Limited, apparatus: string): number {
  const code = apparatus === 'VT2' ? 'VT' : apparatus;
  if (typeof sketch.discipline !== 'string') {
    const own = sketch.discipline.find((a) => a.code === code)?.limit ?? null;
    if (own !== null) return own;
  }
  if (sketch.scoring === 'ten') return 10 * pointOf(sketch);
  return sketch.ceiling ?? 17 * pointOf(sketch);
}

/** The highest score that can be recorded on it with a D score. */
export function limitWith(sketch: Limited, apparatus: string, d: number | null): number {
  const limit = limitOn(sketch, apparatus);
  return d === null ? limit : Math.min(limit, d + 10 * pointOf(sketch));
}

/** A range where another D is expected than the one it was given with: its scores go along. */
export function movedTo(range: RangeSketch, d: number | null | undefined, limit: number) {
  if (d == null || range.d === undefined || d === range.d) return range;
  const by = d - range.d;
  const moved = Object.entries(range).map(([part, value]) =>
    part === 'falls' ? [part, value] : [part, Math.max(0, Math.min(value + by, limit))],
  );
  const all: RangeSketch = Object.fromEntries(moved);
  return { ...all, d };
}

export function factsOf(sketch: Sketch): Facts {
  const on = new Map(sketch.gymnasts.map((g) => [g.id, onOf(sketch, g)] as const));
  const turns = turnsOf(sketch, on);
  const routines = routinesOf(turns, on);
  const ranges = new Map(
    routines.map(({ key, gymnast, apparatus }) => {
      const own = sketch.gymnasts.find((g) => g.id === gymnast)?.ranges[apparatus] ?? {};
      const usual = movedTo(sketch.usual[apparatus] ?? {}, own.d, limitOn(sketch, apparatus));
      return [key, { ...usual, ...own }] as const;
    }),
  );
  const limits = new Map(
    routines.map(({ key, apparatus }) => [key, limitOn(sketch, apparatus)] as const),
  );
  const byDefault = sketch.scoring === 'open' ? { counting: 3, step: '0.1' } : null;
  const { counting, step } = sketch.panel ?? byDefault ?? { counting: 2, step: '0.05' };
  return {
    apparatus: apparatusIn(sketch),
    on,
    routines,
    ranges,
    results: resultsOf(sketch, routines),
    limits,
    fall: sketch.fall ?? (sketch.scoring === 'open' ? pointOf(sketch) : pointOf(sketch) / 2),
    panel: { counting, millionths: Math.round(Number(step) * 1e6) },
    turns: turns.map(({ session }, i) => ({
      session,
      inSession: turns.slice(0, i + 1).filter((t) => t.session === session).length,
    })),
  };
}

/** The tie rules of a contest: its own, or the default of its kind. */
export function rulesOf(sketch: Sketch, contest: ContestSketch): readonly Rule[] {
  if (contest.ties !== null) return contest.ties;
  if (sketch.scoring === 'ten') return [];
  if (contest.kind === 'all-around') return ['best-scores', 'execution', 'difficulty'];
  if (contest.kind === 'team') return ['best-scores'];
  return contest.vaults === 2 ? ['best-vault', 'difficulty'] : ['execution', 'difficulty'];
}

// ---------------------------------------------------------------------------------------------
// The arbitrary

const NAMES = ['wren', 'ida', 'suzu', 'lua', 'nkem', 'saga', 'livia', 'oriane'];
const TEAMS = ['NQY', 'HBR', 'LTH'];

/** What a test may ask of the meets it is given. */
export interface Wishes {
  readonly kinds?: readonly ('all-around' | 'apparatus' | 'two-vaults' | 'team')[];
  /** `tiny`: scores of a few units, with a limit as low, so that everything can be enumerated. */
  readonly scales?: readonly ('tiny' | 'low' | 'usual')[];
  /** No tie rules at all. */
  readonly ties?: readonly Rule[];
  /** At most this many percent are to come. */
  readonly gymnasts?: { readonly min: number; readonly max: number };
  /** Percentages of routines done. */
  readonly done?: readonly number[];
}

const rangeArb = fc.record({
  shape: fc.nat(9),
  low: fc.nat(3),
  likely: fc.nat(3),
  high: fc.nat(3),
  shift: fc.constantFrom(0, 0, 0, 1, 17),
  falls: fc.nat(7),
  d: fc.nat(3),
  roll: fc.nat(9),
});

const cellArb = fc.record({
  score: fc.nat(3),
  shift: fc.constantFrom(0, 0, 0, 0, 0, 1, 2, 33),
  other: fc.nat(3),
  form: fc.nat(5),
  d: fc.nat(2),
  nd: fc.nat(3),
  roll: fc.nat(99),
  special: fc.nat(31),
  order: fc.nat(999),
  rotation: fc.nat(2),
  range: rangeArb,
});

const gymnastArb = fc.record({
  on: fc.nat(7),
  mask: fc.nat(127),
  team: fc.nat(11),
  group: fc.nat(5),
  carried: fc.nat(7),
  twin: fc.nat(5),
});

type Cell = ReturnType<typeof cellArb.generate>['value'];
type RangeDraw = Cell['range'];

function headerArb(wishes: Wishes) {
  const ties: fc.Arbitrary<readonly Rule[] | null> =
    wishes.ties !== undefined
      ? fc.constant(wishes.ties)
      : fc.oneof(fc.constant(null), fc.shuffledSubarray([...RULES]));
  return fc.record({
    kind: fc.constantFrom(
      ...(wishes.kinds ?? (['all-around', 'apparatus', 'two-vaults', 'team', 'team'] as const)),
    ),
    discipline: fc.constantFrom('wag', 'mag', 'own'),
    ownCount: fc.integer({ min: 1, max: 4 }),
    ownLimit: fc.nat(3),
    on: fc.nat(5),
    scale: fc.constantFrom(...(wishes.scales ?? (['usual', 'usual', 'low', 'tiny'] as const))),
    step: fc.nat(3),
    scoring: fc.constantFrom('open', 'open', 'ten'),
    decimals: fc.constantFrom<3 | 4>(3, 3, 4),
    panel: fc.nat(4),
    fall: fc.nat(2),
    ceiling: fc.nat(5),
    ties,
    medals: fc.option(fc.integer({ min: 1, max: 4 })),
    extra: fc.nat(5),
    dropped: fc.nat(2),
    teams: fc.integer({ min: 1, max: 3 }),
    emptyTeam: fc.nat(7),
    schedule: fc.constantFrom('none', 'groups', 'byes', 'written'),
    byes: fc.integer({ min: 1, max: 2 }),
    /** Two sessions, groups with routes, somebody still to be named, line-ups: now and then. */
    sessions: fc.nat(2),
    routes: fc.nat(2),
    unnamed: fc.nat(2),
    lineups: fc.nat(2),
    startOrder: fc.constantFrom<('rotate' | 'fixed' | null)[]>(null, 'rotate', 'fixed'),
    gymnasts: fc.integer(wishes.gymnasts ?? { min: 2, max: 8 }),
    done: fc.constantFrom(...(wishes.done ?? [0, 40, 75, 92, 100])),
    withdrawals: fc.nat(2),
    revisions: fc.nat(1),
    carried: fc.nat(2),
    /** Whether D and E are recorded: never, always, here and there. */
    parts: fc.nat(2),
    rangeD: fc.nat(2),
    ranges: fc.nat(3),
    restricted: fc.nat(3),
    usual: fc.array(rangeArb, { minLength: 7, maxLength: 7 }),
    shuffle: fc.array(fc.nat(999), { minLength: 8, maxLength: 8 }),
  });
}

type Header = ReturnType<ReturnType<typeof headerArb>['generate']>['value'];

/** Sound random meets. */
export function sketchArb(wishes: Wishes = {}): fc.Arbitrary<Sketch> {
  return headerArb(wishes).chain((header) => {
    const n = header.gymnasts;
    const width = widthOf(header);
    return fc
      .tuple(
        fc.array(gymnastArb, { minLength: n, maxLength: n }),
        fc.array(cellArb, { minLength: n * width, maxLength: n * width }),
      )
      .map(([gymnasts, cells]) => sketchFrom(header, gymnasts, cells));
  });
}

function disciplineOf(header: Header): 'wag' | 'mag' | string[] {
  if (header.discipline !== 'own' && header.scale !== 'tiny') {
    return header.discipline === 'mag' ? 'mag' : 'wag';
  }
  const codes = header.kind === 'two-vaults' ? ['VT', 'HP', 'BL'] : ['HP', 'BL', 'VT', 'CB'];
  return codes.slice(0, header.ownCount);
}

function widthOf(header: Header): number {
  const discipline = disciplineOf(header);
  const codes = typeof discipline === 'string' ? OLYMPIC[discipline].length : discipline.length;
  return codes + 1;
}

/** The amounts a meet draws from, in units. */
function amountsOf(header: Header) {
  const point = 10 ** header.decimals;
  const ten = header.scoring === 'ten';
  if (header.scale === 'tiny') {
    return { base: 0, step: 1, d: [0, 1, 2], top: 3 + (header.ownLimit % 2), nd: 1 };
  }
  const step = [point / 2, point / 10, Math.floor(point / 30), 1][header.step] ?? 1;
  if (header.scale === 'low') {
    return { base: 0, step, d: [0, point / 5, point / 2], top: 10 * point, nd: point / 10 };
  }
  const d = [4.6 * point, 5 * point, 5.2 * point];
  const base = (ten ? 9 : 13) * point;
  return { base, step, d, top: (ten ? 10 : 14.6) * point, nd: point / 10 };
}

function sketchFrom(
  header: Header,
  draws: readonly ReturnType<typeof gymnastArb.generate>['value'][],
  cells: readonly Cell[],
): Sketch {
  const { decimals, scoring } = header;
  const point = 10 ** decimals;
  const amounts = amountsOf(header);
  const codesOrName = disciplineOf(header);
  const ownLimit =
    header.scale === 'tiny'
      ? amounts.top
      : ([null, amounts.top, amounts.top + 3 * point, amounts.top][header.ownLimit] ?? null);
  const discipline: Sketch['discipline'] =
    typeof codesOrName === 'string'
      ? codesOrName
      : codesOrName.map((code, i) => ({
          code,
          limit: header.scale === 'tiny' || i % 2 === 0 ? ownLimit : amounts.top,
        }));
  const all = typeof codesOrName === 'string' ? [...OLYMPIC[codesOrName]] : codesOrName;
  const width = all.length + 1;
  const columnOf = (code: string) => (code === 'VT2' ? all.length : all.indexOf(code));

  const teamIds = TEAMS.slice(0, header.teams);
  const teamOf = (i: number) =>
    draws[i]?.team === 0 || ids[i]?.startsWith('unnamed')
      ? null
      : (teamIds[i % teamIds.length] ?? null);
  const contests = contestsOf(header, all);
  const apparatus = apparatusIn({ discipline, contests });
  const byDefault = everything({ discipline, contests });

  const intended = draws.map(({ on, mask }): readonly string[] => {
    if (header.restricted !== 0 || on > 3) {
      // Two-vault finalists beside an all-around must be named.
      const named = header.kind === 'two-vaults' && on % 2 === 0;
      return named ? apparatus : byDefault;
    }
    return apparatus.filter(
      (code, i) => (mask >> i) % 2 === 1 && (code !== 'VT2' || (mask >> (i - 1)) % 2 === 1),
    );
  });
  const ids = NAMES.slice(0, draws.length);

  // A cell may be that of the gymnast before, on the same apparatus or on the next one.
  const cellOf = (i: number, code: string): Cell => {
    const own = cells[i * width + columnOf(code)];
    const twin = draws[i]?.twin ?? 0;
    if (own === undefined) throw new RangeError(`no cell for ${code}`);
    if (i === 0 || twin > 2) return own;
    const from = twin === 0 ? columnOf(code) : (columnOf(code) + 1) % width;
    const theirs = cells[(i - 1) * width + from] ?? own;
    return { ...theirs, roll: own.roll, special: own.special, order: own.order };
  };

  const own = scheduleOf(
    header,
    apparatus.filter((c) => c !== 'VT2'),
    ids,
    draws.map((d) => d.group),
    (i, code) => intended[i]?.includes(code) ?? false,
    (i, code) => cellOf(i, code).rotation,
  );
  const last = draws.length - 1;
  const unnamed = header.unnamed === 0 ? withoutName(own.groups, ids[last] ?? '') : null;
  const schedule = { ...own, groups: unnamed?.groups ?? own.groups };
  if (unnamed !== null) {
    ids[last] = unnamed.id;
    intended[last] = byDefault;
  }
  const lineups = header.lineups === 0 ? lineupsOf(header, teamIds, ids, teamOf, intended) : {};

  const ceiling = ceilingOf(header, amounts.top);
  const limitFor = (code: string) => limitOn({ discipline, scoring, decimals, ceiling }, code);
  const capped = (score: number, code: string) => Math.min(score, limitFor(code));
  const level = (k: number) => Math.min(amounts.base + k * amounts.step, amounts.top);

  const rangeFrom = (draw: RangeDraw, code: string, own: boolean): RangeSketch => {
    const sure = header.ranges > 0;
    const d =
      header.rangeD === 0 || (header.rangeD === 2 && draw.d === 3)
        ? null
        : (amounts.d[draw.d % 3] ?? null);
    const wanted = draw.shape < 6 ? 'whole' : draw.shape < 8 ? 'part' : 'none';
    const shape = own ? wanted : sure || draw.shape < 7 ? 'whole' : 'none';
    const shift = header.scale === 'tiny' ? 0 : draw.shift;
    const [low, likely, high] = [draw.low, draw.likely, draw.high]
      .sort((a, b) => a - b)
      .map((k) => capped(level(k) + shift, code)) as [number, number, number];
    const falls = [0, 0.05, 0.3, 0.125, 1, 0, 0.1, null][draw.falls] ?? null;
    const parts: Record<string, number> = {};
    if (shape === 'whole') Object.assign(parts, { low, likely, high });
    // A part alone only where nothing usual can contradict it.
    if (shape === 'part' && !sure && header.usual[columnOf(code)]?.shape !== undefined) {
      if (usualShape(code) === 'none') Object.assign(parts, { likely });
    }
    if (falls !== null || (sure && shape === 'whole')) parts.falls = falls ?? 0;
    if (d !== null) parts.d = d;
    return parts;
  };
  const usualShape = (code: string): 'whole' | 'none' => {
    const draw = header.usual[columnOf(code) % 7];
    if (draw === undefined) return 'none';
    return header.ranges > 0 || draw.shape < 7 ? 'whole' : 'none';
  };

  const usual: Record<string, RangeSketch> = {};
  for (const code of apparatus) {
    const draw = header.usual[columnOf(code) % 7];
    if (draw === undefined) continue;
    // The usual D must allow every own range too, and is the lowest.
    const range = rangeFrom({ ...draw, d: draw.d === 3 ? 3 : 0 }, code, false);
    if (Object.keys(range).length > 0) usual[code] = range;
  }

  const gymnasts = draws.map(({ carried }, i): GymnastSketch => {
    const on = intended[i] ?? [];
    const ranges: Record<string, RangeSketch> = {};
    const isUnnamed = ids[i]?.startsWith('unnamed') === true;
    for (const code of isUnnamed ? [] : on) {
      const draw = cellOf(i, code).range;
      if (draw.roll < 3) continue;
      const range = rangeFrom(draw, code, true);
      const top = range.high ?? range.likely ?? 0;
      const usualTop = range.high === undefined ? (usual[code]?.high ?? 0) : 0;
      if (Math.max(top, usualTop) > limitFor(code)) continue;
      if (Object.keys(range).length > 0) ranges[code] = range;
    }
    const brought = [amounts.step, 1, amounts.base + amounts.step][carried] ?? null;
    const team = header.kind === 'team' || header.teams > 1 ? teamOf(i) : null;
    const id = ids[i] ?? `g${i}`;
    // By the line-ups of her team, and all where it has none.
    const unsaid = byDefault.filter((code) => {
      const order = lineups[team ?? '']?.[code === 'VT2' ? 'VT' : code];
      return order === undefined || order.includes(id);
    });
    return {
      id,
      team,
      on: sameList(on, unsaid) ? null : on,
      carried: header.carried === 0 && !isUnnamed ? brought : null,
      ranges,
      ...(isUnnamed ? { unnamed: true } : {}),
    };
  });

  const most = Math.max(
    1,
    ...teamIds.flatMap((team) =>
      apparatus.map(
        (code) => ids.filter((_, i) => teamOf(i) === team && intended[i]?.includes(code)).length,
      ),
    ),
  );
  const hasTeams = gymnasts.some((g) => g.team !== null) || header.kind === 'team';
  const listed = header.emptyTeam === 0 ? TEAMS : teamIds;
  return {
    discipline,
    scoring,
    decimals,
    panel: panelOf(header),
    fall: fallOf(header),
    ceiling,
    contests: contests.map((c) =>
      c.kind === 'team' ? { ...c, up: most, count: Math.max(1, most - header.dropped) } : c,
    ),
    startOrder: header.startOrder,
    teams: hasTeams
      ? listed.map((id, i) => ({
          id,
          carried:
            header.carried === 0 ? ([null, amounts.step, 1][(i + header.teams) % 3] ?? null) : null,
          ...(lineups[id] === undefined ? {} : { lineup: lineups[id] }),
        }))
      : [],
    usual,
    gymnasts,
    groups: schedule.groups,
    rotations: schedule.rotations,
    log: logFrom(
      header,
      ids.flatMap((id, i) =>
        (intended[i] ?? []).map((code) => ({ gymnast: id, code, cell: cellOf(i, code) })),
      ),
      (cell, k, code) => capped(level(k) + (header.scale === 'tiny' ? 0 : cell.shift), code),
      amounts,
    ),
  };
}

function sameList(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((x, i) => x === b[i]);
}

function contestsOf(header: Header, all: readonly string[]): ContestSketch[] {
  const rest = { ties: header.ties, medals: header.medals };
  const allAround: ContestSketch = { kind: 'all-around', ties: header.ties, medals: null };
  const on = all[header.on % all.length] ?? 'VT';
  const apparatus: ContestSketch = { ...rest, kind: 'apparatus', on, vaults: 1 };
  switch (header.kind) {
    case 'all-around':
      return header.extra === 0
        ? [{ ...allAround, ...rest }, apparatus]
        : [{ ...allAround, ...rest }];
    case 'team':
      return header.extra === 0
        ? [{ ...rest, kind: 'team', up: 1, count: 1 }, allAround]
        : [{ ...rest, kind: 'team', up: 1, count: 1 }];
    case 'two-vaults': {
      const vaults: ContestSketch = { ...rest, kind: 'apparatus', on: 'VT', vaults: 2 };
      return header.extra === 0 ? [vaults, allAround] : [vaults];
    }
    default:
      return header.extra === 0 ? [apparatus, allAround] : [apparatus];
  }
}

function panelOf({ scale, decimals, panel }: Header): Sketch['panel'] {
  if (scale === 'tiny') return { counting: 1, step: amount(1, decimals) };
  return (
    [
      { counting: 1, step: '0.1' },
      { counting: 4, step: '0.05' },
      { counting: 6, step: '0.1' },
    ][panel] ?? null
  );
}

function fallOf({ scale, decimals, fall }: Header): number | null {
  if (scale === 'tiny') return 1 + (fall % 2);
  return fall === 0 ? 10 ** decimals / 10 : null;
}

/** Above every score that is drawn, now and then not by much. */
function ceilingOf({ scoring, ceiling, decimals }: Header, top: number): number | null {
  if (scoring === 'ten' || ceiling > 2) return null;
  return top + (([1, 5, 60][ceiling] ?? 0) * 10 ** decimals) / 10;
}

function scheduleOf(
  header: Header,
  stations: readonly string[],
  ids: readonly string[],
  groupOf: readonly number[],
  does: (i: number, code: string) => boolean,
  rotationOf: (i: number, code: string) => number,
): Pick<Sketch, 'groups' | 'rotations'> {
  const shuffled = <T>(list: readonly T[]): T[] =>
    list
      .map((value, i) => ({ value, by: header.shuffle[i % 8] ?? 0 }))
      .sort((a, b) => a.by - b.by)
      .map(({ value }) => value);
  if (header.schedule === 'none') return { groups: null, rotations: null };
  if (header.schedule === 'written') {
    const rotations = [0, 1, 2].flatMap((turn) => {
      const rotation: Record<string, string[]> = {};
      for (const code of stations) {
        const order = shuffled(ids.filter((_, i) => does(i, code) && rotationOf(i, code) === turn));
        if (order.length > 0) rotation[code] = order;
      }
      return Object.keys(rotation).length > 0 ? [rotation] : [];
    });
    return rotations.length > 0 ? { groups: null, rotations } : { groups: null, rotations: null };
  }
  const sessions = header.sessions === 0 ? [1, 2] : [1];
  const groups = sessions.flatMap((session): GroupSketch[] => {
    const which = session === 1 ? {} : { session };
    if (header.schedule === 'byes') {
      const byes = Array.from({ length: header.byes }, () => 'bye');
      return shuffled([...stations, ...byes]).map((start) => ({ ...which, start, order: [] }));
    }
    if (header.routes !== 0) {
      return shuffled(stations).map((start) => ({ ...which, start, order: [] }));
    }
    // Round a circle of their own, so that nobody meets anybody.
    const circle = shuffled([...stations, ...Array.from({ length: header.byes - 1 }, () => 'bye')]);
    return circle.map((start, g) => {
      const route = [...circle.slice(g), ...circle.slice(0, g)];
      return { ...which, start, route, order: [] };
    });
  });
  const filled = groups.map((group, g) => ({
    ...group,
    order: shuffled(ids.filter((_, i) => (groupOf[i] ?? 0) % groups.length === g)),
  }));
  const used = header.schedule === 'byes' ? filled : filled.filter((g) => g.order.length > 0);
  return { groups: used, rotations: null };
}

/** The groups with somebody still to be named in place of one of them; null where there are none. */
function withoutName(groups: readonly GroupSketch[] | null, name: string) {
  const at = groups?.findIndex((g) => g.order.includes(name)) ?? -1;
  if (groups === null || at < 0) return null;
  const id = `unnamed-${at + 1}-1`;
  const renamed = groups.map((g, i) =>
    i === at ? { ...g, order: [...g.order.filter((other) => other !== name), id] } : g,
  );
  return { id, groups: renamed };
}

/** Line-ups of those who are on an apparatus anyway: of every team, on some. */
function lineupsOf(
  header: Header,
  teams: readonly string[],
  ids: readonly string[],
  teamOf: (i: number) => string | null,
  intended: readonly (readonly string[])[],
): Record<string, Record<string, string[]>> {
  const codes = [...new Set(intended.flat())].filter((code) => code !== 'VT2');
  const isOf = (t: number, c: number) => (header.shuffle[(t + c) % 8] ?? 0) % 3 > 0;
  const by = (id: string) => header.shuffle[(ids.indexOf(id) * 3 + 1) % 8] ?? 0;
  return Object.fromEntries(
    teams.map((team, t) => {
      const orders = codes
        .filter((_, c) => isOf(t, c))
        .map((code): [string, string[]] => {
          const hers = ids.filter((_, i) => teamOf(i) === team && intended[i]?.includes(code));
          return [code, hers.sort((a, b) => by(a) - by(b))];
        });
      return [team, Object.fromEntries(orders)];
    }),
  );
}

function logFrom(
  header: Header,
  routines: readonly { gymnast: string; code: string; cell: Cell }[],
  scoreOf: (cell: Cell, k: number, code: string) => number,
  amounts: ReturnType<typeof amountsOf>,
): LogLine[] {
  const point = 10 ** header.decimals;
  const rows = routines.flatMap(({ gymnast, code, cell }) => {
    const bare = { gymnast, apparatus: code, d: null, e: null, nd: null };
    const row = (k: number): LogLine => {
      const score = scoreOf(cell, k, code);
      const recorded = header.parts === 1 || (header.parts === 2 && cell.form > 1);
      if (!recorded) return { ...bare, score };
      const nd = cell.nd === 0 ? amounts.nd : 0;
      const d = amounts.d[cell.d] ?? 0;
      const e = score + nd - d;
      // What cannot be said exactly is not said.
      if (e < 0 || e > 10 * point || score > d + 10 * point) return { ...bare, score };
      const form = cell.form % 3;
      return {
        ...bare,
        score,
        d: form === 1 ? null : d,
        e: form === 0 ? null : e,
        nd: nd === 0 ? null : nd,
      };
    };
    const word = (score: 'DNS' | 'DNF' | 'void'): LogLine => ({ ...bare, score });
    const stories: readonly (readonly LogLine[])[] = [
      ...(header.withdrawals === 0 ? [[word('DNS')], [row(cell.score), word('DNF')]] : [[], []]),
      ...(header.revisions === 0
        ? [
            [row(cell.score), word('void')],
            [row(cell.other), row(cell.score)],
            [row(cell.score), row(cell.other), word('void')],
            [word('DNS'), word('void')],
            [word('DNF'), row(cell.score)],
          ]
        : []),
    ];
    const story = stories[cell.special] ?? [];
    const told = story.length > 0 ? story : cell.roll < header.done ? [row(cell.score)] : [];
    return told.map((line, i) => ({ line, order: cell.order + i * 1000 }));
  });
  return rows.sort((a, b) => a.order - b.order).map(({ line }) => line);
}
