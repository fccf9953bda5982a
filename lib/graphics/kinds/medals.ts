/** The medals in order with their chance, the likeliest first. */
import { chances } from '../../chances/chances.js';
import { ifRangesAre } from '../../needs/likely.js';
import { ordinal } from '../../report/words.js';
import { type Context, isLastRotation } from '../context.js';
import { asIs, type Fact, NO_VALUES, namesIn, YES_NO, yesNo } from '../fact.js';
import { lineKind } from '../line-kind.js';
import { chanceText, type Words } from '../words.js';

const TEMPLATES = `
  - text: "{medals}. Chance {chance}."
`;

export const medals = lineKind({
  name: 'medals',
  fields: ['contest', 'medals', 'first', 'second', 'third', 'chance'],
  when: { tied: YES_NO },
  isOfOne: false,
  isUnasked: isLastRotation,
  facts: medalFacts,
  templates: TEMPLATES,
});

/** So many medal outcomes are prepared, the likeliest. */
const MOST_MEDALS = 12;

function medalFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  if (!contest.givesMedals) return [];
  const answer = ifRangesAre(() => chances(meet, null, { contest: contest.id }));
  return (answer?.podiums ?? []).slice(0, MOST_MEDALS).map(({ places, chance }): Fact => {
    const onPlace = (i: number): Words | null => namesIn(context, places[i] ?? []);
    const all: Words = (short) =>
      places
        .flatMap((_, i) => {
          const there = onPlace(i);
          return there === null ? [] : [`${ordinal(i + 1)} ${there(short)}`];
        })
        .join(', ');
    return {
      about: places.flat(),
      // How many are on each place: the same names may share one or not.
      key: places.map((ids) => String(ids.length)),
      values: {
        ...NO_VALUES,
        tied: places.some((ids) => ids.length > 1),
        places,
        chance,
      },
      marks: { tied: yesNo(places.some((ids) => ids.length > 1)) },
      fields: {
        contest: asIs(contest.id),
        medals: all,
        first: onPlace(0),
        second: onPlace(1),
        third: onPlace(2),
        chance: asIs(chanceText(chance)),
      },
    };
  });
}
