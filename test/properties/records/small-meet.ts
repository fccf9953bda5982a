/**
 * Small random meets for any kind of contest, with coarse scores so that ties are common and with so
 * few routines to come that every way they can go is tried.
 */
import fc from 'fast-check';
import type { Contest } from '../../../lib/contest/contest.js';
import { findContest } from '../../../lib/contest/contest.js';
import type { Meet, Routine } from '../../../lib/index.js';
import type { ContestKind } from '../../../lib/rules/contests/contest-kind.js';
import { meetFrom } from '../../support/meet.js';
import { cleanChances } from '../chance.js';

/** A contest as the meet file writes it, and whom it ranks. */
export interface ContestText {
  readonly text: string;
  readonly ranks: ContestKind['ranks'];
  /** By letter: a gymnast, and her team; three of no team where nothing is said. */
  readonly teams?: Readonly<Record<string, string | null>>;
}

/** One routine: how it was scored, and the range it has while it is to come. */
const routineArb = fc.record({
  score: fc.nat(3),
  d: fc.nat(1),
  low: fc.nat(2),
  likely: fc.nat(2),
  width: fc.constantFrom(0, 1, 1, 2),
  falls: fc.constantFrom(0, 0, 0.25, 1),
});

/** One time in six. */
function seldom<T>(what: fc.Arbitrary<T>): fc.Arbitrary<T | null> {
  return fc.oneof({ weight: 5, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: what });
}

export const smallArb = fc.record({
  routines: fc.array(routineArb, { minLength: 40, maxLength: 40 }),
  /** Those to come are among six neighbours, contender by contender. */
  start: fc.nat(),
  toCome: fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
  /** Routines without a D, done or to come: none, or one of them. */
  lacking: seldom(fc.nat(39)),
  withdrawn: seldom(fc.nat(39)),
  carried: fc.constantFrom(0, 0, 0, 0, 500),
  others: fc.nat(),
});

export type Small = typeof smallArb extends fc.Arbitrary<infer T> ? T : never;

type Draw = Small['routines'][number];

/** At most so many are to come, and at least one. */
const MOST = 4;

/** Scores are multiples of half a point, and so are falls. */
const STEP = 500;

export interface Weighed {
  readonly score: number;
  readonly chance: number;
}

/** A routine to come: what it can score, the expected D, and its likely score. */
export interface ToCome {
  readonly scores: readonly Weighed[];
  readonly likely: number;
  readonly d: number | null;
}

/** A meet with one contest, as it was read and as it was drawn. */
export interface SmallMeet {
  readonly meet: Meet;
  readonly contest: Contest;
  readonly texts: string;
  /** By index of the routine. */
  readonly toCome: ReadonlyMap<number, ToCome>;
  /** No D is missing, nobody brings points in and nobody is withdrawn. */
  readonly isComplete: boolean;
}

const points = (units: number) => (units / 1000).toFixed(3);

const dOf = ({ d }: Draw) => 5000 + STEP * d;

function rangeOf({ low, likely, width }: Draw) {
  const least = 12_000 + STEP * low;
  return { low: least, likely: least + STEP * Math.min(likely, width), high: least + STEP * width };
}

/** The design: a Beta distribution on the grid points; none, one or two falls, each half a point. */
function weighed(draw: Draw): Weighed[] {
  const range = rangeOf(draw);
  const { falls } = draw;
  const clean = Array.from({ length: draw.width + 1 }, (_, k) => range.low + STEP * k);
  const chances = cleanChances(range, clean);
  const found = new Map<number, number>();
  for (const [count, weight] of [1 - falls, falls * (1 - falls), falls * falls].entries()) {
    for (const [k, score] of clean.entries()) {
      const fallen = score - STEP * count;
      const chance = weight * (chances[k] ?? 0);
      if (chance > 0) found.set(fallen, (found.get(fallen) ?? 0) + chance);
    }
  }
  return [...found].map(([score, chance]) => ({ score, chance }));
}

