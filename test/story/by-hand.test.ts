/**
 * Stories of two or three gymnasts, worked by hand. Each scores 9.000 unless she falls, and half of them do:
 * 9.000 with 1/2, 8.000 with 1/4, 7.000 with 1/4; 8.250 on average. Shared places count for all who share.
 */
import { describe, expect, it } from 'vitest';
import { type Meet, readHistory, type Story, type StoryPoint, story } from '../../lib/index.js';
import { coursesOf } from '../../lib/story/contention.js';
import { changedHands, turningPointsOf } from '../../lib/story/turning-points.js';
import { logFrom, meetFrom } from '../support/meet.js';

const RANGE = '{ low: 9, likely: 9, high: 9, falls: 0.5 }';
const HEAD = `
discipline: [{ code: HP, name: hoop, limit: 10 }, { code: BL, name: ball, limit: 10 }]
scoring: open
fall: 1
panel: { counting: 1, step: 0.5 }`;
const ranges = `ranges: { HP: ${RANGE}, BL: ${RANGE} }`;
const two = `
gymnasts:
  - { id: ann, name: Ann Ashdown, ${ranges} }
  - { id: bea, name: Bea Birkwell, ${ranges} }`;
const HOOP = `${HEAD}
contests: [{ kind: apparatus, on: HP, ties: [], medals: 1 }]${two}`;

function told(yaml: string, rows: readonly string[], options = {}): Story & { meet: Meet } {
  const text = logFrom(...rows);
  const meet = meetFrom(yaml, text);
  return { ...story(meet, { file: 'log', text }, options), meet };
}

type Moment = Pick<StoryPoint, 'chances'>;
const near = (value: number) => expect.closeTo(value, 12);
const wins = ({ chances }: Moment) => Object.fromEntries(chances.map((c) => [c.id, c.win]));

/** P(one ≥ other): 1/2 · 1 + 1/4 · 1/2 + 1/4 · 1/4. */
const EVEN = 11 / 16;

describe('two gymnasts, one routine each', () => {
  const { start, points, turningPoints, about, error } = told(HOOP, ['ann,HP,8', 'bea,HP,8.5']);

  it('begins even', () => {
    expect(wins(start)).toEqual({ ann: near(EVEN), bea: near(EVEN) });
    expect(error).toBeLessThan(1e-11);
    expect(about).toBe('win');
  });

  it('a score is set against what was expected, and what it did to her chances', () => {
    expect(points[0]).toMatchObject({
      row: 1,
      kind: 'score',
      gymnast: 'ann',
      contender: 'ann',
      apparatus: 'HP',
      session: 1,
      rotation: 1,
      score: 8000,
      was: null,
      now: 8000,
      expected: 8250,
      percentile: near(25),
      rangeFrom: 'own',
      worth: { win: near(1 / 2 - EVEN), advance: null, points: -250 },
    });
  });

  it('after 8.000 she wins unless the other stands, and then the other does', () => {
    const [first, last] = points;
    expect(wins(first as Moment)).toEqual({ ann: near(1 / 2), bea: near(3 / 4) });
    expect(wins(last as Moment)).toEqual({ ann: 0, bea: 1 });
    expect(last?.worth).toMatchObject({ win: near(1 / 4), points: 250 });
  });

  it('turned twice: an eighth of the title changed hands with the first score, three eighths with the last', () => {
    // (|1/2 - 11/16| + |3/4 - 11/16|) / 2 = 1/8; (1/2 + 1/4) / 2 = 3/8.
    expect(turningPoints).toEqual([1, 2]);
    // Two who share the title take nothing from each other: Ann's 9.000 is worth 5/16 to her and costs Bea
    // 3/16, Bea's 1/2 to her.
    const { turningPoints: shared } = told(HOOP, ['ann,HP,9', 'bea,HP,9']);
    expect(shared).toEqual([1, 2]);
  });

  it('says how close it came', () => {
    const { closeness, isOver, top } = told(HOOP, ['ann,HP,8', 'bea,HP,8.5']);
    expect(isOver).toBe(true);
    expect(top).toMatchObject([{ id: 'bea', place: 1, tied: false, total: 8500, behind: 0 }]);
    expect(closeness).toMatchObject([
      {
        target: 'win',
        in: 'bea',
        out: 'ann',
        by: 500,
        tieBy: null,
        last: { row: 2, contender: 'bea', score: 8500, onGrid: 8500, margin: 0, got: 'ahead' },
      },
    ]);
    // Half a point short of 8.500, which would have been ahead of 8.000.
    const short = told(HOOP, ['ann,HP,8', 'bea,HP,7.5']).closeness?.[0];
    expect(short).toMatchObject({ in: 'ann', out: 'bea', by: 500 });
    expect(short?.last).toMatchObject({
      contender: 'bea',
      onGrid: 8500,
      margin: 1000,
      got: 'short',
    });
    // A title that is shared leaves nobody who just missed it.
    expect(told(HOOP, ['ann,HP,8', 'bea,HP,8']).closeness).toBeNull();
    expect(told(HOOP, ['ann,HP,8']).closeness).toBeNull();
  });

  it('says what was unlikely: the lowest chance of who won, and a rare score', () => {
    const rare = HOOP.replace(`bea, name: Bea Birkwell, ranges: { HP: ${RANGE}`, (text) =>
      text.replace('falls: 0.5', 'falls: 0.8'),
    );
    expect(rare).not.toBe(HOOP);
    const { unlikely } = told(rare, ['ann,HP,9', 'bea,HP,9.5']);
    expect(unlikely?.lowest).toEqual({ id: 'bea', row: 1, chance: near(0.2) });
    expect(unlikely?.scores).toEqual([
      { row: 2, gymnast: 'bea', apparatus: 'HP', score: 9500, percentile: 100, past: null },
    ]);
    expect(told(HOOP, ['ann,HP,8', 'bea,HP,8.5']).unlikely).toBeNull();
    // A rare score that did not stay is none.
    expect(told(HOOP, ['ann,HP,9.5']).unlikely?.scores.length).toBe(1);
    expect(told(HOOP, ['ann,HP,9.5', 'ann,HP,9']).unlikely).toBeNull();
  });
});

