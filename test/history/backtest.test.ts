/** Replays of a history that is small enough to be checked by hand. */
import { describe, expect, it } from 'vitest';
import { reliability } from '../../lib/history/calibration.js';
import { binaryLog, brier } from '../../lib/history/forecasters.js';
import { precedentsOf } from '../../lib/history/precedents.js';
import { allAroundRounds, asItStood, finalBoard, rangesBefore } from '../../lib/history/rounds.js';
import { normalRankedScore, rankedScore } from '../../lib/history/routine-scores.js';
import { backtest, readHistory, reports, standings } from '../../lib/index.js';
import { precedentsSection } from '../../lib/report/precedents.js';

const HEADER = 'gymnast,discipline,date,competition,round,apparatus,score';
const CODES = ['VT', 'UB', 'BB', 'FX'];

/** Four gymnasts, VT UB BB FX. */
const SCORES: Readonly<Record<string, readonly number[]>> = {
  ann: [14.0, 13.0, 12.0, 13.0],
  bea: [13.5, 13.2, 13.0, 13.5],
  cleo: [13.0, 12.0, 12.5, 12.5],
  dora: [12.5, 12.5, 12.0, 12.0],
};

function final(extra = '', rotation?: (gymnast: number, apparatus: number) => number) {
  const head = rotation === undefined ? HEADER : `${HEADER},rotation`;
  const rows = Object.entries(SCORES).flatMap(([id, scores], g) =>
    scores.map((s, a) => {
      const row = `${id},wag,2026-06-01,June Cup,all-around final,${CODES[a]},${s.toFixed(3)}`;
      return rotation === undefined ? row : `${row},${rotation(g, a)}`;
    }),
  );
  return readHistory({ file: 'h.csv', text: `${head}\n${rows.join('\n')}\n${extra}` });
}

describe('an all-around round', () => {
  it('is gone through in Olympic order where nothing says otherwise', () => {
    const [round] = allAroundRounds(final());
    expect(round).toMatchObject({ competition: 'June Cup', order: 'assumed', rotations: 4 });
    expect(round?.meet.rotations[1]?.stations.map((s) => s.apparatus)).toEqual(['UB']);
    expect(finalBoard(round!).map((b) => b.place)).toEqual([2, 1, 3, 4]);
    const then = asItStood(
      round!,
      2,
      rangesBefore(round!, () => undefined),
    );
    expect(standings(then).rows.map((r) => [r.id, r.total])).toEqual([
      ['g0', 27_000],
      ['g1', 26_700],
      ['g2', 25_000],
      ['g3', 25_000],
    ]);
  });

  it('in groups by place in qualification, the best on vault', () => {
    const qualifying = Object.keys(SCORES)
      .flatMap((id, g) =>
        CODES.map((c) => `${id},wag,2026-05-30,June Cup,qualification,${c},${13 - g / 10}`),
      )
      .join('\n');
    const [round] = allAroundRounds(final(`${qualifying}\n`));
    expect(round?.order).toBe('assumed');
    const first = round?.meet.rotations[0]?.stations.map((s) => [s.apparatus, s.order]);
    expect(first).toEqual([
      ['VT', ['g0']],
      ['UB', ['g1']],
      ['BB', ['g2']],
      ['FX', ['g3']],
    ]);
  });

  it('as the history says, where it says so', () => {
    const [round] = allAroundRounds(final('', (g, a) => ((a + g) % 4) + 1));
    expect(round?.order).toBe('known');
    const first = asItStood(
      round!,
      1,
      rangesBefore(round!, () => undefined),
    );
    expect(standings(first).rows.every((r) => r.done === 1)).toBe(true);
  });

  it('day 1 and day 2 on one date are two rounds', () => {
    const text = (name: string, more: number) =>
      Object.entries(SCORES).flatMap(([id, scores]) =>
        scores.map((s, a) => `${id},wag,2026-06-01,June Cup,${name},${CODES[a]},${s + more}`),
      );
    const both = [HEADER, ...text('AA day 1', 0), ...text('AA day 2', 1)].join('\n');
    const rounds = allAroundRounds(readHistory({ file: 'h.csv', text: both }));
    expect(rounds.map((r) => finalBoard(r)[0]?.total)).toEqual([52_000, 56_000]);
  });

  it('has no place for specialists', () => {
    const extra = 'eve,wag,2026-06-01,June Cup,all-around final,VT,15.000\n';
    expect(allAroundRounds(final(extra))[0]?.gymnasts).toEqual(['ann', 'bea', 'cleo', 'dora']);
  });
});

