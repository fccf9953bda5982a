/**
 * The chance that one of two equals catches the other against how often it was done, in the all-around finals
 * of the open data: 20,815 routines, 2022 and 2023, from the UCSAS 2024 data challenge (University of
 * Connecticut), read from the folder that LASTROTATION_DATA names; no row of it is here. What was done is
 * counted a second time in precedents.test.ts.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { meetOfTwo } from '../../lib/claim/two-equals.js';
import { precedentsOf } from '../../lib/history/precedents.js';
import { chances, readHistory } from '../../lib/index.js';

const FOLDER = process.env.LASTROTATION_DATA ?? '';
const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';
const FILE = 'routines-2022-2023.csv';
const GAPS = ['0.250', '0.500', '0.750', '1.000', '1.500', '2.000', '3.000', '4.000'];
const REMAINING = { wag: [1, 2, 3], mag: [1, 2, 3, 4, 5] } as const;

describe.skipIf(FOLDER === '')(`two equals${WITHOUT}`, () => {
  it('catch up about as often as was done: nine of ten within the interval', {
    timeout: 240_000,
  }, () => {
    const history = readHistory({ file: FILE, text: readFileSync(join(FOLDER, FILE), 'utf8') });
    const cells = (['wag', 'mag'] as const).flatMap((discipline) =>
      REMAINING[discipline].flatMap((remaining) =>
        GAPS.map((behind) => {
          const { contenders } = chances(meetOfTwo({ behind, remaining, discipline }));
          const gap = Math.round(Number(behind) * 1000);
          const asked = { discipline, behind: gap, decimals: 3, remaining, place: null } as const;
          return {
            chance: contenders.find((c) => c.id === 'behind')?.win ?? Number.NaN,
            precedent: precedentsOf(history, asked),
          };
        }),
      ),
    );
    const inside = cells.filter(({ chance, precedent }) => {
      const [low, high] = precedent?.interval ?? [1, 0];
      return low <= chance && chance <= high;
    });
    expect(cells.every((c) => c.precedent !== null)).toBe(true);
    // What docs/claims.md says.
    expect([inside.length, cells.length]).toEqual([61, 64]);
    expect(inside.length / cells.length).toBeGreaterThan(0.9);
  });
});
