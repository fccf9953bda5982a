/** Points that a contest brings in from an earlier day: the totals of the same contest of another meet. */
import type { Score } from '../score.js';
import { type Checking, complain } from './checking.js';
import type { Path } from './document.js';
import type { ContestReader, FieldOfMeet } from './known-rules.js';
import type { ContestRules } from './meet.js';
import { listed } from './names.js';

/** By gymnast, or by team; null where nothing is brought in. */
export function readCarried(
  checking: Checking,
  { file, id }: { readonly file: string | undefined; readonly id: string },
  path: Path,
): ReadonlyMap<string, Score> | null {
  if (file === undefined) return null;
  const wrong = (code: 'file-missing' | 'wrong-value', message: string, mend: string) => {
    complain(checking, 'error', code, [...path, 'carried'], message, mend);
    return null;
  };
  const read = checking.earlier(file);
  if (read === null) {
    return wrong(
      'file-missing',
      `the meet of the earlier day, ${file}, is not there, or leads back to this one`,
      'name its meet file, or the scores beside it, or take `carried` away',
    );
  }
  const first = read.problems.find((p) => p.severity === 'error');
  if (read.meet === null) {
    const what = first === undefined ? '' : `: ${first.message}`;
    return wrong('wrong-value', `${file} cannot be used${what}`, 'correct that file first');
  }
  if (read.meet.scoring.decimals !== checking.scoring.decimals) {
    return wrong(
      'wrong-value',
      `${file} has ${read.meet.scoring.decimals} decimals, and this meet ${checking.scoring.decimals}`,
      'give both the same decimals',
    );
  }
  const totals = checking.rules.totals(read.meet, id);
  if (totals !== null && totals.size === 0) {
    return wrong(
      'wrong-value',
      `nobody has a score in the contest \`${id}\` of ${file}`,
      'put the scores of that day beside its meet file',
    );
  }
  if (totals !== null) return totals;
  const known = read.meet.contests.map((c) => c.id);
  return wrong(
    'wrong-value',
    `${file} has no contest ${id}`,
    `it has ${listed(known)}; give this one the same id`,
  );
}

/** So many who bring nothing in are named. */
const MOST_NAMED = 4;

/** Reports who has no total there. */
export function checkCarried(
  checking: Checking,
  { id, carried, settings }: ContestRules,
  { ranks, counts }: ContestReader,
  { gymnasts, teams, apparatus }: FieldOfMeet,
): void {
  if (carried === null) return;
  const codes = counts(settings, apparatus);
  const competing =
    ranks === 'teams' ? teams : gymnasts.filter((g) => codes.some((c) => g.on.includes(c)));
  const lacking = competing.filter((c) => !carried.has(c.id)).map((c) => c.id);
  if (lacking.length === 0) return;
  const named = lacking.slice(0, MOST_NAMED);
  const more = lacking.length - named.length;
  complain(
    checking,
    'warning',
    'nothing-carried',
    ['contests'],
    `${listed(more > 0 ? [...named, `${more} more`] : named)} had no total in the contest \`${id}\` of the earlier day`,
    'give the same ids in both files; who was not there begins with nothing',
  );
}
