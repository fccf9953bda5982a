/** Every forecast of a backtest as a file, for whoever wants to score them. */
import Papa from 'papaparse';
import type { Backtest } from './history/backtest-answer.js';
import type { Decimals } from './score.js';
import { written } from './written.js';

const COLUMNS = [
  ...['final', 'contest', 'apparatus', 'discipline', 'date', 'competition', 'order'],
  ...['rotation', 'who', 'target', 'said', 'error', 'normal', 'happened', 'place'],
  ...['total', 'projected'],
] as const;

/**
 * A header, then a row for every forecast: what was said of whom, after how many rotations, and whether it
 * happened (1 or 0). Scores with the history's decimals, chances as they were worked out, nothing rounded.
 * Only the header where the backtest was not asked for its `forecasts`.
 * @param answer - From `backtest`, with `forecasts: true`.
 * @param decimals - Of its scores: `history.decimals`.
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const final = (gymnast: string, score: string) => ['VT', 'UB', 'BB', 'FX'].map((on) =>
 *   `${gymnast},wag,2024-05-01,Quay Cup,all-around final,${on},${score}`);
 * const rows = [final('ann', '13.2'), final('bea', '13.1'), final('cleo', '13'), final('dot', '12')];
 * const history = readHistory({ file: 'results.csv', text: [columns, ...rows.flat()].join('\n') });
 * const csv = forecastsAsCsv(backtest(history, { forecasts: true }), history.decimals);
 * csv.trimEnd().split('\n').length // → 49
 */
export function forecastsAsCsv(answer: Backtest, decimals: Decimals): string {
  const { rounds, forecasts } = written('backtest', answer, decimals);
  const rows = (forecasts ?? []).map((f) => {
    const final = rounds[f.final - 1];
    return [
      ...[f.final, final?.contest, final?.apparatus, final?.discipline, final?.date],
      ...[final?.competition, final?.order, f.rotation, f.who, f.target, f.said, f.error],
      ...[f.normal, Number(f.happened), f.place, f.total, f.projected],
    ];
  });
  return `${Papa.unparse([[...COLUMNS], ...rows], { newline: '\n' })}\n`;
}
