/** The all-around: the sum of one score on every apparatus. */
import { ownStations } from '../../meet/meet.js';
import { bestOn, contestKind, gymnastWith } from './contest-kind.js';

export const allAround = contestKind<Record<never, never>>({
  name: 'all-around',
  example: 'all-around',
  keys: {},
  settingsFrom: () => ({}),
  idByDefault: () => 'all-around',
  // FIG Technical Regulations 2012.
  tiesByDefault: () => ['best-scores', 'execution', 'difficulty'],
  hasTiesOfMeet: true,
  counts: (_, all) => all.filter((a) => a.follows === null).map((a) => a.code),
  countsEverything: true,
  needsEveryApparatus: true,
  checkField: () => {},
  ranks: 'gymnasts',
  // Only the first vault counts (31 of 31 in the open data). Who does not do them all is no
  // contender, unless she brings points in.
  contenders: (meet, _, carriedIn) => {
    const codes = ownStations(meet).map((a) => a.code);
    return meet.gymnasts.flatMap((g) => {
      const hers = codes.filter((code) => g.on.includes(code));
      const carried = g.carried + carriedIn(g.id);
      if (carried === 0 && hers.length < codes.length) return [];
      return gymnastWith(
        g,
        carried,
        hers.map((code) => bestOn(meet, 1, code, [g])),
      );
    });
  },
  isLikeAllAroundFinals: true,
});
