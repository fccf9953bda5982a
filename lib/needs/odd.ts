/** What is asked back at the prompt before a score counts, in a line that can be spoken. */
import { idAsTyped } from '../contest/who.js';
import {
  type Gymnast,
  isToCome,
  type Meet,
  type Result,
  type Routine,
  rangeAt,
  routineAt,
  routineOf,
  stationOf,
} from '../meet/meet.js';
import { apparatusName, listed, resultShown, shortName } from '../meet/names.js';
import { awaited, nextUp } from '../meet/now.js';
import { farFromRange } from '../meet/rows.js';
import { formatScore, parseScore } from '../score.js';
import { isExpected, isNextThere, nextOf, outOfTurn, ownBefore } from './turn.js';

/** What was typed, as far as a question may repeat it. */
export interface SaidScore {
  readonly name: string;
  /** Null where none was named. */
  readonly apparatus: string | null;
  readonly score: string;
  readonly d: string | null;
  readonly e: string | null;
  readonly nd: string | null;
  readonly isInquiry: boolean;
}

/** What is odd, what to ask, and what to say after a no. */
export interface AskedBack {
  readonly odd: readonly string[];
  readonly question: string | null;
  readonly instead: string | null;
}

const PLAIN: AskedBack = { odd: [], question: null, instead: null };

/** What a careful colleague would ask back. `found`: everyone her name fits. */
export function askedBack(
  meet: Meet,
  gymnast: Gymnast,
  apparatus: string,
  said: SaidScore,
  found: readonly Gymnast[],
): AskedBack {
  const who = shortName(meet, gymnast.id);
  if (apparatus === 'all') {
    return /^void$/i.test(said.score)
      ? asking(`Take back what was said of ${who} on everything?`)
      : asking(`Withdraw ${who} from everything to come?`);
  }
  const routine = routineOf(meet, gymnast.id, apparatus);
  // What the log refuses is no question.
  if (routine === undefined) return PLAIN;
  const { score } = said;
  // Neither changes a score, and one word takes it back.
  if (/^(inquiry|confirmed)$/i.test(score)) return PLAIN;
  const where = apparatusName(meet, apparatus);
  if (/^up$/i.test(score)) {
    const turn = turnOf(meet, gymnast, routine.index);
    return turn === null ? PLAIN : asking('Has the routine been performed?', [turn]);
  }
  const has = meet.results[routine.index] ?? null;
  if (/^void$/i.test(score)) {
    const what = has === null ? `what was said of ${who}` : `${who}'s ${resultShown(meet, has)}`;
    return asking(`Take back ${what} on ${where}?`);
  }
  if (has !== null) return correction(meet, gymnast, routine.index, has, said);
  if (/^dn[sf]$/i.test(score)) {
    return asking(`Record ${score.toUpperCase()} for ${who} on ${where}?`);
  }
  return firstScore(meet, gymnast, routine.index, said, found);
}

/** A question of its own, or one after what is odd. */
function asking(question: string, odd: readonly string[] = [], instead: string | null = null) {
  const sentences = odd.map((sentence) => `${sentence}. `).join('');
  const whole = `${sentences}${question}`;
  return { odd: odd.length > 0 ? odd : [question.replace(/\?$/, '')], question: whole, instead };
}

/** There is a result on it already. */
function correction(
  meet: Meet,
  gymnast: Gymnast,
  routine: number,
  has: Result,
  said: SaidScore,
): AskedBack {
  const { apparatus } = routineAt(meet, routine);
  const who = shortName(meet, gymnast.id);
  const [where, was, is] = [
    apparatusName(meet, apparatus),
    resultShown(meet, has),
    scoreShown(meet, said.score),
  ];
  const next = said.apparatus === null ? nextOf(meet, gymnast.id) : null;
  const instead = next === null ? null : insteadOn(meet, gymnast, next.apparatus, said);
  const odd = farOff(meet, gymnast, routine, said.score);
  return was === is
    ? asking('Record it there again?', [...odd, `${who} has ${was} on ${where} already`], instead)
    : asking(`Correct ${who}'s ${where} from ${was} to ${is}?`, odd, instead);
}

/** There is none yet. */
function firstScore(
  meet: Meet,
  gymnast: Gymnast,
  routine: number,
  said: SaidScore,
  found: readonly Gymnast[],
): AskedBack {
  const { apparatus } = routineAt(meet, routine);
  const who = shortName(meet, gymnast.id);
  const where = apparatusName(meet, apparatus);
  const score = scoreShown(meet, said.score);
  const turn = turnOf(meet, gymnast, routine);
  const other = awaitedInstead(meet, gymnast, routine, said, found);
  const far = farOff(meet, gymnast, routine, said.score);
  const odd = [
    ...(said.isInquiry ? [`${who} has no score on ${where} that an inquiry could change`] : []),
    ...(turn === null ? [] : [turn]),
    ...(other === null ? [] : [other.odd]),
    ...far,
  ];
  if (odd.length === 0) return PLAIN;
  const only = odd.length === 1;
  const question =
    only && turn !== null
      ? `Record ${score} for ${OBJECT[meet.words.she] ?? 'her'} now?`
      : only && far.length === 1
        ? 'Record it?'
        : `Record ${score} for ${who} on ${where}?`;
  return asking(question, odd, other?.instead ?? null);
}

