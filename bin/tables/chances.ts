/** Chances, to be looked at rather than read: the field, the medals, what is at stake. */
import { COVERED } from '../../lib/chances/medals/podiums.js';
import { findContest } from '../../lib/contest/contest.js';
import {
  type Chances,
  type ContenderChances,
  type Meet,
  nextUp,
  type Podium,
  type Routine,
  type Stake,
} from '../../lib/index.js';
import { colour, terminalWidth, writeLine, writeWords } from '../terminal.js';
import {
  bar,
  nameOf,
  ordinal,
  percentWithin,
  shortName,
  shower,
  skippedInChances,
  titleOf,
  unsettled,
} from '../words.js';
import { type Column, renderTable } from './table.js';
import { printUsual } from './usual.js';

/** So many medal outcomes can be taken in; the rest are counted. */
const PODIUMS_SHOWN = 10;

/** Of the routines after the next ones, those with the most at stake. */
const LATER_SHOWN = 3;

/** What is at stake is said from this much on. */
export const WORTH_SAYING = 0.001;

/** From this width on there is room for longer bars. */
const WIDE = 100;

/** Columns of a bar, next to a chance. */
function barWidth(): number {
  return terminalWidth() >= WIDE ? 10 : 6;
}

/** `>99.9%` and a blank. */
const PERCENT_WIDTH = 7;

export function withBar(chance: number, error: number): string {
  const width = barWidth();
  const long = chance < WORTH_SAYING ? '' : bar(chance, width);
  return long.padEnd(width) + unsettled(chance, error).padStart(PERCENT_WIDTH);
}

export function printChances(meet: Meet, answer: Chances): void {
  const { contest, contenders, error, atStake, stillWin, stillMedal } = answer;
  const toCome =
    atStake.length === 0
      ? 'nothing to come'
      : `${atStake.length} routine${atStake.length === 1 ? '' : 's'} to come`;
  writeWords(`${titleOf(meet, contest)}, chances with ${toCome}`, colour.bold);
  printField(meet, answer);
  writeLine();

  if (atStake.length > 0) {
    const anyMedal = contenders.some((r) => r.medal > 0 && r.medal < 1);
    writeWords(stillWords(contenders, stillWin, anyMedal ? stillMedal : null));
    writeLine();
  }
  printPodiums(meet, answer);
  if (atStake.length > 0) {
    writeLine();
    printStakes(meet, atStake, error);
  }
  writeLine();
  printFooter(meet, answer);
}

/** Everyone, the likeliest winner first. */
function printField(meet: Meet, { contenders, error, contest, atStake }: Chances): void {
  const show = shower(meet);
  const { medals } = findContest(meet, contest);
  const rows = [...contenders].sort(byHope);
  const isOver = atStake.length === 0;
  const isOut = (row: ContenderChances) => row.total === null;
  const hopeless = (row: ContenderChances) =>
    row.medal < WORTH_SAYING ? colour.dim : (text: string) => text;
  const target = (which: 'win' | 'medal') => (row: ContenderChances) => {
    if (isOut(row)) return 'out';
    const settled = row.settled.find((s) => s.target === which);
    if (settled === undefined) return withBar(row[which], error);
    const words = settled.status === 'secured' ? 'secured' : 'out of reach';
    return settled.by === 'limit' ? words : `${words}*`;
  };
  const columns: Column<ContenderChances>[] = [
    { head: 'name', cell: (r) => nameOf(meet, r.id), style: hopeless },
    { head: 'to win', cell: target('win'), style: hopeless },
    // Where there are no more contenders than medals, a medal is nothing to ask about.
    ...(medals > 1 ? [{ head: 'medal', cell: target('medal'), style: hopeless }] : []),
    {
      head: isOver ? 'total' : 'median total',
      cell: (r) => (r.total === null ? '' : show(r.total.p50)),
      align: 'right',
      style: hopeless,
    },
    {
      head: '5% to 95%',
      cell: (r) => (r.total === null || isOver ? '' : `${show(r.total.p5)} – ${show(r.total.p95)}`),
      align: 'right',
      spare: 1,
      style: hopeless,
    },
    ...contenders.slice(1).map(
      (_, k): Column<ContenderChances> => ({
        head: ordinal(k + 2),
        cell: (r) => {
          const chance = r.places[k + 1] ?? 0;
          return chance < WORTH_SAYING ? '' : percentWithin(chance, error);
        },
        align: 'right',
        spare: 2 + k,
        style: hopeless,
      }),
    ),
  ];
  const { text, leftOut } = renderTable(columns, rows);
  writeLine(text);
  const settled = contenders.filter((r) => !isOut(r)).flatMap((r) => r.settled);
  const notes = [
    settled.some((s) => s.by === 'limit') ? 'out of reach, secured: whatever anyone scores' : '',
    settled.some((s) => s.by === 'ranges')
      ? '* as long as everyone stays within the ranges, falls included'
      : '',
    ...placesNotes(contenders.length, leftOut),
  ].filter((n) => n !== '');
  if (notes.length > 0) writeWords(notes.join(' · '), colour.dim);
}