function yamlOf(
  { text, ranks, teams = { a: null, b: null, c: null } }: ContestText,
  ties: readonly string[],
  small: Small,
) {
  const contest = text.replace(/\s*\}$/, `, ties: [${ties.join(', ')}] }`);
  return (rangesOf: (id: string) => string) => {
    const ids =
      ranks === 'teams' ? ['a1', 'a2', 'a3', 'a4', 'b1', 'b2', 'b3', 'b4'] : Object.keys(teams);
    const gymnasts = ids.map((id) => {
      const hers = ranks === 'teams' ? id.charAt(0) : (teams[id] ?? null);
      const team = hers === null ? '' : `, team: ${hers}`;
      const brings = ranks === 'gymnasts' && id === 'b' && small.carried > 0;
      const carried = brings ? `, carried: ${points(small.carried)}` : '';
      return `  - { id: ${id}${team}${carried}, ranges: { ${rangesOf(id)} } }`;
    });
    return [
      'discipline: wag',
      'scoring: open',
      `panel: { counting: 1, step: 0.5 }`,
      `fall: ${points(STEP)}`,
      `contests: [${contest}]`,
      'gymnasts:',
      ...gymnasts,
      '',
    ].join('\n');
  };
}

/** Which routines there are follows from the contest alone, and is asked once. */
const routinesOf = new Map<ContestText, readonly Routine[]>();

function byGymnast(routines: readonly Routine[]): Routine[] {
  return [...routines].sort((a, b) =>
    a.gymnast < b.gymnast ? -1 : a.gymnast > b.gymnast ? 1 : a.index - b.index,
  );
}

/** The meet of a drawing; its routines follow from the kind of contest. */
export function smallMeet(of: ContestText, ties: readonly string[], small: Small): SmallMeet {
  const yaml = yamlOf(of, ties, small);
  const listed = routinesOf.get(of) ?? byGymnast(meetFrom(yaml(() => '')).routines);
  routinesOf.set(of, listed);
  const cell = (k: number) => small.routines[k % small.routines.length];
  const drawn = listed.flatMap((routine, k) => {
    const draw = cell(k);
    return draw === undefined ? [] : [{ ...routine, draw, k }];
  });
  const wanted = small.toCome.flatMap((is, n) => (is ? [(small.start + n) % listed.length] : []));
  const open = new Set(
    (wanted.length === 0 ? [small.start % listed.length] : wanted).slice(0, MOST),
  );
  const isLacking = (k: number) => small.lacking !== null && k === small.lacking % listed.length;
  const isWithdrawn = (k: number) =>
    small.withdrawn !== null && k === small.withdrawn % listed.length && !open.has(k);
  const rows: string[] = [];
  const toCome = new Map<number, ToCome>();
  for (const { index, gymnast, apparatus, draw, k } of drawn) {
    const d = isLacking(k) ? null : dOf(draw);
    if (open.has(k)) {
      const scores = weighed(draw);
      toCome.set(index, { scores, likely: rangeOf(draw).likely, d });
    } else if (isWithdrawn(k)) rows.push(`${gymnast},${apparatus},DNS,`);
    else {
      rows.push(
        `${gymnast},${apparatus},${points(12_000 + STEP * draw.score)},${d === null ? '' : points(d)}`,
      );
    }
  }
  const text = yaml((id) =>
    drawn
      .filter(({ gymnast }) => gymnast === id)
      .map(({ apparatus, draw, k }) => {
        const { low, likely, high } = rangeOf(draw);
        const d = isLacking(k) ? '' : `, d: ${points(dOf(draw))}`;
        const three = `low: ${points(low)}, likely: ${points(likely)}, high: ${points(high)}`;
        return `${apparatus}: { ${three}, falls: ${draw.falls}${d} }`;
      })
      .join(', '),
  );
  const log = `gymnast,apparatus,score,d\n${rows.join('\n')}\n`;
  const meet = meetFrom(text, log);
  const carries = of.ranks === 'gymnasts' && small.carried > 0;
  const isComplete = small.lacking === null && !drawn.some(({ k }) => isWithdrawn(k)) && !carries;
  return { meet, contest: findContest(meet, null), texts: `${text}\n${log}`, toCome, isComplete };
}
