/** Every single forecast, so that anyone can score them. */
import type { Chance } from '../chance.js';
import { asScore, type Score } from '../score.js';
import { type Board, TARGETS, type TargetName } from './final-boards.js';
import { amongFirst } from './forecasters.js';

/** What was said of one gymnast or team at one moment, and what came of it. */
export interface ForecastRow {
  /** Counted from 1, in the order of `rounds`. */
  readonly final: number;
  /** How many rotations were gone; of an apparatus final how many had been up. */
  readonly rotation: number;
  /** As the history calls her; a team by its nation. */
  readonly who: string;
  /** To win, one of the first three places, or the very place that was taken. */
  readonly target: 'win' | 'medal' | 'place';
  /** The chance that was given. */
  readonly said: Chance;
  /** A bound on how wrong it can be, as `chances` gives it. */
  readonly error: Chance;
  /** What the normal distribution around her own mean gave; null for a place. */
  readonly normal: Chance | null;
  /** Whether it came so; of a place always. */
  readonly happened: boolean;
  /** The place in the end. */
  readonly place: number;
  /** The total as it stood. */
  readonly total: Score;
  /** The same with the likely scores of what was to come. */
  readonly projected: Score;
}

/** By final, rotation, contender and target. `boards`: by final. */
export function forecastRows(boards: readonly (readonly Board[])[]): ForecastRow[] {
  return boards.flatMap((of, k) => of.flatMap((board) => rowsOf(board, k + 1)));
}

function rowsOf(board: Board, final: number): ForecastRow[] {
  const { rotation, error, places, totals, projected, normal, ended } = board;
  return board.final.contenders.flatMap((who, i): ForecastRow[] => {
    const chances = places[i] ?? [];
    const place = ended[i] ?? 0;
    const about = { final, rotation, who };
    const then = {
      place,
      total: asScore(totals[i] ?? 0),
      projected: asScore(projected[i] ?? 0),
    };
    const row = (target: TargetName): ForecastRow => ({
      ...about,
      target,
      said: amongFirst(chances, TARGETS[target]),
      error,
      normal: normal[target][i] ?? null,
      happened: place <= TARGETS[target],
      ...then,
    });
    const said = chances[place - 1] ?? 0;
    return [
      row('win'),
      row('medal'),
      { ...about, target: 'place', said, error, normal: null, happened: true, ...then },
    ];
  });
}
