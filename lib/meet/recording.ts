/** The next meet: the same with rows added, each superseding what stood or taking it back. */
import { play, type Remark, standingRows, type ToldAt } from './course.js';
import type { Meet, Told } from './meet.js';
import { completeRanges, givenIn } from './ranges.js';
import type { ReadRow } from './rows.js';
import { asSound } from './sound.js';

/** A meet with rows added, and what is to be said of them. */
export interface Extended {
  readonly meet: Meet;
  /** Of the added rows only. */
  readonly remarks: readonly Remark[];
  /** Of rows that stood, and no longer fit: a score of somebody who does not step in any more. */
  readonly lost: readonly Remark[];
  /** Of the added rows, those that take back what is not there, by their position. */
  readonly nothingToVoid: readonly number[];
}

/** The meet once these rows are recorded, as if it had been read with them. The meet itself stays. */
export function withRows(meet: Meet, rows: readonly ReadRow[]): Extended {
  const { told, nothingToVoid } = standingRows(meet.told, rows);
  const { meet: next, remarks } = withTold(meet, told);
  const before = new Set(meet.told);
  const known = rows.some((row) => row.act === 'void') ? play(meet, meet.told).remarks : [];
  const isKnown = new Set(known.map((remark) => remark.told));
  return {
    meet: asSound(next),
    remarks: remarks.filter(({ told }) => !before.has(told)),
    lost: remarks.filter(
      (r) => r.severity === 'warning' && before.has(r.told) && !isKnown.has(r.told),
    ),
    nothingToVoid,
  };
}

/** The meet as if nothing had been told yet of what became of one routine. */
export function withoutResult(meet: Meet, gymnast: string, apparatus: string): Meet {
  const isOther = ({ act, ...whose }: Told) =>
    whose.gymnast !== gymnast ||
    whose.apparatus !== apparatus ||
    (act.kind !== 'result' && act.kind !== 'inquiry');
  const told = meet.told.filter(isOther);
  return told.length === meet.told.length ? meet : asSound(withTold(meet, told).meet);
}

/** The meet as it stood when so many of the rows that stand had been told. */
export function afterRows(meet: Meet, rows: number): Meet {
  return asSound(withTold(meet, meet.told.slice(0, rows)).meet);
}

/** The meet with another log, and what is usual after it. */
export function withTold(
  meet: Meet,
  rows: readonly ToldAt[],
): { meet: Meet; remarks: readonly Remark[] } {
  const { remarks, ...course } = play(meet, rows);
  const { routines } = course;
  const given = routines === meet.routines ? meet.given : givenIn(meet, routines);
  // Where a row stands in a file is nothing that the meet is about.
  const told = rows.map(({ gymnast, apparatus, act }): Told => ({ gymnast, apparatus, act }));
  const then = { ...meet, ...course, told, given };
  return { meet: { ...then, ranges: completeRanges(then) }, remarks };
}
