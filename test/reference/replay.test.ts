/**
 * Boards and chances of the backtest and of a story against a second program (test/support/replay.ts), which
 * has its own reading of the file, its own order of groups, its own distributions, convolutions and count of
 * places. Only ranges are the library's: they have tests of their own. The finals are those of the open data
 * (test/support/open-data.ts); no row of them is here.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { FINALS } from '../../lib/history/final-kinds.js';
import type { ForecastRow } from '../../lib/history/forecast-rows.js';
import { knownIn, rangesFor } from '../../lib/history/known.js';
import { asItStood, finalsOf, type PastFinal, rangesBefore } from '../../lib/history/rounds.js';
import { atRow, backtest, chances, readHistory, readMeet, story } from '../../lib/index.js';
import { FOLDER, once, WITHOUT } from '../support/open-data.js';
import {
  type OwnFinal,
  type OwnRow,
  ownApparatusFinal,
  ownFinals,
  ownRows,
} from '../support/own-finals.js';
import {
  allAroundDrawn,
  certain,
  cutMean,
  type Dense,
  type Four,
  plus,
  routineOf,
  saidOf,
} from '../support/replay.js';
import { times } from '../support/times.js';

const FILE = 'routines-2022-2023.csv';
/** What is said of each is computed in two ways, neither of them drawn. */
const CLOSE = 1e-6;

const data = once(() => {
  const text = readFileSync(join(FOLDER, FILE), 'utf8');
  const history = readHistory({ file: FILE, text });
  const { rounds, forecasts } = backtest(history, { contest: 'all', forecasts: true });
  return {
    ...{ rows: ownRows(text), history, rounds, forecasts: forecasts ?? [] },
    finals: finalsOf(history, { contests: FINALS }),
    rangesOf: rangesFor(history, knownIn(history), 'rounds'),
  };
});

/** The forecasts of a final, by rotation and target. */
function forecastOf(
  final: OwnFinal,
): (rotation: number, target: string) => Map<string, ForecastRow> {
  const { rounds, forecasts } = data();
  const number = 1 + rounds.findIndex((r) => isOf(final, { ...r, on: r.apparatus }));
  const these = forecasts.filter((f) => f.final === number);
  return (rotation, target) =>
    new Map(
      these.filter((f) => f.rotation === rotation && f.target === target).map((f) => [f.who, f]),
    );
}

function isOf(
  { kind, on, discipline, date, competition }: OwnFinal,
  other: Pick<PastFinal, 'contest' | 'on' | 'discipline' | 'date' | 'competition'>,
): boolean {
  return (
    [kind, on, discipline, date, competition].join() ===
    [other.contest, other.on, other.discipline, other.date, other.competition].join()
  );
}

/** The library's range of every routine to come after a rotation, by gymnast and apparatus. */
function rangesThen(final: OwnFinal, rotation: number): Map<string, Four> {
  const past = data().finals.find((f) => isOf(final, f));
  if (past === undefined) throw new Error('the library has no such final');
  const meet = asItStood(past, rotation, rangesBefore(past, data().rangesOf(past)));
  const names = new Map(meet.gymnasts.map((g, i) => [g.id, past.gymnasts[i]!]));
  return new Map(
    meet.routines.map(({ gymnast, apparatus, index }) => {
      const { low, likely, high, falls, d } = meet.ranges[index]!;
      if (low === null || likely === null || high === null || falls === null)
        throw new Error('a range is missing');
      return [`${names.get(gymnast)} ${apparatus}`, { low, likely, high, falls, d }];
    }),
  );
}

interface Turn {
  readonly row: OwnRow;
  readonly rotation: number;
}

