/**
 * Every line of `graphics` rebuilt from its values alone: what they say of places, totals, scores and
 * chances is worked out again by the judge apart from the library. No word of a line is read.
 */
import fc from 'fast-check';
import {
  type GraphicsLine,
  graphics,
  LINE_KINDS,
  needs,
  type Target,
  type Written,
  written,
} from '../../../lib/index.js';
import { type Facts, keyOf, readSketch } from '../../support/random-meet.js';
import { type Case, caseArb, contestId, must, type Read, readCase } from '../asking.js';
import { weighedScores } from '../enumerate.js';
import {
  type Court,
  courtOf,
  evenWorld,
  levelOf,
  type Placed,
  placesOf,
  projectedWorld,
  recordedWorld,
  type Stand,
  standsIn,
  supposed,
  type World,
} from '../naive.js';

/** As a graphics machine reads it. */
type Line = Written<GraphicsLine>;

/** The boards a place may be of. */
interface Boards {
  readonly court: Court;
  readonly read: Read;
  readonly stands: readonly Stand[];
  /** Without the last row of the log. */
  readonly before: Facts;
}

const unitsOf = (score: string | null) => (score === null ? null : Number(score.replace('.', '')));

export const linesAreTheirValues = fc.property(caseArb(1), ({ sketch }: Case) => {
  const read = readCase(sketch);
  const before = { ...sketch, log: sketch.log.slice(0, -1) };
  for (const [index, contest] of sketch.contests.entries()) {
    const court = courtOf(sketch, read.facts, index);
    const answer = graphics(read.meet, {
      contest: contestId(contest),
      kinds: LINE_KINDS.filter((kind) => kind !== 'medals'),
      before: readSketch(before),
    });
    const { lines } = written('graphics', answer, sketch.decimals);
    const ids = new Set(lines.map((line) => line.id));
    must(ids.size === lines.length, sketch, () => 'two lines with one id');
    const boards: Boards = {
      court,
      read,
      stands: standsIn(court, recordedWorld(read.facts)),
      before: readCase(before).facts,
    };
    for (const line of lines) {
      const wrong = wrongIn(line, boards);
      must(wrong === null, sketch, () => `${wrong}: ${JSON.stringify(line)}`);
    }
  }
});

function scoreIn({ results }: Facts, key: string): number | null {
  const result = results.get(key);
  return typeof result === 'object' ? (result?.score ?? null) : null;
}

/** What a line says that is not so; null where all of it is. */
function wrongIn(line: Line, boards: Boards): string | null {
  const first = boards.read.sketch.gymnasts.find((g) => g.id === line.about[0]?.id);
  const isOfGymnast = line.apparatus !== null || boards.court.contest.kind !== 'team';
  if (isOfGymnast && line.about[0]?.team !== (first?.team ?? null)) return 'team';
  switch (line.kind) {
    case 'need':
      return wrongInNeed(line, boards);
    case 'outcome':
      return wrongInOutcome(line, boards);
    case 'settled':
      return wrongInSettled(line, boards);
    case 'rotation':
      return wrongInRotation(line, boards);
    default:
      return wrongOnBoard(line, boards);
  }
}

/** Of the contender: in a team contest the team stands behind the gymnast. */
const contenderOf = ({ about }: Line) => about.at(-1)?.id ?? '';

function wrongOnBoard(line: Line, { court, read, stands, before }: Boards): string | null {
  // A medal is shared by all whom its line is about.
  const id = line.target === 'medal' ? (line.about[0]?.id ?? '') : contenderOf(line);
  const world = recordedWorld(read.facts);
  const her = stands.find((s) => s.who.id === id);
  if (her === undefined) return 'nobody';
  if (line.kind === 'change' && line.apparatus !== null) {
    const key = keyOf(line.about[0]?.id ?? '', line.apparatus);
    const score = scoreIn(read.facts, key);
    if (unitsOf(line.score) !== score) return 'score';
    if (unitsOf(line.was) !== scoreIn(before, key)) return 'was';
  }
  if (line.kind === 'change' && !placesBefore(line, court, read, before).has(line.wasPlace)) {
    return 'wasPlace';
  }
  if (line.place === null) return her.out || line.by === null ? null : 'no place';
  const of = worldOf(line.by, court, world);
  if (of === null) return 'board';
  const all = standsIn(court, of);
  const place = fairPlaces(line.by, court, all).get(id);
  if (place?.place !== line.place) return `place is ${place?.place}`;
  if (line.tied !== null && place.tied !== line.tied) return `tied is ${place.tied}`;
  const total = line.kind === 'like-for-like' ? all.find((s) => s.who.id === id)?.total : her.total;
  if (unitsOf(line.total) !== total) return `total is ${total}`;
  if (line.done !== null) {
    const done = line.kind === 'like-for-like' ? all.find((s) => s.who.id === id)?.done : her.done;
    if (line.done !== done) return `done is ${done}`;
  }
  if (line.gap !== null && unitsOf(line.gap) !== gapOf(id, stands, court)) return 'gap';
  return line.tieBy === null || line.tieBy === levelOf(her, stands, court.rules).by
    ? null
    : 'tieBy';
}

/** Where a change may have begun: on the board of the row before, or of the rotation before; or not to be told. */
function placesBefore(line: Line, court: Court, { facts }: Read, before: Facts) {
  const id = contenderOf(line);
  const full = Math.max(0, ...facts.routines.map((r) => r.rotation));
  const worlds =
    line.by === 'projection'
      ? [projectedWorld(court, recordedWorld(before))]
      : [recordedWorld(before), ...Array.from({ length: full }, (_, r) => worldAfter(facts, r))];
  const places = worlds.map((world) => {
    if (world === null) return null;
    return fairPlaces(line.by, court, standsIn(court, world)).get(id)?.place ?? null;
  });
  return new Set([null, ...places]);
}

