/** Her chances by her next score, to be looked at rather than read. */
import { findContest } from '../../lib/contest/contest.js';
import { findContender } from '../../lib/contest/who.js';
import {
  type Chances,
  type ContenderChances,
  type CurvePoint,
  chanceOfAtLeast,
  distributionOf,
  type Meet,
} from '../../lib/index.js';
import { colour, writeLine, writeWords } from '../terminal.js';
import {
  apparatusName,
  nameOf,
  ordinal,
  percentWithin,
  shower,
  unsettled,
  wordsFor,
} from '../words.js';
import { placesNotes, printFooter, WORTH_SAYING, withBar } from './chances.js';
import { type Column, renderTable } from './table.js';

/** Steps of a curve that can be taken in. */
const STEPS_SHOWN = 12;

/** Chances with a score of one's own to wait for. */
const CROSSINGS = [0.1, 0.25, 0.5, 0.75, 0.9];

/** Her chances by her next score, the best first. */
export function printCurve(meet: Meet, answer: Chances, who: string): void {
  const { contest: id, contenders, curve, error } = answer;
  if (curve === undefined) return;
  const contest = findContest(meet, id);
  const { contender, gymnast } = findContender(meet, contest, who);
  const routine = meet.routines.find(
    (r) =>
      r.apparatus === curve.apparatus &&
      contender.routines.includes(r.index) &&
      meet.results[r.index] === null &&
      (gymnast === null || r.gymnast === gymnast.id),
  );
  const row = contenders.find((c) => c.id === contender.id);
  if (routine === undefined || row === undefined) return;
  const show = shower(meet);
  const { her } = wordsFor(meet, contender.id);
  const isOwn = routine.gymnast === contender.id;
  const where = `${apparatusName(meet, routine.apparatus)}, rotation ${routine.rotation}`;
  const team = isOwn ? '' : ` for ${contender.name}`;
  writeWords(`${nameOf(meet, routine.gymnast)}${team} on ${where} (${id})`, colour.bold);
  const now = [
    `wins ${targetWords(row, 'win', error)}`,
    contest.medals > 1 ? `a medal ${targetWords(row, 'medal', error)}` : '',
  ].filter((w) => w !== '');
  const likeliest = row.places
    .map((chance, k) => ({ chance, place: k + 1 }))
    .sort((a, b) => b.chance - a.chance)
    .filter(({ chance }) => chance >= 0.01)
    .slice(0, 4)
    .map(({ chance, place }) => `${ordinal(place)} ${percentWithin(chance, error)}`);
  const total =
    row.total === null
      ? ''
      : `median total ${show(row.total.p50)}, 5% to 95% ${show(row.total.p5)} – ${show(row.total.p95)}`;
  for (const line of [now.join('; '), `likeliest: ${likeliest.join(', ')}`, total]) {
    if (line !== '') writeWords(`  ${line}`);
  }
  writeLine();

  const range = distributionOf(meet, meet.ranges[routine.index] ?? NO_RANGE);
  const asked = (['win', 'medal'] as const).filter(
    (t) => (t === 'win' || contest.medals > 1) && !row.settled.some((s) => s.target === t),
  );
  const steps = readableSteps(curve.points, asked);
  const { text, leftOut } = renderTable(
    [
      { head: 'with', cell: (p: CurvePoint) => show(p.score), align: 'right' },
      {
        head: 'that or better',
        cell: (p) => (range === null ? '' : percentWithin(chanceOfAtLeast(range, p.score), 0)),
        align: 'right',
      },
      ...asked.map(
        (which): Column<CurvePoint> => ({
          head: which === 'win' ? 'to win' : 'medal',
          cell: (p) => withBar(p[which], error),
        }),
      ),
      ...row.places.slice(1).map(
        (_, k): Column<CurvePoint> => ({
          head: ordinal(k + 2),
          cell: (p) => {
            const chance = p.places[k + 1] ?? 0;
            return chance < WORTH_SAYING ? '' : percentWithin(chance, error);
          },
          align: 'right',
          spare: 2 + k,
        }),
      ),
    ],
    [...steps].reverse(),
  );
  writeLine(text);
  const notes = [
    `${steps.length} of ${curve.points.length} scores ${isOwn ? her : 'the'} range allows; --json has all`,
    ...placesNotes(row.places.length, leftOut),
  ];
  writeWords(notes.join(' · '), colour.dim);
  if (asked.length > 0) writeWords(evenWords(curve.points, asked, show));
  writeLine();
  printFooter(meet, answer);
}

const NO_RANGE = { low: null, likely: null, high: null, falls: null, d: null, from: null };

function targetWords(row: ContenderChances, which: 'win' | 'medal', error: number): string {
  const settled = row.settled.find((s) => s.target === which);
  if (settled === undefined) return unsettled(row[which], error);
  const status = settled.status === 'secured' ? 'secured' : 'out of reach';
  return `${status}, ${settled.by === 'limit' ? 'whatever anyone scores' : 'by the ranges'}`;
}

/** "An even chance to win from 14.633; of a medal from 13.900." */
function evenWords(
  points: readonly CurvePoint[],
  asked: readonly ('win' | 'medal')[],
  show: (score: number) => string,
): string {
  const said = asked.map((which) => {
    const words = which === 'win' ? 'to win' : 'of a medal';
    const point = points.find((p) => p[which] >= 0.5);
    if (point === undefined) return `no even chance ${words} within the range`;
    if (point === points[0]) return `at least an even chance ${words} with any score of the range`;
    return `an even chance ${words} from ${show(point.score)}`;
  });
  const text = said.join('; ');
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

/** The scores where something changes: where the chances pass what people ask for, and the ends. */
function readableSteps(
  points: readonly CurvePoint[],
  asked: readonly ('win' | 'medal')[],
): CurvePoint[] {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return [];
  const kept = new Set([first, last]);
  for (const which of asked) {
    for (const level of CROSSINGS) {
      const crossing = points.find((p) => p[which] >= level);
      if (crossing !== undefined && kept.size < STEPS_SHOWN) kept.add(crossing);
    }
  }
  // Where little changes there is room for scores in between.
  while (kept.size < Math.min(STEPS_SHOWN, points.length)) {
    const at = points.flatMap((p, i) => (kept.has(p) ? [i] : []));
    let widest = 0;
    for (let k = 1; k + 1 < at.length; k++) {
      if (gapAfter(at, k) > gapAfter(at, widest)) widest = k;
    }
    const between = points[(at[widest]! + at[widest + 1]!) >> 1];
    if (between === undefined || kept.has(between)) break;
    kept.add(between);
  }
  return points.filter((p) => kept.has(p));
}

/** How many scores lie between two steps. */
function gapAfter(at: readonly number[], k: number): number {
  return at[k + 1]! - at[k]!;
}
