/**
 * Team contests that drop scores, before any score stands: which routine counts is not known, so its D
 * and E are not either. Against every way the scores can go, tried one by one here; teams are invented.
 */
import { describe, expect, it } from 'vitest';
import { chances } from '../../lib/index.js';
import { meetFrom } from '../support/meet.js';

/** A routine to come: the score without a fall, the expected D, and the chance of a fall. */
interface ToCome {
  readonly team: string;
  readonly score: number;
  readonly d: number;
  readonly falls: number;
}

/** The teams are close, the harder routines are less sure, and D decides as often as E. */
const ROUTINES: readonly ToCome[] = [
  { team: 'kestrel', score: 13_000, d: 5600, falls: 0.5 },
  { team: 'kestrel', score: 13_000, d: 5000, falls: 0.2 },
  { team: 'lapwing', score: 13_000, d: 5300, falls: 0.3 },
  { team: 'lapwing', score: 12_000, d: 5900, falls: 0.1 },
  { team: 'merlin', score: 13_000, d: 5400, falls: 0.4 },
  { team: 'merlin', score: 13_000, d: 5100, falls: 0.4 },
];

const TEAMS = ['kestrel', 'lapwing', 'merlin'];

const points = (units: number) => (units / 1000).toFixed(3);

/** Nobody has competed, and each team counts the better of two on floor. */
function meetWith(ties: string) {
  const gymnasts = ROUTINES.map(({ team, score, d, falls }, i) => {
    const three = ['low', 'likely', 'high'].map((key) => `${key}: ${points(score)}`).join(', ');
    const range = `{ ${three}, falls: ${falls}, d: ${points(d)} }`;
    return `  - { id: g${i}, team: ${team}, on: [FX], ranges: { FX: ${range} } }`;
  });
  const apparatus = 'discipline: [{ code: FX, name: floor }]';
  const contest = `contests: [{ kind: team, up: 2, count: 1, ties: ${ties} }]`;
  return meetFrom(`${apparatus}\nscoring: open\n${contest}\ngymnasts:\n${gymnasts.join('\n')}\n`);
}

type Key = (counting: { readonly score: number; readonly d: number }) => number;

/** By team: the chances of its places, under rules that compare so. */
function everyWay(keys: readonly Key[]) {
  const places = new Map(TEAMS.map((team) => [team, TEAMS.map(() => 0)]));
  const scores: number[] = [];
  const go = (k: number, chance: number): void => {
    const one = ROUTINES[k];
    if (one !== undefined) {
      const { score, falls: f } = one;
      for (const [n, p] of [1 - f, f * (1 - f), f * f].entries()) {
        scores[k] = score - 1000 * n;
        go(k + 1, chance * p);
      }
      return;
    }
    const found = TEAMS.map((team) => {
      const done = ROUTINES.flatMap((r, i) =>
        r.team === team ? [{ score: scores[i] ?? 0, d: r.d }] : [],
      );
      const best = Math.max(...done.map((r) => r.score));
      const level = done.filter((r) => r.score === best);
      // Of two equal scores the one with more of what a rule compares counts.
      return [best, ...keys.map((key) => Math.max(...level.map(key)))];
    });
    for (const [i, own] of found.entries()) {
      const ahead = found.filter((other) => compare(other, own) > 0).length;
      const hers = places.get(TEAMS[i] ?? '');
      if (hers !== undefined) hers[ahead] = (hers[ahead] ?? 0) + chance;
    }
  };
  go(0, 1);
  return places;
}

function compare(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, k) => value !== b[k]);
  return at < 0 ? 0 : (a[at] ?? 0) - (b[at] ?? 0);
}

const BY_E: Key = ({ score, d }) => score - d;
const BY_D: Key = ({ d }) => d;

describe('before any score stands, the better of two counts', () => {
  it.each([
    ['[]', []],
    ['[execution]', [BY_E]],
    ['[difficulty]', [BY_D]],
    ['[execution, difficulty]', [BY_E, BY_D]],
    ['[difficulty, execution]', [BY_D, BY_E]],
  ])('and ties %s are as every way it can go', (ties, keys) => {
    const truth = everyWay(keys);
    const { contenders, error, skipped } = chances(meetWith(ties));
    expect(skipped).toEqual([]);
    expect(error).toBeLessThanOrEqual(1e-12);
    for (const { id, places } of contenders) {
      const wanted = truth.get(id) ?? [];
      for (const [k, p] of places.entries()) expect(p).toBeCloseTo(wanted[k] ?? 0, 12);
    }
  });

  it('so the rule changes who wins by more than a fifth', () => {
    const winOf = (ties: string) =>
      chances(meetWith(ties)).contenders.find((c) => c.id === 'merlin')?.win ?? 0;
    expect(winOf('[difficulty]') - winOf('[execution]')).toBeGreaterThan(0.2);
  });
});
