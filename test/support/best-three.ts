/**
 * A contest that counts the best three of a gymnast's scores, whatever the apparatus, so that one of
 * four is dropped. No meet is known to hold it: it shows that a kind of contest is one record.
 */
import { ownStations, routineOf } from '../../lib/meet/meet.js';
import { contestKind, gymnastWith } from '../../lib/rules/contests/contest-kind.js';
import { CONTEST_KINDS } from '../../lib/rules/contests/index.js';

export const bestThree = contestKind<Record<never, never>>({
  name: 'best-three',
  example: '{ kind: best-three }',
  keys: {},
  settingsFrom: () => ({}),
  idByDefault: () => 'best-three',
  tiesByDefault: () => ['highest-score'],
  hasTiesOfMeet: false,
  counts: (_, all) => all.filter((a) => a.follows === null).map((a) => a.code),
  countsEverything: true,
  needsEveryApparatus: false,
  checkField: () => {},
  ranks: 'gymnasts',
  // Who withdraws from one apparatus has three others: she is not out by it.
  contenders: (meet) =>
    meet.gymnasts.map((g) => {
      const routines = ownStations(meet).flatMap(
        ({ code }) => routineOf(meet, g.id, code)?.index ?? [],
      );
      const part = { apparatus: 'best', rule: { kind: 'best', count: 3 }, routines } as const;
      return { ...gymnastWith(g, g.carried, [part]), outByDns: false };
    }),
  isLikeAllAroundFinals: false,
});

// Once, however many files of tests use it: they share what they load.
if (!CONTEST_KINDS.includes(bestThree)) CONTEST_KINDS.push(bestThree);
