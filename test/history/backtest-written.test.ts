/** What a backtest leaves behind: a row for every forecast, and a report with its stamp. */
import { describe, expect, it } from 'vitest';
import { backtest, forecastsAsCsv, reports, stampedReport } from '../../lib/index.js';
import { apparatusFinal, CODES, history, row, teamFinal } from '../support/june-cup.js';

describe('what is written', () => {
  const final = ['ann', 'bea', 'cleo', 'dora'].flatMap((g, i) =>
    CODES.map((on) => row(g, 'all-around final', on, 13 + i / 10)),
  );

  it('a row for every forecast, from which the scores follow again', () => {
    const whole = history(...final, ...apparatusFinal(6), ...teamFinal(3));
    const answer = backtest(whole, { contest: 'all', forecasts: true });
    const [head = '', ...lines] = forecastsAsCsv(answer, 3).trimEnd().split('\n');
    const at = (name: string) => head.split(',').indexOf(name);
    const rows = lines.map((line) => line.split(','));
    // Boards times contenders times targets: 4 × 4, 6 × 6 and 4 × 4 boards and contenders.
    expect(rows.length).toBe((16 + 36 + 16) * 3);
    expect(backtest(whole).forecasts).toBeNull();
    for (const of of answer.byContest) {
      const those = rows.filter((r) => r[at('contest')] === of.contest);
      const boards = new Map<string, string[][]>();
      for (const r of those) {
        const key = `${r[at('final')]} ${r[at('rotation')]}`;
        boards.set(key, [...(boards.get(key) ?? []), r]);
      }
      expect(boards.size).toBe(of.boards);
      const score = (
        column: string,
        target: string,
        loss: (p: number, y: number) => number | null,
      ) =>
        mean(
          [...boards.values()].map((b) =>
            mean(
              b
                .filter((r) => r[at('target')] === target)
                .flatMap((r) => loss(Number(r[at(column)]), Number(r[at('happened')])) ?? []),
            ),
          ),
        );
      const log = (p: number) => -Math.log(Math.max(p, 0.005));
      for (const [column, forecaster] of [
        ['said', 'chances'],
        ['normal', 'normal'],
      ] as const) {
        const scores = of.scores.find((s) => s.forecaster === forecaster);
        expect(score(column, 'win', (p, y) => (y === 1 ? log(p) : null))).toBeCloseTo(
          scores?.winLog ?? 0,
          10,
        );
        expect(score(column, 'win', (p, y) => (p - y) ** 2)).toBeCloseTo(scores?.winBrier ?? 0, 10);
        expect(
          score(column, 'medal', (p, y) =>
            log(y === 1 ? Math.min(p, 0.995) : Math.min(1 - p, 0.995)),
          ),
        ).toBeCloseTo(scores?.medalLog ?? 0, 10);
        expect(score(column, 'medal', (p, y) => (p - y) ** 2)).toBeCloseTo(
          scores?.medalBrier ?? 0,
          10,
        );
      }
      expect(score('said', 'place', log)).toBeCloseTo(of.scores[0]?.placeLog ?? 0, 10);
    }
  });

  it('a report with its stamp, the same each time, and nothing in it taken for markup', () => {
    const strange = final.map((r) => r.replaceAll('June Cup', 'June <b>*Cup*'));
    const stamp = {
      ...{ title: 'How honest', version: '1.2.3', seed: 7, command: 'lastrotation backtest h.csv' },
      files: [{ file: 'h.csv', sha256: 'abc' }],
    };
    const made = () =>
      stampedReport(stamp, reports.backtest(backtest(history(...strange), { seed: 7 })));
    expect(made()).toBe(made());
    for (const part of ['lastrotation 1.2.3, seed 7', '`abc`', 'lastrotation backtest h.csv']) {
      expect(made()).toContain(part);
    }
    expect(made()).toContain('| the chances |');
    expect(made()).not.toContain('<b>');
    // Every row of a table has as many cells as its head.
    for (const table of made()
      .split('\n\n')
      .filter((t) => t.startsWith('|'))) {
      const widths = table.split('\n').map((line) => line.replace(/\\\|/g, '').split('|').length);
      expect(new Set(widths).size).toBe(1);
    }
  });
});

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((a, b) => a + b, 0) / values.length;
}
