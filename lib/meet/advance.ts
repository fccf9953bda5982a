/** Who goes on from a contest to the next: what the meet file says of it. */
import { type Checking, complain } from './checking.js';
import type { ContestReader, FieldOfMeet } from './known-rules.js';
import type { AdvanceRules, ContestRules } from './meet.js';
import type { ContestDocument } from './schema.js';

/** Null where nobody advances from it. */
export function readAdvance(
  checking: Checking,
  { advance }: ContestDocument,
  path: readonly (string | number)[],
  { ranks }: ContestReader,
): AdvanceRules | null {
  if (advance === undefined) return null;
  const { places, perTeam = null, reserves = 0, ties = 'rules' } = advance;
  if (perTeam !== null && ranks === 'teams') {
    complain(
      checking,
      'error',
      'wrong-value',
      [...path, 'perTeam'],
      'a contest of teams has no quota of each team',
      'delete perTeam',
    );
  }
  return { places, perTeam: ranks === 'teams' ? null : perTeam, reserves, ties };
}

/** Reports what is odd about who advances, with this field. */
export function checkAdvance(
  checking: Checking,
  { id, advance, settings }: ContestRules,
  { ranks, counts }: ContestReader,
  { gymnasts, teams, apparatus }: FieldOfMeet,
): void {
  if (advance === null) return;
  const codes = counts(settings, apparatus);
  const competing =
    ranks === 'teams'
      ? teams.length
      : gymnasts.filter((g) => g.carried > 0 || codes.every((c) => g.on.includes(c))).length;
  const { places, perTeam } = advance;
  if (places >= competing) {
    complain(
      checking,
      'warning',
      'all-advance',
      ['contests'],
      `${places} advance from ${id}, and ${competing} compete in it: everyone is through`,
      'correct places, or the list of those who compete',
    );
  }
  if (perTeam !== null && gymnasts.every((g) => g.team === null)) {
    complain(
      checking,
      'warning',
      'no-teams',
      ['contests'],
      `${id} lets ${perTeam} of a team advance, but no gymnast has a team: the quota keeps nobody out`,
      'add team: … to the gymnasts, or delete perTeam',
    );
  }
}