/** The totals of all after a rotation, as they stand and as they can end. */
function boardAfter(final: OwnFinal, rotation: number) {
  const ranges = rangesThen(final, rotation);
  const rangeOf = ({ row }: Turn) => ranges.get(`${row.gymnast} ${row.apparatus}`)!;
  const isOver = (turn: Turn) => turn.rotation <= rotation;
  const standing = new Map<string, number>();
  const ends: Dense[] = [];
  for (const [who, turns] of final.contenders) {
    const scores = turns.map((t) => (isOver(t) ? certain(t.row.score) : routineOf(rangeOf(t))));
    const isTwo = final.kind === 'apparatus' && turns.length === 2;
    const done = turns.filter(isOver).reduce((total, t) => total + t.row.score, 0);
    standing.set(who, isTwo ? Math.floor(done / 2) : done);
    ends.push(isTwo ? cutMean(scores[0]!, scores[1]!) : scores.reduce(plus));
  }
  return { standing, ends, isAhead: tieBreaker(final, rotation, rangeOf) };
}

/**
 * Ties of an apparatus final of one routine go to the higher E, then the higher D, as far as all have them: of a
 * routine to come E is what the score has over the D to be shown, and no neutral deduction.
 */
function tieBreaker(
  { kind, contenders }: OwnFinal,
  rotation: number,
  rangeOf: (turn: Turn) => Four,
): (j: number, i: number) => boolean {
  const turns = [...contenders.values()];
  if (kind !== 'apparatus' || turns.some((t) => t.length !== 1)) return () => false;
  // At equal totals the higher E is the one that is less under the total.
  const keys = turns.map(([turn]) => {
    if (turn!.rotation > rotation) {
      const { d } = rangeOf(turn!);
      return { under: d, d };
    }
    const { score, e, d } = turn!.row;
    return score === 0 ? { under: null, d: null } : { under: score - e, d };
  });
  const hasAll = keys.every(({ d }) => d !== null);
  return (j, i) => {
    if (!hasAll) return false;
    const [a, b] = [keys[j]!, keys[i]!];
    return a.under === b.under ? a.d! > b.d! : a.under! < b.under!;
  };
}

/** What is not the same after some rotations, in words; and how many chances were compared. */
function compared(final: OwnFinal, rotations: readonly number[]) {
  const forecast = forecastOf(final);
  const ended = boardAfter(final, Number.POSITIVE_INFINITY).standing;
  const wrong: string[] = [];
  let count = 0;
  for (const rotation of rotations) {
    const { standing, ends, isAhead } = boardAfter(final, rotation);
    const said = saidOf(ends, isAhead);
    for (const target of ['win', 'medal'] as const) {
      const rows = forecast(rotation, target);
      if (rows.size !== standing.size) wrong.push(`${rows.size} contenders, not ${standing.size}`);
      for (const [i, [who, total]] of [...standing].entries()) {
        const row = rows.get(who);
        const own = said[i]![target];
        count++;
        const place = 1 + [...ended.values()].filter((t) => t > ended.get(who)!).length;
        if (row?.total !== total) wrong.push(`${rotation} ${who}: ${row?.total}, not ${total}`);
        if (final.kind !== 'apparatus' && row?.place !== place) wrong.push(`${who}: ${place}`);
        if (!(Math.abs((row?.said ?? -1) - own) < CLOSE))
          wrong.push(`${rotation} ${who} ${target}: ${row?.said}, not ${own}`);
      }
    }
  }
  return { wrong, count };
}

const SLOW = { timeout: 240_000 };

const DRAWS = times(3000);

