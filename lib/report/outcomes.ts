/** Bands of her next score, in the order a commentator hopes for them. */
import type { Meet } from '../meet/meet.js';
import type { Band, Outcomes } from '../needs/outcomes.js';
import { caution, unsettled } from './chance-words.js';
import { rivalsInWords } from './need-words.js';
import { type Report, reportOf, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { restsOnUsual } from './usual.js';
import { apparatusName, nameOf, ordinal, percent, shower, wordsFor } from './words.js';

/** The bands her range allows, each with its place and its chances. */
export function outcomesReport(meet: Meet, answer: Outcomes): Report {
  const { bands, gymnast, apparatus, when, rivals, contest } = answer;
  const board =
    when === 'now'
      ? 'on the board right after it'
      : `${when === 'end' ? 'at the end' : 'after this rotation'}, ${rivalsInWords(rivals)}`;
  const where = apparatusName(meet, apparatus);
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
    title(`${nameOf(meet, gymnast)} on ${where}: her place ${board} (${contest})`),
    tableOf(columnsOf(meet, answer), likely),
    ...remarks.map((remark) => sentence(remark, 'quiet')),
    ...restsOnUsual(meet),
    bands.every((b) => b.chance === null)
      ? sentence(`No range for ${gymnast} on ${apparatus}: no chances.`)
      : caution(),
  ]);
}

function columnsOf(meet: Meet, { contender, bands }: Outcomes): ColumnOf<Band>[] {
  const show = shower(meet);
  return [
    { head: 'score', cell: (b) => scoreText(b) },
    { head: '', cell: (b) => placeText(b), tone: () => 'strong' },
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

  function placeText({ place, tied, open }: Band): string {
    if (open)
      return `${ordinal(place)}, if a tie on an E score goes ${wordsFor(meet, contender).her} way`;
    return tied ? `shares ${ordinal(place)}` : ordinal(place);
  }
}
