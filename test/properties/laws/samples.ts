/** Chances by sampling, against those computed, and against themselves. */
import fc from 'fast-check';
import { casesOf, pointsOf } from '../../../lib/chances/curve.js';
import { podiumsOf } from '../../../lib/chances/medals/podiums.js';
import { type ContestModel, modelOf, totalOf } from '../../../lib/chances/model.js';
import { placeChances } from '../../../lib/chances/place-chances.js';
import { type SampleOptions, samplingOf } from '../../../lib/chances/sampled/options.js';
import { BATCH, type SampledPlaces, samplePlaces } from '../../../lib/chances/sampled/sampled.js';
import { stakeCases, stakesOf } from '../../../lib/chances/stakes.js';
import { buildContest } from '../../../lib/contest/contest.js';
import { type Distribution, LastRotationError, type Meet } from '../../../lib/index.js';
import { routineAt } from '../../../lib/meet/meet.js';
import { type Ask, askArb, caseArb, must, readCase } from '../asking.js';
import { podiumName } from '../enumerate.js';
import { smallCaseArb } from './chances.js';

type Check = (holds: boolean, what: () => string) => void;

/** Ties that E and D scores break, besides. */
const byPartsArb = caseArb(1, {
  scales: ['tiny'],
  kinds: ['all-around', 'apparatus', 'team'],
  ties: ['execution', 'difficulty'],
  gymnasts: { min: 2, max: 4 },
  done: [0, 0, 40],
});

const questionArb = fc.record({
  one: fc.oneof(smallCaseArb, smallCaseArb, byPartsArb),
  ask: askArb,
});

type Question = ReturnType<typeof questionArb.generate>['value'];

/** Tries every contest of a meet that can be sampled. */
function inEveryContest(
  { one: { sketch } }: Question,
  look: (model: ContestModel, check: Check) => void,
): void {
  const { meet } = readCase(sketch);
  for (const rules of meet.contests) {
    const model = modelIn(meet, rules);
    const check: Check = (holds, what) => must(holds, sketch, () => `${rules.id}: ${what()}`);
    if (model !== null) look(model, check);
  }
}

/** Null where a range is missing, and where nothing is to come: then nothing is drawn. */
function modelIn(meet: Meet, rules: Meet['contests'][number]): ContestModel | null {
  try {
    const model = modelOf(meet, buildContest(meet, rules));
    return model.over ? null : model;
  } catch (error) {
    if (error instanceof LastRotationError) return null;
    throw error;
  }
}

/** A sample of a contest, what is at stake and one curve included. */
function sampled(model: ContestModel, options: SampleOptions, routine: number | null) {
  const sampling = samplingOf(options);
  if (sampling === null) throw new RangeError('nothing asks for sampling');
  return samplePlaces(model, sampling, { stakes: true, routine });
}

/** Somebody's routine to come; null where there is none. */
function someRoutine({ entrants }: ContestModel, ask: Ask): number | null {
  const all = entrants.flatMap((e) => e.toCome);
  return all[ask.on % Math.max(all.length, 1)] ?? null;
}

/** How far a chance of n meets may be from the truth p. */
function noise(p: number, n: number): number {
  return 5.5 * Math.sqrt((p * (1 - p)) / Math.max(n, 1)) + (n === 0 ? 1e-12 : 12 / n);
}

function checkNear(
  said: readonly number[],
  truth: readonly number[],
  n: number,
  error: number,
  check: Check,
  what: () => string,
): void {
  const lists = [said, truth].map((list) => [...list, ...sums(list)]);
  const [mine = [], wanted = []] = lists;
  check(mine.length === wanted.length, () => `${what()}: as many chances`);
  for (const [k, p] of wanted.entries()) {
    check(
      Math.abs((mine[k] ?? -1) - p) <= noise(Math.min(p, 1), n) + error,
      () => `${what()}, ${k % truth.length}: ${p}, not ${mine[k]} of ${n} (± ${error})`,
    );
  }
}

/** Of the first one, two, three … */
function sums(list: readonly number[]): number[] {
  let sum = 0;
  return list.map((p) => {
    sum += p;
    return sum;
  });
}

// ---------------------------------------------------------------------------------------------

