/** A plain statistician's forecast: normal distributions around everybody's own mean, simulated. */
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Contest } from '../contest/contest.js';
import { type Meet, routineAt } from '../meet/meet.js';
import { type Part, scoresDropped } from '../rules/contender.js';
import { recordedPerformances } from '../rules/recorded.js';
import { unitsPerPoint } from '../score.js';
import { type Board, MEDALS, type PlainForecast } from './final-boards.js';
import type { Normal, OwnMeans } from './own-means.js';
import { hashOf, type PastFinal } from './rounds.js';
import type { PastRoutine } from './routine.js';

/** So many ends of a final are drawn: a chance is right to 0.016. */
const DRAWS = 1000;

/**
 * Every score to come drawn from a normal distribution: her own mean on the apparatus and the spread of all
 * around theirs; of whom nothing is known the mean and the spread of all scores. Neither falls nor the grid
 * of scores, nor tie rules.
 */
export function normalForecast(
  final: PastFinal,
  means: OwnMeans,
  also: readonly PastRoutine[],
  seed: number,
): PlainForecast {
  const scores = new Map<string, number[]>();
  for (const { gymnast, apparatus, score } of also) {
    const key = `${apparatus} ${gymnast}`;
    scores.set(key, [...(scores.get(key) ?? []), score]);
  }
  const at = new Map(final.meet.gymnasts.map((g, i) => [g.id, final.gymnasts[i] ?? '']));
  return (meet, contest, rotation) => {
    const { discipline, competition, date, on } = final;
    const name = [seed, rotation, discipline, competition, date, final.round.name, on].join('\n');
    const random = standardNormal(hashOf(name));
    const of = (routine: number): Normal => {
      const { gymnast: id, apparatus } = routineAt(meet, routine);
      const whose = { discipline, apparatus, gymnast: at.get(id) ?? '' };
      return (
        means.own(whose, scores.get(`${apparatus} ${whose.gymnast}`)) ??
        means.all(whose) ?? { mean: 0, spread: unitsPerPoint(meet.scoring.decimals) }
      );
    };
    return simulated(meet, contest, of, random);
  };
}

function simulated(
  meet: Meet,
  contest: Contest,
  normalOf: (routine: number) => Normal,
  random: () => number,
): Board['normal'] {
  const recorded = recordedPerformances(meet);
  const known = (i: number) => {
    const p = recorded[i] ?? null;
    return p === null ? null : p === 'out' ? 0 : p.score;
  };
  // By contender of the meet, so that the lists are in the order of the board.
  const ids = (contest.kind.ranks === 'teams' ? meet.teams : meet.gymnasts).map((c) => c.id);
  const drawn = ids.map((id) => totalDrawn(partsOf(contest, id), normalOf, known));
  const counts = { win: ids.map(() => 0), medal: ids.map(() => 0) };
  const totals = new Float64Array(ids.length);
  const ranked = new Float64Array(ids.length);
  for (let draw = 0; draw < DRAWS; draw++) {
    for (let i = 0; i < totals.length; i++) totals[i] = drawn[i]?.(random) ?? 0;
    ranked.set(totals);
    ranked.sort();
    const [winning = 0, winsMedal = 0] = [ranked.at(-1), ranked.at(-MEDALS) ?? ranked[0]];
    for (let i = 0; i < totals.length; i++) {
      const own = totals[i] ?? 0;
      if (own >= winning) counts.win[i] = (counts.win[i] ?? 0) + 1;
      if (own >= winsMedal) counts.medal[i] = (counts.medal[i] ?? 0) + 1;
    }
  }
  const share = (of: readonly number[]) => of.map((n) => n / DRAWS);
  return { win: share(counts.win), medal: share(counts.medal) };
}

function partsOf(contest: Contest, id: string): readonly Part[] {
  return contest.contenders.find((c) => c.id === id)?.parts ?? [];
}

/** Draws the total of one contender: a sum of normal numbers is one, unless the best few of them count. */
function totalDrawn(
  parts: readonly Part[],
  normalOf: (routine: number) => Normal,
  known: (routine: number) => number | null,
): (random: () => number) => number {
  let [middle, variance] = [0, 0];
  const best: { scores: readonly Normal[]; count: number }[] = [];
  for (const part of parts) {
    const scores = part.routines.map((i): Normal => {
      const score = known(i);
      return score === null ? normalOf(i) : { mean: score, spread: 0 };
    });
    if (scoresDropped(part) > 0 && part.rule.kind === 'best') {
      best.push({ scores, count: part.rule.count });
      continue;
    }
    const share = part.rule.kind === 'mean' ? 1 / 2 : 1;
    for (const { mean, spread } of scores) {
      middle += mean * share;
      variance += (spread * share) ** 2;
    }
  }
  const deviation = Math.sqrt(variance);
  return (random) => {
    let total = deviation === 0 ? middle : middle + deviation * random();
    for (const { scores, count } of best) {
      const drawn = scores.map(({ mean, spread }) => mean + spread * random());
      drawn.sort((a, b) => b - a);
      for (let k = 0; k < count; k++) total += drawn[k] ?? 0;
    }
    return total;
  };
}

/** Standard normal numbers, two at a time (Box and Muller, from memory). */
function standardNormal(seed: number): () => number {
  const random = xoroshiro128plus(seed);
  const uniform = () => ((random.next() >>> 0) + 0.5) / 2 ** 32;
  let kept: number | null = null;
  return () => {
    if (kept !== null) {
      const value = kept;
      kept = null;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(uniform()));
    const angle = 2 * Math.PI * uniform();
    kept = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}