/** What the columns of places leave out, by the heads of those that did not fit. */
export function placesNotes(places: number, leftOut: readonly string[]): string[] {
  const isShown = places > 1 && !leftOut.includes(ordinal(2));
  return [
    ...(isShown ? ['a place left blank: under 0.1%'] : []),
    ...(leftOut.length > 0 ? [`not shown: ${leftOutWords(leftOut)}`] : []),
  ];
}

function leftOutWords(heads: readonly string[]): string {
  const [first] = heads;
  const last = heads.at(-1);
  return heads.length <= 1 ? `${first}` : `${last} to ${first}`;
}

/** Chances that differ by less are the same, but for the order in which they were added up. */
const STEPS = 1e9;

/** The likeliest winner first, then for a medal, then by median; equals keep the order of the meet. */
export function byHope(a: ContenderChances, b: ContenderChances): number {
  if (a.total === null || b.total === null) {
    return Number(a.total === null) - Number(b.total === null);
  }
  // Whole steps, not differences: those would put three in a circle.
  const steps = (chance: number) => Math.round(chance * STEPS);
  return (
    steps(b.win) - steps(a.win) || steps(b.medal) - steps(a.medal) || b.total.p50 - a.total.p50
  );
}

/** "By the ranges 13 can still win, 4 of them with a chance of 0.1% or more; 17 can still medal." */
function stillWords(
  contenders: readonly ContenderChances[],
  stillWin: number,
  stillMedal: number | null,
): string {
  const phrase = (count: number, which: 'win' | 'medal') => {
    const real = contenders.filter((r) => r[which] >= WORTH_SAYING).length;
    const verb = which === 'win' ? 'win' : 'take a medal';
    const few = real === count ? '' : `, ${real} of them with a chance of 0.1% or more`;
    return `${count} can still ${verb}${few}`;
  };
  const medal = stillMedal === null ? '' : `; ${phrase(stillMedal, 'medal')}`;
  return `By the ranges ${phrase(stillWin, 'win')}${medal}.`;
}

/** The likeliest orders of the medals, and how many more there are. */
function printPodiums(meet: Meet, { contest, podiums, error, atStake }: Chances): void {
  const [likeliest] = podiums;
  if (likeliest === undefined) {
    if (atStake.length > 0)
      writeWords('Of the medals no order is likely enough to be told.', colour.dim);
    return;
  }
  const shown = podiums.slice(0, PODIUMS_SHOWN);
  const sumOf = (some: readonly Podium[]) => some.reduce((sum, p) => sum + p.chance, 0);
  const covered = (some: readonly Podium[]) => percentWithin(Math.min(sumOf(some), 1), error);
  const { length: places } = likeliest.places;
  const { medals } = findContest(meet, contest);
  const who = (podium: Podium, k: number) =>
    (podium.places[k] ?? []).map((id) => shortName(meet, id)).join(' = ');
  const few = places < medals ? `, the first ${places} of ${medals}` : '';
  writeWords(`Medals in order${few}`, colour.bold);
  const { text } = renderTable(
    [
      {
        head: 'chance',
        cell: (p: Podium) => percentWithin(p.chance, error),
        align: 'right',
      },
      ...Array.from(
        { length: places },
        (_, k): Column<Podium> => ({ head: ordinal(k + 1), cell: (p) => who(p, k), spare: k }),
      ),
    ],
    shown,
  );
  writeLine(text);
  const more = podiums.length - shown.length;
  const whole = sumOf(podiums) < COVERED ? covered(podiums) : percentWithin(COVERED, 0.05);
  const rest = more > 0 ? `, ${more} more make it ${whole}` : '';
  const notes = [
    sumOf(shown) < 1 ? `these cover ${covered(shown)} of what can happen${rest}` : '',
    shown.some((p) => p.places.some((ids) => ids.length > 1)) ? '= share the place' : '',
  ].filter((n) => n !== '');
  if (notes.length > 0) writeWords(notes.join(' · '), colour.dim);
}

