/**
 * What is read again and again, and kept while it cannot be read or has lost something. Pure: the time, in
 * milliseconds, comes with each look.
 */

/** What was found at a look: something good, or what is wrong. */
export type Found<T> =
  | { readonly good: T }
  | {
      readonly wrong: Error;
      /** Makes what there is instead, should somebody want it; null where nothing can be read. */
      readonly instead: (() => T) | null;
      /** Little enough to be a mend by hand: taken by itself once it has stood for a while. */
      readonly isMend: boolean;
      /** The same for the same loss. */
      readonly mark: string;
    };

export interface Trouble<T> extends Exclude<Found<T>, { good: T }> {
  readonly since: number;
  /** Since when it has been this trouble and no other. */
  readonly same: number;
  /** What is wrong, or what it last was for longer than it takes to save a file. */
  readonly said: Error;
}

export interface Kept<T> {
  /** The last that was good. */
  readonly good: T;
  readonly trouble: Trouble<T> | null;
  /** What was missing when something was last taken all the same; null as long as nothing was. */
  readonly taken: Error | null;
}

/** An editor empties a file before it writes it: no longer than this. */
export const GRACE_MS = 500;

/** A mend by hand is taken once it has stood for so long. */
export const MEND_MS = 10_000;

/** Not everything that is wrong with a file can be seen from outside, so it is read again. */
const AGAIN_MS = 1000;

/** The same with what was found now. */
export function keep<T>(kept: Kept<T>, found: Found<T>, at: number): Kept<T> {
  if ('good' in found) return { ...kept, good: found.good, trouble: null };
  const { trouble } = kept;
  const same = trouble !== null && trouble.mark === found.mark ? trouble.same : at;
  const isSaving = trouble !== null && isStale(kept, at) && at - same < GRACE_MS;
  const said = isSaving ? trouble.said : found.wrong;
  return { ...kept, trouble: { ...found, since: trouble?.since ?? at, same, said } };
}

/** Whether it has been wrong for longer than it takes to save a file. */
export function isStale<T>({ trouble }: Kept<T>, at: number): boolean {
  return trouble !== null && at - trouble.since >= GRACE_MS;
}

/** Whether what is missing has been missing for so long that somebody meant it. */
export function isMended<T>({ trouble }: Kept<T>, at: number): boolean {
  return trouble?.isMend === true && at - trouble.same >= MEND_MS;
}

/** In how many milliseconds time alone changes something, or it should be looked at again; null for never. */
export function dueIn<T>(kept: Kept<T>, at: number): number | null {
  const { trouble } = kept;
  if (trouble === null) return null;
  const due = [at + AGAIN_MS];
  if (!isStale(kept, at)) due.push(trouble.since + GRACE_MS);
  else if (at - trouble.same < GRACE_MS) due.push(trouble.same + GRACE_MS);
  if (trouble.isMend && !isMended(kept, at)) due.push(trouble.same + MEND_MS);
  return Math.max(Math.min(...due) - at, 1);
}
