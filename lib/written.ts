/**
 * Answers with their scores written out, for JSON: 13534 becomes "13.534". Which numbers of an
 * answer are scores its type says; the shapes here say it again for when it runs, and the compiler sees
 * to it that the two agree.
 */

import type { AnswerName, Answers } from './answers.js';
import type { Chances, CurvePoint } from './chances/chances.js';
import type { ContenderChances } from './chances/contender-chances.js';
import type { Claim } from './claim/claim.js';
import type { CountedScore } from './contest/counting.js';
import type { Standings } from './contest/standings.js';
import type { GraphicsChanges } from './graphics/changes.js';
import type { Graphics, GraphicsLine } from './graphics/graphics.js';
import type { Backtest } from './history/backtest-answer.js';
import type { Fitted, FittedRange } from './history/fit.js';
import type { ForecastRow } from './history/forecast-rows.js';
import type { PrecedentCase, Precedents } from './history/precedents.js';
import type { Ranges } from './history/ranges.js';
import type { Range } from './meet/meet.js';
import type { AdvanceChances, Advancing } from './needs/advancing.js';
import type { Counting, CountsFrom, FallCost, ScoreOf } from './needs/counting.js';
import type { Catcher, Finished, FinishedSheet, LastScore } from './needs/finished.js';
import type { AgainstRange, InPlace, Tonight } from './needs/in-place.js';
import type { Mark, Need } from './needs/need.js';
import type { Needed } from './needs/needed.js';
import type { Band, Outcomes } from './needs/outcomes.js';
import type { Safe, Threat } from './needs/safe.js';
import type { NeedsOfAll, NeedsSheet } from './needs/sheet.js';
import type { Split } from './needs/split.js';
import type { Neighbour } from './needs/stands.js';
import type { Supposed } from './needs/suppose.js';
import { type Decimals, formatScore, type Score } from './score.js';
import type { Closeness, LastWord } from './story/closeness.js';
import type { StoryPoint, Worth } from './story/point.js';
import type { AtTheTop, Story } from './story/story.js';
import type { RareScore, Unlikely } from './story/unlikely.js';

/** An answer as JSON has it: where it has a score there is a text, everything else stays. */
export type Written<T> = T extends Score
  ? string
  : T extends object
    ? { readonly [K in keyof T]: Written<T[K]> }
    : T;

/** A score; a list of some shape; a mapping whose every value is of a shape; or a mapping by key. */
type Shape =
  | 'score'
  | { readonly list: Shape }
  | { readonly each: Shape }
  | { readonly keys: Readonly<Record<string, Shape>> };

/** Whether there is a score somewhere in it: then its shape must say where. */
type HasScore<T> = T extends Score
  ? true
  : T extends readonly (infer U)[]
    ? HasScore<U>
    : T extends object
      ? { [K in keyof T]-?: HasScore<T[K]> }[keyof T]
      : false;

/** The shapes of the keys that hold scores: all of them, and no others. */
type Shapes<T> = {
  readonly [K in keyof T as true extends HasScore<T[K]> ? K : never]-?: Shape;
};

const list = (shape: Shape): Shape => ({ list: shape });
const each = (shape: Shape): Shape => ({ each: shape });
const keys = <T>(shapes: Shapes<T>): Shape => ({ keys: shapes as Readonly<Record<string, Shape>> });

/** What is in a list, or behind a null. */
type In<T> = T extends readonly (infer U)[] ? U : NonNullable<T>;

/** Scores that stand and may change. */
const UNDER_INQUIRY = list(keys<In<Standings['underInquiry']>>({ score: 'score' }));

/** Which scores of a team count. */
const COUNTED = list(keys<CountedScore>({ score: 'score' }));

const STANDINGS = keys<Standings>({
  underInquiry: UNDER_INQUIRY,
  rows: list(
    keys<In<Standings['rows']>>({
      total: 'score',
      behind: 'score',
      projected: 'score',
      scores: each('score'),
      counting: each(COUNTED),
    }),
  ),
});

const NEED = keys<Need>({
  ahead: 'score',
  onGrid: 'score',
  level: 'score',
  mark: keys<Mark>({ total: 'score' }),
  e: 'score',
  remainingTotal: 'score',
  split: keys<Split>({ scores: list(keys<In<Split['scores']>>({ score: 'score' })) }),
  scoreForChance: 'score',
  boards: keys<In<Need['boards']>>({ at: STANDINGS, below: STANDINGS }),
});

const AGAINST_RANGE: Shapes<AgainstRange> = {
  expected: 'score',
  overBy: 'score',
  underBy: 'score',
};

const NEEDED = list(
  keys<Needed>({
    level: 'score',
    ahead: 'score',
    onGrid: 'score',
    mark: keys<Mark>({ total: 'score' }),
  }),
);

const IN_PLACE = keys<InPlace>({
  ...AGAINST_RANGE,
  score: 'score',
  total: 'score',
  needed: NEEDED,
  tonight: keys<Tonight>({
    best: keys<In<Tonight['best']>>({ score: 'score' }),
    behind: 'score',
    ahead: 'score',
  }),
});

const FINISHED = keys<Finished>({
  catchers: list(keys<Catcher>({ total: 'score', need: NEED })),
  last: keys<LastScore>({ ...AGAINST_RANGE, score: 'score', needed: NEEDED }),
});

const SCORE_OF = keys<ScoreOf>({ score: 'score' });