describe('precedents', () => {
  const ask = (behind: number, remaining: number, place: number | null = 1) =>
    precedentsOf(final(), { discipline: 'wag', decimals: 3, behind, remaining, place });

  it('are those about that far behind with as many left', () => {
    // After two apparatus bea is 0.300 behind ann, and wins.
    expect(ask(300, 2)).toMatchObject({
      cases: 1,
      successes: 1,
      rate: 1,
      order: 'assumed',
      from: 200,
      to: 400,
      list: [{ gymnast: 'bea', behind: 300, place: 1, success: true }],
    });
    // 2.000 behind are the other two, who do not.
    expect(ask(2000, 2)).toMatchObject({ cases: 2, successes: 0 });
    // Both of one final: the interval is said to be too narrow.
    const said = JSON.stringify(precedentsSection(ask(2000, 2)!, 3));
    expect(said).toContain('too narrow, since they come from one final');
    expect(JSON.stringify(precedentsSection(ask(300, 2)!, 3))).not.toContain('too narrow');
    expect(ask(900, 2)).toBeNull();
    expect(ask(300, 4)).toBeNull();
  });

  it('of a history with other decimals are said in those that are asked', () => {
    const inFour = [...CODES.entries()].flatMap(([a, code]) =>
      Object.entries(SCORES).map(([id, of]) => {
        return `${id},wag,2026-06-01,June Cup,all-around final,${code},${of[a]!.toFixed(4)}`;
      }),
    );
    const history = readHistory({ file: 'h.csv', text: [HEADER, ...inFour].join('\n') });
    expect(history.decimals).toBe(4);
    const asked = { discipline: 'wag', behind: 300, remaining: 2, place: 1 } as const;
    const found = precedentsOf(history, { ...asked, decimals: 3 });
    expect(found).toMatchObject({ cases: 1, from: 200, to: 400, list: [{ behind: 300 }] });
  });

  it('for a medal the gap is to the last of its places', () => {
    // Third place after two apparatus is at 25.000, shared: nobody is behind it.
    expect(ask(500, 2, 3)).toBeNull();
    // After one: 13.000, and dora 0.500 behind.
    expect(ask(500, 3, 3)).toMatchObject({ cases: 1, successes: 0 });
  });

  it('to pass one rival is enough where no place is asked', () => {
    expect(ask(300, 2, null)).toMatchObject({ cases: 1, successes: 1 });
  });
});

describe('precedents of a final in groups by qualification', () => {
  // In the file from the last of qualification to the first, so that start order is another order.
  const inGroups = (scores: Readonly<Record<string, readonly number[]>>) => {
    const ids = Object.keys(scores);
    const qualified = ids.flatMap((id, g) =>
      CODES.map((c) => `${id},wag,2026-05-30,June Cup,qualification,${c},${12 + g / 10}`),
    );
    const inFinal = ids.flatMap((id) =>
      CODES.map((c, a) => `${id},wag,2026-06-01,June Cup,all-around final,${c},${scores[id]![a]}`),
    );
    const text = [HEADER, ...inFinal, ...qualified].join('\n');
    return readHistory({ file: 'h.csv', text });
  };

  it('who leads all the way and wins is no case', () => {
    // Whoever wins is ahead by a point or more on every apparatus.
    const history = inGroups({
      dora: [11, 11, 11, 11],
      cleo: [12, 12, 12, 12],
      bea: [13, 13, 13, 13],
      ann: [14, 14, 14, 14],
    });
    for (const remaining of [1, 2, 3]) {
      for (const behind of [1000, 2000, 3000, 4000, 6000, 9000]) {
        const found = precedentsOf(history, {
          discipline: 'wag',
          decimals: 3,
          behind,
          remaining,
          place: 1,
        });
        expect(found?.successes ?? 0).toBe(0);
        expect(found?.list.map((c) => c.gymnast) ?? []).not.toContain('ann');
      }
    }
    const last = precedentsOf(history, {
      discipline: 'wag',
      decimals: 3,
      behind: 3000,
      remaining: 1,
      place: 1,
    });
    expect(last?.list).toMatchObject([{ gymnast: 'bea', behind: 3000, place: 2, success: false }]);
  });

  it('who comes from behind is the one who did it', () => {
    // In groups: ann VT UB BB FX, bea UB BB FX VT, cleo BB FX VT UB, dora FX VT UB BB. With one
    // left: ann 39, bea 38.5, cleo 36 and dora 33; then 11, 13, 12 and 11.
    const history = inGroups({
      dora: [11, 11, 11, 11],
      cleo: [12, 12, 12, 12],
      bea: [13, 13, 13, 12.5],
      ann: [13, 13, 13, 11],
    });
    const found = precedentsOf(history, {
      discipline: 'wag',
      decimals: 3,
      behind: 500,
      remaining: 1,
      place: 1,
    });
    expect(found?.list).toMatchObject([{ gymnast: 'bea', behind: 500, place: 1, success: true }]);
    const passed = {
      discipline: 'wag',
      decimals: 3,
      behind: 500,
      remaining: 1,
      place: null,
    } as const;
    expect(precedentsOf(history, passed)).toMatchObject({ cases: 1, successes: 1 });
    const far = precedentsOf(history, { ...passed, behind: 3000 });
    expect(far?.list).toMatchObject([{ gymnast: 'cleo', behind: 3000, place: 3, success: false }]);
  });
});

