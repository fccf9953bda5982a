/**
 * Who was so far behind, and did it, counted a second time: the all-around finals of the open data
 * (20,815 routines, 2022 and 2023, from the UCSAS 2024 data challenge, University of Connecticut),
 * replayed from the file by sums alone. The folder is the one that LASTROTATION_DATA names; no row
 * of it is here. The order is that of docs/honesty.md: groups by place in qualification, the best on
 * the first apparatus, or else apparatus by apparatus.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { precedentsOf } from '../../lib/history/precedents.js';
import { readHistory } from '../../lib/index.js';

const FOLDER = process.env.LASTROTATION_DATA ?? '';
const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';
const FILE = 'routines-2022-2023.csv';
const ORDER = {
  wag: ['VT', 'UB', 'BB', 'FX'],
  mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'],
} as const;
type Discipline = keyof typeof ORDER;

interface Row {
  readonly gymnast: string;
  readonly discipline: string;
  readonly meet: string;
  readonly competition: string;
  readonly round: string;
  readonly apparatus: string;
  readonly score: number;
}

/** Thousandths, as whole numbers. */
const units = (text: string) => Math.round(Number(text) * 1000);

let kept: { text: string; rows: Row[] } | null = null;
function data() {
  if (kept !== null) return kept;
  const text = readFileSync(join(FOLDER, FILE), 'utf8');
  const seen = new Set<string>();
  const rows = text
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .flatMap((line): Row[] => {
      const [gymnast, discipline, , date, competition, round, apparatus, d, e, nd, score] =
        line.split(',');
      const total = units(score!);
      const isSum = total === 0 || units(d!) + units(e!) - units(nd!) === total;
      const key = [gymnast, discipline, date, competition, round, apparatus].join();
      // The first of several rows for one routine, as long as it is the sum of its parts.
      if (!isSum || seen.has(key)) return [];
      seen.add(key);
      return [
        {
          gymnast: gymnast!,
          discipline: discipline!,
          meet: `${date} ${competition}`,
          competition: competition!,
          round: round!,
          apparatus: apparatus!,
          score: total,
        },
      ];
    });
  kept = { text, rows };
  return kept;
}

/** By gymnast of one final: scores in the order in which she did them. */
function finals(discipline: Discipline): Map<string, number[]>[] {
  const codes = ORDER[discipline];
  const rows = data().rows.filter((r) => r.discipline === discipline);
  const inFinals = rows.filter((r) => r.round === 'AAfinal');
  return [...new Set(inFinals.map((r) => r.meet))].flatMap((meet) => {
    const these = inFinals.filter((r) => r.meet === meet);
    const scoreOf = (gymnast: string, code: string) =>
      these.find((r) => r.gymnast === gymnast && r.apparatus === code)?.score;
    const field = [...new Set(these.map((r) => r.gymnast))].filter((g) =>
      codes.every((c) => scoreOf(g, c) !== undefined),
    );
    if (field.length < 4) return [];
    const before = rows.filter(
      (r) =>
        r.competition === these[0]!.competition &&
        r.apparatus !== 'VT2' &&
        /qual/i.test(r.round) &&
        field.includes(r.gymnast),
    );
    const qualified = (gymnast: string) => {
      const own = before.filter((r) => r.gymnast === gymnast);
      return own.length === 0 ? -1 : own.reduce((sum, r) => sum + r.score, 0);
    };
    const known = field.filter((g) => qualified(g) >= 0).length;
    const size = Math.ceil(field.length / codes.length);
    const ranked = [...field].sort((a, b) => qualified(b) - qualified(a));
    return [
      new Map(
        field.map((gymnast) => {
          const group = known * 2 < field.length ? 0 : Math.floor(ranked.indexOf(gymnast) / size);
          return [
            gymnast,
            codes.map((_, k) => scoreOf(gymnast, codes[(group + k) % codes.length]!)!),
          ];
        }),
      ),
    ];
  });
}

/** How many were so far behind a place with so many left, and how many of them took it, shared or not. */
function counted(discipline: Discipline, left: number, from: number, to: number, place: number) {
  let [cases, successes] = [0, 0];
  for (const final of finals(discipline)) {
    const all = [...final.values()];
    const sum = (scores: readonly number[]) => scores.reduce((a, b) => a + b, 0);
    const then = all.map((scores) => sum(scores.slice(0, scores.length - left)));
    const end = all.map(sum);
    const mark = [...then].sort((a, b) => b - a)[place - 1];
    // A field of fewer has no such place.
    if (mark === undefined) continue;
    for (const [i, total] of then.entries()) {
      const behind = mark - total;
      if (behind < Math.max(from, 1) || behind > to) continue;
      cases++;
      if (end.filter((e) => e > end[i]!).length < place) successes++;
    }
  }
  return { cases, successes };
}

describe.skipIf(FOLDER === '')(`precedents in the open data${WITHOUT}`, () => {
  const history = () => readHistory({ file: FILE, text: data().text });

  it('are those an independent replay counts', { timeout: 120_000 }, () => {
    const past = history();
    for (const discipline of ['wag', 'mag'] as const) {
      for (let remaining = 1; remaining < ORDER[discipline].length; remaining++) {
        for (const [behind, place] of [
          [100, 1],
          [800, 1],
          [3000, 1],
          [500, 3],
          [1500, 8],
        ] as const) {
          const about = Math.max(behind / 5, 100);
          const found = precedentsOf(past, { discipline, decimals: 3, behind, remaining, place });
          const { cases = 0, successes = 0 } = found ?? {};
          const again = counted(discipline, remaining, behind - about, behind + about, place);
          expect({ discipline, remaining, behind, place, cases, successes }).toEqual({
            ...{ discipline, remaining, behind, place },
            ...again,
          });
        }
      }
    }
  });

  it('three points behind with one routine left nobody has won', () => {
    const past = history();
    for (const discipline of ['wag', 'mag'] as const) {
      const asked = { discipline, decimals: 3 as const, behind: 3000, remaining: 1, place: 1 };
      expect(precedentsOf(past, asked)).toMatchObject({ successes: 0 });
    }
  });
});
