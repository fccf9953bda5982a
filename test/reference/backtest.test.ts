/**
 * How honest the chances were, over the open data: 20,815 routines, 27 February 2022 to 27 August
 * 2023, from the UCSAS 2024 data challenge (University of Connecticut), read from the folder that
 * LASTROTATION_DATA names; no row of it is here. What is asked for is told in docs/honesty.md.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Backtest, backtest, claimOfTwo, readHistory } from '../../lib/index.js';

const FOLDER = process.env.LASTROTATION_DATA ?? '';
const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';

function history() {
  const file = 'routines-2022-2023.csv';
  return readHistory({ file, text: readFileSync(join(FOLDER, file), 'utf8') });
}

let kept: Backtest | null = null;
function whole(): Backtest {
  kept ??= backtest(history());
  return kept;
}

describe.skipIf(FOLDER === '')(`the backtest of the open data${WITHOUT}`, () => {
  it('finds the all-around finals, their order assumed', () => {
    const { rounds, boards } = whole();
    expect(rounds.length).toBe(19);
    expect(rounds.every((r) => r.order === 'assumed')).toBe(true);
    // Two world championships' finals of 24 each.
    expect(rounds.filter((r) => r.date === '2022-11-06').map((r) => r.gymnasts)).toEqual([24, 24]);
    expect(boards).toBe(10 * 6 + 9 * 4);
  });

  it('once there is a board, the chances beat the simple rivals, at every rotation', () => {
    const after = whole().byRotation.filter((r) => r.rotation > 0);
    const boards = after.reduce((n, r) => n + r.boards, 0);
    const mean = (f: 'chances' | 'leader-now' | 'leader-projected') =>
      after.reduce((sum, r) => sum + r.winLog[f] * r.boards, 0) / boards;
    expect(mean('leader-now') - mean('chances')).toBeGreaterThanOrEqual(1.2);
    expect(mean('leader-projected') - mean('chances')).toBeGreaterThanOrEqual(0.7);
    for (const { winLog } of after) {
      expect(winLog.chances).toBeLessThan(winLog['leader-now']);
      expect(winLog.chances).toBeLessThan(winLog['leader-projected']);
    }
  });

  it('gives the figures of docs/honesty.md', () => {
    const [chances] = whole().scores;
    expect(chances?.winLog).toBeCloseTo(1.116, 3);
    expect(chances?.medalLog).toBeCloseTo(0.193, 3);
  });

  it('chances to win, and of a medal, lie in the interval of what happened in every tenth', () => {
    const within = (bins: Backtest['reliability']['win']) =>
      bins.filter(
        ({ said, interval }) =>
          said !== null && interval !== null && said >= interval[0] && said <= interval[1],
      ).length;
    const { win, medal } = whole().reliability;
    expect([within(win), within(medal)]).toEqual([10, 10]);
  });

  it('has what was done before by those as far behind', () => {
    const { precedent } = claimOfTwo({ behind: '0.8', remaining: 2 }, { history: history() });
    expect(precedent).toMatchObject({ order: 'assumed', from: 640, to: 960 });
    expect(precedent?.list.length).toBe(precedent?.cases);
    expect(precedent?.list.filter((c) => c.success).length).toBe(precedent?.successes);
  });
});