/** For whom something is recorded, by the word for who did it. */
const OBJECT: Readonly<Record<string, string>> = { she: 'her', he: 'him', they: 'them' };

/** That it is not her turn, or not here. */
function turnOf(meet: Meet, gymnast: Gymnast, routine: number): string | null {
  const waits = outOfTurn(meet, routine);
  if (waits !== null) return waits;
  const before = ownBefore(meet, routine);
  if (before.length === 0) return null;
  const names = before.map((r) => apparatusName(meet, r.apparatus));
  const where = apparatusName(meet, routineAt(meet, routine).apparatus);
  return `${shortName(meet, gymnast.id)} has ${listed(names)} to come before ${where}`;
}

/** Another score that is awaited, of hers or of somebody of that name: it may as well be that one. */
function awaitedInstead(
  meet: Meet,
  gymnast: Gymnast,
  routine: number,
  said: SaidScore,
  found: readonly Gymnast[],
): { odd: string; instead: string } | null {
  if (!isExpected(meet, routine)) return null;
  const others = found.filter((g) => g.id !== gymnast.id);
  const station = stationOf(meet, routineAt(meet, routine).apparatus);
  // Her second vault comes after her first, and no score of the first is meant for it.
  const isSameVault = (r: Routine) =>
    r.gymnast === gymnast.id && stationOf(meet, r.apparatus) === station;
  const isHers = (r: Routine) => said.apparatus === null && r.gymnast === gymnast.id;
  const isTheirs = (r: Routine) =>
    others.some((g) => g.id === r.gymnast) &&
    (said.apparatus === null || r.apparatus === said.apparatus);
  const other = [
    ...awaited(meet).filter((r) => isHers(r) || isTheirs(r)),
    ...meet.routines.filter((r) => isHers(r) && isToCome(meet, r.index) && isNextThere(meet, r)),
    ...nextUp(meet).filter(isHers),
  ].find((r) => r.index !== routine && !isSameVault(r));
  if (other === undefined) return null;
  const her = others.find((g) => g.id === other.gymnast) ?? gymnast;
  const where = apparatusName(meet, other.apparatus);
  const isNext = nextUp(meet).some((r) => r.index === other.index);
  return {
    odd: isNext
      ? `${shortName(meet, her.id)} is also next on ${where}`
      : `${shortName(meet, her.id)}'s score on ${where} is awaited too`,
    instead: insteadOn(meet, her, other.apparatus, said),
  };
}

/** "For bars, write: whit bars 14.1" */
function insteadOn(meet: Meet, gymnast: Gymnast, apparatus: string, said: SaidScore): string {
  const where = apparatusName(meet, apparatus);
  const parts = (['d', 'e', 'nd'] as const).flatMap((key) =>
    said[key] === null ? [] : [`${key}${said[key]}`],
  );
  const line = [idAsTyped(meet, gymnast), where, said.score, ...parts].join(' ');
  return `For ${where}, write: ${line}`;
}

/** A score far from everything in her range. */
function farOff(meet: Meet, gymnast: Gymnast, routine: number, score: string): string[] {
  const { decimals, fall } = meet.scoring;
  const show = (s: number) => formatScore(s, decimals);
  const parsed = parseScore(score, decimals);
  if (!('value' in parsed)) return [];
  const far = farFromRange(meet, routine, parsed.value);
  if (far !== null) return [far];
  const { low, high } = rangeAt(meet, routine);
  const where = apparatusName(meet, routineAt(meet, routine).apparatus);
  const whose = `${shortName(meet, gymnast.id)}'s`;
  const is = `${show(parsed.value)} on ${where} is`;
  if (high !== null && parsed.value > high + fall / 2) {
    return [`${is} far above ${whose} realistic best of ${show(high)}`];
  }
  if (low !== null && parsed.value < low - 2 * fall) {
    return [`${is} below ${whose} low of ${show(low)} less two falls`];
  }
  return [];
}

/** As it will stand in the log; what cannot stand there, as it was typed. */
function scoreShown(meet: Meet, text: string): string {
  const parsed = parseScore(text, meet.scoring.decimals);
  return 'value' in parsed ? formatScore(parsed.value, meet.scoring.decimals) : text.toUpperCase();
}
