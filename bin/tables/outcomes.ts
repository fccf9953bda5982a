/** Bands of her next score, in the order a commentator hopes for them. */
import type { Band, Meet, Outcomes } from '../../lib/index.js';
import { colour, writeLine, writeWords } from '../terminal.js';
import {
  apparatusName,
  nameOf,
  ordinal,
  percent,
  rivalsInWords,
  shower,
  unsettled,
  wordsFor,
} from '../words.js';
import { type Column, renderTable } from './table.js';
import { printUsual } from './usual.js';

export function printOutcomes(meet: Meet, { bands, ...about }: Outcomes): void {
  const show = shower(meet);
  const who = nameOf(meet, about.gymnast);
  const board =
    about.when === 'now'
      ? 'on the board right after it'
      : `${about.when === 'end' ? 'at the end' : 'after this rotation'}, ${rivalsInWords(about.rivals)}`;
  const where = apparatusName(meet, about.apparatus);
  writeWords(`${who} on ${where}: her place ${board} (${about.contest})`, colour.bold);

  const likely = bands.filter((b) => b.chance === null || b.chance > 0);
  const { text } = renderTable(
    [
      { head: 'score', cell: (b: Band) => scoreText(b) },
      { head: '', cell: (b: Band) => placeText(b), style: () => colour.bold },
      {
        head: 'chance',
        cell: (b: Band) => (b.chance === null ? '' : percent(b.chance)),
        align: 'right',
      },
      ...(['win', 'medal'] as const).map(
        (target): Column<Band> => ({
          head: target === 'win' ? 'wins then' : 'medal then',
          cell: (b) => {
            const chance = b[target];
            return chance === null ? '' : unsettled(chance, 0);
          },
          align: 'right',
        }),
      ),
    ],
    likely,
  );
  writeLine(text);
  if (likely.length < bands.length) {
    writeWords(
      `${bands.length - likely.length} bands outside her range are left out; --json has all.`,
      colour.dim,
    );
  }
  if (bands.some((b) => b.win !== null)) {
    writeWords(
      'then: how often, at the end, with a score of that band, by everyone’s ranges',
      colour.dim,
    );
  }
  printUsual(meet);
  if (bands.every((b) => b.chance === null)) {
    writeLine(`No range for ${about.gymnast} on ${about.apparatus}: no chances.`);
  }

  function scoreText({ from, to }: Band): string {
    if (to === null) return `${show(from)} or better`;
    return from === to ? show(from) : `${show(from)} to ${show(to)}`;
  }

  function placeText({ place, tied, open }: Band): string {
    if (open)
      return `${ordinal(place)}, if a tie on an E score goes ${wordsFor(meet, about.contender).her} way`;
    return tied ? `shares ${ordinal(place)}` : ordinal(place);
  }
}