describe('scores of forecasts', () => {
  it('Brier and logarithm, by hand', () => {
    // Two gymnasts, said 0.8 and 0.2; the first wins.
    expect(brier([0.8, 0.2], [1, 2], 1)).toBeCloseTo((0.04 + 0.04) / 2, 12);
    expect(binaryLog([0.8, 0.2], [1, 2], 1)).toBeCloseTo(-Math.log(0.8), 12);
    // No chance is taken to be under half a percent.
    expect(binaryLog([0], [1], 1)).toBeCloseTo(-Math.log(0.005), 12);
  });

  it('the ranked probability score of a certain score is how far it is off', () => {
    expect(rankedScore({ scores: [13_000], chances: [1] }, 13_400)).toBe(400);
    // Half 0, half 1, and it is 1: ∫(F - H)² = 1/4 over one unit.
    expect(rankedScore({ scores: [0, 1], chances: [0.5, 0.5] }, 1)).toBeCloseTo(0.25, 12);
  });

  it('of a normal distribution is the limit of that of a fine grid', () => {
    const [mean, spread] = [13_000, 300];
    const scores = Array.from({ length: 4001 }, (_, i) => mean + (i - 2000));
    const weights = scores.map((s) => Math.exp(-(((s - mean) / spread) ** 2) / 2));
    const sum = weights.reduce((a, b) => a + b, 0);
    const chances = weights.map((w) => w / sum);
    for (const happened of [12_000, 12_900, 13_000, 13_500]) {
      expect(normalRankedScore(mean, spread, happened)).toBeCloseTo(
        rankedScore({ scores, chances }, happened),
        1,
      );
    }
  });
});

describe('what was said against what happened', () => {
  const meets = ['a', 'b', 'c', 'd'];
  const honest = meets.flatMap((meet, m) =>
    Array.from({ length: 10 }, (_, i) => ({ meet, said: 0.25, happened: i < 2 + (m % 2) })),
  );

  it('is counted by tenths, with an interval from meets drawn anew', () => {
    const bins = reliability(honest, 7);
    expect(bins.length).toBe(10);
    expect(bins[2]).toMatchObject({ count: 40, said: 0.25, happened: 0.25 });
    // Each meet has 0.2 or 0.3: no drawing of meets can be outside.
    expect(bins[2]?.interval).toEqual([0.2, 0.3]);
    expect(bins[5]).toMatchObject({ count: 0, interval: null });
    expect(reliability(honest, 7)).toEqual(bins);
  });

  it('where it never happened, as sure as so many meets make it', () => {
    const never = honest.map((f) => ({ ...f, happened: false }));
    // Wilson, none of four.
    expect(reliability(never, 1)[2]?.interval?.[1]).toBeCloseTo(0.4899, 3);
  });

  it('a chance of 1 is in the last tenth', () => {
    expect(reliability([{ meet: 'a', said: 1, happened: true }], 1)[9]?.count).toBe(1);
  });
});

