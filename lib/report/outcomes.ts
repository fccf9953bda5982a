/** Bands of her next score, in the order a commentator hopes for them. */
import { findContest } from '../contest/contest.js';
import { type Progress, progressAfter } from '../contest/like-for-like.js';
import { type Meet, routineOf } from '../meet/meet.js';
import type { Band, Outcomes } from '../needs/outcomes.js';
import { caution, unsettled } from './chance-words.js';
import { rivalsInWords } from './need-words.js';
import { openSection } from './open.js';
import { type Report, reportOf, sentence, title } from './report.js';
import { someHaveDone } from './standing.js';
import { type ColumnOf, tableOf } from './table.js';
import { restsOnUsual } from './usual.js';
import {
  apparatusName,
  capital,
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

/** The bands her range allows, each with its place and its chances. */
export function outcomesReport(meet: Meet, answer: Outcomes): Report {
  const { bands, gymnast, apparatus, when, rivals, contest } = answer;
  const board =
    when === 'now'
      ? 'on the board right after it'
      : `${when === 'end' ? 'at the end' : 'after this rotation'}, ${rivalsInWords(rivals)}`;
  const where = apparatusName(meet, apparatus);
  const progress = progressThen(meet, answer);
  const likely = bands.filter((b) => b.chance === null || b.chance > 0);
  const remarks = [
    likely.length < bands.length
      ? `${bands.length - likely.length} bands outside her range are left out; --json has all.`
      : '',
    bands.some((b) => b.win !== null)
      ? 'then: how often, at the end, with a score of that band, by everyone’s ranges'
      : '',
  ].filter((remark) => remark !== '');
  return reportOf([
    title(`${spokenName(meet, gymnast)} on ${where}: her place ${board} (${contest})`),
    ...(progress.footing === 'even'
      ? []
      : [
          sentence(
            `${capital(`${then(when)} ${someHaveDone(progress)}`)}: these are places so far.`,
          ),
        ]),
    tableOf(columnsOf(meet, answer), likely),
    ...remarks.map((remark) => sentence(remark, 'quiet')),
    ...openSection(meet, answer),
    ...restsOnUsual(meet),
    bands.every((b) => b.chance === null)
      ? sentence(`No range for ${gymnast} on ${apparatus}: no chances.`)
      : caution(),
  ]);
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
      (when === 'rotation' && routine.rotation <= (asked?.rotation ?? 0)),
  );
}

function columnsOf(meet: Meet, { contender, bands }: Outcomes): ColumnOf<Band>[] {
  const show = shower(meet);
  return [
    { head: 'score', cell: (b) => scoreText(b) },
    {
      head: '',
      cell: (b) => ({
        text: placeText(b, (id) => nameOf(meet, id)),
        shorter: [placeText(b, (id) => shortName(meet, id))],
      }),
      tone: () => 'strong',
      isFlexible: true,
    },
    {
      head: 'chance',
      cell: (b) => (b.chance === null ? '' : percent(b.chance)),
      align: 'right',
    },
    ...(['win', 'medal'] as const).map(
      (target): ColumnOf<Band> => ({
        head: target === 'win' ? 'wins then' : 'medal then',
        cell: (b) => {
          const chance = b[target];
          return chance === null ? '' : unsettled(chance, 0);
        },
        align: 'right',
      }),
    ),
  ];

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