const COUNTS_FROM = keys<CountsFrom>({ from: 'score', onGrid: 'score', over: SCORE_OF });

const FALL_COST = keys<FallCost>({ costs: 'score', instead: SCORE_OF });

const COUNTING = keys<Counting>({
  scores: COUNTED,
  now: COUNTS_FROM,
  certain: COUNTS_FROM,
  fall: keys<In<Counting['fall']>>({ score: 'score', now: FALL_COST, expected: FALL_COST }),
});

/** What a sheet holds whether or not anything is to come. */
const STANDS = {
  underInquiry: UNDER_INQUIRY,
  total: 'score',
  above: keys<Neighbour>({ gap: 'score' }),
  below: keys<Neighbour>({ gap: 'score' }),
  needs: list(NEED),
} as const;

const SHEET_ALONE: Shapes<NeedsSheet> = {
  ...STANDS,
  range: keys<Range>({
    ...{ low: 'score', likely: 'score', high: 'score', d: 'score', within: 'score' },
  }),
  counting: COUNTING,
  safe: list(keys<Safe>({ score: 'score', threat: keys<Threat>({ total: 'score' }) })),
};

const FINISHED_ALONE: Shapes<FinishedSheet> = { ...STANDS, finished: FINISHED };

/** Of either kind. */
const SHEET: Shape = { keys: { ...SHEET_ALONE, ...FINISHED_ALONE } };

const CHANCES = keys<Chances>({
  underInquiry: UNDER_INQUIRY,
  contenders: list(
    keys<ContenderChances>({
      total: keys<In<ContenderChances['total']>>({ p5: 'score', p50: 'score', p95: 'score' }),
    }),
  ),
  curve: keys<In<Chances['curve']>>({ points: list(keys<CurvePoint>({ score: 'score' })) }),
});

const LINE = keys<GraphicsLine>({
  from: 'score',
  to: 'score',
  score: 'score',
  was: 'score',
  total: 'score',
  gap: 'score',
});

/** Which numbers of an answer are scores. */
const SHAPES: Readonly<Record<AnswerName, Shape>> = {
  standings: STANDINGS,
  needs: SHEET,
  needsOfAll: keys<NeedsOfAll>({ gymnasts: list(SHEET) }),
  outcomes: keys<Outcomes>({
    underInquiry: UNDER_INQUIRY,
    bands: list(keys<Band>({ from: 'score', to: 'score' })),
  }),
  chances: CHANCES,
  advancing: keys<AdvanceChances>({
    underInquiry: UNDER_INQUIRY,
    contenders: list(keys<Advancing>({ total: 'score' })),
  }),
  suppose: keys<Supposed>({
    supposed: list(keys<In<Supposed['supposed']>>({ score: 'score' })),
    before: STANDINGS,
    after: STANDINGS,
    needs: list(SHEET),
    chances: keys<Supposed['chances']>({ before: CHANCES, after: CHANCES }),
  }),
  record: keys<Answers['record']>({
    was: 'score',
    now: 'score',
    total: 'score',
    inPlace: IN_PLACE,
  }),
  graphics: keys<Graphics>({ underInquiry: UNDER_INQUIRY, lines: list(LINE) }),
  graphicsChanges: keys<GraphicsChanges>({
    underInquiry: UNDER_INQUIRY,
    added: list(LINE),
    changed: list(LINE),
  }),
  story: keys<Story>({
    underInquiry: UNDER_INQUIRY,
    points: list(
      keys<StoryPoint>({
        score: 'score',
        was: 'score',
        now: 'score',
        expected: 'score',
        worth: keys<Worth>({ points: 'score' }),
      }),
    ),
    top: list(keys<AtTheTop>({ total: 'score', behind: 'score' })),
    closeness: list(
      keys<Closeness>({
        by: 'score',
        last: keys<LastWord>({
          score: 'score',
          onGrid: 'score',
          ahead: 'score',
          margin: 'score',
        }),
      }),
    ),
    unlikely: keys<Unlikely>({ scores: list(keys<RareScore>({ score: 'score' })) }),
  }),
  claim: keys<Claim>({
    precedent: keys<Precedents>({
      from: 'score',
      to: 'score',
      list: list(keys<PrecedentCase>({ behind: 'score' })),
    }),
  }),
  backtest: keys<Backtest>({
    forecasts: list(keys<ForecastRow>({ total: 'score', projected: 'score' })),
  }),
  ranges: keys<Ranges>({
    gymnasts: list(
      keys<Fitted>({
        ranges: each(
          keys<FittedRange>({
            ...{ low: 'score', likely: 'score', high: 'score', d: 'score', within: 'score' },
          }),
        ),
      }),
    ),
  }),
};

/**
 * An answer as JSON has it: scores as texts with the meet's decimals, everything else as it is.
 * @param name - Which answer it is, by the name of its schema.
 * @param answer - As the function of that name gave it.
 * @param decimals - Those of the meet: `meet.scoring.decimals`.
 * @returns Plain data, ready for `JSON.stringify`.
 * @example
 * written('standings', standings(meet), meet.scoring.decimals).rows[0]?.total // → '43.566'
 */
export function written<N extends AnswerName>(
  name: N,
  answer: Answers[N],
  decimals: Decimals,
): Written<Answers[N]> {
  return write(answer, SHAPES[name], decimals) as Written<Answers[N]>;
}

function write(value: unknown, shape: Shape, decimals: Decimals): unknown {
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