describe('a backtest', () => {
  it('goes from the empty board to the last rotation, and says what came of it', () => {
    const answer = backtest(final());
    expect(answer.boards).toBe(4);
    expect(answer.byRotation.map((r) => r.rotation)).toEqual([0, 1, 2, 3]);
    expect(answer.scores.map((s) => s.forecaster)).toEqual([
      'chances',
      'leader-now',
      'leader-projected',
      'normal',
      'equal',
    ]);
    // Four alike: the winner was given a quarter.
    expect(answer.scores[4]?.winLog).toBeCloseTo(Math.log(4), 12);
    const last = answer.byRotation[3]?.winLog;
    expect(last?.chances).toBeLessThan(Math.log(4));
  });

  it('uses ranges of earlier dates only', () => {
    // What bea does a month later tells nothing of this final.
    const later = CODES.map((c) => `bea,wag,2026-07-01,July Cup,final,${c},16.000`).join('\n');
    expect(backtest(final(`${later}\n`)).scores[0]).toEqual(backtest(final()).scores[0]);
    const before = CODES.map((c) => `bea,wag,2026-05-01,May Cup,final,${c},14.000`).join('\n');
    expect(backtest(final(`${before}\n`)).scores[0]?.winLog).toBeLessThan(
      backtest(final()).scores[0]?.winLog ?? 0,
    );
  });

  it('knows earlier rounds of the competition, whatever their date, and no later ones', () => {
    const also = (round: string) =>
      CODES.map((c) => `bea,wag,2026-06-01,June Cup,${round},${c},14.000`).join('\n');
    const winLog = (extra: string) => backtest(final(extra)).scores[0]?.winLog ?? 0;
    const nothing = winLog('');
    expect(winLog(`${also('qualification')}\n`)).toBeLessThan(nothing);
    expect(winLog(`${also('team final')}\n`)).toBeLessThan(nothing);
    expect(winLog(`${also('final')}\n`)).toBe(nothing);
    // The qualification of another competition on that day is not known.
    const elsewhere = also('qualification').replaceAll('June Cup', 'Other Cup');
    expect(winLog(`${elsewhere}\n`)).toBe(nothing);
  });

  it('counts those of whom nothing was known, and warns where they are most', () => {
    const words = (extra: string) => JSON.stringify(reports.backtest(backtest(final(extra))));
    expect(backtest(final()).rounds).toMatchObject([{ gymnasts: 4, unknown: 4 }]);
    expect(words('')).toContain('For 4 of the 4 gymnasts in them the history has nothing earlier');
    expect(words('')).toContain('This says little');
    const known = ['ann', 'bea', 'cleo']
      .map((id) => `${id},wag,2026-05-01,May Cup,final,VT,13.500\n`)
      .join('');
    expect(backtest(final(known)).rounds).toMatchObject([{ unknown: 1 }]);
    expect(words(known)).not.toContain('This says little');
  });

  it('takes no ranges that a meet would not take', () => {
    const text = 'ann: { VT: { low: 13.5, likely: 13.0, high: 14.0, falls: 0.1 } }\n';
    const ranges = { file: 'r.yaml', text };
    expect(() => backtest(final(), { ranges })).toThrow(/low 13.500 is above likely 13.000/);
    expect(() => backtest(final(), { against: ranges })).toThrow(/VT of ann: low 13.500/);
  });

  it('has nothing to say of a history without such finals', () => {
    const none = readHistory({
      file: 'h.csv',
      text: `${HEADER}\nann,wag,2026-06-01,June Cup,final,VT,13.5\n`,
    });
    expect(() => backtest(none)).toThrow(/no all-around final$/);
    const rows =
      'ann,wag,2026-06-01,June Cup,final,VT,13.5\nann,wag,2026-06-01,June Cup,final,UB,high\n';
    const broken = readHistory({ file: 'h.csv', text: `${HEADER}\n${rows}` });
    expect(() => backtest(broken)).toThrow(/no all-around final; 1 of its rows could not be used/);
    expect(() => backtest(final(), { seed: 1.5 })).toThrow(/is not a seed/);
  });
});
