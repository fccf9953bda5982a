/** A document under check: what stands in it, where, and where problems go. */
import type { ProblemCode } from '../codes.js';
import type { Scoring } from '../scoring.js';
import type { LineOf, Path } from './document.js';
import type { KnownRules } from './known-rules.js';
import type { Meet } from './meet.js';
import { type Problem, type ProblemList, report, type Severity } from './problems.js';
import type { MeetDocument } from './schema.js';

export interface Checking {
  readonly document: MeetDocument;
  readonly rules: KnownRules;
  readonly scoring: Scoring;
  readonly lineOf: LineOf;
  readonly list: ProblemList;
  /** The meet of an earlier day, by the name of its file; null when there is none. */
  readonly earlier: (file: string) => Earlier | null;
}

export interface Earlier {
  readonly meet: Meet | null;
  readonly problems: readonly Problem[];
}

/** Reports a problem at a place in the document. */
export function complain(
  { lineOf, list }: Checking,
  severity: Severity,
  code: ProblemCode,
  path: Path,
  message: string,
  mend: string,
): void {
  report(list, severity, code, lineOf(path), message, mend);
}
