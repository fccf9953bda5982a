/**
 * The story of a final as it was against the boards of the backtest, over the open data: 20,815 routines,
 * 27 February 2022 to 27 August 2023, from the UCSAS 2024 data challenge (University of Connecticut), read
 * from the folder that LASTROTATION_DATA names; no row of it is here. The largest all-around finals are told score
 * by score, with the ranges that were known before it; after each rotation it has to have the chances with
 * which the backtest judges that rotation. Ties stand in these meets, so both are right to rounding.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { modelOf } from '../../lib/chances/model.js';
import { placeChances } from '../../lib/chances/place-chances.js';
import { findContest } from '../../lib/contest/contest.js';
import { fitRanges } from '../../lib/history/fit.js';
import {
  allAroundRounds,
  asItStood,
  finalBoard,
  type PastFinal,
  rangesBefore,
  wasKnownTo,
} from '../../lib/history/rounds.js';
import {
  formatScore,
  type History,
  type PastRoutine,
  readHistory,
  type Story,
  story,
} from '../../lib/index.js';
import { isScored, type Meet } from '../../lib/meet/meet.js';
import { times } from '../support/times.js';

const FOLDER = process.env.LASTROTATION_DATA ?? '';
const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';

/** So many finals of each discipline are told, the largest fields of them; more of them in the soak. */
const FINALS = times(1);

interface Final {
  readonly round: PastFinal;
  readonly after: (rotation: number) => Meet;
}

function finalsOf(history: History): Final[] {
  const rounds = allAroundRounds(history);
  return (['wag', 'mag'] as const).flatMap((discipline) =>
    rounds
      .filter((r) => r.discipline === discipline)
      .sort((a, b) => b.gymnasts.length - a.gymnasts.length)
      .slice(0, FINALS)
      .map((round): Final => {
        const { date: before, competition } = round;
        const also = (r: PastRoutine) => wasKnownTo(round, r);
        const known = fitRanges(history, { before, also, competition });
        const ranges = new Map(
          known.filter((f) => f.discipline === discipline).map((f) => [f.id, f.ranges]),
        );
        return {
          round,
          after: (rotation) =>
            asItStood(
              round,
              rotation,
              rangesBefore(round, (g) => ranges.get(g)),
            ),
        };
      }),
  );
}

/** The log of the round, in the order the routines went up, and its length after each rotation. */
function logOf({ meet, rotations }: PastFinal): { text: string; after: number[] } {
  const rows = meet.routines.map((r) => {
    const result = meet.results[r.index];
    if (!isScored(result ?? null)) throw new Error('a routine without a score');
    const score = typeof result === 'object' && result !== null ? result.score : 0;
    return { rotation: r.rotation, text: `${r.gymnast},${r.apparatus},${formatScore(score, 3)}` };
  });
  const text = ['gymnast,apparatus,score', ...rows.map((r) => r.text)].join('\n');
  const after = Array.from(
    { length: rotations + 1 },
    (_, n) => rows.filter((r) => r.rotation <= n).length,
  );
  return { text: `${text}\n`, after };
}

/** By gymnast, the chance of first place and of one of the first three, as the backtest has them. */
function judged(meet: Meet): Map<string, readonly [win: number, medal: number]> {
  const model = modelOf(meet, findContest(meet, null));
  const { places } = placeChances(model);
  const of = (i: number) => places[i] ?? [];
  return new Map(
    model.entrants.map((e, i) => [
      e.contender.id,
      [
        of(i)[0] ?? 0,
        of(i)
          .slice(0, 3)
          .reduce((a, b) => a + b, 0),
      ],
    ]),
  );
}

describe.skipIf(FOLDER === '')(`stories of finals of the open data${WITHOUT}`, () => {
  const file = 'routines-2022-2023.csv';
  const finals =
    FOLDER === ''
      ? []
      : finalsOf(readHistory({ file, text: readFileSync(join(FOLDER, file), 'utf8') }));
  const told = finals.map((final) => {
    const log = logOf(final.round);
    const meet = final.after(0);
    return { final, log, answer: story(meet, { file: 'log', text: log.text }) };
  });

  it('are of women and of men, of whole fields', () => {
    expect(new Set(finals.map((f) => f.round.discipline))).toEqual(new Set(['wag', 'mag']));
    const largest = finals.filter((f) => f.round.gymnasts.length >= 18);
    expect(largest.length).toBeGreaterThanOrEqual(2);
  });

  it('after every rotation they have the chances that the backtest judges', () => {
    for (const { final, log, answer } of told) {
      for (let rotation = 0; rotation < final.round.rotations; rotation++) {
        const row = log.after[rotation] ?? 0;
        const moment: Story['start'] | undefined =
          rotation === 0 ? answer.start : answer.points.find((p) => p.row === row);
        const wanted = judged(final.after(rotation));
        expect(moment?.chances.length).toBe(wanted.size);
        for (const { id, win, medal } of moment?.chances ?? []) {
          const [w = 2, m = 2] = wanted.get(id) ?? [];
          expect(Math.abs(win - w)).toBeLessThan(1e-9);
          expect(Math.abs(medal - m)).toBeLessThan(1e-9);
        }
      }
    }
  });

  it('they end with the places that were taken, and a point for every score', () => {
    for (const { final, answer } of told) {
      const ended = finalBoard(final.round);
      expect(answer.isOver).toBe(true);
      expect(answer.points.length).toBe(final.round.meet.routines.length);
      const last = new Map(answer.points.at(-1)?.chances.map((c) => [c.id, c]));
      for (const [i, { place, total }] of ended.entries()) {
        expect(last.get(`g${i}`)?.win).toBe(place === 1 ? 1 : 0);
        expect(last.get(`g${i}`)?.medal).toBe(place <= 3 ? 1 : 0);
        const top = answer.top.find((t) => t.id === `g${i}`);
        expect(top?.total ?? null).toBe(place <= 3 ? total : null);
      }
    }
  });
});
