/** The likeliest orders of the medals. */
import type { Chances } from '../chances/chances.js';
import { COVERED, type Podium } from '../chances/medals/podiums.js';
import { findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { percentWithin } from './chance-words.js';
import { type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { asksForMedals, boardName, ordinal } from './words.js';

/** So many medal outcomes can be taken in; the rest are counted. */
const PODIUMS_SHOWN = 10;

/** The likeliest orders of the medals, and how many more there are. */
export function podiumsSection(meet: Meet, { contest, podiums, error, atStake }: Chances): Section {
  const [likeliest] = podiums;
  if (likeliest === undefined) {
    if (atStake.length === 0) return [];
    return [sentence('So much is open that no order of the medals is worth naming.', 'quiet')];
  }
  const { medals, givesMedals } = findContest(meet, contest);
  if (!givesMedals) return [];
  const shown = podiums.slice(0, PODIUMS_SHOWN);
  const sumOf = (some: readonly Podium[]) => some.reduce((sum, p) => sum + p.chance, 0);
  const covered = (some: readonly Podium[]) => percentWithin(Math.min(sumOf(some), 1), error);
  const { length: places } = likeliest.places;

  const who = (podium: Podium, k: number) =>
    (podium.places[k] ?? []).map((id) => boardName(meet, id)).join(' = ');
  const few = places < medals ? `: the first ${places} of ${medals}` : '';
  const more = podiums.length - shown.length;
  const whole = sumOf(podiums) < COVERED ? covered(podiums) : percentWithin(COVERED, 0.05);
  const rest = more > 0 ? `; with ${more} more, ${whole}` : '';
  const notes = [
    sumOf(shown) < 1 ? `one of these happens ${covered(shown)} of the time${rest}` : '',
    shown.some((p) => p.places.some((ids) => ids.length > 1)) ? '= shared place' : '',
  ].filter((n) => n !== '');
  return [
    title(asksForMedals(meet, contest) ? `Medals in order${few}` : 'The final order'),
    tableOf(
      [
        { head: 'chance', cell: (p: Podium) => percentWithin(p.chance, error), align: 'right' },
        ...Array.from(
          { length: places },
          (_, k): ColumnOf<Podium> => ({
            head: ordinal(k + 1),
            cell: (p) => who(p, k),
            spare: k,
            isNames: true,
          }),
        ),
      ],
      shown,
      { notes },
    ),
  ];
}