describe('what is a point', () => {
  const kinds = (rows: readonly string[], yaml = HOOP) =>
    told(yaml, rows).points.map(({ row, kind, was, now, worth }) => [
      ...[row, kind, was, now],
      worth?.points ?? null,
    ]);

  it('a correction, with what stood before; what is taken back', () => {
    const rows = ['ann,HP,8', 'ann,HP,9', 'ann,HP,void', 'ann,HP,void'];
    expect(kinds(rows)).toEqual([
      [1, 'score', null, 8000, -250],
      [2, 'corrected', 8000, 9000, 1000],
      [3, 'taken-back', 9000, 8000, -1000],
      [4, 'taken-back', 8000, null, null],
    ]);
    const { start, points } = told(HOOP, rows);
    expect(points.map((p) => p.percentile)).toEqual([near(25), near(50), near(25), null]);
    expect(points.map((p) => p.expected)).toEqual([8250, 8250, 8250, null]);
    // With 9.000 nobody can be ahead of her: Bea shares it, as often as she stands.
    expect(wins(points[1] as Moment)).toEqual({ ann: 1, bea: near(1 / 2) });
    expect(points[2]?.chances).toEqual(points[0]?.chances);
    expect(points[3]?.chances).toEqual(start.chances);
  });

  it('an inquiry is none until the score is changed', () => {
    const text = [
      'gymnast,apparatus,score,status',
      'ann,HP,8,',
      'ann,HP,8,inquiry',
      'ann,HP,8.5,',
      'ann,HP,8.5,',
    ].join('\n');
    const meet = meetFrom(HOOP, text);
    const { points } = story(meet, { file: 'log', text });
    expect(points.map((p) => [p.row, p.kind])).toEqual([
      [1, 'score'],
      [3, 'changed'],
    ]);
  });

  it('a score under inquiry is a point, counts as it stands, and the story is not over', () => {
    const text = `gymnast,apparatus,score,status\nann,HP,8,\nbea,HP,7,inquiry\n`;
    const { points, isOver, closeness, underInquiry } = story(meetFrom(HOOP, text), {
      file: 'log',
      text,
    });
    expect(points.map((p) => p.row)).toEqual([1, 2]);
    expect([isOver, closeness]).toEqual([false, null]);
    expect(underInquiry.map((u) => u.gymnast)).toEqual(['bea']);
  });

  it('a withdrawal, with no score: the other has won', () => {
    const { points } = told(HOOP, ['bea,HP,DNS']);
    expect(points).toMatchObject([
      { kind: 'withdrawn', score: null, now: 'DNS', expected: null, percentile: null },
    ]);
    expect(wins(points[0] as Moment)).toEqual({ ann: 1, bea: 0 });
    expect(points[0]?.worth).toMatchObject({ win: near(-EVEN), points: null });
  });

  const ALL_AROUND = `${HEAD}\ncontests: [{ kind: all-around, ties: [] }]${two}`;

  it('who is out withdraws from the rest without another', () => {
    expect(kinds(['ann,HP,8', 'bea,HP,DNS', 'bea,BL,DNS'], ALL_AROUND).map(([row]) => row)).toEqual(
      [1, 2],
    );
    const all = told(ALL_AROUND, ['bea,all,DNS']).points;
    expect(all).toMatchObject([{ row: 1, kind: 'withdrawn', apparatus: null, rotation: null }]);
  });

  it('nothing that is only told: who has performed, who goes up later', () => {
    expect(kinds(['ann,HP,up', 'ann,HP,after:bea', 'ann,HP,8']).map(([row]) => row)).toEqual([3]);
  });

  it('in the ranking on one apparatus only its own routines', () => {
    const rows = ['ann,BL,9', 'ann,HP,8', 'bea,BL,7', 'bea,HP,9'];
    const { points } = told(ALL_AROUND, rows, { contest: 'HP' });
    expect(points.map((p) => p.row)).toEqual([2, 4]);
    expect(told(ALL_AROUND, rows, { contest: 'BL' }).points.map((p) => p.row)).toEqual([1, 3]);
  });

  it('a reserve who steps in', () => {
    const yaml = `${HOOP}\n  - { id: cleo, name: Cleo Cole, on: [], ranges: { HP: { low: 8, likely: 8, high: 8, falls: 0 } } }`;
    const { points } = told(yaml, ['cleo,HP,for:ann']);
    expect(points).toMatchObject([{ kind: 'steps-in', gymnast: 'cleo', score: null }]);
    // Cleo has 8.000 for certain: Bea wins unless she falls twice, Cleo unless Bea stands.
    expect(wins(points[0] as Moment)).toMatchObject({ cleo: near(1 / 2), bea: near(3 / 4) });
  });
});

