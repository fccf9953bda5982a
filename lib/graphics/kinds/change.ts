/** What the last row of the log did: score, total and place of whoever it was, then everyone who moved. */
import {
  afterRotations,
  isScored,
  type Meet,
  type Result,
  type Routine,
  resultFor,
  type Scored,
} from '../../meet/meet.js';
import { resultShown } from '../../meet/names.js';
import { boardNow, movesTo, type SaidBoard } from '../../report/standing.js';
import type { Contender } from '../../rules/contender.js';
import type { Context } from '../context.js';
import {
  aboutRoutine,
  asIs,
  type Fact,
  OF,
  ofMark,
  placeWords,
  WHO_FIELDS,
  whoFields,
} from '../fact.js';
import { always, lineKind } from '../line-kind.js';
import { PLACE_FIELDS, PLACE_WHEN, placeOf } from '../place.js';

const TEMPLATES = `
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, up from {wasProjected} to {projected} by projection."
    when: { of: team, what: score, board: uneven, way: up }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, down from {wasProjected} to {projected} by projection."
    when: { of: team, what: score, board: uneven, way: down }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, {projected} by projection."
    when: { of: team, what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}, {even} {each}."
    when: { of: team, what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {team} {total} after {done}."
    when: { of: team, what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { of: team, what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to share {place}{soFar} on {total}."
    when: { of: team, what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { of: team, what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to share {place}{soFar} on {total}."
    when: { of: team, what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, {team} shares {place}{soFar} with {levelWith} on {total}."
    when: { of: team, what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, {team} shares {place}{soFar} on {total}."
    when: { of: team, what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { of: team, what: score, way: up }
  - text: "{name}: {score} on {apparatus}, {team} up from {was} to {place}{soFar} with {total}."
    when: { of: team, what: score, way: up }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { of: team, what: score, way: down }
  - text: "{name}: {score} on {apparatus}, {team} down from {was} to {place}{soFar} with {total}."
    when: { of: team, what: score, way: down }
  - text: "{name}: {score} on {apparatus}, {team} {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { of: team, what: score }
  - text: "{name}: {score} on {apparatus}, {team} {place}{soFar} with {total}."
    when: { of: team, what: score }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, up from {wasProjected} to {projected} by projection."
    when: { what: score, board: uneven, way: up }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, down from {wasProjected} to {projected} by projection."
    when: { what: score, board: uneven, way: down }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, {projected} by projection."
    when: { what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {total} after {done}, {even} {each}."
    when: { what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, {total} after {done}."
    when: { what: score, board: uneven }
  - text: "{name}: {score} on {apparatus}, up from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, up from {was} to share {place}{soFar} on {total}."
    when: { what: score, tied: yes, way: up }
  - text: "{name}: {score} on {apparatus}, down from {was} to share {place}{soFar} with {levelWith} on {total}."
    when: { what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, down from {was} to share {place}{soFar} on {total}."
    when: { what: score, tied: yes, way: down }
  - text: "{name}: {score} on {apparatus}, shares {place}{soFar} with {levelWith} on {total}."
    when: { what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, shares {place}{soFar} on {total}."
    when: { what: score, tied: yes }
  - text: "{name}: {score} on {apparatus}, into {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: new }
  - text: "{name}: {score} on {apparatus}, into {place}{soFar} with {total}."
    when: { what: score, way: new }
  - text: "{name}: {score} on {apparatus}, up from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: up }
  - text: "{name}: {score} on {apparatus}, up from {was} to {place}{soFar} with {total}."
    when: { what: score, way: up }
  - text: "{name}: {score} on {apparatus}, down from {was} to {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: down }
  - text: "{name}: {score} on {apparatus}, down from {was} to {place}{soFar} with {total}."
    when: { what: score, way: down }
  - text: "{name}: {score} on {apparatus}, still {place}{soFar}, now with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score, way: same }
  - text: "{name}: {score} on {apparatus}, still {place}{soFar}, now with {total}."
    when: { what: score, way: same }
  - text: "{name}: {score} on {apparatus}, {place}{soFar} with {total}, level with {levelWith}, {side} on {rule}."
    when: { what: score }
  - text: "{name}: {score} on {apparatus}, {place}{soFar} with {total}."
    when: { what: score }
  - text: "{name}: {score} on {apparatus}."
    when: { what: score }
  - text: "{name}: {stood} on {apparatus} no longer counts."
    when: { what: withdrawn }
  - text: "{name} does not score on {apparatus}."
    when: { what: withdrawn }
  - text: "{name}: {stood} on {apparatus} taken back."
    when: { what: taken-back }
  - text: "{name} moves up from {was} to share {place}{soFar} with {levelWith}."
    when: { what: moved, way: up, tied: yes }
  - text: "{name} moves up from {was} to share {place}{soFar}."
    when: { what: moved, way: up, tied: yes }
  - text: "{name} drops from {was} to share {place}{soFar} with {levelWith}."
    when: { what: moved, way: down, tied: yes }
  - text: "{name} drops from {was} to share {place}{soFar}."
    when: { what: moved, way: down, tied: yes }
  - text: "{name} shares {place}{soFar} with {levelWith} on {total}."
    when: { what: moved, way: new, tied: yes }
  - text: "{name} shares {place}{soFar} on {total}."
    when: { what: moved, way: new, tied: yes }
  - text: "{name} moves up from {was} to {place}{soFar}, level with {levelWith}, {side} on {rule}."
    when: { what: moved, way: up }
  - text: "{name} moves up from {was} to {place}{soFar}."
    when: { what: moved, way: up }
  - text: "{name} drops from {was} to {place}{soFar}, level with {levelWith}, {side} on {rule}."
    when: { what: moved, way: down }
  - text: "{name} drops from {was} to {place}{soFar}."
    when: { what: moved, way: down }
  - text: "{name} is {place}{soFar} with {total}."
    when: { what: moved, way: new }
`;

