/** Ids for a start list: what a hurried hand types, and nobody else's name. */
import { familyLetters, givenName, lettersOf } from './names.js';

interface Named {
  readonly id: string;
  readonly name: string;
  /** Null where it is to be found in the name. */
  readonly family: string | null;
}

/** For a name without a letter or a figure. */
const NAMELESS = 'gymnast';

/**
 * Everyone with an id; those that are given stay. One who has her family name alone is called by it.
 * Those who share it are of equal rank, and none has the bare name: each has as much of her given name
 * before it as tells her from the others (`mokafor`, `rokafor`), or a figure behind it where nothing does.
 * No id is somebody else's family name.
 */
export function withIds<T extends Named>(entrants: readonly T[]): T[] {
  const families = new Map<string, T[]>();
  for (const one of entrants) {
    const family = familyOf(one);
    const sharers = families.get(family);
    if (sharers === undefined) families.set(family, [one]);
    else sharers.push(one);
  }
  const taken = new Set(entrants.map((e) => e.id));
  const isFree = (id: string) => !taken.has(id) && !families.has(id);
  const ids = new Map<T, string>();
  for (const [family, sharers] of families) {
    const [only] = sharers;
    if (only !== undefined && sharers.length === 1 && !taken.has(family)) {
      ids.set(only, family);
      continue;
    }
    const names = givenNames(sharers);
    for (const one of sharers.filter((e) => e.id === '')) {
      const id = idWithin(givenOf(one), family, names, isFree);
      taken.add(id);
      ids.set(one, id);
    }
  }
  return entrants.map((e) => (e.id === '' ? { ...e, id: ids.get(e) ?? e.id } : e));
}

function familyOf(named: Named): string {
  const family = familyLetters(named);
  return family === '' ? NAMELESS : family;
}

function givenOf(named: Named): string {
  return lettersOf(givenName(named));
}

/** How many given names there are of each, and how many begin so. */
interface GivenNames {
  readonly whole: ReadonlyMap<string, number>;
  readonly begun: ReadonlyMap<string, number>;
}

function givenNames(sharers: readonly Named[]): GivenNames {
  const given = sharers.map(givenOf);
  return { whole: counted(given), begun: counted(given.flatMap(beginningsOf)) };
}

/** `a`, `an`, `ann` */
function beginningsOf(given: string): string[] {
  const letters = [...given];
  return letters.map((_, i) => letters.slice(0, i + 1).join(''));
}

function counted(texts: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  return counts;
}

/** Ann and Anna are `annbell` and `annabell`: a whole name tells, even where another begins with it. */
function idWithin(
  given: string,
  family: string,
  { whole, begun }: GivenNames,
  isFree: (id: string) => boolean,
): string {
  const tells = (begins: string) =>
    (begins === given ? whole.get(given) : begun.get(begins)) === 1 && isFree(`${begins}${family}`);
  const begins = beginningsOf(given).find(tells);
  if (begins !== undefined) return `${begins}${family}`;
  for (let n = 1; ; n++) {
    const id = `${given}${family}${n}`;
    if (isFree(id)) return id;
  }
}
