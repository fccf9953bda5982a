/**
 * Which meets are sound: those that were read without an error, and those made from them. Nothing else
 * passes the public face, so that no answer rests on a gymnast listed twice or on points taken for units.
 */
import { badUsage } from '../error.js';

const sound = new WeakSet<object>();

/** Declares a meet sound, and fixes it: whoever holds it cannot change it into something else. */
export function asSound<M extends object>(meet: M): M {
  freeze(meet);
  sound.add(meet);
  return meet;
}

/** A meet with some of it otherwise; as sound as the one it is made from. */
export function derived<M extends object>(meet: M, changes: Partial<M>): M {
  const next = { ...meet, ...changes };
  if (sound.has(meet)) sound.add(next);
  return next;
}

/** Throws for a meet that this library did not make: a plain object, or a copy with something changed. */
export function requireSound(meet: object): void {
  if (sound.has(meet)) return;
  throw badUsage(
    'unsound-meet',
    'this meet was put together by hand, and nobody has checked it',
    'pass the meet that readMeet, openMeet or record gave; to change a score, record it',
  );
}

/** What is frozen already was frozen as a whole. */
function freeze(value: unknown): void {
  if (value === null || typeof value !== 'object' || Object.isFrozen(value)) return;
  Object.freeze(value);
  for (const child of Object.values(value)) freeze(child);
}