export const change = lineKind({
  name: 'change',
  fields: [...WHO_FIELDS, ...PLACE_FIELDS, 'apparatus', 'score', 'stood', 'was', 'wasProjected'],
  when: {
    of: OF,
    ...PLACE_WHEN,
    what: ['score', 'withdrawn', 'taken-back', 'moved'],
    way: ['up', 'down', 'same', 'new'],
  },
  isOfOne: true,
  isUnasked: always,
  facts: changeFacts,
  templates: TEMPLATES,
});

/** More routines than this are a rotation, of which the places tell. */
const MOST_AT_ONCE = 6;

/** A place before and now, of two boards that compare like with like, or both by projection. */
interface Change {
  readonly was: number | null;
  readonly is: number | null;
  /** Null where the two cannot be compared. */
  readonly by: 'board' | 'projection' | null;
}

/** Whose place moved, where that can be said of anybody. */
interface Moved {
  readonly isKnown: boolean;
  /** The board it is compared with. */
  readonly from: SaidBoard;
  readonly of: ReadonlyMap<string, Change>;
}

/** What the routines that were scored since did: to those who did them, then to the others. */
function changeFacts(context: Context): Fact[] {
  const { meet, before, contest, board: now } = context;
  const then = boardNow(before, contest.id);
  const changed = meet.routines.filter(
    (r) =>
      JSON.stringify(meet.results[r.index]) !==
      JSON.stringify(resultFor(before, r.gymnast, r.apparatus)),
  );
  const latest = changed.length <= MOST_AT_ONCE ? changed : [];
  const moves = movesBetween(context, then, now);
  const told = new Set<string>();
  const own = latest.flatMap((routine) => {
    const contender = contest.contenders.find((c) => c.routines.includes(routine.index));
    if (contender === undefined) return [];
    told.add(contender.id);
    const change = changeOf(then, now, contender.id, moves);
    return factOf(context, now, { contender, routine, change });
  });
  const moved = [...moves.of]
    // Who is out has no place to speak of.
    .filter(([id]) => !told.has(id) && now.of.get(id)?.isOut === false)
    .sort(([, a], [, b]) => (a.is ?? 0) - (b.is ?? 0))
    .flatMap(([id, change]) => {
      const contender = contest.contenders.find((c) => c.id === id);
      return contender === undefined
        ? []
        : factOf(context, now, { contender, routine: null, change });
    });
  return [...own, ...moved];
}

function movesBetween({ meet, contest }: Context, then: SaidBoard, now: SaidBoard): Moved {
  const changes = [...now.of.values()].flatMap(({ row: { id, place: to } }) => {
    const from = then.of.get(id)?.row.place ?? null;
    return from === to ? [] : [{ id, from, to }];
  });
  const { isKnown, moves, at } = movesTo(meet, contest.id, then.progress.footing, changes);
  return {
    isKnown,
    from: at === null ? then : boardNow(afterRotations(meet, at), contest.id),
    of: new Map(moves.map(({ id, from, to }) => [id, { was: from, is: to, by: 'board' }])),
  };
}

