/** Bands of her next score, in the order a commentator hopes for them. */
import { findContest } from '../contest/contest.js';
import { type Progress, progressAfter } from '../contest/like-for-like.js';
import { type Meet, rangeAt, routineOf } from '../meet/meet.js';
import type { Band, Outcomes } from '../needs/outcomes.js';
import { gridAtOrAbove } from '../scoring.js';
import { caution, chanceInWords } from './chance-words.js';
import { goalsAsked } from './goals.js';
import { openSection } from './open.js';
import { type Report, reportOf, sentence, title } from './report.js';
import { someHaveDone } from './standing.js';
import { type ColumnOf, tableOf } from './table.js';
import { restsOnUsual } from './usual.js';
import {
  apparatusName,
  capital,
  contestInWords,
  listed,
  nameOf,
  ordinal,
  percent,
  ruleInWords,
  shortName,
  shower,
  spokenName,
  wordsFor,
} from './words.js';

/**
 * The bands her range reaches, each with its place and its chances.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `outcomes` gave it.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const report = reports.outcomes(meet, outcomes(meet, 'brondt'));
 * const [table] = report.flat().flatMap((b) => (b.kind === 'table' ? [b] : []));
 * table?.rows[0]?.cells.slice(0, 3).map((cell) => cell.text) // → ['14.601 or better', '1st', '6.5%']
 */
export function outcomesReport(meet: Meet, answer: Outcomes): Report {
  const { bands, gymnast, apparatus, when, rivals, contest, contender } = answer;
  const { her } = wordsFor(meet, contender);
  const board =
    when === 'now'
      ? 'on the board right after it'
      : `${when === 'end' ? 'at the end' : 'after this rotation'}, ${othersInWords(rivals)}`;
  const where = apparatusName(meet, apparatus);
  const progress = progressThen(meet, answer);
  const within = bands.filter((band) => isInRange(meet, answer, band));
  const left = bands.length - within.length;
  const remarks = [
    left > 0
      ? `${left} more ${left === 1 ? 'band lies' : 'bands lie'} outside ${meet.words.her} range; --json has all.`
      : '',
    bands.some((b) => b.win !== null)
      ? `“Then” is at the end, once ${meet.words.she} ${meet.words.she === 'they' ? 'have' : 'has'} such a score, by everyone’s ranges.`
      : '',
  ].filter((remark) => remark !== '');
  return reportOf([
    title(
      `${spokenName(meet, gymnast)} on ${where}: ${her} place ${board} (${contestInWords(meet, contest)})`,
    ),
    ...(progress.footing === 'even'
      ? []
      : [
          sentence(
            `${capital(`${then(when)} ${someHaveDone(progress)}`)}, so these are places so far.`,
          ),
        ]),
    tableOf(columnsOf(meet, answer), within),
    ...remarks.map((remark) => sentence(remark, 'quiet')),
    ...openSection(meet, answer),
    ...restsOnUsual(meet),
    bands.every((b) => b.chance === null)
      ? sentence(`Nobody has given a range for ${nameOf(meet, gymnast)} on ${where}: no chances.`)
      : caution(),
  ]);
}

/** What the others do until then, said once of the whole table. */
function othersInWords(rivals: Outcomes['rivals']): string {
  return {
    'as-is': 'as the board stands',
    low: 'if the others have a low score each',
    likely: 'if the others score as expected',
    high: 'with the others at their realistic best',
    limit: 'if the others score all that can be scored',
  }[rivals];
}

/**
 * Whether a band reaches into her range, with no fall, one or two: also where no real score lies in
 * it. Without a range every band is shown.
 */
function isInRange(meet: Meet, { gymnast, apparatus }: Outcomes, { from, to, chance }: Band) {
  const routine = routineOf(meet, gymnast, apparatus);
  if (chance === null || chance > 0 || routine === undefined) return true;
  const { low, high, falls } = rangeAt(meet, routine.index);
  if (low === null || high === null || falls === null) return true;
  const most = falls === 0 ? 0 : 2;
  const fewest = falls === 1 ? 2 : 0;
  return [0, 1, 2].some((count) => {
    const lost = count * meet.scoring.fall;
    return count >= fewest && count <= most && to >= low - lost && from <= high - lost;
  });
}

function then(when: Outcomes['when']): string {
  return when === 'now' ? 'right after it' : 'when this rotation is over';
}

/** How far everyone has come on the board that is asked about. */
function progressThen(meet: Meet, { contest, gymnast, apparatus, when }: Outcomes): Progress {
  const asked = routineOf(meet, gymnast, apparatus);
  return progressAfter(
    meet,
    findContest(meet, contest),
    (routine) =>
      when === 'end' ||
      routine.index === asked?.index ||
      (when === 'rotation' && routine.at <= (asked?.at ?? -1)),
  );
}

function columnsOf(meet: Meet, { contest, contender, bands }: Outcomes): ColumnOf<Band>[] {
  const show = shower(meet);
  const goals = goalsAsked(meet, contest);
  return [
    { head: 'with a score of', cell: (b) => scoreText(b) },
    {
      head: 'place',
      cell: (b) => ({
        text: placeText(b, (id) => nameOf(meet, id)),
        shorter: [placeText(b, (id) => shortName(meet, id))],
      }),
      tone: () => 'strong',
      isFlexible: true,
    },
    {
      head: `${meet.words.her} chance`,
      cell: chanceText,
      align: 'right',
    },
    ...goals.map(
      ({ target, short }): ColumnOf<Band> => ({
        head: `${short} then`,
        cell: (b) => {
          const chance = b[target];
          return chance === null ? '' : chanceInWords(chance, 0);
        },
        align: 'right',
      }),
    ),
  ];

  function chanceText({ from, to, chance }: Band): string {
    if (chance === null) return '';
    if (chance === 0 && gridAtOrAbove(from, meet.scoring.grid) > to) return 'no real score';
    return chance === 1 ? 'certain' : percent(chance);
  }

  function scoreText({ from, to }: Band): string {
    if (to === bands[0]?.to) return from === 0 ? 'any score' : `${show(from)} or better`;
    return from === to ? show(from) : `${show(from)} to ${show(to)}`;
  }

  function placeText(band: Band, name: (id: string) => string): string {
    const { place, tied, open, levelWith, tieBy } = band;
    const names = listed(levelWith.map(name));
    const rule = tieBy === null ? null : ruleInWords(tieBy);
    if (open) {
      const { her } = wordsFor(meet, contender);
      const level = names === '' ? '' : `, level with ${names}`;
      return `${ordinal(place)}${level}, if the tie${rule === null ? '' : ` on ${rule}`} goes ${her} way`;
    }
    if (tied) return `shares ${ordinal(place)}${names === '' ? '' : ` with ${names}`}`;
    if (names === '') return ordinal(place);
    const decided = rule === null ? 'by the tie rules' : `on ${rule}`;
    return `${ordinal(place)}, level with ${names}, decided ${decided}`;
  }
}
