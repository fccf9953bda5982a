/** `outcomes`: bands that touch, differ, and bring the place they say. */
import fc from 'fast-check';
import { LastRotationError, type Outcomes, outcomes } from '../../../lib/index.js';
import {
  type Ask,
  assumeFor,
  type Case,
  caseArb,
  must,
  type Put,
  putQuestion,
  type Read,
  randomFrom,
  readCase,
} from '../asking.js';
import { chanceFrom } from '../chance.js';
import { against, breakTie, mayTurn } from '../naive.js';

export const bandsAreTrue = fc.property(caseArb(2), ({ sketch, asks }: Case) => {
  const read = readCase(sketch);
  for (const ask of asks) checkBands(read, ask);
});

function bandsOf(read: Read, put: Put): Outcomes | string {
  try {
    // The chances at the end have laws of their own.
    return outcomes(read.meet, put.named, { ...put.options, chances: false });
  } catch (error) {
    if (error instanceof LastRotationError) return error.code;
    throw error;
  }
}

function checkBands(read: Read, ask: Ask): void {
  const put = putQuestion(read, ask);
  if (put === null) return;
  const { rules } = put.court;
  const { missing, limit, her, rivals } = assumeFor(put);
  const answer = bandsOf(read, put);
  const check = (holds: boolean, what: string) =>
    must(
      holds,
      read.sketch,
      () => `${what}\n${JSON.stringify({ who: put.named, ...put.options, answer })}`,
    );
  if (missing.length > 0) {
    check(typeof answer === 'string', `something is missing: ${missing.join()}`);
    return;
  }
  check(typeof answer === 'object', 'expected bands');
  if (typeof answer === 'string') return;
  const { bands } = answer;
  check(bands.length > 0, 'there is a band');
  check(bands[0]?.to === limit, `the first band ends at ${limit}, whatever D is expected`);
  check(bands.at(-1)?.from === 0, 'the last band goes down to 0');
  const random = randomFrom(ask.seed);
  for (const score of [0, limit, ...Array.from({ length: 20 }, () => random(limit + 1))]) {
    const lines = bands.filter(({ from, to }) => from <= score && score <= to);
    check(lines.length === 1, `${lines.length} bands for ${score}`);
  }
  for (const [i, band] of bands.entries()) {
    const { from, to, place, tied, open, chance } = band;
    checkTie(put, band, { her, rivals }, check);
    const lower = bands[i + 1];
    check(to >= from, `band ${i} is not empty`);
    if (lower !== undefined) {
      check(lower.to === from - 1, `bands ${i} and ${i + 1} touch`);
      const differ = lower.place !== place || lower.tied !== tied;
      check(
        differ || (mayTurn(put.court) && lower.open !== open),
        `bands ${i} and ${i + 1} differ`,
      );
      if (!mayTurn(put.court)) {
        check(lower.place >= place, `band ${i + 1} is no better than the one above it`);
      }
    }
    for (const score of [from, to, from + random(to - from + 1)]) {
      const { ahead, equal, open: unclear } = against(her(score), rivals, rules);
      check(
        place === 1 + ahead && tied === equal + unclear > 0 && open === unclear > 0,
        `with ${score} she is ${1 + ahead}, ${equal} level, ${unclear} open`,
      );
    }
    const [atLeast, above] = [from, to + 1].map((s) => chanceFrom(put.court, put.asked, s));
    if (atLeast == null || above == null) check(chance === null, 'no range, no chance');
    else {
      const within = atLeast - above;
      check(Math.abs((chance ?? -1) - within) < 1e-9, `the chance of band ${i} is ${within}`);
    }
  }
}

/** Where a band is one total, it names those with whom she shares the place, or is level by a rule. */
function checkTie(
  { court }: Put,
  band: Outcomes['bands'][number],
  { her, rivals }: Pick<ReturnType<typeof assumeFor>, 'her' | 'rivals'>,
  check: (holds: boolean, what: string) => void,
): void {
  const { from, to, levelWith, tieBy } = band;
  const own = her(from);
  if (to === null || her(to).total !== own.total) {
    check(levelWith.length === 0 && tieBy === null, `from ${from} nobody is level all along`);
    return;
  }
  const level = rivals.filter((r) => r.placed && !r.out && r.total === own.total);
  const tie = breakTie([own, ...level], court.rules);
  const ties = level.map((r) => ({ id: r.who.id, ...tie.compare(own, r) }));
  const unbroken = ties.filter((t) => t.order === 'equal' || t.order === 'open');
  const named = unbroken.length > 0 ? unbroken : ties;
  check(
    [...levelWith].sort().join() ===
      named
        .map((t) => t.id)
        .sort()
        .join(),
    `with ${from} she is level with ${named.map((t) => t.id).join()}`,
  );
  const rules = [...new Set(named.map((t) => t.by))];
  const by = rules.length === 1 ? (rules[0] ?? null) : null;
  check(tieBy === by, `with ${from} it is decided by ${by}`);
}
