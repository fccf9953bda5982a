/** Chances, to be looked at rather than read: the field, the medals, what is at stake. */
import type { Chances } from '../chances/chances.js';
import { type ContenderChances, isBorneOut } from '../chances/contender-chances.js';
import { findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import {
  caution,
  chanceInWords,
  percentWithin,
  skippedInChances,
  unsettled,
  WORTH_SAYING,
  whereFrom,
} from './chance-words.js';
import { type GoalName, type GoalWords, goalsAsked } from './goals.js';
import { nameColumn } from './name-columns.js';
import { openSection } from './open.js';
import { podiumsSection } from './podiums.js';
import {
  type Cell,
  type Note,
  type Report,
  reportOf,
  type Section,
  sentence,
  type Tone,
  title,
} from './report.js';
import { stakesSection } from './stakes.js';
import { type ColumnOf, tableOf } from './table.js';
import { folded } from './unnamed.js';
import { restsOnUsual } from './usual.js';
import {
  boardName,
  capital,
  listed,
  nameOf,
  numberInWords,
  ordinal,
  shortName,
  shower,
  titleOf,
} from './words.js';

/** The whole field: chances of every place, the medals in order, what is at stake. */
export function fieldReport(meet: Meet, answer: Chances): Report {
  const { contest, error, atStake } = answer;
  return reportOf(
    [
      title(`${titleOf(meet, contest)}, chances with ${toComeInAll(answer)}`),
      ...(atStake.length === 0 ? [] : [sentence(stillInWords(meet, answer), 'strong')]),
      ...fieldTable(meet, answer),
    ],
    podiumsSection(meet, answer),
    atStake.length === 0 || !findContest(meet, contest).givesMedals
      ? []
      : stakesSection(meet, atStake, error),
    basis(meet, answer),
  );
}

/** The whole name, where a picture has room for it. */
function nameThatFits(meet: Meet, id: string): string {
  const name = nameOf(meet, id);
  return name.length > MOST_LETTERS ? boardName(meet, id) : name;
}

const MOST_LETTERS = 22;

/** "34 routines to come" */
function toComeInAll({ atStake }: Chances): string {
  if (atStake.length === 0) return 'nothing to come';
  return `${atStake.length} routine${atStake.length === 1 ? '' : 's'} to come`;
}

/** What a picture of the chances shows: everyone in contention, the likeliest first. */
export interface ChancesPictured {
  readonly title: string;
  readonly description: string;
  readonly goals: readonly { readonly target: GoalName; readonly words: string }[];
  readonly rows: readonly {
    readonly id: string;
    readonly name: string;
    /** One a goal. */
    readonly chances: readonly { readonly chance: number; readonly text: string }[];
  }[];
}

export function chancesPictured(meet: Meet, answer: Chances): ChancesPictured {
  const { contenders, contest, error } = answer;
  const goals = goalsAsked(meet, contest);
  const inContention = [...contenders]
    .sort(byHopeOf(goals))
    .filter((r) => r.total !== null && goals.some((g) => (r[g.target] ?? 0) >= WORTH_SAYING))
    .filter((r) => meet.gymnasts.find((g) => g.id === r.id)?.unnamed !== true);
  return {
    title: `${titleOf(meet, contest)}, chances with ${toComeInAll(answer)}`,
    description: stillInWords(meet, answer),
    goals: goals.map(({ target, to }) => ({ target, words: to })),
    rows: inContention.map((row) => ({
      id: row.id,
      name: nameThatFits(meet, row.id),
      chances: goals.map(({ target }) => ({
        chance: row[target] ?? 0,
        text: targetCell(row, target, error).text.replace('*', ''),
      })),
    })),
  };
}

/** Everyone, the likeliest winner first. */
function fieldTable(meet: Meet, { contenders, error, contest, atStake }: Chances): Section {
  const show = shower(meet);
  const goals = goalsAsked(meet, contest);
  const { shown, said } = folded(meet, [...contenders].sort(byHopeOf(goals)), (r) => r.id);
  const isOver = atStake.length === 0;
  // Who has little hope of the least that is asked for.
  const least = goals.some((g) => g.target === 'advance') ? 'advance' : 'medal';
  const tone = (row: ContenderChances): Tone | null =>
    (row[least] ?? 0) < WORTH_SAYING ? 'quiet' : null;
  const columns: ColumnOf<ContenderChances>[] = [
    { ...nameColumn(meet, (r: ContenderChances) => r.id), tone },
    ...goals.map(
      ({ target, to }): ColumnOf<ContenderChances> => ({
        head: to,
        cell: (r) => targetCell(r, target, error),
        tone,
      }),
    ),
    {
      head: isOver ? 'total' : 'likely total',
      cell: (r) => (r.total === null ? '' : show(r.total.p50)),
      align: 'right',
      tone,
    },
    {
      head: '9 times in 10',
      cell: (r) =>
        r.total === null || isOver
          ? ''
          : r.total.p5 === r.total.p95
            ? show(r.total.p5)
            : `${show(r.total.p5)} to ${show(r.total.p95)}`,
      align: 'right',
      spare: 1,
      tone,
    },
    ...placeColumns(contenders.length, (r: ContenderChances) => r, error).map((column) => ({
      ...column,
      tone,
    })),
  ];
  const settled = contenders
    .filter((r) => r.total !== null)
    .flatMap((r) => r.settled)
    .filter((s) => goals.some((g) => g.target === s.target));
  const through = settled.some((s) => s.target === 'advance') ? ', through' : '';
  const notes = [
    settled.some((s) => s.by === 'limit')
      ? `out of reach, secured${through}: whatever anyone scores`
      : '',
    settled.some((s) => s.by === 'ranges')
      ? '* as long as everyone stays within their ranges, falls included'
      : '',
  ].filter((n) => n !== '');
  const wins = contenders.reduce((sum, r) => sum + r.win, 0);
  const shared =
    !isOver && wins > 1 + WORTH_SAYING
      ? ['a first place that is shared counts for all who share it']
      : [];
  const around = [...notes, ...shared, ...placeNotes(contenders.length)];
  return [tableOf(columns, shown, { notes: around, tellsLeftOut: 'series' }), ...said];
}

function targetCell(row: ContenderChances, target: GoalName, error: number): Cell {
  if (row.total === null) return { text: 'out' };
  const chance = row[target] ?? 0;
  const settled = row.settled.find((s) => s.target === target && isBorneOut(s, chance, error));
  if (settled === undefined) return { ...withBar(chance, error), text: unsettled(chance, error) };
  const secured = target === 'advance' ? 'through' : 'secured';
  const words = settled.status === 'secured' ? secured : 'out of reach';
  return { text: settled.by === 'limit' ? words : `${words}*` };
}

/** A chance that may turn out to be certain, and its length. */
export function withBar(chance: number, error: number): Cell {
  return { text: chanceInWords(chance, error), bar: chance < WORTH_SAYING ? 0 : chance };
}

/** A column for every place but the first, the last to be left out first. */
export function placeColumns<Row>(
  places: number,
  chancesOf: (row: Row) => { readonly places: readonly number[] },
  error: number,
): ColumnOf<Row>[] {
  return Array.from({ length: Math.max(places - 1, 0) }, (_, k) => ({
    head: ordinal(k + 2),
    cell: (row: Row) => {
      const chance = chancesOf(row).places[k + 1] ?? 0;
      return chance < WORTH_SAYING ? '' : percentWithin(chance, error);
    },
    align: 'right' as const,
    spare: 2 + k,
  }));
}

/** How the columns of places are read. */
export function placeNotes(places: number): Note[] {
  return places > 1
    ? [{ text: 'a place left blank: less than one chance in a thousand', about: ordinal(2) }]
    : [];
}

/** Chances that differ by less are the same, but for the order in which they were added up. */
const STEPS = 1e9;

/** The likeliest winner first, then for a medal, then by median; equals keep the order of the meet. */
export function byHope(a: ContenderChances, b: ContenderChances): number {
  return compareHope(['win', 'medal'], a, b);
}

/** The same by the goals of a contest. */
export function byHopeOf(goals: readonly GoalWords[]) {
  const targets = goals.map((g) => g.target);
  const all =
    targets.includes('medal') || targets.includes('advance')
      ? targets
      : [...targets, 'medal' as const];
  return (a: ContenderChances, b: ContenderChances) => compareHope(all, a, b);
}

function compareHope(
  targets: readonly GoalName[],
  a: ContenderChances,
  b: ContenderChances,
): number {
  if (a.total === null || b.total === null) {
    return Number(a.total === null) - Number(b.total === null);
  }
  // Whole steps, not differences: those would put three in a circle.
  const steps = (chance: number | null) => Math.round((chance ?? 0) * STEPS);
  for (const target of targets) {
    const order = steps(b[target]) - steps(a[target]);
    if (order !== 0) return order;
  }
  return b.total.p50 - a.total.p50;
}

/** So many can be named in one breath. */
const MOST_NAMED = 6;

/**
 * Who can still win, and who can still medal, in one line.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `chances` gave it.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const [can] = reports.contention(meet, chances(meet)).flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []));
 * can?.split(';')[0] // → 'Four can still win: Adeyemi, Tanakura, Brondt and Costeira'
 */
export function contentionReport(meet: Meet, answer: Chances): Report {
  return reportOf([sentence(stillInWords(meet, answer))]);
}

/** "Four can still win: Adeyemi, Tanakura, Brondt and Costeira; nine can still medal." */
function stillInWords(meet: Meet, answer: Chances): string {
  const { contenders, contest } = answer;
  const isOpen = (target: GoalName) =>
    contenders.some((r) => (r[target] ?? 0) > 0 && (r[target] ?? 0) < 1);
  const all = goalsAsked(meet, contest);
  const goals = all.filter((g, i) => i === 0 || isOpen(g.target));
  const said = goals.map((goal) => goalInWords(meet, answer, goal));
  const isAll = goals.every(
    ({ target }) => contendersFor(answer, target).length === possible(answer, target),
  );
  const rest = 'Whoever has less than one chance in a thousand is not counted.';
  return `${capital(said.join('; '))}.${isAll ? '' : ` ${rest}`}`;
}

function goalInWords(meet: Meet, answer: Chances, { target, verb }: GoalWords): string {
  const still = contendersFor(answer, target);
  const winners = contendersFor(answer, 'win');
  const can = `can still ${verb}`;
  const names = listed(still.map((r) => shortName(meet, r.id)));
  if (still.length === 0) return `nobody ${can}`;
  if (still.length === 1) return `only ${names} ${can}`;
  const count = numberInWords(still.length);
  const isSame = target === 'medal' && still.length === winners.length;
  if (isSame && winners.every((r) => still.includes(r))) return `the same ${count} ${can}`;
  return still.length > MOST_NAMED ? `${count} ${can}` : `${count} ${can}: ${names}`;
}

/** Everyone with a chance that is said, the likeliest first; where no chance is that large, everyone with any. */
function contendersFor({ contenders }: Chances, goal: GoalName): ContenderChances[] {
  const chance = (r: ContenderChances) => r[goal] ?? 0;
  const able = contenders.filter((r) => r.total !== null && chance(r) > 0);
  const real = able.filter((r) => chance(r) >= WORTH_SAYING);
  return (real.length > 0 ? real : able).sort((a, b) => chance(b) - chance(a));
}

function possible({ stillWin, stillMedal, stillAdvance }: Chances, goal: GoalName): number {
  return { win: stillWin, medal: stillMedal, advance: stillAdvance ?? 0 }[goal];
}

/** Where chances come from, which rules are left out, what they rest on, and the caution. */
export function basis(meet: Meet, answer: Chances): Section {
  const { method, error, skipped, atStake } = answer;
  if (atStake.length === 0) {
    return [
      ...openSection(meet, answer),
      sentence('It is over: these are the final places.', 'quiet'),
    ];
  }
  return [
    sentence(whereFrom({ method, error }), 'quiet'),
    ...openSection(meet, answer),
    ...(skipped.length > 0 ? [sentence(skippedInChances(skipped), 'quiet')] : []),
    ...restsOnUsual(meet),
    caution(),
  ];
}
