/**
 * Finals of the open data (test/support/open-data.ts) as a second program finds them: own reading of the file,
 * own order of groups. The order is that of docs/honesty.md.
 */
export const OLYMPIC = {
  wag: ['VT', 'UB', 'BB', 'FX'],
  mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'],
} as const;
export type Discipline = keyof typeof OLYMPIC;

export interface OwnRow {
  readonly gymnast: string;
  readonly discipline: Discipline;
  readonly noc: string;
  readonly date: string;
  readonly competition: string;
  readonly round: string;
  readonly apparatus: string;
  readonly d: number;
  readonly e: number;
  readonly score: number;
}

/** Thousandths, as whole numbers. */
const units = (text: string) => Math.round(Number(text) * 1000);

/** The first of several rows for one routine, as long as it is the sum of its parts or worth nothing. */
export function ownRows(text: string): OwnRow[] {
  const seen = new Set<string>();
  return text
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .flatMap((line): OwnRow[] => {
      const [gymnast, discipline, noc, date, competition, round, apparatus, ...numbers] =
        line.split(',');
      const [d, e, nd, score] = numbers.slice(0, 4).map(units);
      const isSum = score === 0 || d! + e! - nd! === score;
      const key = [gymnast, discipline, date, competition, round, apparatus].join();
      if (!isSum || seen.has(key)) return [];
      seen.add(key);
      return [
        {
          ...{ gymnast: gymnast!, discipline: discipline as Discipline, noc: noc!, date: date! },
          ...{ competition: competition!, round: round!, apparatus: apparatus! },
          ...{ d: d!, e: e!, score: score! },
        },
      ];
    });
}

/** A final: whoever is ranked, with her routines and the rotation each is in, counted from 1. */
export interface OwnFinal {
  readonly kind: 'all-around' | 'team' | 'apparatus';
  readonly on: string | null;
  readonly discipline: Discipline;
  readonly date: string;
  readonly competition: string;
  readonly contenders: ReadonlyMap<string, readonly { row: OwnRow; rotation: number }[]>;
}

function grouped<T>(items: readonly T[], key: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(key(item), [...(groups.get(key(item)) ?? []), item]);
  return groups;
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** All-around finals, or team finals of three up and three counting, of a discipline. */
export function ownFinals(
  rows: readonly OwnRow[],
  kind: 'all-around' | 'team',
  discipline: Discipline,
): OwnFinal[] {
  const codes: readonly string[] = OLYMPIC[discipline];
  const own = rows.filter((r) => r.discipline === discipline && codes.includes(r.apparatus));
  const whose = (r: OwnRow) => (kind === 'team' ? r.noc : r.gymnast);
  const inFinals = own.filter((r) => r.round === (kind === 'team' ? 'TeamFinal' : 'AAfinal'));
  return [...grouped(inFinals, (r) => `${r.date} ${r.competition}`).values()].flatMap((these) => {
    const { date, competition } = these[0]!;
    const field = [...grouped(these, whose)].filter(([, of]) =>
      codes.every((c) => of.some((r) => r.apparatus === c)),
    );
    if (field.length < 4) return [];
    const days = (r: OwnRow) => Math.abs(Date.parse(r.date) - Date.parse(date)) / 86_400_000;
    const before = own.filter(
      (r) => r.competition === competition && /qual/i.test(r.round) && days(r) <= 60,
    );
    const qualified = (name: string) => {
      const of = before.filter((r) => whose(r) === name);
      const counting = kind === 'team' ? 3 : 1;
      const best = codes.map((c) =>
        of
          .filter((r) => r.apparatus === c)
          .map((r) => r.score)
          .sort((a, b) => b - a)
          .slice(0, counting),
      );
      return of.length === 0 ? -1 : sum(best.flat());
    };
    const totals = new Map(field.map(([name]) => [name, qualified(name)]));
    const known = [...totals.values()].filter((t) => t >= 0).length;
    const ranked = [...totals].sort(([, a], [, b]) => b - a).map(([name]) => name);
    const size = Math.ceil(field.length / codes.length);
    const isInGroups = known * 2 >= field.length;
    const contenders = field.map(([name, of]) => {
      const group = isInGroups ? Math.floor(ranked.indexOf(name) / size) : 0;
      const rotationOf = (code: string) =>
        ((codes.indexOf(code) - group + codes.length) % codes.length) + 1;
      return [name, of.map((row) => ({ row, rotation: rotationOf(row.apparatus) }))] as const;
    });
    return [{ kind, on: null, discipline, date, competition, contenders: new Map(contenders) }];
  });
}

/** One apparatus final, where it has to be told in which order they went up. */
export function ownApparatusFinal(
  rows: readonly OwnRow[],
  about: Pick<OwnFinal, 'discipline' | 'date' | 'competition'> & { on: string },
  order: readonly string[],
): OwnFinal {
  const { discipline, date, competition, on } = about;
  const these = rows.filter(
    (r) =>
      r.discipline === discipline &&
      r.date === date &&
      r.competition === competition &&
      r.round === 'final' &&
      (r.apparatus === on || r.apparatus === `${on}2`),
  );
  const all = [...grouped(these, (r) => r.gymnast)].filter(([, of]) =>
    of.some((r) => r.apparatus === on),
  );
  const both = all.filter(([, of]) => of.length === 2);
  const field =
    both.length * 2 > all.length
      ? both
      : all.map(([g, of]) => [g, of.filter((r) => r.apparatus === on)] as const);
  return {
    ...{ kind: 'apparatus', on, discipline, date, competition },
    contenders: new Map(
      field.map(([g, of]) => [g, of.map((row) => ({ row, rotation: order.indexOf(g) + 1 }))]),
    ),
  };
}