/** Sampling says what is computed: places, medals, the curve, what is at stake. */
export const samplesAreTrue = fc.property(questionArb, (question: Question) => {
  const { ask } = question;
  inEveryContest(question, (model, check) => {
    const routine = someRoutine(model, ask);
    const answer = sampled(model, { sample: 4000, seed: ask.seed }, routine);
    const n = answer.samples;
    const ids = model.entrants.map((r) => r.contender.id);
    check(n === 4000, () => 'so many were drawn');
    check(answer.error >= 0 && answer.error <= 0.51 / Math.sqrt(4000), () => 'its error');
    const { places, error, groups } = placeChances(model);
    for (const [i, truth] of places.entries()) {
      checkNear(answer.places[i] ?? [], truth, n, error, check, () => `places of ${ids[i]}`);
    }
    const podiums = new Map(answer.podiums.map((p) => [podiumName(p.places), p.chance]));
    const said = answer.podiums.reduce((sum, p) => sum + p.chance, 0);
    check(Math.abs(said - (ids.length > 0 ? 1 : 0)) < 1e-9, () => 'podiums add up to 1');
    const told = podiumsOf(model, groups, places, () => undefined);
    for (const { places: medals, chance } of told.podiums) {
      const { error: off } = told;
      const name = podiumName(medals);
      checkNear([podiums.get(name) ?? 0], [chance], n, off, check, () => `podium ${name}`);
    }
    checkStakes(model, answer, check);
    if (routine !== null) checkCurve(model, routine, answer, check);
  });
});

function checkStakes(model: ContestModel, answer: SampledPlaces, check: Check): void {
  const cases = stakeCases(model);
  const { cases: found, error } = placeChances(model, { cases });
  const truth = stakesOf(model, cases, (h, i) => found[h]?.title?.[i] ?? 0);
  check(answer.stakes.length === truth.length, () => 'as much is at stake');
  for (const [k, { gymnast, apparatus, title }] of truth.entries()) {
    const said = answer.stakes[k];
    const name = `${gymnast} on ${apparatus}`;
    check(said?.gymnast === gymnast && said.apparatus === apparatus, () => `${name} is next`);
    for (const { contender } of model.entrants) {
      for (const end of ['low', 'high'] as const) {
        const of = (list: typeof title | undefined) =>
          list?.find((t) => t.id === contender.id)?.[end] ?? 0;
        checkNear([of(said?.title)], [of(title)], answer.samples, error, check, () => {
          return `title of ${contender.id} when ${name} goes ${end}`;
        });
      }
    }
  }
}

function checkCurve(
  model: ContestModel,
  routine: number,
  { byScore, samples }: SampledPlaces,
  check: Check,
): void {
  const who = model.entrants.findIndex((r) => r.toCome.includes(routine));
  const cases = casesOf(model.meet, who, routine);
  const { cases: found, error } = placeChances(model, { cases, only: [] });
  const points = pointsOf(model.meet, cases, found);
  check(byScore?.points.length === points.length, () => 'as many points');
  check((byScore?.error ?? 1) <= 0.51 / Math.sqrt(samples), () => 'the error of the curve');
  for (const [k, { score, chance, places }] of points.entries()) {
    const said = byScore?.points[k];
    check(said?.score === score && said.chance === chance, () => `a point at ${score}`);
    checkNear(said?.places ?? [], places, samples, error, check, () => `places with ${score}`);
  }
}

// ---------------------------------------------------------------------------------------------

const formArb = fc.constantFrom(0, 0, 0.3, 0.8, 1);

/** The same seed says the same. */
export const seedsRepeat = fc.property(
  fc.record({ question: questionArb, dayForm: formArb }),
  ({ question, dayForm }) => {
    const { ask } = question;
    inEveryContest(question, (model, check) => {
      const routine = someRoutine(model, ask);
      const options = { sample: 2 * BATCH + 700, seed: ask.seed, dayForm };
      const [one, other] = [1, 2].map(() => JSON.stringify(sampled(model, options, routine)));
      check(one === other, () => `${one}\nbut ${other}`);
    });
  },
);

// ---------------------------------------------------------------------------------------------

