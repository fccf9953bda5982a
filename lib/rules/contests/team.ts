/** A team contest: on each apparatus the best few of a team's scores. */
import { type Meet, ownStations, routineOf } from '../../meet/meet.js';
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
  checkField: ({ up }, { gymnasts, teams, apparatus }, complain) => {
    if (teams.length === 0) {
      const message = 'there is a team contest but no gymnast has a team';
      complain('contests', 'no-teams', message, 'add team: … to the gymnasts');
    }
    for (const { id } of teams) {
      for (const { code } of apparatus.filter((a) => a.follows === null)) {
        const hers = gymnasts.filter((g) => g.team === id && g.on.includes(code)).length;
        if (hers <= up) continue;
        const message = `team ${id} has ${hers} on ${code}, but ${up} are up`;
        const mend = 'say with `on` who competes where, or correct `up`';
        complain('gymnasts', 'too-many-up', message, mend);
      }
    }
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

/** Whose routine somebody else does brings the team nothing, and is no routine of it. */
function isReplaced(meet: Meet, gymnast: string, apparatus: string): boolean {
  const routine = routineOf(meet, gymnast, apparatus);
  return routine !== undefined && meet.replaced[routine.index] === true;
}
