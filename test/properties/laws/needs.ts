/** What DESIGN.md says of one need, checked against the naive judge. */
import fc from 'fast-check';
import { LastRotationError, type Need, needs, type Target } from '../../../lib/index.js';
import { asScore } from '../../../lib/score.js';
import { amount } from '../../support/random-meet.js';
import {
  type Ask,
  type Assumed,
  assumeFor,
  type Case,
  caseArb,
  holdOf,
  must,
  type Put,
  putQuestion,
  type Read,
  randomFrom,
  readCase,
  toComeOf,
  type Wanted,
  wantedBy,
} from '../asking.js';
import { chanceFrom } from '../chance.js';
import {
  against,
  gridFrom,
  isEven,
  keysOf,
  mayTurn,
  placesOf,
  recordedWorld,
  type Stand,
  standOf,
  standsIn,
} from '../naive.js';

/** Every need of a random meet is what the design says it is. */
export const needsAreTrue = fc.property(caseArb(3), ({ sketch, asks }: Case) => {
  const read = readCase(sketch);
  for (const ask of asks) checkAsk(read, ask);
});

/** What `needs` answers, or the code of its refusal. */
function askFor(read: Read, put: Put, target: Target, margin: number): Need | string {
  try {
    const [need] = needs(read.meet, put.named, {
      ...put.options,
      for: target,
      margin: asScore(margin),
    }).needs;
    return need ?? 'nothing';
  } catch (error) {
    if (error instanceof LastRotationError) return error.code;
    throw error;
  }
}

/** What is missing of what the answer hangs on: a total is her own, and with few enough rivals any place is hers. */
function hangingOn({ court, her }: Put, { missing }: Assumed, wanted: Wanted): readonly string[] {
  const isOf = (id: string) => (key: string) =>
    keysOf(court.contenders.find((c) => c.id === id) ?? her).includes(key);
  if (wanted.kind === 'total') return missing.filter(isOf(her.id));
  if (wanted.kind === 'beat') return missing.filter((k) => isOf(her.id)(k) || isOf(wanted.id)(k));
  const world = recordedWorld(court.facts);
  const rivals = court.contenders.filter((c) => c !== her && !standOf(c, world).out);
  return rivals.length < (wanted.place ?? 1) ? [] : missing;
}

function marginOf(read: Read, ask: Ask): number {
  const point = 10 ** read.sketch.decimals;
  return [1, point / 2, point][ask.margin] ?? 0;
}

function checkAsk(read: Read, ask: Ask): void {
  const put = putQuestion(read, ask);
  if (put === null) return;
  const wanted = wantedBy(put, ask);
  const margin = marginOf(read, ask);
  const assumed = assumeFor(put);
  const answer = askFor(read, put, wanted.text, margin);
  const { sketch } = read;
  const show = (score: number | null) => (score === null ? null : amount(score, sketch.decimals));
  const told = () =>
    JSON.stringify({
      who: put.named,
      asked: put.asked,
      target: wanted.text,
      margin: show(margin),
      ...put.options,
      d: show(put.d),
      answer,
    });
  const check = (holds: boolean, what: string) => must(holds, sketch, () => `${what}\n${told()}`);

  if (wanted.kind === 'hold' && wanted.place === null) {
    check(answer === wanted.because, `there is no place to hold: ${wanted.because}`);
    return;
  }
  const missing = hangingOn(put, assumed, wanted);
  if (missing.length > 0) {
    check(answer === 'missing-range', `expected missing-range for ${missing.join(', ')}`);
    return;
  }
  check(typeof answer === 'object', 'expected a need');
  if (typeof answer === 'string') return;
  checkSheet(read, put, wanted.text, check);

  const goal = goalOf(put, assumed, wanted, margin);
  checkAhead(answer, assumed, goal, ask, check);
  // Where a higher score can cost a tie, a lower one than `ahead` may do, but not for certain.
  if (margin > 0 || !mayTurn(put.court)) checkLower(answer, goal, ask, check);
  checkMark(answer, put, goal, check);
  checkLevel(answer, assumed, goal, margin, check);
  checkTie(answer, goal, check);
  checkWords(answer, put, assumed, check);
  checkRemaining(answer, put, goal, margin, check);
}

type Check = (holds: boolean, what: string) => void;

