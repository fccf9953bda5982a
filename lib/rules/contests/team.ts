/** A team contest: on each apparatus the best few of a team's scores. */
import type { ComplainOfField, FieldOfMeet } from '../../meet/known-rules.js';
import { type Meet, ownStations, routineOf, type Team } from '../../meet/meet.js';
import { listed } from '../../meet/names.js';
import { whole } from '../../meet/values.js';
import { bestOn, contestKind } from './contest-kind.js';

interface Settings {
  /** How many of a team may go up on an apparatus. */
  readonly up: number;
  /** How many of their scores count. */
  readonly count: number;
}

export const team = contestKind<Settings>({
  name: 'team',
  example: '{ kind: team, up: 4, count: 3 }',
  keys: { up: whole(1, 99), count: whole(1, 99) },
  settingsFrom: (given, _, complain) => {
    const [up, count] = [Number(given.up), Number(given.count)];
    if (count > up) {
      const message = `${count} scores count but only ${up} are up`;
      complain('count', 'wrong-value', message, 'count can be at most up');
    }
    return { up, count: Math.min(count, up) };
  },
  idByDefault: () => 'team',
  // The lowest apparatus total is dropped, then the next (AP, 2012).
  tiesByDefault: () => ['best-scores'],
  hasTiesOfMeet: false,
  counts: (_, all) => all.filter((a) => a.follows === null).map((a) => a.code),
  countsEverything: true,
  needsEveryApparatus: false,
  checkField: (settings, field, complain) => {
    if (field.teams.length === 0) {
      const message = 'there is a team contest but no gymnast has a team';
      complain('contests', 'error', 'no-teams', message, 'add team: … to the gymnasts');
    }
    for (const team of field.teams) checkTeam(settings, field, team, complain);
  },
  ranks: 'teams',
  // Only the first vault counts, as in the all-around; a team is not out by a DNS.
  contenders: (meet, { count }, carriedIn) =>
    meet.teams.map((t) => {
      const members = meet.gymnasts.filter((g) => g.team === t.id);
      const parts = ownStations(meet).map(({ code }) =>
        bestOn(
          meet,
          count,
          code,
          members.filter((g) => g.on.includes(code) && !isReplaced(meet, g.id, code)),
        ),
      );
      const carried = t.carried + carriedIn(t.id);
      return { id: t.id, name: t.name, team: null, carried, parts, outByDns: false };
    }),
  isLikeAllAroundFinals: false,
});

/** Whether as many of a team go up on each apparatus as the contest lets and counts. */
function checkTeam(
  { up, count }: Settings,
  { gymnasts, apparatus }: FieldOfMeet,
  { id, lineup }: Team,
  complain: ComplainOfField,
): void {
  /** By how many scores there can be: the apparatus where that is too few. */
  const short = new Map<number, string[]>();
  for (const { code } of apparatus.filter((a) => a.follows === null)) {
    const hers = gymnasts.filter((g) => g.team === id && g.on.includes(code)).length;
    const isLinedUp = lineup[code] !== undefined;
    const at = isLinedUp ? { team: id, apparatus: code } : 'gymnasts';
    if (hers > up) {
      const message = `team ${id} has ${hers} ${isLinedUp ? 'in the line-up ' : ''}on ${code}, but ${up} are up`;
      const who = isLinedUp ? 'take somebody out of it' : 'say with `on` who competes where';
      complain(at, 'error', 'too-many-up', message, `${who}, or correct \`up\``);
    } else if (hers < count) {
      if (!isLinedUp) short.set(hers, [...(short.get(hers) ?? []), code]);
      else complain(at, 'warning', 'too-few-up', tooFew(id, hers, [code], count), IF_SHORT);
    } else if (isLinedUp && hers < up) {
      const message = `team ${id} has ${hers} in the line-up on ${code}, and ${up} may go up`;
      complain(at, 'note', 'too-few-up', message, 'nothing to do, if no more do');
    }
  }
  for (const [hers, codes] of short) {
    const message = tooFew(id, hers, codes, count);
    complain({ team: id, apparatus: null }, 'warning', 'too-few-up', message, IF_SHORT);
  }
}

const IF_SHORT = 'add who is missing; nothing to do, if the team has no more';

/** "only 2 scores of team NQY can count on VT and UB, and 3 should" */
function tooFew(team: string, hers: number, codes: readonly string[], count: number): string {
  const scores = hers === 0 ? 'no score' : `only ${hers} score${hers === 1 ? '' : 's'}`;
  return `${scores} of team ${team} can count on ${listed(codes)}, and ${count} should`;
}

/** Whose routine somebody else does brings the team nothing, and is no routine of it. */
function isReplaced(meet: Meet, gymnast: string, apparatus: string): boolean {
  const routine = routineOf(meet, gymnast, apparatus);
  return routine !== undefined && meet.replaced[routine.index] === true;
}
