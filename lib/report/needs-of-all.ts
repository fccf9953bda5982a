/** What everyone with a routine to come needs, a row each. */
import { findContest } from '../contest/contest.js';
import { isToCome, type Meet, type Range, routineOf } from '../meet/meet.js';
import { isAboutAdvancing } from '../needs/advancing.js';
import { isBeyond, type Need } from '../needs/need.js';
import type { NeedsOfAll, NeedsSheet } from '../needs/sheet.js';
import type { Score } from '../score.js';
import { caution } from './chance-words.js';
import { figureOf } from './figure.js';
import { goalsAsked } from './goals.js';
import { nameColumn } from './name-columns.js';
import { chanceAskedInWords, goalInWords, marginInWords, rivalsInWords } from './need-words.js';
import { openSection } from './open.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { rotationColumns } from './rotation-columns.js';
import { proofs } from './sheet.js';
import { type ColumnOf, tableOf } from './table.js';
import { folded } from './unnamed.js';
import { restsOnUsual } from './usual.js';
import { contestInWords, inContest, listed, ordinal, shortName, shower } from './words.js';

/** What the signs of a need in few characters mean. */
export const SIGNS =
  '+ above the realistic best · = only a tie · ✓ any score · no: no score is enough';

/**
 * A row for everyone with a routine to come, in the order they go up. `chance`: the chance for which scores
 * were asked; null for the scores that put each ahead.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `needsOfAll` gave it.
 * @param chance - The chance for which scores were asked; null for the scores that put each ahead.
 * @param margin - By how much each is to be ahead; null without a margin.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const report = reports.needsOfAll(meet, needsOfAll(meet));
 * const [table] = report.flat().flatMap((b) => (b.kind === 'table' ? [b] : []));
 * table?.rows[0]?.cells.slice(0, 4).map((cell) => cell.text) // → ['3', 'VT', 'Iara Silvane', '16th']
 */
export function needsOfAllReport(
  meet: Meet,
  { contest, gymnasts: sheets }: NeedsOfAll,
  chance: number | null = null,
  margin: Score | null = null,
): Report {
  if (sheets.length === 0) {
    const open = contestsToCome(meet, contest);
    const others =
      open.length === 0
        ? ''
        : ` There is more to come ${listed(open.map((id) => inContest(meet, id)))}.`;
    return reportOf([
      sentence(`Nobody has a routine to come ${inContest(meet, contest)}.${others}`),
    ]);
  }
  const { shown, said } = folded(meet, sheets, (s) => s.gymnast);
  const what = chance === null ? '' : ` for ${chanceAskedInWords(chance)}`;
  const notes: Section =
    chance === null
      ? [
          sentence(`The lowest real scores that do it${assumed(meet, sheets)}.`, 'quiet'),
          sentence(SIGNS, 'quiet'),
          ...restsOnUsual(meet),
        ]
      : [
          sentence(
            'The lowest scores that give it, everyone’s ranges considered · ✓ any score · no: no score is enough',
            'quiet',
          ),
          caution(),
        ];
  return reportOf(
    [
      title(
        `What each needs from the next routine${what} (${contestInWords(meet, contest)})${marginInWords(meet, margin)}`,
      ),
      tableOf(columnsOf(meet, sheets, chance), shown),
      ...said,
      ...(isProjected(sheets)
        ? [
            sentence(
              'Some have done more routines than others: the places, and what holds them, are by projection.',
              'quiet',
            ),
          ]
        : []),
      ...sheets.slice(0, 1).flatMap((sheet) => openSection(meet, sheet)),
      ...notes,
    ],
    ...shown.flatMap((sheet) => proofs(meet, sheet)),
  );
}

/** The ids of the other contests of the meet in which there is something to come. */
function contestsToCome(meet: Meet, over: string): string[] {
  const others = meet.contests.map((c) => c.id).filter((id) => id !== over);
  return others.filter((id) =>
    findContest(meet, id).contenders.some((c) => c.routines.some((r) => isToCome(meet, r))),
  );
}

