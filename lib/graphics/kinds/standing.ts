/** Where everyone stands: the total, after how many routines, and the place. */

import type { StandingsRow } from '../../contest/standings.js';
import { advanceBy, advancesInWords, onwardIn } from '../../report/advance.js';
import { nameOf } from '../../report/words.js';
import { asScore } from '../../score.js';
import type { Context } from '../context.js';
import {
  asIs,
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
  - text: "{name} has {total} after {done}, level with {levelWith}: {projected} by projection{through}."
    when: { board: uneven }
  - text: "{name} has {total} after {done}: {projected} by projection{through}."
    when: { board: uneven }
  - text: "{name} has {total} after {done}: {even} {each}{through}."
    when: { board: uneven }
  - text: "{name} has {total} after {done}{through}."
    when: { board: uneven }
  - text: "{name} shares {place}{soFar} with {levelWith} on {total} after {done}{through}."
    when: { tied: yes }
  - text: "{name} shares {place}{soFar} on {total} after {done}{through}."
    when: { tied: yes }
  - text: "{name} leads{soFar} with {total} after {done}, level with {levelWith}, {side} on {rule}{through}."
    when: { place: first }
  - text: "{name} leads{soFar} with {total} after {done}, {lead} ahead{through}."
    when: { place: first }
  - text: "{name} is {place}{soFar} with {total} after {done}, level with {levelWith}, {side} on {rule}{through}."
  - text: "{name} is {place}{soFar} with {total} after {done}, {behind} behind{through}."
  - text: "{name} is {place}{soFar} with {total} after {done}{through}."
`;

/** As the board, or the projection, has it; `none` where nobody advances from the contest. */
const THROUGH = ['in', 'reserve', 'not-in', 'none'] as const;

export const standing = lineKind({
  name: 'standing',
  fields: [...WHO_FIELDS, ...PLACE_FIELDS, 'behind', 'lead', 'through'],
  when: { of: OF, ...PLACE_WHEN, place: PLACE, through: THROUGH },
  isOfOne: true,
  // At the end the final board says it.
  isUnasked: ({ isOver }) => !isOver,
  facts: standingFacts,
  templates: TEMPLATES,
});

function standingFacts(context: Context): Fact[] {
  return onBoard(context).map(({ id, ...fact }) => ({ about: [id], key: [], ...fact }));
}

/** Whether somebody goes through, as a value and as words that stand behind a place. */
function throughOn({ meet, board }: Context, row: StandingsRow) {
  const rows = [...board.of.values()].map((s) => s.row);
  const by = advanceBy(board.progress.footing === 'even', rows);
  const onward = onwardIn(row, by);
  if (onward === null) return { mark: 'none', words: '' } as const;
  const isOver = rows.every((r) => r.toCome.length === 0);
  const words = advancesInWords(row, { by, isOver }, (id) => nameOf(meet, id));
  // Behind a place by projection it is said already.
  const mark = onward.advance === 'out' ? 'not-in' : onward.advance;
  return { mark, words: words.replace(' by projection', '') } as const;
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
    const { mark: through, words } = throughOn(context, standing.row);
    const { values, marks, fields } = placeOf(context, board, standing);
    // The gap beside a place that is not the board's would be another's.
    const gap = board.progress.footing === 'uneven' ? null : place === 1 ? lead : behind;
    return {
      id,
      values: {
        ...values,
        target: through === 'none' || standing.isOut ? null : 'advance',
        status: standing.isOut ? 'out' : through === 'none' ? null : through,
        gap: gap === null ? null : asScore(gap),
      },
      marks: { ...ofMark(contest), ...marks, place: placeMark(contest, place), through },
      fields: {
        ...whoFields(context, contender, id),
        ...fields,
        behind: scoreIn(meet, behind),
        lead: scoreIn(meet, lead),
        through: asIs(words === '' ? '' : `, ${words}`),
      },
    };
  });
}
