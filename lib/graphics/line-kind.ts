/** What a kind of line is. Each kind is one record in a file of its own, and the only place that knows it. */
import type { Context } from './context.js';
import type { Fact } from './fact.js';

export interface LineKindOf<Name extends string = string> {
  /** As `--kind` and a file of templates call it. */
  readonly name: Name;
  /** What a template may name. */
  readonly fields: readonly string[];
  /** What a template may ask of a fact, and the words it may have. */
  readonly when: Readonly<Record<string, readonly string[]>>;
  /** Whether it shows what happened to somebody; what looks ahead rests on everybody's scores. */
  readonly isOfOne: boolean;
  /** Whether it is among the lines when no kind is asked for. */
  readonly isUnasked: (context: Context) => boolean;
  /** Everything there is to say of it now. */
  readonly facts: (context: Context) => Fact[];
  /** The templates that are there without a file, as a file has them; the first that holds and fits is used. */
  readonly templates: string;
}

/** Keeps the name of a record as its type. */
export function lineKind<const Name extends string>(record: LineKindOf<Name>): LineKindOf<Name> {
  return record;
}

export const always = () => true;
