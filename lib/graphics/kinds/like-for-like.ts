/** Places that compare like with like in the middle of a rotation: after as many routines each, and by projection. */
import { evenBoard } from '../../contest/like-for-like.js';
import { evenInWords, isShared } from '../../report/standing.js';
import { ordinal } from '../../report/words.js';
import { recordedPerformances } from '../../rules/recorded.js';
import { asScore, type Units } from '../../score.js';
import type { Context } from '../context.js';
import {
  asIs,
  type Fact,
  NO_VALUES,
  OF,
  ofMark,
  scoreIn,
  WHO_FIELDS,
  whoFields,
  YES_NO,
  yesNo,
} from '../fact.js';
import { lineKind } from '../line-kind.js';

const TEMPLATES = `
  - text: "{name}: {place} {each}, with {total}."
    when: { by: each, tied: no }
  - text: "{name}: joint {place} {each}, with {total}."
    when: { by: each, tied: yes }
  - text: "{name}: {place} by projection, with {total}."
    when: { by: projection, tied: no }
  - text: "{name}: joint {place} by projection, with {total}."
    when: { by: projection, tied: yes }
`;

export const likeForLike = lineKind({
  name: 'like-for-like',
  fields: [...WHO_FIELDS, 'place', 'total', 'each'],
  when: { of: OF, by: ['each', 'projection'], tied: YES_NO },
  isOfOne: true,
  isUnasked: () => true,
  facts: (context) =>
    context.board.progress.footing === 'uneven'
      ? [...eachFacts(context), ...projectedFacts(context)]
      : [],
  templates: TEMPLATES,
});

interface FairPlace {
  readonly by: 'each' | 'projection';
  readonly place: number;
  readonly tied: boolean;
  readonly total: Units;
  readonly done: number | null;
}

function eachFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  const rows = evenBoard(contest, recordedPerformances(meet)).filter(
    ({ entry, place }) => !entry.out && place !== null,
  );
  return rows.flatMap(({ entry, place, tied }) =>
    place === null
      ? []
      : factOf(context, entry.contender.id, {
          by: 'each',
          place,
          tied,
          total: entry.total,
          done: entry.done,
        }),
  );
}

function projectedFacts(context: Context): Fact[] {
  const rows = [...context.board.of.values()].map((standing) => standing.row);
  return rows
    .flatMap((row) => {
      const { projectedPlace: place, projected: total } = row;
      if (place === null || total === null) return [];
      const tied = isShared(rows, row, 'projectedPlace');
      return [{ id: row.id, by: 'projection', place, tied, total, done: null } as const];
    })
    .sort((a, b) => a.place - b.place)
    .flatMap(({ id, ...fair }) => factOf(context, id, fair));
}

function factOf(context: Context, id: string, { by, place, tied, total, done }: FairPlace): Fact[] {
  const { meet, contest, board } = context;
  const contender = contest.contenders.find((c) => c.id === id);
  if (contender === undefined) return [];
  return [
    {
      about: [id],
      key: [by],
      values: { ...NO_VALUES, by, done, place, tied, total: asScore(total) },
      marks: { ...ofMark(contest), by, tied: yesNo(tied) },
      fields: {
        ...whoFields(context, contender, id),
        place: asIs(ordinal(place)),
        total: scoreIn(meet, total),
        each: asIs(evenInWords(board.progress)),
      },
    },
  ];
}