/** Mean and variance of a total. */
function momentsOf({ scores, chances }: Distribution): { mean: number; variance: number } {
  const mean = scores.reduce((sum, s, i) => sum + s * (chances[i] ?? 0), 0);
  const variance = scores.reduce((sum, s, i) => sum + (s - mean) ** 2 * (chances[i] ?? 0), 0);
  return { mean, variance };
}

/**
 * A day form changes nothing for who has one routine to come; it keeps the mean of a sum, and makes
 * it vary more; and the curve of a routine, weighed by its scores, is what happens.
 */
export const formKeepsRanges = fc.property(
  fc.record({ question: questionArb, dayForm: fc.constantFrom(0.2, 0.5, 1) }),
  ({ question, dayForm }) => {
    const { ask } = question;
    inEveryContest(question, (model, check) => {
      if (model.over) return;
      const routine = someRoutine(model, ask);
      const options = { sample: 2 * BATCH, seed: ask.seed };
      const answer = sampled(model, { ...options, dayForm }, routine);
      const n = answer.samples;
      const gymnasts = model.entrants.flatMap((r) =>
        r.toCome.map((i) => routineAt(model.meet, i).gymnast),
      );
      if (new Set(gymnasts).size === gymnasts.length) {
        const without = sampled(model, options, routine);
        check(JSON.stringify(without) === JSON.stringify(answer), () => 'form changes nothing');
      }
      for (const [i, entrant] of model.entrants.entries()) {
        const { open, contender } = entrant;
        const total = totalOf(entrant);
        if (
          open.some(
            ({ part: { rule, routines } }) => rule.kind === 'mean' || routines.length > rule.count,
          )
        )
          continue;
        const drawn = momentsOf(answer.totals[i] ?? total);
        const alone = momentsOf(total);
        const spread = Math.max(drawn.variance, alone.variance);
        check(
          Math.abs(drawn.mean - alone.mean) <= 5.5 * Math.sqrt(spread / n) + 1e-9,
          () => `the mean of ${contender.id} is ${alone.mean}, not ${drawn.mean}`,
        );
        const { scores, chances } = total;
        const fourth = scores.reduce((m, s, k) => m + (s - alone.mean) ** 4 * (chances[k] ?? 0), 0);
        check(
          drawn.variance >= alone.variance - 6 * Math.sqrt((4 * fourth) / n) - 1e-9,
          () => `the variance of ${contender.id} is ${drawn.variance}, under ${alone.variance}`,
        );
      }
      if (routine === null || answer.byScore === null) return;
      const who = model.entrants.findIndex((r) => r.toCome.includes(routine));
      const together = model.entrants.map((_, k) =>
        (answer.byScore?.points ?? []).reduce((sum, p) => sum + p.chance * (p.places[k] ?? 0), 0),
      );
      checkNear(answer.places[who] ?? [], together, n / 2, 0, check, () => 'the curve, weighed');
    });
  },
);

// ---------------------------------------------------------------------------------------------

/** What is asked for is reached, in whole batches and no more of them than it takes. */
export const precisionIsReached = fc.property(
  fc.record({
    question: questionArb,
    precision: fc.constantFrom(0.003, 0.004, 0.006, 0.05),
    most: fc.constantFrom(null, 5000),
  }),
  ({ question, precision, most }) => {
    const { ask } = question;
    inEveryContest(question, (model, check) => {
      if (model.over) return;
      const calls: number[] = [];
      const onProgress = (done: number, of: number | null) => calls.push(of === null ? done : -1);
      const options = { precision, sample: most, seed: ask.seed, onProgress };
      const { samples, error } = sampled(model, options, null);
      check(samples === most || samples % BATCH === 0, () => 'batches are whole');
      check(samples <= (most ?? samples), () => 'no more than asked for');
      check(error <= precision || samples === most, () => `${error} is reached with ${samples}`);
      check(calls.join() === [...calls].sort((a, b) => a - b).join(), () => 'progress is made');
      check(calls.at(-1) === samples, () => 'and told');
      if (samples <= BATCH) return;
      const less = Math.floor((samples - 1) / BATCH) * BATCH;
      const before = sampled(model, { sample: less, seed: ask.seed }, null);
      check(before.error > precision, () => `${less} were enough`);
    });
  },
);
