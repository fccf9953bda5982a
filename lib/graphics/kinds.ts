/**
 * The kinds of lines: which fields a template of each may name, and which conditions it may set.
 * A new kind is one entry here and its facts in `FACTS` (facts.ts).
 */

const EVERYWHERE = ['name', 'team', 'contest', 'she', 'her', 'She', 'Her'] as const;
const PLACE = ['first', 'medal', 'other'] as const;
const YES_NO = ['yes', 'no'] as const;
/** Whether everyone has done equally many routines; only those on the board; or not even they. */
const BOARD = ['even', 'so-far', 'uneven'] as const;
/** Of a place on the board. */
const STANDING = [
  ...['total', 'place', 'soFar', 'even', 'each', 'projected', 'done', 'left'],
  ...['levelWith', 'side', 'rule'],
] as const;
const STANDING_WHEN = {
  board: BOARD,
  tied: YES_NO,
  level: ['shared', 'ahead', 'behind', 'no'],
  out: YES_NO,
} as const;
/** Whose contest it is. */
const OF = ['gymnast', 'team'] as const;

interface Kind {
  readonly fields: readonly string[];
  readonly when: Readonly<Record<string, readonly string[]>>;
}

export const KINDS = {
  change: {
    fields: [...EVERYWHERE, ...STANDING, 'apparatus', 'score', 'was', 'wasProjected'],
    when: {
      of: OF,
      ...STANDING_WHEN,
      what: ['score', 'withdrawn', 'moved'],
      way: ['up', 'down', 'same', 'new'],
    },
  },
  settled: {
    fields: EVERYWHERE,
    when: {
      of: OF,
      target: ['win', 'medal'],
      status: ['secured', 'out-of-reach'],
      by: ['limit', 'ranges'],
    },
  },
  standing: {
    fields: [...EVERYWHERE, ...STANDING, 'behind', 'lead'],
    when: { of: OF, ...STANDING_WHEN, place: PLACE, over: YES_NO },
  },
  need: {
    fields: [
      ...EVERYWHERE,
      'apparatus',
      'score',
      'tie',
      'ahead',
      'level',
      'e',
      'reach',
      'rival',
      'rule',
      'total',
      'place',
      'soFar',
      'unequal',
    ],
    when: {
      of: OF,
      target: ['lead', 'win', 'medal', 'hold'],
      status: ['secured', 'impossible', 'level-only', 'beyond', 'needs'],
      tie: ['none', 'shared', 'rival', 'open'],
      by: ['board', 'projection'],
    },
  },
  outcome: {
    fields: [
      ...EVERYWHERE,
      ...['apparatus', 'scores', 'from', 'to', 'place', 'worst', 'soFar', 'unequal'],
      ...['levelWith', 'rule'],
      'chance',
    ],
    when: { of: OF, place: PLACE, tie: ['none', 'shared', 'open'], board: BOARD },
  },
  medals: {
    fields: ['contest', 'medals', 'first', 'second', 'third', 'chance'],
    when: { tied: YES_NO },
  },
} as const satisfies Record<string, Kind>;

export type LineKind = keyof typeof KINDS;

/**
 * In the order they are said.
 * @example
 * LINE_KINDS.join(' ') // → 'change settled standing need outcome medals'
 */
export const LINE_KINDS = Object.keys(KINDS) as LineKind[];
