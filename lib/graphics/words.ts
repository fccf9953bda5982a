/** The shorter forms of names. */
import { apparatusOf, type Meet } from '../meet/meet.js';
import { nameForms } from '../meet/names.js';
import { percent } from '../report/words.js';

/** How far names are shortened; a line is said with all of them the same. */
export interface Short {
  readonly name: 'whole' | 'initial' | 'family';
  readonly apparatus: 'name' | 'code';
  readonly team: 'name' | 'id';
}

export const SHORTEST: Short = { name: 'family', apparatus: 'code', team: 'id' };

/** What is shortened, in this order, each step on top of those before it. */
export const SHORTENING: readonly Short[] = [
  { name: 'whole', apparatus: 'name', team: 'name' },
  { name: 'initial', apparatus: 'name', team: 'name' },
  { name: 'initial', apparatus: 'code', team: 'name' },
  { name: 'initial', apparatus: 'code', team: 'id' },
  SHORTEST,
];

/** A part of a line that may be shortened. */
export type Words = (short: Short) => string;

export interface Names {
  /** Of a gymnast or a team, by id. */
  readonly of: (id: string) => Words;
  readonly apparatus: (code: string) => Words;
}

/** The names of a meet. */
export function namesOf(meet: Meet): Names {
  const forms = nameForms(meet);
  const teams = new Map(meet.teams.map((t) => [t.id, t.name]));
  return {
    of: (id) => (short) => {
      const name = forms.get(id);
      if (name !== undefined) return name[short.name];
      return short.team === 'id' ? id : (teams.get(id) ?? id);
    },
    apparatus: (code) => (short) =>
      short.apparatus === 'code' ? code : (apparatusOf(meet, code)?.name ?? code),
  };
}

/** Nothing that is still to be scored is said to be sure. */
export function chanceText(chance: number): string {
  return percent(Math.min(chance, 1 - Number.EPSILON));
}
