/** Where everyone stands: the total, after how many routines, and the place. */

import { asScore } from '../../score.js';
import type { Context } from '../context.js';
import {
  type Fact,
  OF,
  ofMark,
  PLACE,
  placeMark,
  scoreIn,
  WHO_FIELDS,
  whoFields,
} from '../fact.js';
import { lineKind } from '../line-kind.js';
import { gapsOn, PLACE_FIELDS, PLACE_WHEN, placeOf } from '../place.js';

const TEMPLATES = `
  - text: "{name} is out, with {total} after {done}."
    when: { out: yes }
  - text: "{name} has {total} after {done}, level with {levelWith}: {projected} by projection."
    when: { board: uneven }
  - text: "{name} has {total} after {done}: {projected} by projection."
    when: { board: uneven }
  - text: "{name} has {total} after {done}: {even} {each}."
    when: { board: uneven }
  - text: "{name} has {total} after {done}."
    when: { board: uneven }
  - text: "{name} shares {place}{soFar} with {levelWith} on {total} after {done}."
    when: { tied: yes }
  - text: "{name} shares {place}{soFar} on {total} after {done}."
    when: { tied: yes }
  - text: "{name} leads{soFar} with {total} after {done}, level with {levelWith}, {side} on {rule}."
    when: { place: first }
  - text: "{name} leads{soFar} with {total} after {done}, {lead} ahead."
    when: { place: first }
  - text: "{name} is {place}{soFar} with {total} after {done}, level with {levelWith}, {side} on {rule}."
  - text: "{name} is {place}{soFar} with {total} after {done}, {behind} behind."
  - text: "{name} is {place}{soFar} with {total} after {done}."
`;

export const standing = lineKind({
  name: 'standing',
  fields: [...WHO_FIELDS, ...PLACE_FIELDS, 'behind', 'lead'],
  when: { of: OF, ...PLACE_WHEN, place: PLACE },
  isOfOne: true,
  // At the end the final board says it.
  isUnasked: ({ isOver }) => !isOver,
  facts: standingFacts,
  templates: TEMPLATES,
});

function standingFacts(context: Context): Fact[] {
  return onBoard(context).map(({ id, ...fact }) => ({ about: [id], key: [], ...fact }));
}

/** Everyone with a place on the board, as lines of the board and of the final one have them. */
export function onBoard(context: Context): (Omit<Fact, 'about' | 'key'> & { id: string })[] {
  const { meet, contest, board } = context;
  const gaps = gapsOn(board);
  return [...board.of.values()].flatMap((standing, i) => {
    const { id, place } = standing.row;
    const contender = contest.contenders.find((c) => c.id === id);
    if (place === null || contender === undefined) return [];
    const { behind, lead } = gaps(i);
    const { values, marks, fields } = placeOf(context, board, standing);
    // The gap beside a place that is not the board's would be another's.
    const gap = board.progress.footing === 'uneven' ? null : place === 1 ? lead : behind;
    return {
      id,
      values: {
        ...values,
        status: standing.isOut ? 'out' : null,
        gap: gap === null ? null : asScore(gap),
      },
      marks: { ...ofMark(contest), ...marks, place: placeMark(contest, place) },
      fields: {
        ...whoFields(context, contender, id),
        ...fields,
        behind: scoreIn(meet, behind),
        lead: scoreIn(meet, lead),
      },
    };
  });
}
