/**
 * What was found out for an answer, so that the next one begins where it ends. Kept beside the answer and
 * never part of it: an answer that was read from a file has nothing, and everything is worked out anew.
 */
import type { LogValues } from '../meet/log.js';
import type { Meet } from '../meet/meet.js';
import type { Moment } from './moment.js';
import type { Told } from './point.js';

/** Of which meet and contest, and by which rows. */
export interface Subject {
  readonly meet: Meet;
  readonly contest: string;
  readonly values: readonly LogValues[];
}

/** What holds of the first rows. */
export interface Kept {
  readonly rows: number;
  readonly start: Moment;
  readonly told: readonly Told[];
}

interface Entry extends Omit<Kept, 'rows'> {
  readonly plan: string;
  readonly rows: readonly string[];
}

const entries = new WeakMap<object, Entry>();

/** Keeps it beside an answer. */
export function keep(answer: object, subject: Subject, found: Omit<Kept, 'rows'>): void {
  entries.set(answer, { ...found, plan: planOf(subject), rows: textsOf(subject) });
}

/** What an earlier answer found out about the rows that are the same; null where it is about something else. */
export function keptOf(answer: object | null, subject: Subject): Kept | null {
  const entry = answer === null ? undefined : entries.get(answer);
  if (entry === undefined || entry.plan !== planOf(subject)) return null;
  const texts = textsOf(subject);
  const differs = entry.rows.findIndex((text, i) => text !== texts[i]);
  const rows = differs < 0 ? entry.rows.length : differs;
  const { start, told } = entry;
  return { rows, start, told: told.filter(({ point }) => point.row <= rows) };
}

/** Everything a chance can hang on but the log, as a text to be compared. */
function planOf({ meet, contest }: Subject): string {
  const { discipline, apparatus, scoring, contests, medals, teams, planned, rangesGiven } = meet;
  const plan = { contest, discipline, apparatus, scoring, contests, medals, teams, planned };
  return JSON.stringify({ ...plan, rangesGiven }, (_, value: unknown) =>
    value instanceof Map ? [...value] : value,
  );
}

function textsOf({ values }: Subject): string[] {
  return values.map((row) => JSON.stringify(row));
}
