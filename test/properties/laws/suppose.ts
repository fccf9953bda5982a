/** `suppose` of a score is what recording it would be; the meet stays as it is. */
import fc from 'fast-check';
import { chances } from '../../../lib/chances/chances.js';
import { LastRotationError, type Meet, needs, standings, suppose } from '../../../lib/index.js';
import { amount, type LogLine, limitWith, readSketch } from '../../support/random-meet.js';
import { type Case, caseArb, contestId, must, randomFrom, readCase } from '../asking.js';

/** Chances take the longest by far: where not too much is to come, and not every time. */
const CHANCES_EVERY = 8;
const MOST_TO_COME = 10;

function chancesIn(meet: Meet, contest: string): unknown {
  try {
    return chances(meet, null, { contest });
  } catch (error) {
    if (error instanceof LastRotationError && error.code === 'missing-range') return null;
    throw error;
  }
}

export const supposingIsRecording = fc.property(caseArb(1), ({ sketch, asks: [ask] }: Case) => {
  const { facts, meet } = readCase(sketch);
  const random = randomFrom(ask?.seed ?? 0);
  const before = JSON.stringify(meet);
  const told = new Map<string, LogLine>();
  for (let i = 0; i < 2 && facts.routines.length > 0; i++) {
    const routine = facts.routines[random(facts.routines.length)];
    if (routine === undefined || told.has(routine.key)) continue;
    const { key, gymnast, apparatus } = routine;
    const { low, likely, high, d = null } = facts.ranges.get(key) ?? {};
    const wanted = [low, likely, high, 3, (ask?.total ?? 0) * 700][random(5)] ?? 5;
    // Not below D, where no E is left; not above the limit, nor E above 10.000.
    const score = Math.min(Math.max(wanted, d ?? 0), limitWith(sketch, apparatus, d));
    told.set(key, { gymnast, apparatus, score, d, e: null, nd: null });
  }
  if (told.size === 0) return;
  const suppositions = [...told.values()].map(({ gymnast, apparatus, score }) => ({
    gymnast,
    apparatus,
    score: amount(Number(score), sketch.decimals),
  }));
  const recorded = { ...sketch, log: [...sketch.log, ...told.values()] };
  const after = readSketch(recorded);
  const same = (what: string, is: unknown, should: unknown) =>
    must(
      JSON.stringify(is) === JSON.stringify(should),
      recorded,
      () =>
        `${what} of ${JSON.stringify(suppositions)} is\n${JSON.stringify(is)}\n` +
        `and recorded\n${JSON.stringify(should)}`,
    );
  for (const sketched of sketch.contests) {
    const contest = contestId(sketched);
    const toCome = meet.results.filter((r) => r === null).length;
    const withChances = (ask?.seed ?? 0) % CHANCES_EVERY === 0 && toCome <= MOST_TO_COME;
    const supposed = suppose(meet, suppositions, { contest, chances: withChances });
    same('the meet', JSON.stringify(meet), before);
    same('the board before', supposed.before, standings(meet, { contest }));
    same('the board after', supposed.after, standings(after, { contest }));
    const chancesOf = (of: Meet) => (withChances ? chancesIn(of, contest) : null);
    same('the chances before', supposed.chances.before, chancesOf(meet));
    same('the chances after', supposed.chances.after, chancesOf(after));
    for (const sheet of supposed.needs) {
      const { gymnast, apparatus: on } = sheet;
      same(`the sheet of ${gymnast}`, sheet, needs(after, gymnast, { contest, on }));
    }
  }
});
