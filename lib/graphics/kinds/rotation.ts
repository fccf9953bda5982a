/** What the last full rotation changed: who leads after it, and whom it moved. */
import { rotationsFull } from '../../contest/like-for-like.js';
import { afterRotations, rotationAt, rotationsBegun } from '../../meet/meet.js';
import { rotationNumber } from '../../meet/names.js';
import { boardNow, type SaidBoard } from '../../report/standing.js';
import { asScore } from '../../score.js';
import type { Context } from '../context.js';
import {
  asIs,
  type Fact,
  OF,
  ofMark,
  placeWords,
  scoreIn,
  WHO_FIELDS,
  whoFields,
} from '../fact.js';
import { lineKind } from '../line-kind.js';
import { gapsOn, PLACE_FIELDS, PLACE_WHEN, placeOf } from '../place.js';

const TEMPLATES = `
  - text: "After rotation {rotation} {name} shares the lead with {levelWith} on {total}."
    when: { what: lead, tied: yes }
  - text: "After rotation {rotation} {name} leads with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: lead, tied: no }
  - text: "After rotation {rotation} {name} leads with {total}, {lead} ahead, up from {was}."
    when: { what: lead, tied: no }
  - text: "After rotation {rotation} {name} leads with {total}, {lead} ahead."
    when: { what: lead, tied: no }
  - text: "After rotation {rotation} {name} leads with {total}."
    when: { what: lead }
  - text: "Rotation {rotation} takes {name} from {was} up to a share of {place}."
    when: { what: up, tied: yes }
  - text: "Rotation {rotation} takes {name} from {was} up to {place}."
    when: { what: up }
  - text: "Rotation {rotation} takes {name} from {was} down to a share of {place}."
    when: { what: down, tied: yes }
  - text: "Rotation {rotation} takes {name} from {was} down to {place}."
    when: { what: down }
`;

export const rotation = lineKind({
  name: 'rotation',
  fields: [...WHO_FIELDS, ...PLACE_FIELDS, 'rotation', 'was', 'lead'],
  when: { of: OF, ...PLACE_WHEN, what: ['lead', 'up', 'down'] },
  isOfOne: true,
  // Once the next is under way it is no news.
  isUnasked: ({ meet, isOver }) => !isOver && rotationsBegun(meet) <= rotationsFull(meet),
  facts: rotationFacts,
  templates: TEMPLATES,
});

function rotationFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  const over = rotationsFull(meet);
  const isCounted = contest.contenders.some((c) =>
    c.routines.some((i) => meet.routines[i]?.at === over - 1),
  );
  if (!isCounted) return [];
  const board = boardNow(afterRotations(meet, over), contest.id);
  const before = over < 2 ? null : boardNow(afterRotations(meet, over - 1), contest.id);
  const gaps = gapsOn(board);
  return [...board.of.values()].flatMap(({ row, isOut }, i) => {
    const was = before?.of.get(row.id)?.row.place ?? null;
    const { place } = row;
    if (place === null || isOut || (place > 1 && (was === null || was === place))) return [];
    return factOf(context, { board, id: row.id, place, was, over, lead: gaps(i).lead });
  });
}

function factOf(
  context: Context,
  {
    board,
    id,
    place,
    was,
    over,
    lead,
  }: {
    readonly board: SaidBoard;
    readonly id: string;
    readonly place: number;
    readonly was: number | null;
    /** How many rotations are over. */
    readonly over: number;
    readonly lead: number | null;
  },
): Fact[] {
  const { meet, contest } = context;
  const standing = board.of.get(id);
  const contender = contest.contenders.find((c) => c.id === id);
  if (standing === undefined || contender === undefined) return [];
  const { values, marks, fields } = placeOf(context, board, standing);
  const what = place === 1 ? 'lead' : (was ?? place) > place ? 'up' : 'down';
  const { tied, tieBy } = standing.row;
  const which = rotationAt(meet, over - 1);
  return [
    {
      about: [id],
      key: [String(over)],
      values: {
        ...values,
        // Everyone has had the rotation, whoever had a bye in it.
        by: 'board',
        status: what,
        session: which.session,
        rotation: which.rotation,
        place,
        tied,
        tieBy,
        wasPlace: was,
        levelWith: standing.tie?.with ?? [],
        gap: lead === null ? null : asScore(lead),
      },
      marks: { ...ofMark(contest), ...marks, what },
      fields: {
        ...whoFields(context, contender, id),
        ...fields,
        rotation: asIs(rotationNumber(meet, which)),
        was: was === place ? null : placeWords(was),
        lead: scoreIn(meet, lead),
      },
    },
  ];
}
