/** Several curves at once are each as it is by itself, and so is everything else. */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { chancesByScores } from '../../lib/chances/chances.js';
import { findContest } from '../../lib/contest/contest.js';
import { openMeet } from '../../lib/files/index.js';
import { chances, nextUp } from '../../lib/index.js';
import { EXAMPLES } from '../support/cli.js';

it.each(['harbour.yaml', 'tenths.yaml'])('%s', (name) => {
  const meet = openMeet(join(EXAMPLES, name));
  const contest = findContest(meet, null);
  const next = nextUp(meet);
  const found = chancesByScores(
    meet,
    contest,
    next.map((r) => r.index),
  );
  for (const { gymnast, index } of next) {
    const alone = chances(meet, gymnast);
    const curve = found.curves.get(index);
    expect(curve?.apparatus).toBe(alone.curve?.apparatus);
    const points = new Map(alone.curve?.points.map((p) => [p.score, p]));
    expect(curve?.points.length).toBeGreaterThan(1);
    expect(curve?.points[0]?.score).toBe(alone.curve?.points[0]?.score);
    expect(curve?.points.at(-1)?.score).toBe(alone.curve?.points.at(-1)?.score);
    for (const { score, win, medal } of curve?.points ?? []) {
      expect(win).toBeCloseTo(points.get(score)?.win ?? -1, 10);
      expect(medal).toBeCloseTo(points.get(score)?.medal ?? -1, 10);
    }
    for (const [k, { win, medal }] of alone.contenders.entries()) {
      expect(found.chances.contenders[k]?.win).toBeCloseTo(win, 10);
      expect(found.chances.contenders[k]?.medal).toBeCloseTo(medal, 10);
    }
  }
});
