/** An apparatus contest: one score, or the average of two vaults, cut to the unit. */
import * as v from 'valibot';
import { routineOf } from '../../meet/meet.js';
import { apparatusCode, whole } from '../../meet/values.js';
import { apparatusMend } from '../../meet/which-apparatus.js';
import type { PartRule } from '../contender.js';
import { contestKind, gymnastWith } from './contest-kind.js';

interface Settings {
  readonly on: string;
  readonly vaults: 1 | 2;
}

/** The apparatus on which two routines may count. */
const VAULT = 'VT';
const SECOND_VAULT = 'VT2';

const codesOf = ({ on, vaults }: Settings) => (vaults === 2 ? [VAULT, SECOND_VAULT] : [on]);

export const apparatus = contestKind<Settings>({
  name: 'apparatus',
  example: '{ kind: apparatus, on: UB }',
  keys: { on: apparatusCode, vaults: v.optional(whole(1, 2)) },
  settingsFrom: (given, discipline, complain) => {
    const on = String(given.on);
    const codes = discipline.map((a) => a.code);
    if (!codes.includes(on)) {
      const message = `${on} is not an apparatus of the discipline`;
      complain('on', 'unknown-apparatus', message, apparatusMend(on, discipline, 'choose from'));
      return null;
    }
    if (given.vaults === 2 && on !== VAULT) {
      complain(
        'vaults',
        'wrong-value',
        `there are no two vaults on ${on}`,
        'vaults: 2 goes with on: VT',
      );
      return null;
    }
    return { on, vaults: given.vaults === 2 ? 2 : 1 };
  },
  idByDefault: ({ on }) => on,
  // Of one routine: 82 of 89 tied pairs in the open data by E. Of two vaults: AP, 19 June 2012.
  tiesByDefault: ({ vaults }) =>
    vaults === 2 ? ['best-vault', 'difficulty'] : ['execution', 'difficulty'],
  hasTiesOfMeet: false,
  counts: codesOf,
  countsEverything: false,
  needsEveryApparatus: false,
  checkField: () => {},
  ranks: 'gymnasts',
  contenders: (meet, settings, carriedIn) => {
    const codes = codesOf(settings);
    const rule: PartRule = settings.vaults === 2 ? { kind: 'mean' } : { kind: 'best', count: 1 };
    return meet.gymnasts
      .filter((g) => codes.every((code) => g.on.includes(code)))
      .map((g) => {
        const routines = codes.flatMap((code) => routineOf(meet, g.id, code)?.index ?? []);
        return gymnastWith(g, carriedIn(g.id), [{ apparatus: settings.on, rule, routines }]);
      });
  },
  isLikeAllAroundFinals: false,
});
