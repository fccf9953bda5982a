/** The sentences of a story. */
import { type Contest, findContest } from '../contest/contest.js';
import { standings } from '../contest/standings.js';
import type { Meet } from '../meet/meet.js';
import { asScore, type Units, unitsPerPoint } from '../score.js';
import type { Closeness, LastWord } from '../story/closeness.js';
import { coursesOf } from '../story/contention.js';
import type { StoryPoint } from '../story/point.js';
import type { Story } from '../story/story.js';
import type { RareScore } from '../story/unlikely.js';
import { goalWords } from './goals.js';
import { againstRangeInWords, pastInWords, percentOf } from './in-place.js';
import { boardNow } from './standing.js';
import {
  apparatusName,
  capital,
  doneInWords,
  listed,
  nameOf,
  numberInWords,
  ruleInWords,
  shortName,
  shower,
  whereInWords,
} from './words.js';

/** "Ida Brondt wins with 57.866, 0.134 ahead of Wren Adeyemi."; before the end, who leads. */
export function endedInWords(meet: Meet, answer: Story): string[] {
  const { top, isOver, contest: id } = answer;
  const show = shower(meet);
  const { givesMedals } = findContest(meet, id);
  const first = top.filter((t) => t.place === 1);
  const [leader] = first;
  if (leader === undefined) return [];
  const names = listed(first.map((t) => nameOf(meet, t.id)));
  const isOne = first.length === 1;
  const total = show(leader.total);
  if (isOver) {
    const wins = givesMedals
      ? isOne
        ? 'wins'
        : 'share the title'
      : isOne
        ? 'is first'
        : 'are first';
    return [`${names} ${wins} with ${total}.${othersInWords(meet, answer)}`];
  }
  return [
    `${doneInWords(meet, findContest(meet, id))} ${leadInWords(meet, id, `${names} ${isOne ? 'leads' : 'share the lead'} with ${total}`)}`,
  ];
}

/** Who leads; where some have done more routines than others, who does by projection. */
function leadInWords(meet: Meet, id: string, asItStands: string): string {
  const { footing } = boardNow(meet, id).progress;
  if (footing !== 'uneven') return `${asItStands}${footing === 'even' ? '' : ' so far'}.`;
  const rows = standings(meet, { contest: id }).rows.filter((r) => r.projectedPlace === 1);
  const [best] = rows;
  if (best === undefined || best.projected === null) return `${asItStands} so far.`;
  const names = listed(rows.map((r) => nameOf(meet, r.id)));
  return `By projected finish ${names} ${rows.length === 1 ? 'leads' : 'lead'}, with ${shower(meet)(best.projected)}.`;
}

/** " Then Wren Adeyemi, 0.134 back; …", "level on total" where a tie was broken. */
function othersInWords(meet: Meet, { top }: Story): string {
  const others = top.filter((t) => t.place > 1);
  if (others.length === 0) return '';
  const show = shower(meet);
  const said = others.map(
    (t) => `${nameOf(meet, t.id)}, ${t.behind === 0 ? 'level on total' : `${show(t.behind)} back`}`,
  );
  return ` Then ${said.join('; ')}.`;
}

/** Who had the best chance before the first score, who has had it since, and where it went. */
export function beganInWords(meet: Meet, contest: Contest, answer: Story): string[] {
  const { about, start, points } = answer;
  const goal = goalWords(contest, about);
  if (about === 'advance' || goal === undefined) return [];
  const courses = coursesOf(answer, about);
  const bestAt = (k: number) =>
    courses.reduce<(typeof courses)[number] | undefined>(
      (best, c) => ((c.chances[k] ?? 0) > (best?.chances[k] ?? 0) ? c : best),
      undefined,
    );
  const first = bestAt(0);
  if (first === undefined) return [];
  const name = (id: string) => calledIn(meet, id);
  const level = courses.filter((c) => first.start - c.start <= 2 * start.error + EVEN);
  const isAlone = level.length === 1;
  const had = percentOf(first.start, start.error);
  const isAll = level.length === start.chances.length;
  const count = numberInWords(level.length);
  const best = isAlone
    ? `${name(first.id)} had the best chance ${goal.of}, ${had}`
    : isAll
      ? `${level.length === 2 ? 'both' : `all ${count}`} had the same chance ${goal.of}, ${had}`
      : `${count} had the best chance ${goal.of}, ${had} each`;
  const begin = `Before the first score ${best}`;
  const from = isAlone ? 0 : 1;
  const moments = Array.from({ length: points.length + 1 - from }, (_, k) => k + from);
  const led = [...new Set(moments.flatMap((k) => bestAt(k)?.id ?? []))];
  if (led.length < 2) return [isAlone ? `${begin}, and kept it throughout.` : `${begin}.`];
  const last = courses[0];
  const isNew = isAlone && last !== undefined && last.id !== first.id;
  const now = isNew ? `; ${name(last.id)} had ${percentOf(last.start, start.error)}` : '';
  const several = capital(numberInWords(led.length));
  const since = isAlone ? 'at some time' : 'since';
  return [
    `${begin}${now}. ${several} have had the best chance ${since}: ${listed(led.map(name))}.`,
  ];
}

/** Chances that differ by less are the same but for rounding. */
const EVEN = 1e-9;