/** What a place is of: the board, everyone after as many routines, or what is likely of everyone. */
function worldOf(by: string | null, court: Court, world: World): World | null {
  if (by === 'each') return evenWorld(court, world);
  return by === 'projection' ? projectedWorld(court, world) : world;
}

/** With those who are out only on the board itself. */
function fairPlaces(
  by: string | null,
  court: Court,
  stands: readonly Stand[],
): Map<string, Placed> {
  const isBoard = by === 'board' || by === 'so-far';
  return placesOf(
    stands.filter((s) => isBoard || !s.out),
    court.rules,
  );
}

/** Of the first to the next, of everyone else to the first. */
function gapOf(id: string, stands: readonly Stand[], court: Court): number | null {
  const places = placesOf(stands, court.rules);
  const placed = stands
    .filter((s) => !s.out && places.get(s.who.id)?.place != null)
    .sort((a, b) => b.total - a.total);
  const her = placed.find((s) => s.who.id === id);
  const [leader, next] = placed;
  if (her === undefined || leader === undefined) return null;
  if (places.get(id)?.place === 1) return her.total - (next?.total ?? 0);
  return leader.total - her.total;
}

function wrongInRotation(line: Line, { court, read }: Boards): string | null {
  const { facts } = read;
  const over =
    facts.turns.findIndex((t) => t.session === line.session && t.inSession === line.rotation) + 1;
  const isOpen = facts.routines.some(
    (r) => r.rotation <= over && facts.results.get(r.key) === null,
  );
  const isNextOver = facts.routines.some((r) => r.rotation === over + 1);
  if (isOpen) return 'not over';
  const nextOpen = facts.routines.some(
    (r) => r.rotation === over + 1 && facts.results.get(r.key) === null,
  );
  if (isNextOver && !nextOpen) return 'not the last';
  const [is, was] = [over, over - 1].map((rotation) =>
    placesOf(standsIn(court, worldAfter(facts, rotation)), court.rules),
  );
  const id = contenderOf(line);
  const total = standsIn(court, worldAfter(facts, over)).find((s) => s.who.id === id)?.total;
  if (is?.get(id)?.place !== line.place || is?.get(id)?.tied !== line.tied) return 'place';
  if (line.wasPlace !== null && was?.get(id)?.place !== line.wasPlace) return 'wasPlace';
  return unitsOf(line.total) === total ? null : 'total';
}

function worldAfter(facts: Facts, rotation: number): World {
  const world = recordedWorld(facts);
  for (const r of facts.routines) if (r.rotation > rotation) world.set(r.key, null);
  return world;
}

/** Settled is what no case undoes: that everyone scores about the middle of what she may is one of them. */
function wrongInSettled(line: Line, { court, read }: Boards): string | null {
  const end = recordedWorld(read.facts);
  for (const [key, cell] of end) {
    if (cell !== null) continue;
    const weighed = weighedScores(court, key) ?? [];
    const middle = weighed[Math.floor(weighed.length / 2)];
    if (middle === undefined) return null;
    end.set(key, supposed(middle.score, null));
  }
  const stands = standsIn(court, end).filter((s) => !s.out);
  const place = placesOf(stands, court.rules).get(contenderOf(line))?.place ?? null;
  const wanted = line.target === 'win' ? 1 : court.medals;
  const has = place !== null && place <= wanted;
  return has === (line.status === 'secured') ? null : `place at the end is ${place}`;
}

/** What `needs` says, which its own laws judge. */
function wrongInNeed(line: Line, { court, read, stands }: Boards): string | null {
  const [gymnast] = line.about;
  const sheet = needs(read.meet, gymnast?.id ?? '', {
    contest: contestId(court.contest),
    on: line.apparatus,
    for: line.target as Target,
    when: line.by === 'now' ? 'now' : 'end',
    rivals: line.by === 'now' ? 'as-is' : 'likely',
  });
  const [need] = sheet.needs;
  const total = stands.find((s) => s.who.id === contenderOf(line))?.total ?? 0;
  if (unitsOf(line.total) !== total) return 'total';
  if (line.status === 'secured') return need?.status === 'secured' ? null : 'status';
  if (line.gap !== null && unitsOf(line.gap) !== (need?.mark?.total ?? 0) - total) return 'gap';
  if (line.chance !== need?.reach) return 'chance';
  const isCertain = line.score === null || unitsOf(line.score) === need?.onGrid;
  return isCertain ? null : `score is ${need?.onGrid}`;
}

/** The place is judged score by score in `everyScoreHasOneLine`; here the chance. */
function wrongInOutcome(line: Line, { court }: Boards): string | null {
  const key = keyOf(line.about[0]?.id ?? '', line.apparatus ?? '');
  const weighed = weighedScores(court, key);
  if (weighed === null) return line.chance === null ? null : 'chance';
  const [from, to] = [unitsOf(line.from) ?? 0, unitsOf(line.to) ?? 0];
  const chance = weighed.reduce(
    (sum, { score, chance: c }) => (score >= from && score <= to ? sum + c : sum),
    0,
  );
  return Math.abs((line.chance ?? 0) - chance) < 1e-9 ? null : `chance is ${chance}`;
}
