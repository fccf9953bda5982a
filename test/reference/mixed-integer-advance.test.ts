/**
 * The least score to go through under a quota of each team as a mixed-integer program, solved by HiGHS
 * (npm package `highs`). Binary variables choose the rivals who may stay not behind her. Of her own team
 * fewer than the quota may; of each other team either all who stay count, or the quota does; and of all
 * fewer than the places count. Ties are shared, so that being ahead takes one unit more than being level.
 */
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { needs } from '../../lib/index.js';
import { ableIn, type Finish } from '../properties/records/judge.js';
import { finishesAt, must } from '../properties/records/laws.js';
import {
  type ContestText,
  type SmallMeet,
  smallArb,
  smallMeet,
} from '../properties/records/small-meet.js';
import { leastOf, Program } from '../support/program.js';
import { times } from '../support/times.js';

const TEAMS = { a: 'p', b: 'p', c: 'p', d: 'q', e: 'q', f: 'q', g: null, h: null } as const;

const ADVANCE = [
  '{ places: 2, perTeam: 1 }',
  '{ places: 3, perTeam: 2 }',
  '{ places: 4, perTeam: 2 }',
  '{ places: 3, perTeam: 3 }',
  '{ places: 3 }',
];

const CONTESTS: readonly ContestText[] = ['all-around', 'apparatus, on: UB'].flatMap((kind) =>
  ADVANCE.map((advance) => ({
    text: `{ kind: ${kind}, advance: ${advance} }`,
    ranks: 'gymnasts' as const,
    teams: TEAMS,
  })),
);

function leastScore(small: SmallMeet, her: Finish, rivals: readonly Finish[]): number {
  const rules = small.contest.advance;
  if (rules === null) throw new RangeError('nobody advances');
  const { places, perTeam } = rules;
  const most = Math.max(her.total, ...rivals.map((r) => r.total)) + 1;
  const program = new Program(most);
  const score = program.name('integers');
  const staysOf = new Map<string, string[]>();
  for (const { contender, total } of rivals) {
    const stay = program.name('binaries');
    const team = contender.team ?? contender.id;
    staysOf.set(team, [...(staysOf.get(team) ?? []), stay]);
    // `her` has 0 in the routine that is asked.
    program.atLeast(total + 1 - her.total, [1, score], [most, stay]);
  }
  const counts: string[] = [];
  for (const [team, stays] of staysOf) {
    const isOwn = team === her.contender.team;
    const sum = stays.map((stay) => [-1, stay] as const);
    if (isOwn && perTeam !== null) program.atLeast(1 - perTeam, ...sum);
    const count = program.name('integers');
    counts.push(count);
    if (isOwn || perTeam === null) {
      program.atLeast(0, [1, count], ...sum);
      continue;
    }
    const full = program.name('binaries');
    program.atLeast(0, [1, count], [stays.length, full], ...sum);
    program.atLeast(0, [1, count], [-perTeam, full]);
  }
  program.atLeast(1 - places, ...counts.map((count) => [-1, count] as const));
  return leastOf(program, score);
}

describe('the least score to go through is that of a mixed-integer program (HiGHS)', () => {
  it.each(CONTESTS.map((contest) => [contest.text, contest] as const))('%s', (_, contest) => {
    fc.assert(
      fc.property(smallArb, (drawn) => {
        const small = smallMeet(contest, [], drawn);
        for (const contender of ableIn(small)) {
          const routine = contender.routines.find((i) => small.toCome.has(i));
          if (routine === undefined) continue;
          const finishes = finishesAt(small, routine, 0);
          const her = finishes.find((f) => f.contender === contender);
          if (her === undefined) continue;
          const least = leastScore(
            small,
            her,
            finishes.filter((f) => f !== her),
          );
          const [need] = needs(small.meet, contender.id, { for: 'advance' }).needs;
          must(
            small,
            need?.ahead === least,
            () => `${contender.id}: the program says ${least}, the need ${need?.ahead}`,
          );
        }
      }),
      { numRuns: times(6), seed: 20_252 },
    );
  });
});
