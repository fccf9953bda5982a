/**
 * Answers with their scores written out, for JSON: 13534 becomes "13.534". Which numbers of an
 * answer are scores is said here, once, by shape.
 */
import type { Captions } from './captions/captions.js';
import type { Chances } from './chances/chances.js';
import type { Claim } from './claim/claim.js';
import type { Standings } from './contest/standings.js';
import type { Backtest } from './history/backtest.js';
import type { FittedRange } from './history/fit.js';
import type { Ranges } from './history/ranges.js';
import type { Need } from './needs/need.js';
import type { Outcomes } from './needs/outcomes.js';
import type { Recorded } from './needs/recorded.js';
import type { NeedsOfAll, NeedsSheet } from './needs/sheet.js';
import type { Supposed } from './needs/suppose.js';
import { type Decimals, formatScore } from './score.js';

/** Whatever JSON can hold. */
export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [key: string]: Json };

/** A score; a list of some shape; a mapping whose every value is a score; or a mapping by key. */
type Shape =
  | 'score'
  | { readonly list: Shape }
  | { readonly each: Shape }
  | { readonly keys: Keys };
type Keys = { readonly [key: string]: Shape };

const list = (shape: Shape): Shape => ({ list: shape });
const keys = <T>(shapes: { readonly [K in keyof T]?: Shape }): Shape => ({ keys: shapes as Keys });

const STANDINGS = keys<Standings>({
  rows: list(
    keys<Standings['rows'][number]>({
      total: 'score',
      behind: 'score',
      projected: 'score',
      scores: { each: 'score' },
    }),
  ),
});

const NEED = keys<Need>({
  ahead: 'score',
  onGrid: 'score',
  level: 'score',
  mark: keys({ total: 'score' }),
  e: 'score',
  remainingTotal: 'score',
  split: keys({ scores: list(keys({ score: 'score' })) }),
  scoreForChance: 'score',
  boards: keys({ at: STANDINGS, below: STANDINGS }),
});

const SHEET = keys<NeedsSheet>({
  total: 'score',
  above: keys({ gap: 'score' }),
  below: keys({ gap: 'score' }),
  range: keys({ low: 'score', likely: 'score', high: 'score', d: 'score' }),
  needs: list(NEED),
});

const CHANCES = keys<Chances>({
  contenders: list(
    keys<Chances['contenders'][number]>({
      total: keys({ p5: 'score', p50: 'score', p95: 'score' }),
    }),
  ),
  curve: keys({ points: list(keys({ score: 'score' })) }),
});

/** By answer; a new one is one entry here. */
const ANSWERS = {
  standings: STANDINGS,
  needs: SHEET,
  needsOfAll: keys<NeedsOfAll>({ gymnasts: list(SHEET) }),
  outcomes: keys<Outcomes>({ bands: list(keys({ from: 'score', to: 'score' })) }),
  chances: CHANCES,
  suppose: keys<Supposed>({
    supposed: list(keys({ score: 'score' })),
    before: STANDINGS,
    after: STANDINGS,
    needs: list(SHEET),
    chances: keys({ before: CHANCES, after: CHANCES }),
  }),
  record: keys<Recorded>({ total: 'score' }),
  captions: keys<Captions>({ captions: list(keys({ from: 'score', to: 'score' })) }),
  claim: keys<Claim>({
    precedent: keys({ from: 'score', to: 'score', list: list(keys({ behind: 'score' })) }),
  }),
  backtest: keys<Backtest>({}),
  ranges: keys<Ranges>({
    gymnasts: list(
      keys<Ranges['gymnasts'][number]>({
        ranges: {
          each: keys<FittedRange>({ low: 'score', likely: 'score', high: 'score', d: 'score' }),
        },
      }),
    ),
  }),
} satisfies Record<string, Shape>;

export type AnswerName = keyof typeof ANSWERS;

/** An answer as JSON has it: scores as texts with the meet's decimals, everything else as it is. */
export function written(name: AnswerName, answer: unknown, decimals: Decimals): Json {
  return write(answer as Json, ANSWERS[name], decimals);
}

function write(value: Json, shape: Shape, decimals: Decimals): Json {
  if (shape === 'score') return typeof value === 'number' ? formatScore(value, decimals) : value;
  if (value === null || typeof value !== 'object') return value;
  if (Array.isArray(value)) {
    return 'list' in shape ? value.map((v) => write(v, shape.list, decimals)) : value;
  }
  const shapeOf = (key: string): Shape | undefined =>
    'each' in shape ? shape.each : 'keys' in shape ? shape.keys[key] : undefined;
  return Object.fromEntries(
    Object.entries(value).map(([key, child]) => {
      const inner = shapeOf(key);
      return [key, inner === undefined ? child : write(child, inner, decimals)];
    }),
  );
}