/** What became of whoever had a routine: on the board, or by projection in the middle of a rotation. */
function changeOf(then: SaidBoard, now: SaidBoard, id: string, moves: Moved): Change {
  const row = now.of.get(id)?.row;
  // Who is out, and who has nothing any more, has no place to come from or go to.
  if (now.of.get(id)?.isOut === true || row?.place == null) {
    return { was: null, is: null, by: null };
  }
  if (now.progress.footing !== 'uneven') {
    const is = row?.place ?? null;
    const was = moves.from.of.get(id)?.row.place ?? null;
    return moves.of.get(id) ?? { was, is, by: moves.isKnown ? 'board' : null };
  }
  const was = then.of.get(id)?.row.projectedPlace ?? null;
  const is = row?.projectedPlace ?? null;
  return { was, is, by: was === null ? null : 'projection' };
}

function factOf(
  context: Context,
  board: SaidBoard,
  about: {
    readonly contender: Contender;
    readonly routine: Routine | null;
    readonly change: Change;
  },
): Fact[] {
  const { meet, before, contest, names } = context;
  const { contender, routine, change } = about;
  const standing = board.of.get(contender.id);
  if (standing === undefined) return [];
  const result = routine === null ? null : meet.results[routine.index];
  const stood = routine === null ? null : resultFor(before, routine.gymnast, routine.apparatus);
  const gymnast = routine?.gymnast ?? contender.id;
  const { values, marks, fields } = placeOf(context, board, standing);
  const what = routine === null ? 'moved' : whatOf(result ?? null);
  const moved = change.was === change.is ? null : placeWords(change.was);
  return [
    {
      about: aboutRoutine(contender, gymnast),
      key: routine === null ? [] : [routine.apparatus],
      values: {
        ...values,
        status: isScored(result) ? statusOf(stood, result) : what,
        apparatus: routine?.apparatus ?? null,
        session: routine?.session ?? null,
        rotation: routine?.rotation ?? null,
        wasPlace: change.by === null ? null : change.was,
        score: isScored(result) ? result.score : null,
        was: isScored(stood) ? stood.score : null,
      },
      marks: { ...ofMark(contest), ...marks, what, ...wayMark(change) },
      fields: {
        ...whoFields(context, contender, gymnast),
        ...fields,
        apparatus: routine === null ? null : names.apparatus(routine.apparatus),
        score: isScored(result) ? asIs(scoreWords(meet, stood, result)) : null,
        stood: stood === null ? null : asIs(resultShown(meet, stood)),
        was: change.by === 'board' ? moved : null,
        wasProjected: change.by === 'projection' ? moved : null,
      },
    },
  ];
}

/** What became of a routine: a score, a withdrawal, or nothing any more. */
function whatOf(result: Result | null): 'score' | 'withdrawn' | 'taken-back' {
  if (result === null) return 'taken-back';
  return isScored(result) ? 'score' : 'withdrawn';
}

/** What a score is to what stood before: new, put under inquiry, confirmed or changed after one, or corrected. */
function statusOf(
  stood: Result | null,
  { score, underInquiry }: Scored,
): 'score' | 'inquiry' | 'confirmed' | 'changed' | 'corrected' {
  if (stood === null) return 'score';
  if (!isScored(stood)) return 'corrected';
  if (stood.score !== score) return stood.underInquiry ? 'changed' : 'corrected';
  return underInquiry ? 'inquiry' : 'confirmed';
}

/** A score, and what it was: "13.100 after an inquiry (was 12.900)". */
function scoreWords(meet: Meet, was: Result | null, now: Scored): string {
  const is = resultShown(meet, now);
  const after = isScored(was) && was.underInquiry && !now.underInquiry ? ' after an inquiry' : '';
  const stood = was === null ? is : resultShown(meet, was);
  if (stood !== is) return `${is}${after} (was ${stood})`;
  return after === '' ? is : `${is}, confirmed,`;
}

function wayMark({ was, is, by }: Change): { way?: string } {
  if (is === null || by === null) return {};
  if (was === null) return { way: 'new' };
  return { way: is < was ? 'up' : is > was ? 'down' : 'same' };
}
