/** From the leader's side: the score from which on nobody can pass her. */
import type { Chance } from '../chance.js';
import { type FieldExtremes, fieldWith, type SettledBy, whoMayPass } from '../contest/settled.js';
import { limitAt, type Meet, rangeAt, routineAt } from '../meet/meet.js';
import { chanceOfAtLeast, distributionIn } from '../range/distribution.js';
import type { Contender } from '../rules/contender.js';
import { assumed, entryOf } from '../rules/entry.js';
import { asScore, type Score, type Units } from '../score.js';
import { gridPoints } from '../scoring.js';
import { lowestWith } from './mark.js';
import type { Asked, NeedStatus } from './need.js';
import { type MissingRange, missingAt } from './scenario.js';
import type { Assumption } from './target.js';

/** Who is the last that can pass her, with what. */
export interface Threat {
  /** Of the gymnast or the team. */
  readonly id: string;
  /** The highest total it can reach, in that sense. */
  readonly total: Score;
  /** Apparatus codes of its routines to come. */
  readonly toCome: readonly string[];
}

/** The lowest real score from which on nobody can end ahead of her; who is level and no better does not. */
export interface Safe {
  /** `limit`: whatever the others score, up to the limit. `ranges`: whatever they score within their ranges. */
  readonly by: SettledBy;
  /** What her own other routines to come are taken to score. */
  readonly rest: Assumption;
  /** As of a need: `secured` any score does it; `impossible` none does; null when `missing` says why. */
  readonly status: Exclude<NeedStatus, 'level-only'> | null;
  /** The score from which on she is safe; null where none is enough, or something is missing. */
  readonly score: Score | null;
  /** The chance, by her range, of at least that score; null without one. */
  readonly reach: Chance | null;
  /** Who can still pass her with any less; null when nobody can. */
  readonly threat: Threat | null;
  /** Of her own other routines, whose range is missing. */
  readonly missing: readonly MissingRange[];
}

export interface SafeQuestion {
  readonly senses: readonly FieldExtremes[];
  readonly rest: Assumption;
}

export function safeScores(meet: Meet, asked: Asked, { senses, rest }: SafeQuestion): Safe[] {
  return senses.map((field) => safeIn(meet, asked, field, rest));
}

function safeIn(meet: Meet, asked: Asked, field: FieldExtremes, rest: Assumption): Safe {
  const { contest, contender, routine } = asked;
  const nothing = { by: field.by, rest, status: null, score: null, reach: null, threat: null };
  const known = [...(field.of.get(contender)?.worst.performances ?? [])];
  const missing: MissingRange[] = [];
  for (const i of contender.routines) {
    if (i === routine || meet.results[i] !== null) continue;
    const score = rest === 'limit' ? limitAt(meet, i) : rangeAt(meet, i)[rest];
    if (score === null) missing.push(missingAt(meet, i));
    else known[i] = assumed(score, null);
  }
  if (missing.length > 0) return { ...nothing, missing };

  const passing = (score: Units): Contender[] => {
    const entry = entryOf(contender, known.with(routine, assumed(score, null)));
    return whoMayPass(fieldWith(field, entry), contest, contender);
  };
  const grid = gridPoints(0, limitAt(meet, routine), meet.scoring.grid);
  const isSafe = (k: number) => passing(grid[k] ?? 0).length === 0;
  const last = grid.length - 1;
  if (isSafe(0)) {
    return { ...nothing, ...reached(meet, routine, 0), status: 'secured', missing };
  }
  if (!isSafe(last)) {
    const threat = threatOf(meet, field, passing(grid[last] ?? 0));
    return { ...nothing, status: 'impossible', threat, missing };
  }
  const lowest = lowestWith(0, last, isSafe);
  const score = grid[lowest] ?? 0;
  const high = meet.given[routine]?.high ?? null;
  return {
    ...nothing,
    ...reached(meet, routine, score),
    status: high !== null && score > high ? 'beyond' : 'needs',
    threat: threatOf(meet, field, passing(grid[lowest - 1] ?? 0)),
    missing,
  };
}

function reached(meet: Meet, routine: number, score: Units): Pick<Safe, 'score' | 'reach'> {
  const distribution = distributionIn(meet, rangeAt(meet, routine));
  return {
    score: asScore(score),
    reach: distribution === null ? null : chanceOfAtLeast(distribution, score),
  };
}

/** Of those who can still pass her the one with the most to reach. */
function threatOf(meet: Meet, field: FieldExtremes, passing: readonly Contender[]): Threat | null {
  const [threat] = passing
    .flatMap((c) => field.of.get(c)?.best ?? [])
    .sort((a, b) => b.total - a.total);
  if (threat === undefined) return null;
  const { contender, total } = threat;
  const toCome = contender.routines.filter((i) => meet.results[i] === null);
  return {
    id: contender.id,
    total: asScore(total),
    toCome: toCome.map((i) => routineAt(meet, i).apparatus),
  };
}
