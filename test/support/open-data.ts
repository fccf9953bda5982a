/**
 * Open data: 20,815 routines, 27 February 2022 to 27 August 2023, from the UCSAS 2024 data challenge
 * (University of Connecticut), names replaced by codes. Its publisher states no licence, so no row of
 * it is here: the file is read from the folder that the environment variable LASTROTATION_DATA names.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { formatScore, parseScore } from '../../lib/index.js';

export const FOLDER = process.env.LASTROTATION_DATA ?? '';
export const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';

export interface Row {
  /** Its line in the file. */
  readonly id: string;
  readonly gymnast: string;
  readonly discipline: string;
  /** The country. */
  readonly noc: string;
  readonly date: string;
  readonly competition: string;
  readonly round: string;
  readonly apparatus: string;
  readonly d: number;
  readonly e: number;
  readonly nd: number;
  readonly score: number;
  /** Null where none was published. */
  readonly place: number | null;
}

function units(text: string): number {
  const parsed = parseScore(text, 3);
  if ('wrong' in parsed) throw new Error(parsed.wrong);
  return parsed.value;
}

function readRows(): Row[] {
  const text = readFileSync(join(FOLDER, 'routines-2022-2023.csv'), 'utf8');
  const { data } = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
  return data.map((r, i) => {
    const of = (column: string) => r[column] ?? '';
    return {
      id: `r${i + 2}`,
      gymnast: of('gymnast'),
      discipline: of('discipline'),
      noc: of('noc'),
      date: of('date'),
      competition: of('competition'),
      round: of('round'),
      apparatus: of('apparatus'),
      d: units(of('d')),
      e: units(of('e')),
      nd: units(of('nd')),
      score: units(of('score')),
      place: of('place') === '' ? null : Number(of('place')),
    };
  });
}

/** Made when a test first asks for it, so that nothing is read where the tests are skipped. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

export const routines = once(readRows);

export function groupedBy<T>(items: readonly T[], key: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(key(item));
    if (group === undefined) groups.set(key(item), [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

export function countOf<T>(items: readonly T[], of: (item: T) => string): Record<string, number> {
  return Object.fromEntries(groupedBy(items, of).map((g) => [of(g[0] as T), g.length]));
}

export const meetOf = (r: Row) => [r.discipline, r.competition, r.date].join('|');
export const addsUp = ({ d, e, nd, score }: Row) => Math.max(d + e - nd, 0) === score;
export const published = (score: number) => formatScore(score, 3);

/** A row of the score log; where the parts do not add up, E alone, and D is worked out from it. */
export function logRow(r: Row, gymnast: string, on = r.apparatus): string {
  const [d, e, nd] = [r.d, r.e, r.nd].map(published);
  const parts = addsUp(r) ? [d, e, nd] : ['', e, ''];
  return [gymnast, on, published(r.score), ...parts].join(',');
}
