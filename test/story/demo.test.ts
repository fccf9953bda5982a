/**
 * The story of the demo meet, told again at four moments of the evening by other means: the texts cut where
 * they stood then and read anew, the chances as the command `chances` gives them, expectation and percentile
 * summed here from the range alone.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import betaCdf from '@stdlib/stats-base-dists-beta-cdf';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { type Chances, chances, type StoryPoint, story } from '../../lib/index.js';
import { EXAMPLES } from '../support/cli.js';
import { meetFrom } from '../support/meet.js';

const YAML = readFileSync(join(EXAMPLES, 'harbour.yaml'), 'utf8');
const LOG = readFileSync(join(EXAMPLES, 'harbour.scores.csv'), 'utf8');
const LINES = LOG.trimEnd().split('\n');
const ROWS = LINES.length - 1;
const TOLD = story(meetFrom(YAML, LOG), { file: 'log', text: LOG });

/** The chances when the log was so long. */
function chancesAfter(rows: number): Chances {
  return chances(meetFrom(YAML, `${LINES.slice(0, rows + 1).join('\n')}\n`));
}

interface InFile {
  readonly id: string;
  readonly ranges?: Record<string, { low: number; likely: number; high: number; falls: number }>;
}

const FIELD = (parse(YAML) as { gymnasts: readonly InFile[] }).gymnasts;

/** Three judges in tenths, their average cut to a thousandth. */
const GRID = Array.from({ length: 600 }, (_, j) => Math.floor((j * 100) / 3));

/** The scores of a range and their chances, falls of 1.000 each, by DESIGN's words. */
function scoresOf(gymnast: string, apparatus: string): [score: number, chance: number][] {
  const range = FIELD.find((g) => g.id === gymnast)?.ranges?.[apparatus];
  if (range === undefined) throw new Error(`no range of ${gymnast} on ${apparatus}`);
  const [low, likely, high] = [range.low, range.likely, range.high].map((s) =>
    Math.round(s * 1000),
  );
  if (low === undefined || likely === undefined || high === undefined) throw new Error('no range');
  const width = high - low;
  const [a, b] = [1 + (4 * (likely - low)) / width, 1 + (4 * (high - likely)) / width];
  const points = GRID.filter((s) => s >= low && s <= high);
  const upTo = (score: number) => betaCdf((score - low) / width, a, b);
  const edge = (k: number) =>
    k < 0 ? 0 : k >= points.length - 1 ? 1 : upTo((points[k]! + points[k + 1]!) / 2);
  const f = range.falls;
  return points.flatMap((score, k): [number, number][] => {
    const clean = edge(k) - edge(k - 1);
    return [1 - f, f * (1 - f), f * f].map((chance, n) => [score - 1000 * n, clean * chance]);
  });
}

const NUMBER_OF_POINT = new Map(TOLD.points.map((p, i) => [p.row, i]));
const pointAt = (row: number) => TOLD.points[NUMBER_OF_POINT.get(row)!] as StoryPoint;

it('has a point for every row but the two of somebody who is out already', () => {
  expect(ROWS).toBe(63);
  const rows = Array.from({ length: ROWS }, (_, i) => i + 1);
  expect(TOLD.points.map((p) => p.row)).toEqual(rows.filter((r) => r !== 26 && r !== 27));
  expect(TOLD.rows).toBe(ROWS);
  expect([TOLD.method, TOLD.isOver, TOLD.about]).toEqual(['exact', false, 'win']);
  expect(TOLD.error).toBeLessThanOrEqual(0.005);
  expect(TOLD.error).toBe(Math.max(TOLD.start.error, ...TOLD.points.map((p) => p.error)));
});

it('before the first score the chances are those of a meet without a log', () => {
  const { contenders, error } = chancesAfter(0);
  for (const c of TOLD.start.chances) {
    const there = contenders.find(({ id }) => id === c.id);
    expect(Math.abs(c.win - (there?.win ?? 2))).toBeLessThanOrEqual(error + TOLD.start.error);
    expect(Math.abs(c.medal - (there?.medal ?? 2))).toBeLessThanOrEqual(error + TOLD.start.error);
  }
  expect(TOLD.start.chances.map((c) => c.id)).toEqual(contenders.map((c) => c.id));
});

// A withdrawal is row 25, a score after an inquiry row 37; from row 60 on chances are those `record` gives.
describe.each([1, 25, 37, 63])('after row %i', (row) => {
  const point = pointAt(row);
  const now = chancesAfter(row);

  it('everyone’s chances are those of that moment', () => {
    expect(point.chances.map((c) => c.id)).toEqual(now.contenders.map((c) => c.id));
    const off = point.chances.flatMap(({ win, medal }, i) => [
      Math.abs(win - now.contenders[i]!.win),
      Math.abs(medal - now.contenders[i]!.medal),
    ]);
    expect(Math.max(...off)).toBeLessThanOrEqual(now.error + point.error);
  });

  it('its worth is what changed for her', () => {
    const before = chancesAfter(row - 1);
    const i = now.contenders.findIndex((c) => c.id === point.contender);
    const error = now.error + before.error + 2 * TOLD.error;
    const [was, is] = [before.contenders[i]!, now.contenders[i]!];
    expect(Math.abs(point.worth!.win - (is.win - was.win))).toBeLessThanOrEqual(error);
    expect(Math.abs(point.worth!.medal - (is.medal - was.medal))).toBeLessThanOrEqual(error);
  });

  it('expectation and percentile are those of her range', () => {
    if (point.score === null) {
      expect([point.expected, point.percentile, point.worth?.points]).toEqual([null, null, null]);
      return;
    }
    const { score } = point;
    const scores = scoresOf(point.gymnast, point.apparatus ?? '');
    const mean = scores.reduce((sum, [s, chance]) => sum + s * chance, 0);
    const beaten = scores.reduce((sum, [s, chance]) => sum + (s < score ? chance : 0), 0);
    expect(Math.abs(point.expected! - mean)).toBeLessThanOrEqual(0.5 + 1e-6);
    expect(point.percentile).toBeCloseTo(100 * beaten, 8);
    const from = typeof point.was === 'number' ? point.was : point.expected!;
    expect(point.worth?.points).toBe(score - from);
  });
});

it('the scores that moved the title most are the turning points, in order', () => {
  const moved = TOLD.points.map(({ row, chances }, i) => {
    const before = TOLD.points[i - 1]?.chances ?? TOLD.start.chances;
    const change = chances.reduce((sum, c, k) => sum + Math.abs(c.win - before[k]!.win), 0) / 2;
    return { row, change };
  });
  const most = moved.filter((m) => m.change >= 0.1).sort((a, b) => b.change - a.change);
  const rows = most.slice(0, 5).map((m) => m.row);
  expect(rows.length).toBe(5);
  expect(TOLD.turningPoints).toEqual(rows.sort((a, b) => a - b));
});
