/** Chances, to be looked at rather than read: the field, the medals, what is at stake. */
import type { Chances, ContenderChances } from '../chances/chances.js';
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
  asksForMedals,
  capital,
  listed,
  numberInWords,
  ordinal,
  shortName,
  shower,
  titleOf,
} from './words.js';

/** The whole field: chances of every place, the medals in order, what is at stake. */
export function fieldReport(meet: Meet, answer: Chances): Report {
  const { contest, error, atStake } = answer;
  const toCome =
    atStake.length === 0
      ? 'nothing to come'
      : `${atStake.length} routine${atStake.length === 1 ? '' : 's'} to come`;
  return reportOf(
    [
      title(`${titleOf(meet, contest)}, chances with ${toCome}`),
      ...(atStake.length === 0 ? [] : [sentence(stillInWords(meet, answer), 'strong')]),
      ...fieldTable(meet, answer),
    ],
    podiumsSection(meet, answer),
    atStake.length === 0 ? [] : stakesSection(meet, atStake, error),
    basis(meet, answer),
  );
}

/** Everyone, the likeliest winner first. */
function fieldTable(meet: Meet, { contenders, error, contest, atStake }: Chances): Section {
  const show = shower(meet);
  const { shown, said } = folded(meet, [...contenders].sort(byHope), (r) => r.id);
  const isOver = atStake.length === 0;
  const tone = (row: ContenderChances): Tone | null => (row.medal < WORTH_SAYING ? 'quiet' : null);
  const columns: ColumnOf<ContenderChances>[] = [
    { ...nameColumn(meet, (r: ContenderChances) => r.id), tone },
    { head: 'to win', cell: (r) => targetCell(r, 'win', error), tone },
    ...(asksForMedals(meet, contest)
      ? [
          {
            head: 'for a medal',
            cell: (r: ContenderChances) => targetCell(r, 'medal', error),
            tone,
          },
        ]
      : []),
    {
      head: isOver ? 'total' : 'likely total',
      cell: (r) => (r.total === null ? '' : show(r.total.p50)),
      align: 'right',
      tone,
    },
    {
      head: '9 times in 10',
      cell: (r) =>
        r.total === null || isOver ? '' : `${show(r.total.p5)} to ${show(r.total.p95)}`,
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
    .filter((s) => s.target === 'win' || asksForMedals(meet, contest));
  const notes = [
    settled.some((s) => s.by === 'limit') ? 'out of reach, secured: whatever anyone scores' : '',
    settled.some((s) => s.by === 'ranges')
      ? '* as long as everyone stays within their ranges, falls included'
      : '',
  ].filter((n) => n !== '');
  const around = [...notes, ...placeNotes(contenders.length)];
  return [tableOf(columns, shown, { notes: around, tellsLeftOut: 'series' }), ...said];
}

function targetCell(row: ContenderChances, target: 'win' | 'medal', error: number): Cell {
  if (row.total === null) return { text: 'out' };
  const settled = row.settled.find((s) => s.target === target);
  if (settled === undefined)
    return { ...withBar(row[target], error), text: unsettled(row[target], error) };
  const words = settled.status === 'secured' ? 'secured' : 'out of reach';
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
  if (a.total === null || b.total === null) {
    return Number(a.total === null) - Number(b.total === null);
  }
  // Whole steps, not differences: those would put three in a circle.
  const steps = (chance: number) => Math.round(chance * STEPS);
  return (
    steps(b.win) - steps(a.win) || steps(b.medal) - steps(a.medal) || b.total.p50 - a.total.p50
  );
}

/** So many can be named in one breath. */
const MOST_NAMED = 6;

/** Who can still win, and who can still medal, in one line. */
export function contentionReport(meet: Meet, answer: Chances): Report {
  return reportOf([sentence(stillInWords(meet, answer))]);
}

type Goal = 'win' | 'medal';

/** "Four can still win: Adeyemi, Tanakura, Brandt and Costeira; nine can still medal." */
function stillInWords(meet: Meet, answer: Chances): string {
  const { contenders, contest } = answer;
  const isMedalOpen = contenders.some((r) => r.medal > 0 && r.medal < 1);
  const goals: readonly Goal[] =
    asksForMedals(meet, contest) && isMedalOpen ? ['win', 'medal'] : ['win'];
  const said = goals.map((goal) => goalInWords(meet, answer, goal));
  const isAll = goals.every(
    (goal) => contendersFor(answer, goal).length === possible(answer, goal),
  );
  const rest = 'Whoever has less than one chance in a thousand is not counted.';
  return `${capital(said.join('; '))}.${isAll ? '' : ` ${rest}`}`;
}

function goalInWords(meet: Meet, answer: Chances, goal: Goal): string {
  const still = contendersFor(answer, goal);
  const winners = contendersFor(answer, 'win');
  const can = `can still ${goal}`;
  const names = listed(still.map((r) => shortName(meet, r.id)));
  if (still.length === 1) return `only ${names} ${can}`;
  const count = numberInWords(still.length);
  const isSame = goal === 'medal' && still.length === winners.length;
  if (isSame && winners.every((r) => still.includes(r))) return `the same ${count} ${can}`;
  return still.length > MOST_NAMED ? `${count} ${can}` : `${count} ${can}: ${names}`;
}

/** Everyone with a chance that is said, the likeliest first; where no chance is that large, everyone with any. */
function contendersFor({ contenders }: Chances, goal: Goal): ContenderChances[] {
  const able = contenders.filter((r) => r.total !== null && r[goal] > 0);
  const real = able.filter((r) => r[goal] >= WORTH_SAYING);
  return (real.length > 0 ? real : able).sort((a, b) => b[goal] - a[goal]);
}

function possible({ stillWin, stillMedal }: Chances, goal: Goal): number {
  return goal === 'win' ? stillWin : stillMedal;
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