describe('a team contest, the better of two scores against one', () => {
  const yaml = `${HEAD}
contests: [{ kind: team, up: 2, count: 1, ties: [] }]
teams: [{ id: A }, { id: B }]
gymnasts:
  - { id: ann, team: A, on: [HP], ranges: { HP: ${RANGE} } }
  - { id: amy, team: A, on: [HP], ranges: { HP: ${RANGE} } }
  - { id: bea, team: B, on: [HP], ranges: { HP: ${RANGE} } }`.replace(
    ', { code: BL, name: ball, limit: 10 }',
    '',
  );

  it('has chances of teams, and the worth of a score is her team’s', () => {
    const { start, points } = told(yaml, ['bea,HP,8', 'ann,HP,7']);
    // The better of two: 9.000 with 3/4, 8.000 with 3/16, 7.000 with 1/16.
    const A = 3 / 4 + (3 / 16) * (1 / 2) + (1 / 16) * (1 / 4);
    const B = 1 / 2 + (1 / 4) * (1 / 4) + (1 / 4) * (1 / 16);
    expect(wins(start)).toEqual({ A: near(A), B: near(B) });
    expect(points[0]).toMatchObject({
      gymnast: 'bea',
      contender: 'B',
      worth: { win: near(1 / 4 - B) },
    });
    expect(wins(points[0] as Moment)).toEqual({ A: near(15 / 16), B: near(1 / 4) });
    // Of A only Amy is left: 8.000 or better with 3/4, no better than 8.000 with 1/2.
    expect(wins(points[1] as Moment)).toEqual({ A: near(3 / 4), B: near(1 / 2) });
    expect(points[1]).toMatchObject({
      gymnast: 'ann',
      contender: 'A',
      worth: { win: near(-3 / 16) },
    });
  });
});

