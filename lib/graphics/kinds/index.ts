/** Every kind of line there is, in the order they are said: a new one is a file beside this, and a line here. */

import type { LineKindOf } from '../line-kind.js';
import { change } from './change.js';
import { final } from './final.js';
import { likeForLike } from './like-for-like.js';
import { medals } from './medals.js';
import { need } from './need.js';
import { outcome } from './outcome.js';
import { rotation } from './rotation.js';
import { settled } from './settled.js';
import { standing } from './standing.js';

export const KINDS = [
  change,
  rotation,
  settled,
  final,
  standing,
  likeForLike,
  need,
  outcome,
  medals,
] as const satisfies readonly LineKindOf[];

/** What a line says: `need`, `outcome`, `standing`, `settled`, … as docs/graphics.md has them. */
export type LineKind = (typeof KINDS)[number]['name'];

/**
 * In the order they are said.
 * @example
 * LINE_KINDS.join(' ') // → 'change rotation settled final standing like-for-like need outcome medals'
 */
export const LINE_KINDS: readonly LineKind[] = KINDS.map((kind) => kind.name);