/** Where she stands now, beside the needs. */
function checkSheet({ meet }: Read, put: Put, target: Target, check: Check): void {
  const { court, her } = put;
  const world = recordedWorld(court.facts);
  const sheet = needs(meet, put.named, { ...put.options, for: target });
  const own = standOf(her, world);
  const place = placesOf(standsIn(court, world), court.rules).get(her.id);
  check(`${sheet.gymnast}/${sheet.apparatus}` === put.asked, `asked is ${put.asked}`);
  check(sheet.contender === her.id, `it is about ${her.id}`);
  check(sheet.total === own.total, `her total is ${own.total}`);
  check(sheet.done === own.done, `she has done ${own.done}`);
  check(sheet.place === (place?.place ?? null), `her place is ${place?.place}`);
  const hold = holdOf(court, her).place;
  const by = isEven(court, world) ? 'board' : 'projection';
  check(
    hold === null ? sheet.hold === null : sheet.hold?.place === hold && sheet.hold.by === by,
    `the place to hold is ${hold}, by ${by}`,
  );
  const toCome = toComeOf(court, her, world).map((key) => key.split('/')[1] ?? '');
  check(sheet.toCome.join() === toCome.join(), `to come: ${toCome.join()}`);
}

/** What must be met, and when it is. */
interface Goal {
  readonly reached: (score: number) => boolean;
  /** The rivals she is measured by, and the place she must have among them; none for a total. */
  readonly measured: { readonly counted: readonly Stand[]; readonly place: number } | null;
  /** The total of the mark, without the margin. */
  readonly mark: number | null;
  /** The total that makes her level with what is asked; null where anything will do. */
  readonly level: number | null;
  readonly tie: (score: number) => ReturnType<typeof against> | null;
}

function goalOf(put: Put, { rivals, her }: Assumed, wanted: Wanted, margin: number): Goal {
  const { rules } = put.court;
  const anything: Goal = {
    reached: () => true,
    measured: null,
    mark: null,
    level: null,
    tie: () => null,
  };
  if (wanted.kind === 'total') {
    const { total } = wanted;
    const level = total + margin;
    return { ...anything, reached: (s) => her(s).total >= level, mark: total, level };
  }
  const able = rivals.filter((r) => r.placed && !r.out);
  const counted = wanted.kind === 'beat' ? able.filter((r) => r.who.id === wanted.id) : able;
  const place = wanted.kind === 'beat' ? 1 : (wanted.place ?? 1);
  const totals = counted.map((r) => r.total).sort((a, b) => b - a);
  const mark = totals[place - 1];
  if (mark === undefined) return anything;
  const level = mark + margin;
  if (margin > 0) {
    const reached = (score: number) => her(score).total >= level;
    return { ...anything, reached, measured: { counted, place }, mark, level };
  }
  const tie = (score: number) => against(her(score), rivals, rules, counted);
  const reached = (score: number) => {
    const { ahead, equal, open } = tie(score);
    return ahead + equal + open < place;
  };
  return { reached, measured: { counted, place }, mark, level, tie };
}

/** Reached at `ahead`, not one unit below, and by no higher score lost again. */
function checkAhead({ ahead }: Need, { limit }: Assumed, goal: Goal, ask: Ask, check: Check): void {
  check(ahead !== null && ahead >= 0 && Number.isInteger(ahead), 'ahead is a score');
  if (ahead === null) return;
  check(goal.reached(ahead), 'ahead reaches the target');
  const random = randomFrom(ask.seed);
  check(ahead === 0 || !goal.reached(ahead - 1), 'one unit less does not reach it');
  const top = Math.max(limit, ahead);
  for (let i = 1; i <= 50; i++) check(goal.reached(ahead + i), `${ahead + i} does not lose it`);
  for (let i = 0; i < 6; i++) {
    const higher = ahead + 51 + random(top + 2000);
    check(goal.reached(higher), `the higher ${higher} does not lose it`);
  }
}

/** No lower score does it. */
function checkLower({ ahead }: Need, goal: Goal, ask: Ask, check: Check): void {
  if (ahead === null || ahead === 0) return;
  const random = randomFrom(ask.seed);
  for (let i = 0; i < 5; i++) {
    const lower = i < 3 ? Math.max(ahead - 2 - i, 0) : random(ahead);
    check(!goal.reached(lower), `the lower ${lower} does not reach it`);
  }
}

/** The mark is the k-th best of the rivals, or the one to beat. */
function checkMark({ mark }: Need, put: Put, { mark: total, measured }: Goal, check: Check): void {
  if (measured === null) {
    if (mark !== null && mark.id === null) check(mark.total === total, `mark is ${total}`);
    return;
  }
  check(mark !== null && mark.total === total, `the mark's total is ${total}`);
  const stand = measured.counted.find((r) => r.who.id === mark?.id);
  check(stand !== undefined && stand.total === total, 'the mark is a rival on that total');
  if (stand === undefined) return;
  const { ahead, equal, open } = against(stand, measured.counted, put.court.rules);
  check(ahead < measured.place, 'fewer rivals than the place asked for are ahead of the mark');
  check(ahead + equal + open >= measured.place - 1, 'the mark is not better than that place');
}

