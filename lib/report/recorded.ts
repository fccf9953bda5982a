/** What a recorded score changed, short enough to read while the next gymnast salutes. */

import { findContest } from '../contest/contest.js';
import { progressIn } from '../contest/like-for-like.js';
import type { PastBest } from '../history/past-best.js';
import type { Meet } from '../meet/meet.js';
import { rotationAt } from '../meet/meet.js';
import { openScores } from '../meet/now.js';
import type { InPlace } from '../needs/in-place.js';
import type { Recorded } from '../needs/recorded.js';
import { recordedPerformances } from '../rules/recorded.js';
import { caution } from './chance-words.js';
import { inPlaceLines } from './in-place.js';
import { openSection } from './open.js';
import { detail, type Report, reportOf, type Section, title } from './report.js';
import { elsewhere, settledBy, unsettledBy } from './said.js';
import { boardNow, movesTo, namingOf, type SaidBoard, standingInWords } from './standing.js';
import { toldInWords, warningsBeside } from './told.js';
import { contenderOf, inContest, nameOf, ordinal, rotationInWords } from './words.js';

const MOST_CHANGES = 8;

/**
 * What a recorded score changed: total and place, who moved, what is settled. `before` and `after`: the meet
 * without and with it; `log`: the file it was written to; `inPlace`: what `scoreInPlace` gave for it.
 * @param before - The meet without the row.
 * @param recorded - As `record` gave it.
 * @param after - The meet with the row.
 * @param log - The file it was written to.
 * @param inPlace - As `scoreInPlace` gave it; null to leave it out.
 * @param past - As `pastBest` gave it; null where there is no history.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const told = { gymnast: 'brondt', apparatus: 'BB', score: '14.5' };
 * const { meet: after, recorded } = record(meet, told);
 * const report = reports.recorded(meet, recorded, after, 'harbour.scores.csv');
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[0] // → '43.466 after 3 routines in all-around, 3rd by projection'
 */
export function recordedReport(
  before: Meet,
  recorded: Recorded,
  after: Meet,
  log: string,
  inPlace: InPlace | null = null,
  past: PastBest | null = null,
): Report {
  const { row, contest, total } = recorded;
  const [was, is] = [boardNow(before, contest), boardNow(after, contest)];
  const contender = contenderOf(after, recorded);
  const place = inPlace === null ? null : inPlaceLines(after, inPlace, past);
  const whose = contender === row.gymnast ? '' : `${nameOf(after, contender)}: `;
  return reportOf([
    title(toldInWords(after, recorded), { aside: `in ${log}` }),
    ...warningsBeside(after, recorded).map((warning) => detail(`note: ${warning}`, 'warning')),
    ...(total === null
      ? []
      : [
          detail(
            `${whose}${standingInWords(is, contender, namingOf(after), ` ${inContest(after, contest)}`)}`,
          ),
        ]),
    ...movesIn(before, recorded, after, { was, is }),
    ...(place === null
      ? []
      : [place.needed, ...(total === null ? [] : elsewhere(after, recorded)), ...place.others]
    )
      .filter((line) => line !== '')
      .map((line) => detail(line)),
    ...openSection(after, openScores(after, findContest(after, contest).contenders)).map((s) => ({
      ...s,
      isDetail: true,
    })),
    ...settledBy(after, recorded, is).map((s) => ({ ...s, isDetail: true })),
    ...unsettledBy(after, recorded).map((s) => ({ ...s, isDetail: true })),
    ...(inPlace?.percentile == null ? [] : [{ ...caution(), isDetail: true }]),
  ]);
}

/** Whose place changed: by this score, or, with the last of a rotation, by the rotation. */
function movesIn(
  before: Meet,
  recorded: Recorded,
  after: Meet,
  boards: { readonly was: SaidBoard; readonly is: SaidBoard },
): Section {
  const { contest, changes } = recorded;
  const { footing } = progressIn(findContest(before, contest), recordedPerformances(before));
  const { at, moves } = movesTo(after, contest, footing, changes);
  const told = at === null ? moves.filter(({ id }) => id !== contenderOf(after, recorded)) : moves;
  const more = told.length - MOST_CHANGES;
  // How a place was shared is known of the board before this score, and of no earlier one.
  const wasShared = (id: string) => at === null && isShared(boards.was, id);
  return [
    ...(at === null || told.length === 0
      ? []
      : [detail(`${rotationInWords(after, rotationAt(after, at))} is over:`)]),
    ...told.slice(0, MOST_CHANGES).map(({ id, from, to }) => {
      const [then, now] = [placeOf(from, wasShared(id)), placeOf(to, isShared(boards.is, id))];
      return detail(`${nameOf(after, id)}: ${then} → ${now}`);
    }),
    ...(more > 0 ? [detail(`and ${more} more moved: lastrotation standings`)] : []),
  ];
}

function isShared({ of }: SaidBoard, id: string): boolean {
  return of.get(id)?.tie?.kind === 'shares';
}

function placeOf(place: number | null, shared: boolean): string {
  if (place === null) return 'no place';
  return `${shared ? 'shared ' : ''}${ordinal(place)}`;
}
