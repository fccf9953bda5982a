/**
 * The least score for a place as a mixed-integer program, solved by HiGHS (npm package `highs`,
 * https://highs.dev; branch and bound). The program is written from the definition: the lowest whole
 * score with which at most k-1 rivals are not behind by total. Binary variables choose the rivals
 * who may stay not behind, and which of a team's scores count. With `ties: []` being ahead takes one
 * unit more than being level, so no tie rule is in it.
 */
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { needs } from '../../lib/index.js';
import {
  type Ask,
  assumeFor,
  type Case,
  caseArb,
  must,
  type Put,
  putQuestion,
  readCase,
  wantedBy,
} from '../properties/asking.js';
import {
  type Judged,
  type Part,
  type Stand,
  standOf,
  supposed,
  type World,
} from '../properties/naive.js';
import { leastOf, Program } from '../support/program.js';
import { times } from '../support/times.js';

function scoresIn(part: Part, world: World, but: string | null): number[] {
  return part.keys.flatMap((key) => {
    const cell = world.get(key);
    return key === but || cell === null || cell === undefined || cell === 'out' ? [] : [cell.score];
  });
}

/** Her total: a variable that is at most what her scores and the asked one can make of each part. */
function addHers(program: Program, her: Judged, world: World, asked: string, score: string) {
  const parts: [number, string][] = [];
  for (const part of her.parts) {
    const scores = scoresIn(part, world, asked);
    const isAsked = part.keys.includes(asked);
    const value = program.name('integers');
    parts.push([1, value]);
    if (part.count === 'mean') {
      // Cut to the unit: twice the whole value is at most the sum.
      const sum = scores.reduce((a, b) => a + b, 0);
      program.atLeast(-sum, [-2, value], ...(isAsked ? ([[1, score]] as const) : []));
      continue;
    }
    const chosen = scores.map((s) => [s, program.name('binaries')] as const);
    const counting = chosen.map(([, choice]) => choice);
    const terms: [number, string][] = chosen.map(([s, choice]) => [s, choice]);
    if (isAsked) {
      const counted = program.name('integers');
      const choice = program.name('binaries');
      counting.push(choice);
      terms.push([1, counted]);
      program.atLeast(0, [1, score], [-1, counted]);
      program.atLeast(0, [program.highest, choice], [-1, counted]);
    }
    program.atLeast(0, ...terms, [-1, value]);
    if (counting.length > 0) {
      program.atLeast(-part.count, ...counting.map((choice) => [-1, choice] as const));
    }
  }
  return parts;
}

/** A rival's total: at least what any choice of counting scores makes. */
function addRival(program: Program, rival: Stand): [number, string][] {
  return rival.who.parts.map((part): [number, string] => {
    const scores = scoresIn(part, rival.world, null);
    const value = program.name('integers');
    if (part.count === 'mean') {
      program.atLeast(scores.reduce((a, b) => a + b, 0) - 1, [2, value]);
    } else {
      for (const choice of choicesOf(scores, part.count)) {
        program.atLeast(
          choice.reduce((a, b) => a + b, 0),
          [1, value],
        );
      }
    }
    return [1, value];
  });
}

function choicesOf(scores: readonly number[], count: number): number[][] {
  if (count === 0 || scores.length === 0) return [[]];
  const [first = 0, ...rest] = scores;
  return [...choicesOf(rest, count - 1).map((c) => [first, ...c]), ...choicesOf(rest, count)];
}

/** The least score with which fewer than `place` of these rivals are not behind her. */
function leastScore(put: Put, world: World, rivals: readonly Stand[], place: number): number {
  if (rivals.length < place) return 0;
  // With 0 she has this; a mean takes two units for one.
  const without = standOf(put.her, new Map(world).set(put.asked, supposed(0, null))).total;
  const most = Math.max(...rivals.map((r) => r.total)) + 1;
  const program = new Program(2 * most);
  const score = program.name('integers');
  const hers = addHers(program, put.her, world, put.asked, score);
  const stays: string[] = [];
  for (const rival of rivals) {
    const stay = program.name('binaries');
    stays.push(stay);
    const theirs = addRival(program, rival).map(([f, v]) => [-f, v] as const);
    // Either she is ahead by a unit, or the rival is one of those who stay.
    const lead = 1 + rival.who.carried - put.her.carried;
    const lacking = Math.max(rival.total + 1 - without, 0);
    program.atLeast(lead, ...hers, ...theirs, [lacking, stay]);
  }
  program.atLeast(1 - place, ...stays.map((stay) => [-1, stay] as const));
  return leastOf(program, score);
}

function checkAsk({ sketch, asks }: Case): void {
  const read = readCase(sketch);
  for (const ask of asks) {
    const put = putQuestion(read, { ...ask, contest: 0 } satisfies Ask);
    if (put === null) continue;
    const wanted = wantedBy(put, ask);
    if (wanted.kind === 'total' || (wanted.kind === 'hold' && wanted.place === null)) continue;
    const { world, missing, rivals } = assumeFor(put);
    if (missing.length > 0) continue;
    const able = rivals.filter((r) => r.placed && !r.out);
    const counted = wanted.kind === 'beat' ? able.filter((r) => r.who.id === wanted.id) : able;
    const place = wanted.kind === 'beat' ? 1 : (wanted.place ?? 1);
    const least = leastScore(put, world, counted, place);
    const [need] = needs(read.meet, put.named, { ...put.options, for: wanted.text }).needs;
    must(
      need?.ahead === least,
      sketch,
      () =>
        `the program says ${least}: ` +
        JSON.stringify({ who: put.named, target: wanted.text, ...put.options, need }),
    );
  }
}

describe('the least score for a place is that of a mixed-integer program (HiGHS)', () => {
  it.each([
    ['all-around', 80],
    ['apparatus', 80],
    ['two-vaults', 80],
    ['team', 120],
  ] as const)('%s', (kind, numRuns) => {
    const cases = caseArb(2, { kinds: [kind], ties: [], done: [0, 40, 75, 92] });
    fc.assert(fc.property(cases, checkAsk), { numRuns: times(numRuns), seed: 1947 });
  });
});