function columnsOf(
  meet: Meet,
  sheets: readonly NeedsSheet[],
  chance: number | null,
): ColumnOf<NeedsSheet>[] {
  const show = shower(meet);
  const whole = sheets.some((s) => s.needs.length > 3);
  const contest = sheets[0]?.contest;
  const goals = contest === undefined ? [] : goalsAsked(meet, contest).map((g) => g.target);
  const isQualifying = contest !== undefined && isAboutAdvancing(meet, contest);
  const main = SHOWN.filter(
    (t) => t === 'lead' || (t === 'hold' && !isQualifying) || goals.some((g) => g === t),
  );
  const shown = whole ? main : [...new Set(sheets.flatMap((s) => s.needs.map((n) => n.target)))];
  const inFew = chance === null ? needInFew : chanceInFew;
  return [
    ...rotationColumns<NeedsSheet>(meet, (s) => routineOf(meet, s.gymnast, s.apparatus), 2),
    { head: 'on', cell: (s) => s.apparatus },
    nameColumn(meet, (s) => s.contender),
    ...(sheets.some((s) => s.gymnast !== s.contender)
      ? [{ head: 'next up', cell: (s: NeedsSheet) => shortName(meet, s.gymnast), spare: 1 }]
      : []),
    { head: isProjected(sheets) ? 'projected' : '', cell: placeHeld, align: 'right' },
    { head: 'total', cell: (s) => show(s.total), align: 'right', spare: 1 },
    ...shown.map(
      (target): ColumnOf<NeedsSheet> => ({
        head: headOf(meet, sheets, target, whole),
        cell: (s) =>
          inFew(
            meet,
            s.needs.find((n) => n.target === target && isMain(n, whole)),
            s.range,
          ),
        align: 'right',
      }),
    ),
  ];
}

/** "to win", "for a medal", "to beat Ida Brondt" */
function headOf(
  meet: Meet,
  [sheet]: readonly NeedsSheet[],
  target: string,
  whole: boolean,
): string {
  if (target === 'hold' || sheet === undefined) return 'to hold\nthe place';
  const goal = goalInWords(meet, sheet, target);
  return target === 'lead' && whole ? `${goal} now` : goal;
}

/** What the scores of a table assume of the others: ", if the others score as expected". */
function assumed(meet: Meet, sheets: readonly NeedsSheet[]): string {
  const ahead = sheets.flatMap((s) => s.needs).filter((n) => n.when !== 'now');
  const [first] = ahead;
  if (first === undefined) return '';
  const shown = ahead.some((n) => n.rivals === 'likely') ? 'likely' : first.rivals;
  const rest = shown === first.rivals ? first.rest : 'likely';
  if (shown === 'likely' && rest === 'likely') return ', if all else goes as expected';
  return `, ${rivalsInWords(shown)}, and ${meet.words.her} own other routines ${REST[rest]}`;
}

const REST = {
  low: 'at their low',
  likely: 'as expected',
  high: 'at their best',
  limit: 'at the highest score there is',
} as const;

/** Whether the places to hold are those by projection. */
function isProjected(sheets: readonly NeedsSheet[]): boolean {
  return sheets.some((s) => s.hold?.by === 'projection');
}

function placeHeld({ hold }: NeedsSheet): string {
  return hold === null ? '–' : ordinal(hold.place);
}

const SHOWN = ['lead', 'advance', 'medal', 'win', 'hold'];

/** Of the several rows a sheet has for a target: to lead now, and all else with likely rivals. */
function isMain({ target, when, rivals }: Need, whole: boolean): boolean {
  if (!whole) return true;
  return target === 'lead' ? when === 'now' : rivals === 'likely';
}

/** A need in a few characters: the lowest real score. */
export function needInFew(meet: Meet, need: Need | undefined, range: Range): string {
  if (need === undefined) return '';
  const show = shower(meet);
  const figure = figureOf(meet, need);
  switch (figure?.way) {
    case 'any':
      return '✓';
    case 'none':
      return 'no';
    case 'tie':
      return `${show(figure.tie.score)} =`;
    case 'score':
      return `${show(figure.score)}${isBeyond(need, range) ? ' +' : ''}`;
    default:
      return '?';
  }
}

/** The score for a chance in a few characters. */
function chanceInFew(meet: Meet, need: Need | undefined): string {
  if (need === undefined) return '';
  if (need.status === null) return '?';
  if (need.scoreForChance === null) return 'no';
  return need.scoreForChance === 0 ? '✓' : shower(meet)(need.scoreForChance);
}