function checkLevel(
  { level, ahead }: Need,
  { her }: Assumed,
  { level: total }: Goal,
  margin: number,
  check: Check,
): void {
  if (total === null) {
    check(level === null && ahead === 0, 'without a mark it is secured');
    return;
  }
  if (level === null) {
    check(her(0).total > total, 'level is null only where 0.000 is too much already');
    return;
  }
  check(her(level).total === total, 'level makes the totals equal');
  check(level === 0 || her(level - 1).total < total, 'level is the lowest such score');
  if (margin > 0) check(level === ahead, 'with a margin level and ahead are one');
}

/** To whom the tie at `level` goes, by which rule, and which rules were skipped. */
function checkTie({ level, tieGoesTo, tieBy, skipped }: Need, goal: Goal, check: Check): void {
  const tie = level === null ? null : goal.tie(level);
  if (tie === null || goal.measured === null) {
    check(tieGoesTo === null && tieBy === null, 'there is no tie to speak of');
    return;
  }
  // An open comparison may yet turn out either way, or be equal.
  const { place } = goal.measured;
  const endings = new Set<string>();
  for (let lost = 0; lost <= tie.open; lost++) {
    for (let shared = 0; shared + lost <= tie.open; shared++) {
      const ahead = tie.ahead + lost;
      const level = tie.equal + shared;
      endings.add(ahead + level < place ? 'her' : ahead >= place ? 'rival' : 'shared');
    }
  }
  const [only = ''] = endings;
  const expected = endings.size === 1 ? only : 'open';
  check(tieGoesTo === expected, `the tie goes to ${expected}`);
  const byWhom = { her: 'behind', rival: 'ahead', open: 'open' } as const;
  if (expected === 'shared') check(tieBy === null, 'no rule decides a shared tie');
  else {
    const rules = tie.by[byWhom[expected as 'her' | 'rival' | 'open']];
    // Rivals with higher totals may have taken the place already, so that no rule is needed.
    check(
      rules.size === 0 ? tieBy === null : tieBy !== null && rules.has(tieBy),
      `the tie is decided by ${[...rules].join(' or ') || 'no rule'}`,
    );
  }
  for (const rule of skipped) check(tie.lacking.includes(rule), `${rule} has all its data`);
  // Who stays equal to the end has passed every rule; else one that is not reached need not be named.
  if (tie.equal === 0) return;
  for (const rule of tie.lacking) check(skipped.includes(rule), `${rule} is skipped, and said so`);
}

/** What is said of `ahead`: on the grid, by E, by falls, by her range, in one word. */
function checkWords(need: Need, put: Put, { limit }: Assumed, check: Check): void {
  const { court, asked } = put;
  const { sketch, facts } = court;
  const ahead = need.ahead ?? 0;
  const grid = gridFrom(facts, sketch.decimals, ahead);
  const onGrid = grid > limit ? null : grid;
  check(need.onGrid === onGrid, `on the grid it is ${onGrid}`);

  const range = facts.ranges.get(asked) ?? {};
  const d = put.d ?? range.d ?? null;
  if (d === null) check(need.e === null, 'without D there is no E');
  else if (ahead > 0) check(need.e === Math.max(ahead - d, 0), `E is ${ahead - d}`);

  const { likely, high } = range;
  const falls =
    likely === undefined || likely < ahead ? null : Math.floor((likely - ahead) / facts.fall);
  check(need.fallsAffordable === falls, `she can afford ${falls} falls`);

  const chance = chanceFrom(court, asked, ahead);
  if (chance === null) check(need.reach === null, 'no range, no reach');
  else check(Math.abs((need.reach ?? -1) - chance) < 1e-9, `the reach is ${chance}`);

  const { level } = need;
  const status =
    ahead === 0
      ? 'secured'
      : level !== null && level > limit
        ? 'impossible'
        : ahead > limit
          ? 'level-only'
          : high !== undefined && ahead > high
            ? 'beyond'
            : 'needs';
  check(need.status === status, `the status is ${status}`);
}

/** What she needs over all that is to come. */
function checkRemaining(need: Need, put: Put, goal: Goal, margin: number, check: Check): void {
  const { court, her } = put;
  const world = recordedWorld(court.facts);
  const toCome = toComeOf(court, her, world);
  if (put.when !== 'end' || toCome.length < 2) {
    check(need.remainingTotal === null && need.split === null, 'nothing to split');
    return;
  }
  if (goal.level === null || goal.measured === null) return;
  // One unit more than level, or the margin.
  const wanted = goal.level + (margin > 0 ? 0 : 1) - standOf(her, world).total;
  check(need.remainingTotal === wanted, `over all that is to come it takes ${wanted}`);
}