function calledIn(meet: Meet, id: string): string {
  return meet.gymnasts.some((g) => g.id === id) ? shortName(meet, id) : nameOf(meet, id);
}

/** By how little the title, the last medal and the last place that goes through were decided. */
export function closeInWords(meet: Meet, contest: Contest, { closeness, top }: Story): string[] {
  return (closeness ?? []).map((close) => {
    const what = { win: 'The title', medal: 'The last medal', advance: 'The last place' }[
      close.target
    ];
    const placed = top.find((t) => t.id === close.in)?.place;
    const sharing =
      placed === undefined ? [close.in] : top.filter((t) => t.place === placed).map((t) => t.id);
    const winner = listed(sharing.map((id) => calledIn(meet, id)));
    const loser = calledIn(meet, close.out);
    const by =
      close.tieBy !== null
        ? `${what} went to ${winner} on ${ruleInWords(close.tieBy)}, level with ${loser} on total.`
        : `${what} went to ${winner} by ${gapInWords(meet, close.by)}, ahead of ${loser}.`;
    return `${by}${close.last === null ? '' : ` ${lastInWords(meet, contest, close, close.last, sharing.length > 1)}`}`;
  });
}

/**
 * "Brondt, last up of the two, needed 14.100 on floor and got 14.133, 33 thousandths to spare."; where more than two
 * are spoken of it is not said who was last.
 */
function lastInWords(
  meet: Meet,
  contest: Contest,
  close: Closeness,
  last: LastWord,
  areMore: boolean,
): string {
  const show = shower(meet);
  const { gymnast, apparatus, score, onGrid, ahead, margin, got } = last;
  const who = calledIn(meet, gymnast);
  const on = apparatusName(meet, apparatus);
  const { of = '' } = goalWords(contest, close.target) ?? {};
  const goal =
    of === ''
      ? ''
      : ` ${{ win: 'to win', medal: 'for a medal', advance: 'to go through' }[close.target]}`;
  const needed = `${who}${areMore ? '' : ', last up of the two,'} needed ${show(onGrid ?? ahead)}${goal} on ${on} and got ${show(score)}`;
  if (got === 'level') return `${needed}: level.`;
  const off =
    got === 'ahead' ? `${gapInWords(meet, margin)} to spare` : `${gapInWords(meet, margin)} short`;
  return margin === 0 ? `${needed}, with nothing to spare.` : `${needed}, ${off}.`;
}

/** Less than a tenth is said as it is on air. */
const TENTH = 0.1;

/** "13 thousandths", "one thousandth"; "0.317" where it is a tenth or more, or nothing. */
function gapInWords(meet: Meet, units: Units): string {
  const { decimals } = meet.scoring;
  if (units === 0 || units >= TENTH * unitsPerPoint(decimals)) return shower(meet)(units);
  const part = { 3: 'thousandth', 4: 'ten-thousandth' }[decimals];
  return `${numberInWords(units)} ${part}${units === 1 ? '' : 's'}`;
}

/** So many rare scores are told, the rarest. */
const MOST_TOLD = 4;

export function unlikelyInWords(meet: Meet, answer: Story): string[] {
  const { unlikely, points, start } = answer;
  if (unlikely === null) return [];
  const { lowest, scores } = unlikely;
  const lines: string[] = [];
  if (lowest !== null) {
    const at = points.find((p) => p.row === lowest.row);
    const when = at === undefined ? 'Before the first score' : `After ${turnInWords(meet, at)}`;
    const chance = percentOf(lowest.chance, at?.error ?? start.error);
    lines.push(`${when}, ${calledIn(meet, lowest.id)} had a chance to win of ${chance}.`);
  }
  const told = [...scores]
    .sort((a, b) => b.percentile - a.percentile)
    .slice(0, MOST_TOLD)
    .sort((a, b) => a.row - b.row);
  return [...lines, ...told.map((score) => rareInWords(meet, score, points))];
}

/** "Costeira’s 14.000 on bars" */
function turnInWords(meet: Meet, { gymnast, apparatus, score }: StoryPoint): string {
  const name = shortName(meet, gymnast);
  const on = apparatus === null ? '' : ` on ${apparatusName(meet, apparatus)}`;
  return score === null ? `what became of ${name}${on}` : `${name}’s ${shower(meet)(score)}${on}`;
}

/** "Ida Brondt, vault, rotation 1: 14.600 is 0.369 above her average here, better than 97 of a hundred such routines of hers; her best since 12 April 2026." */
function rareInWords(
  meet: Meet,
  { row, gymnast, apparatus, score, past }: RareScore,
  points: readonly StoryPoint[],
): string {
  const where = whereInWords(meet, { gymnast, apparatus });
  const point = points.find((p) => p.row === row);
  const expected = point?.expected ?? null;
  const off = expected === null ? null : asScore(Math.abs(score - expected));
  const isOver = expected !== null && score >= expected;
  const good = againstRangeInWords(meet, {
    expected,
    overBy: isOver ? off : null,
    underBy: isOver ? null : off,
    percentile: point?.percentile ?? null,
    rangeFrom: point?.rangeFrom ?? null,
  });
  const is = good === '' ? '' : ` is ${good}`;
  return `${nameOf(meet, gymnast)}, ${where}: ${shower(meet)(score)}${is}${pastInWords(meet, past)}.`;
}
