/** Helpers of these tests: published sets of scores as log rows, boards as lines. */
import {
  type Meet,
  type Need,
  type NeedsOptions,
  needs,
  type StandingsOptions,
  standings,
  type Target,
} from '../../lib/index.js';
import { show } from '../support/meet.js';

export const WOMEN = ['VT', 'UB', 'BB', 'FX'] as const;
export const MEN = ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'] as const;

/** One gymnast's scores as log rows, apparatus by apparatus: `15.233 16.100 13.633`. */
export function rowsOf(gymnast: string, codes: readonly string[], scores: string): string[] {
  return scores.split(' ').map((score, i) => `${gymnast},${codes[i] ?? '?'},${score}`);
}

/** One apparatus, several gymnasts, in the order they went up. */
export function rowsOn(code: string, scores: Readonly<Record<string, string>>): string[] {
  return Object.entries(scores).map(([gymnast, score]) => `${gymnast},${code},${score}`);
}

/** A board as it is read out: `1 first 57.433`, a shared place with `=`, no place with `-`. */
export function board(meet: Meet, options: StandingsOptions = {}): string[] {
  return standings(meet, options).rows.map(
    (r) => `${r.place ?? '-'}${r.tied ? '=' : ''} ${r.id} ${show(meet, r.total)}`,
  );
}

/** How far each is behind the leader, as printed. */
export function gaps(meet: Meet, options: StandingsOptions = {}): Record<string, string | null> {
  const { rows } = standings(meet, options);
  return Object.fromEntries(rows.map((r) => [r.id, show(meet, r.behind)]));
}

export function needOf(
  meet: Meet,
  who: string,
  target: Target,
  options: Omit<NeedsOptions, 'for'> = {},
): Need {
  const [need] = needs(meet, who, { ...options, for: target }).needs;
  if (need === undefined) throw new Error('no such need');
  return need;
}