describe('a replay of the story of the demo', () => {
  it(
    'has the chances of as many meets drawn, within four standard errors and what each says it can be off',
    SLOW,
    () => {
      const [meet, log] = ['harbour.yaml', 'harbour.scores.csv'].map((file) => ({
        file,
        text: readFileSync(new URL(`../../docs/examples/${file}`, import.meta.url), 'utf8'),
      }));
      const { meet: read } = readMeet({ meet: meet!, log: log! });
      if (read === null) throw new Error('the demo is not sound');
      const answer = story(read, log!);
      // E of the one without a D is not known before she has done it.
      expect(answer.skipped).toEqual(['execution', 'difficulty']);
      let [tried, open] = [0, 0];
      for (const row of [0, 28, 45]) {
        const point = row === 0 ? answer.start : answer.points.find((p) => p.row === row);
        const then = atRow(read, log!, row).meet;
        const ranges = new Map(
          then.routines.map(({ gymnast, apparatus, index }) => [
            `${gymnast} ${apparatus}`,
            then.ranges[index] as Four,
          ]),
        );
        const ids = then.gymnasts.map((g) => g.id);
        const drawn = allAroundDrawn({
          log: log!.text,
          row,
          ids,
          ranges,
          draws: DRAWS,
          seed: row + 1,
        });
        const now = chances(then);
        // A story is told with a wider bound than the chances of one moment, and says it.
        for (const { error = 0, of = [] } of [
          { error: point?.error, of: point?.chances },
          { error: now.error, of: now.contenders },
        ]) {
          expect(error).toBeLessThan(0.005);
          for (const { id, win, medal } of of) {
            const own = drawn.get(id)!;
            for (const [said, times] of [
              [win, own.win],
              [medal, own.medal],
            ] as const) {
              const p = Math.max(Math.min(said, 1 - 1 / DRAWS), 1 / DRAWS);
              const most = error + 4 * Math.sqrt((p * (1 - p)) / DRAWS);
              const far = Math.abs(times / DRAWS - said) > most;
              expect({ row, id, far }).toEqual({ row, id, far: false });
              tried++;
              if (said > 0.01 && said < 0.99) open++;
            }
          }
        }
      }
      expect(tried).toBe(3 * 2 * 2 * 24);
      expect(open).toBeGreaterThan(50);
    },
  );
});

describe.skipIf(FOLDER === '')(`a replay of finals by a second program${WITHOUT}`, () => {
  it.each(['wag', 'mag'] as const)('all-around finals: %s', SLOW, (discipline) => {
    const finals = ownFinals(data().rows, 'all-around', discipline);
    expect(finals.length).toBe(
      data().finals.filter((f) => f.contest === 'all-around' && f.discipline === discipline).length,
    );
    // A third of them.
    const some = finals.filter((_, k) => k % 3 === 0);
    expect(some.length).toBeGreaterThan(2);
    for (const final of some) {
      const rotations = discipline === 'wag' ? [0, 1, 3] : [0, 3, 5];
      const { wrong, count } = compared(final, rotations);
      expect(wrong).toEqual([]);
      expect(count).toBe(rotations.length * 2 * final.contenders.size);
    }
  });

  it('a team final of women and one of men', SLOW, () => {
    for (const discipline of ['wag', 'mag'] as const) {
      const [final] = ownFinals(data().rows, 'team', discipline);
      const { wrong, count } = compared(final!, discipline === 'wag' ? [0, 1, 2, 3] : [0, 3, 5]);
      expect(wrong).toEqual([]);
      expect(count).toBeGreaterThan(40);
    }
  });

  it('apparatus finals, those of two vaults among them', SLOW, () => {
    const all = data().finals.filter((f) => f.contest === 'apparatus');
    const some = all.filter((f, k) => k % 27 === 0 || (f.on === 'VT' && k % 12 === 0));
    const two = some.filter((f) => f.meet.routines.some((r) => r.apparatus === 'VT2'));
    expect(some.length).toBeGreaterThan(9);
    expect(two.length).toBeGreaterThan(1);
    for (const { discipline, date, competition, on, gymnasts, meet } of some) {
      const at = new Map(meet.gymnasts.map((g, i) => [g.id, gymnasts[i]!]));
      // The order is drawn, so it is the library's: each of the field once.
      const order = meet.rotations.map((r) => at.get(r.stations[0]!.order[0]!)!);
      const about = { discipline: discipline as 'wag' | 'mag', date, competition, on: on! };
      const final = ownApparatusFinal(data().rows, about, order);
      expect([...order].sort()).toEqual([...final.contenders.keys()].sort());
      const boards = order.map((_, k) => k).filter((k) => k % 3 === 0);
      expect(compared(final, boards).wrong).toEqual([]);
    }
  });
});