/** What one routine does to the title. */
interface StakeRow {
  readonly stake: Stake;
  readonly routine: Routine;
  /** To the chances of its own gymnast, or team. */
  readonly own: Stake['title'][number] | null;
  /** Of all the others, the one whose chances it moves most. */
  readonly other: Stake['title'][number] | null;
}

function stakeRows(meet: Meet, stakes: readonly Stake[]): StakeRow[] {
  return stakes.flatMap((stake): StakeRow[] => {
    const routine = meet.routines.find(
      (r) => r.gymnast === stake.gymnast && r.apparatus === stake.apparatus,
    );
    if (routine === undefined) return [];
    const { team } = meet.gymnasts.find((g) => g.id === stake.gymnast) ?? { team: null };
    const isHers = ({ id }: Stake['title'][number]) => id === stake.gymnast || id === team;
    const others = stake.title.filter((t) => !isHers(t)).sort((a, b) => moved(b) - moved(a));
    const own = stake.title.find(isHers) ?? null;
    return [{ stake, routine, own, other: others[0] ?? null }];
  });
}

function moved(title: Stake['title'][number] | null): number {
  return title === null ? 0 : Math.abs(title.high - title.low);
}

/** The next up at each station, and what is most at stake after them. */
function printStakes(meet: Meet, stakes: readonly Stake[], error: number): void {
  const next = new Set(nextUp(meet).map((r) => r.index));
  const rows = stakeRows(meet, stakes);
  const now = rows.filter((r) => next.has(r.routine.index));
  const swing = (row: StakeRow) => Math.max(moved(row.own), moved(row.other));
  const later = rows
    .filter((r) => !now.includes(r) && swing(r) >= WORTH_SAYING)
    .sort((a, b) => swing(b) - swing(a))
    .slice(0, LATER_SHOWN);
  const change = ({ low, high }: Stake['title'][number]) =>
    `${unsettled(low, error)} → ${unsettled(high, error)}`;
  writeWords('At stake: the title, if the routine goes badly → well', colour.bold);
  const { text } = renderTable(
    [
      { head: '', cell: (r: StakeRow) => (now.includes(r) ? 'next' : 'later') },
      { head: 'rotation', cell: (r) => String(r.routine.rotation), align: 'right', spare: 1 },
      { head: 'on', cell: (r) => r.stake.apparatus },
      { head: 'name', cell: (r) => nameOf(meet, r.stake.gymnast) },
      {
        head: 'wins',
        cell: (r) => {
          if (swing(r) < WORTH_SAYING) return 'changes nothing';
          return r.own === null ? unsettled(0, error) : change(r.own);
        },
      },
      {
        head: 'and moves most',
        cell: (r) =>
          r.other === null || moved(r.other) < WORTH_SAYING
            ? ''
            : `${shortName(meet, r.other.id)} ${change(r.other)}`,
      },
    ],
    [...now, ...later],
  );
  writeLine(text);
  const rest = rows.length - now.length - later.length;
  writeWords(
    `badly, well: its 10th and 90th percentile${rest > 0 ? ` · ${rest} more routine${rest === 1 ? '' : 's'} to come` : ''}`,
    colour.dim,
  );
}

/** How exact it is, which rules are left out, and what it all rests on. */
export function printFooter(meet: Meet, { method, error, skipped, atStake }: Chances): void {
  if (atStake.length === 0) {
    writeWords('Nothing is to come: these are the places.', colour.dim);
    return;
  }
  writeWords(exactness({ method, error }), colour.dim);
  if (skipped.length > 0) writeWords(skippedInChances(skipped), colour.dim);
  printUsual(meet);
}

/** How exact chances are, and what they rest on. */
export function exactness({ method, error }: Pick<Chances, 'method' | 'error'>): string {
  const how =
    method === 'sampled'
      ? `sampled, standard error ${errorWords(error)}`
      : error < 1e-9
        ? 'exact'
        : `right to within ${errorWords(error)}`;
  return `Chances ${how}; they rest on the ranges given.`;
}

/** 0.03%, 0.4%, 2%. */
function errorWords(error: number): string {
  const percents = error * 100;
  const digits = percents >= 1 ? 0 : percents >= 0.1 ? 1 : percents >= 0.01 ? 2 : 3;
  const rounded = Math.ceil(percents * 10 ** digits) / 10 ** digits;
  return `${rounded.toFixed(digits)}%`;
}