describe('a contest from which one goes through', () => {
  const yaml = `${HEAD}\ncontests: [{ kind: apparatus, on: HP, ties: [], advance: { places: 1 } }]${two}`;

  it('is about going through', () => {
    const { about, start, points, turningPoints } = told(yaml, ['ann,HP,8']);
    expect(about).toBe('advance');
    expect(start.chances.map((c) => c.advance)).toEqual([near(EVEN), near(EVEN)]);
    expect(points[0]?.chances.map((c) => c.advance)).toEqual([near(1 / 2), near(3 / 4)]);
    expect(points[0]?.worth?.advance).toEqual(near(1 / 2 - EVEN));
    expect(turningPoints).toEqual([1]);
    const over = told(yaml, ['ann,HP,8', 'bea,HP,8.5']);
    expect(over.closeness).toMatchObject([{ target: 'advance', in: 'bea', out: 'ann', by: 500 }]);
    expect(over.unlikely).toBeNull();
  });
});

it('says since when she has not been as good, with a history', () => {
  const yaml = `
discipline: wag
scoring: open
contests: [{ kind: apparatus, on: VT }]
gymnasts:
  - { id: ann, name: Ann Ashdown, ranges: { VT: { low: 12, likely: 13, high: 14, falls: 0 } } }
  - { id: bea, name: Bea Birkwell, ranges: { VT: { low: 12, likely: 13, high: 14, falls: 0 } } }`;
  const text = [
    'gymnast,discipline,date,competition,round,apparatus,score',
    'Ann Ashdown,wag,2024-03-01,Quay Cup,final,VT,14.100',
    'Ann Ashdown,wag,2024-05-01,Quay Cup,final,VT,13.000',
  ].join('\n');
  const history = readHistory({ file: 'results.csv', text });
  const { unlikely } = told(yaml, ['ann,VT,13.9'], { history });
  expect(unlikely?.scores[0]?.past).toEqual({ since: '2024-03-01', beats: 1, of: 2 });
});

it('a missing range is named', () => {
  const yaml = HOOP.replace(`${ranges} }\n  - { id: bea`, '}\n  - { id: bea');
  expect(yaml).not.toBe(HOOP);
  expect(() => told(yaml, ['bea,HP,8'])).toThrow(/range for ann on HP/);
});

describe('how much changed hands', () => {
  const chances = (a: number, b: number, c: number) =>
    Object.entries({ a, b, c }).map(([id, win]) => ({ id, win, medal: 1, advance: null }));

  it('is what went from some to others, whoever they are', () => {
    expect(changedHands('win', chances(0.3, 0.4, 0.3), chances(0.5, 0.3, 0.2))).toBeCloseTo(
      0.2,
      12,
    );
    expect(changedHands('medal', chances(0.3, 0.4, 0.3), chances(0.5, 0.3, 0.2))).toBe(0);
  });

  it('turns an evening from a tenth on', () => {
    const at = (row: number, win: number) =>
      ({ row, chances: chances(win, 1 - win, 0) }) as unknown as StoryPoint;
    const points = [at(1, 0.59), at(2, 0.7), at(3, 0.62)];
    expect(turningPointsOf('win', chances(0.5, 0.5, 0), points)).toEqual([2]);
  });
});

it('who never had one chance in a hundred was never in contention', () => {
  const far = HOOP.replace(
    `bea, name: Bea Birkwell, ranges: { HP: ${RANGE}`,
    'bea, name: Bea Birkwell, ranges: { HP: { low: 5, likely: 5, high: 5, falls: 0 }',
  );
  expect(far).not.toBe(HOOP);
  expect(coursesOf(told(far, ['ann,HP,8']), 'win').map((c) => c.id)).toEqual(['ann']);
});
