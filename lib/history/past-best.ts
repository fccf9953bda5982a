/** How long ago a gymnast was last as good on an apparatus. */
import { gymnastOf, type Meet } from '../meet/meet.js';
import { plain } from '../meet/problems.js';
import { requireSound } from '../meet/sound.js';
import { type Score, unitsPerPoint } from '../score.js';
import type { History } from './history.js';

/** A score beside her past ones on the apparatus. */
export interface PastBest {
  /** The date of her last past score that was as good or better; null where none was. */
  readonly since: string | null;
  /** How many of hers have been worse since then. */
  readonly beats: number;
  /** How many of hers there are in all. */
  readonly of: number;
}

/**
 * A score beside a gymnast's past ones on the same apparatus, known by her id or her whole name; null where
 * the history has none of them, and for a second vault.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param history - As `readHistory` gave it.
 * @param recorded - Whose score, where, and how much in units of the meet.
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
 * const rows = ['2026-03-01,Spring Cup,final,BB,14.3', '2026-04-12,Quay Cup,final,BB,13.9'];
 * const text = [columns, ...rows.map((row) => `Ida Brondt,wag,${row}`)].join('\n');
 * const history = readHistory({ file: 'results.csv', text });
 * const asked = { gymnast: 'brondt', apparatus: 'BB', score: score('14.2') };
 * pastBest(meet, history, asked) // → { since: '2026-03-01', beats: 1, of: 2 }
 */
export function pastBest(
  meet: Meet,
  history: History,
  { gymnast, apparatus, score }: { gymnast: string; apparatus: string; score: Score },
): PastBest | null {
  requireSound(meet);
  const names = [gymnast, gymnastOf(meet, gymnast)?.name ?? gymnast].map(plain);
  const hers = history.routines.filter(
    (r) =>
      names.includes(plain(r.gymnast)) &&
      r.apparatus === apparatus &&
      (meet.discipline === null || r.discipline === meet.discipline),
  );
  if (hers.length === 0) return null;
  const points = score / unitsPerPoint(meet.scoring.decimals);
  const isAsGood = (past: Score) => past / unitsPerPoint(history.decimals) >= points;
  const dates = hers.filter((r) => isAsGood(r.score)).map((r) => r.date);
  const since = dates.sort().at(-1) ?? null;
  const later = hers.filter((r) => since === null || r.date > since);
  return { since, beats: later.length, of: hers.length };
}
