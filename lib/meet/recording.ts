/** The next meet: the same with rows added, each superseding what stood or taking it back. */
import type { Meet } from './meet.js';
import { completeRanges } from './ranges.js';
import type { CheckedRow } from './results.js';
import { asSound } from './sound.js';

/** What a row does: to which routine, and what. */
export type Change = Pick<CheckedRow, 'routine' | 'result'>;

/** The meet once these rows are recorded, as if it had been read with them. The meet itself stays. */
export function withRows(meet: Meet, rows: readonly Change[]): Meet {
  const entered = [...meet.entered];
  for (const { routine, result } of rows) {
    const before = entered[routine] ?? [];
    entered[routine] = result === 'void' ? before.slice(0, -1) : [...before, result];
  }
  return asSound(withEntered(meet, entered));
}

/** The meet with other results, and what is usual after them. */
export function withEntered(meet: Meet, entered: Meet['entered']): Meet {
  const then = { ...meet, entered, results: entered.map((results) => results.at(-1) ?? null) };
  return { ...then, ranges: completeRanges(then) };
}
