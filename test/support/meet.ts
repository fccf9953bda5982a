/** Meets for tests, from texts as a user would write them. */
import { formatScore, type Meet, type Need, type Problem, readMeet } from '../../lib/index.js';

/** Reads a meet; fails the test when it is not sound. */
export function meetFrom(yaml: string, log = '', ranges: string | null = null): Meet {
  const { meet, problems } = readAll(yaml, log, ranges);
  const errors = problems.filter((p) => p.severity === 'error');
  if (meet === null || errors.length > 0) {
    throw new Error(`unsound meet: ${JSON.stringify(errors, null, 1)}`);
  }
  return meet;
}

/** Reads a meet, sound or not. */
export function readAll(yaml: string, log = '', ranges: string | null = null) {
  return readMeet({
    meet: { file: 'meet.yaml', text: yaml },
    log: log === '' ? null : { file: 'meet.scores.csv', text: log },
    ranges: (name) => (ranges === null ? null : { file: name, text: ranges }),
  });
}

export function problemsOf(yaml: string, log = ''): readonly Problem[] {
  return readAll(yaml, log).problems;
}

/** A log from lines without a header: `logFrom('adeyemi,VT,13.900', …)`. */
export function logFrom(...rows: readonly string[]): string {
  return `gymnast,apparatus,score,d,e,nd,note\n${rows.join('\n')}\n`;
}

/** A score as printed, for readable expectations. */
export function show(meet: Meet, score: number | null): string | null {
  return score === null ? null : formatScore(score, meet.scoring.decimals);
}

/** The numbers a commentator reads out, as printed. */
export function spoken(meet: Meet, need: Need | undefined) {
  if (need === undefined) throw new Error('no such need');
  return {
    level: show(meet, need.level),
    ahead: show(meet, need.ahead),
    onGrid: show(meet, need.onGrid),
    tieGoesTo: need.tieGoesTo,
    tieBy: need.tieBy,
    status: need.status,
  };
}
