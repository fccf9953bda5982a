/** Her chances by her next score, to be looked at rather than read. */
import type { Chances, CurvePoint } from '../chances/chances.js';
import type { ContenderChances } from '../chances/contender-chances.js';
import { type Contest, findContest } from '../contest/contest.js';
import { findContender } from '../contest/who.js';
import { type Meet, type Routine, rangeAt } from '../meet/meet.js';
import { chanceOfAtLeast, distributionIn } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { chanceInWords, percentWithin, unsettled } from './chance-words.js';
import { basis, placeColumns, placeNotes, withBar } from './chances.js';
import { type GoalName, type GoalWords, goalsIn } from './goals.js';
import { detail, type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import {
  capital,
  contestInWords,
  ordinal,
  shower,
  spokenName,
  whereInWords,
  wordsFor,
} from './words.js';

/** Steps of a curve that can be taken in. */
const STEPS_SHOWN = 12;

/** Chances with a score of one's own to wait for. */
const CROSSINGS = [0.1, 0.25, 0.5, 0.75, 0.9];

/** Whose curve it is: in which contest, for which routine, with which chances as they are now. */
interface Subject {
  readonly contest: Contest;
  readonly contender: Contender;
  readonly routine: Routine;
  readonly row: ContenderChances;
}

/** Chances by the next score of whoever was asked about, the best score first. */
export function curveReport(
  meet: Meet,
  answer: Chances,
  { apparatus, points }: NonNullable<Chances['curve']>,
  who: string,
): Report {
  const subject = subjectOf(meet, answer, apparatus, who);
  if (subject === null) return [];
  const { contest, contender, routine, row } = subject;
  const asked = goalsIn(contest).filter(
    ({ target }) => !row.settled.some((s) => s.target === target),
  );
  const steps = readableSteps(points, asked);
  const whose = routine.gymnast === contender.id ? wordsFor(meet, contender.id).her : 'the';
  const left = `${steps.length} of the ${points.length} scores in ${whose} range are shown; --json has them all`;
  return reportOf(
    headSection(meet, subject, answer.error),
    [
      tableOf(columnsOf(meet, subject, asked, answer.error), [...steps].reverse(), {
        notes: [...(steps.length < points.length ? [left] : []), ...placeNotes(row.places.length)],
        tellsLeftOut: 'series',
      }),
      ...(asked.length > 0 ? [sentence(evenWords(meet, subject, points, asked))] : []),
    ],
    basis(meet, answer),
  );
}

function subjectOf(meet: Meet, answer: Chances, apparatus: string, who: string): Subject | null {
  const contest = findContest(meet, answer.contest);
  const { contender, gymnast } = findContender(meet, contest, who);
  const routine = meet.routines.find(
    (r) =>
      r.apparatus === apparatus &&
      contender.routines.includes(r.index) &&
      meet.results[r.index] === null &&
      (gymnast === null || r.gymnast === gymnast.id),
  );
  const row = answer.contenders.find((c) => c.id === contender.id);
  if (routine === undefined || row === undefined) return null;
  return { contest, contender, routine, row };
}

/** Who goes up where, and the chances as they are now. */
function headSection(
  meet: Meet,
  { contest, contender, routine, row }: Subject,
  error: number,
): Section {
  const show = shower(meet);
  const where = whereInWords(meet, routine);
  const team = routine.gymnast === contender.id ? '' : ` for ${contender.name}`;
  const now = goalsIn(contest).map(({ target, to }) => `${to}: ${targetWords(row, target, error)}`);
  const likeliest = row.places
    .map((chance, k) => ({ chance, place: k + 1 }))
    .sort((a, b) => b.chance - a.chance)
    .filter(({ chance }) => chance >= 0.01)
    .slice(0, 4)
    .map(({ chance, place }) => `${ordinal(place)} ${percentWithin(chance, error)}`);
  return [
    title(
      `${spokenName(meet, routine.gymnast)}${team} on ${where} (${contestInWords(meet, contest.id)})`,
    ),
    detail(now.join(' · ')),
    detail(`most likely to finish: ${likeliest.join(', ')}`),
    ...(row.total === null
      ? []
      : [
          detail(
            `likely total: ${show(row.total.p50)}, nine times in ten from ${show(row.total.p5)} to ${show(row.total.p95)}`,
          ),
        ]),
  ];
}

function columnsOf(
  meet: Meet,
  { routine, row }: Subject,
  asked: readonly GoalWords[],
  error: number,
): ColumnOf<CurvePoint>[] {
  const show = shower(meet);
  const range = distributionIn(meet, rangeAt(meet, routine.index));
  return [
    { head: 'with a score of', cell: (p) => show(p.score), align: 'right' },
    {
      head: 'that or more',
      cell: (p) => (range === null ? '' : chanceInWords(chanceOfAtLeast(range, p.score), 0)),
      align: 'right',
    },
    ...asked.map(
      ({ target, to }): ColumnOf<CurvePoint> => ({
        head: to,
        cell: (p) => withBar(p[target] ?? 0, error),
      }),
    ),
    ...placeColumns(row.places.length, (p: CurvePoint) => p, error),
  ];
}

function targetWords(row: ContenderChances, which: GoalName, error: number): string {
  const settled = row.settled.find((s) => s.target === which);
  if (settled === undefined) return unsettled(row[which] ?? 0, error);
  const status = settled.status === 'secured' ? 'secured' : 'out of reach';
  return `${status}, ${settled.by === 'limit' ? 'whatever anyone scores' : 'as long as everyone stays within their ranges'}`;
}

/** "From 14.700 on she is more likely to win than not; from 13.600 on, to medal." */
function evenWords(
  meet: Meet,
  { contender }: Subject,
  points: readonly CurvePoint[],
  asked: readonly GoalWords[],
): string {
  const { she } = wordsFor(meet, contender.id);
  const are = she === 'they' ? 'are' : 'is';
  const said = asked.map(({ target, verb }) => {
    const likely = `${she} ${are} at least as likely to ${verb} as not`;
    const point = points.find((p) => (p[target] ?? 0) >= 0.5);
    if (point === undefined)
      return `with no score of the range ${are} ${she} as likely to ${verb} as not`;
    if (point === points[0]) return `with any score of the range ${likely}`;
    return `from ${shower(meet)(point.score)} up ${likely}`;
  });
  return `${capital(said.join('; '))}.`;
}

/** The scores where something changes: where the chances pass what people ask for, and the ends. */
function readableSteps(points: readonly CurvePoint[], asked: readonly GoalWords[]): CurvePoint[] {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return [];
  const kept = new Set([first, last]);
  for (const { target } of asked) {
    for (const level of CROSSINGS) {
      const crossing = points.find((p) => (p[target] ?? 0) >= level);
      if (crossing !== undefined && kept.size < STEPS_SHOWN) kept.add(crossing);
    }
  }
  // Where little changes there is room for scores in between.
  while (kept.size < Math.min(STEPS_SHOWN, points.length)) {
    const between = points[midOfWidestGap(points.flatMap((p, i) => (kept.has(p) ? [i] : [])))];
    if (between === undefined || kept.has(between)) break;
    kept.add(between);
  }
  return points.filter((p) => kept.has(p));
}

/** Halfway between the two neighbours, of some numbers in order, that lie farthest apart. */
function midOfWidestGap(at: readonly number[]): number {
  let [from, to] = [0, 0];
  at.forEach((here, k) => {
    const next = at[k + 1] ?? here;
    if (next - here > to - from) [from, to] = [here, next];
  });
  return (from + to) >> 1;
}
