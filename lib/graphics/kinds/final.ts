/** After the last score: who won what, and how; then the final board. */
import { hasMedalsToWin } from '../../contest/contest.js';
import type { StandingsRow } from '../../contest/standings.js';
import { afterRotations, rotationsBegun } from '../../meet/meet.js';
import { boardNow } from '../../report/standing.js';
import type { Context } from '../context.js';
import { asIs, type Fact, namesIn, PLACE, placeWords, YES_NO, yesNo } from '../fact.js';
import { lineKind } from '../line-kind.js';
import { onBoard, standing } from './standing.js';

const TEMPLATES = `
  - text: "{medal} for {name} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: medal, tied: no }
  - text: "{medal} for {name} with {total}, {lead} ahead, up from {was} before the last rotation."
    when: { what: medal, tied: no }
  - text: "{medal} for {name} with {total}, up from {was} before the last rotation."
    when: { what: medal, tied: no }
  - text: "{medal} for {name} with {total}, {lead} ahead."
    when: { what: medal, tied: no }
  - text: "{medal} for {name} with {total}, {behind} behind."
    when: { what: medal, tied: no }
  - text: "{medal} for {name} with {total}."
    when: { what: medal, tied: no }
  - text: "{medal} for {names}, level on {total}."
    when: { what: medal, tied: yes }
  - text: "{name} is out, with {total} after {done}."
    when: { what: qualification, out: yes }
  - text: "{name} shares {place} with {levelWith} on {total}{through}."
    when: { what: qualification, tied: yes }
  - text: "{name} is {place} with {total}, level with {levelWith}, {side} on {rule}{through}."
    when: { what: qualification }
  - text: "{name} is {place} with {total}{through}."
    when: { what: qualification }
  - text: "{name} is out, with {total} after {done}."
    when: { what: place, out: yes }
  - text: "{name} shares {place} with {levelWith} on {total}."
    when: { what: place, tied: yes }
  - text: "{name} shares {place} on {total}."
    when: { what: place, tied: yes }
  - text: "{name} wins with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: place, place: first }
  - text: "{name} wins with {total}, {lead} ahead."
    when: { what: place, place: first }
  - text: "{name} wins with {total}."
    when: { what: place, place: first }
  - text: "{name} is {place} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: place }
  - text: "{name} is {place} with {total}, {behind} behind."
    when: { what: place }
  - text: "{name} is {place} with {total}."
    when: { what: place }
`;

export const final = lineKind({
  name: 'final',
  fields: [...standing.fields, 'medal', 'names', 'was'],
  when: { ...standing.when, place: PLACE, what: ['medal', 'place', 'qualification'], tied: YES_NO },
  isOfOne: true,
  isUnasked: () => true,
  facts: (context) => (context.isOver ? [...medalFacts(context), ...boardFacts(context)] : []),
  templates: TEMPLATES,
});

function boardFacts(context: Context): Fact[] {
  return onBoard(context).map(({ id, values, marks, fields }) => ({
    about: [id],
    key: [],
    values: { ...values, status: values.status ?? 'place' },
    marks: { ...marks, what: context.contest.givesMedals ? 'place' : 'qualification' },
    fields: { ...fields, medal: null, names: null, was: null },
  }));
}

/** The medals of a contest that gives more than these have no name of their own. */
const NAMES = ['Gold', 'Silver', 'Bronze'];

/** One for each place that brings a medal, about all who share it. */
function medalFacts(context: Context): Fact[] {
  const { contest, board } = context;
  if (!hasMedalsToWin(contest)) return [];
  const stood = placesBefore(context);
  const all = onBoard(context).filter(({ marks }) => marks.out === 'no');
  const rows = all.flatMap((fact) => {
    const row = board.of.get(fact.id)?.row;
    return row?.place != null && row.place <= contest.medals ? [{ fact, row }] : [];
  });
  return rows.flatMap(({ fact, row }, i): Fact[] => {
    const { place } = row;
    if (place === null || rows[i - 1]?.row.place === place) return [];
    const shared = rows.filter((r) => r.row.place === place).map((r) => r.row.id);
    const was = stood.get(row.id) ?? null;
    const isUp = shared.length === 1 && was !== null && was > place;
    const medal = contest.medals > NAMES.length ? undefined : NAMES[place - 1];
    return [
      {
        about: shared,
        key: ['medal', String(place)],
        values: {
          ...fact.values,
          target: 'medal',
          status: medal?.toLowerCase() ?? 'medal',
          wasPlace: shared.length === 1 ? was : null,
          levelWith: fact.values.levelWith?.filter((id) => !shared.includes(id)) ?? null,
        },
        marks: { ...fact.marks, what: 'medal', tied: yesNo(shared.length > 1) },
        fields: {
          ...fact.fields,
          medal: asIs(medal ?? 'A medal'),
          names: namesIn(context, shared),
          was: isUp ? placeWords(was) : null,
        },
      },
    ];
  });
}

/** Where everyone stood before the last rotation, if that compared like with like. */
function placesBefore({ meet, contest }: Context): ReadonlyMap<string, StandingsRow['place']> {
  const board = boardNow(afterRotations(meet, rotationsBegun(meet) - 1), contest.id);
  if (board.progress.footing !== 'even') return new Map();
  return new Map([...board.of.values()].map(({ row }) => [row.id, row.place] as const));
}
