/** What holds of every story: over the demo meets, and small evenings that go every way they can. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atRow, chances, type Story, story } from '../../lib/index.js';
import { EXAMPLES } from '../support/cli.js';
import { logFrom, meetFrom, readAll } from '../support/meet.js';
import { times } from '../support/times.js';

const text = (name: string) => readFileSync(join(EXAMPLES, name), 'utf8');

const SMALL = `
discipline: wag
scoring: open
fall: 1
panel: { counting: 1, step: 0.5 }
contests: [{ kind: all-around, medals: 2 }, { kind: apparatus, on: VT }]
usual: { UB: { low: 8, likely: 9, high: 10, falls: 0.1 }, BB: { low: 8, likely: 9, high: 10, falls: 0.2 } }
gymnasts:
${['ann', 'bea', 'cleo']
  .map(
    (id) =>
      `  - { id: ${id}, ranges: { VT: { low: 8, likely: 9, high: 9.5, falls: 0.2 }, FX: { low: 8, likely: 9, high: 9.5, falls: 0.1 } } }`,
  )
  .join('\n')}
`;

/** Scores, changes, what is taken back, withdrawals, and what is only told. */
const EVENING = fc
  .array(
    fc.tuple(
      fc.constantFrom('ann', 'bea', 'cleo'),
      fc.constantFrom('VT', 'UB', 'BB', 'FX'),
      fc.oneof(
        { arbitrary: fc.constantFrom('8', '8.5', '9', '9.5'), weight: 6 },
        { arbitrary: fc.constantFrom('void', 'up', 'DNS', 'DNF'), weight: 2 },
      ),
    ),
    { minLength: 1, maxLength: 14 },
  )
  .map((rows) => rows.map((row) => row.join(',')));

function storyOf(yaml: string, log: string, contest: string | null, known: Story | null = null) {
  return story(meetFrom(yaml, log), { file: 'log', text: log }, { contest, known });
}

const SEED = 20_270;
const RUNS = times(12);
const CONTESTS = ['all-around', 'VT'];

describe('however the evening goes', () => {
  it('ends with the chances there are now, and nothing changes between two points', () => {
    fc.assert(
      fc.property(EVENING, fc.constantFrom(...CONTESTS), (rows, contest) => {
        const log = logFrom(...rows);
        const meet = meetFrom(SMALL, log);
        const told = storyOf(SMALL, log, contest);
        let last: Story['start'] = told.start;
        for (let row = 0; row <= rows.length; row++) {
          last = told.points.find((p) => p.row === row) ?? last;
          const then = chances(atRow(meet, { file: 'log', text: log }, row).meet, null, {
            contest,
          });
          for (const c of then.contenders) {
            const here = last.chances.find(({ id }) => id === c.id);
            const error = then.error + last.error + 1e-11;
            expect(Math.abs((here?.win ?? 2) - c.win)).toBeLessThanOrEqual(error);
            expect(Math.abs((here?.medal ?? 2) - c.medal)).toBeLessThanOrEqual(error);
          }
        }
      }),
      { numRuns: RUNS, seed: SEED },
    );
  });

  it('start and changes add up to the end, hers by what each score was worth to her', () => {
    fc.assert(
      fc.property(EVENING, fc.constantFrom(...CONTESTS), (rows, contest) => {
        const { start, points } = storyOf(SMALL, logFrom(...rows), contest);
        for (const { id, win } of start.chances) {
          let sum = win;
          let before = win;
          for (const point of points) {
            const after = point.chances.find((c) => c.id === id)?.win ?? 0;
            sum += point.contender === id ? (point.worth?.win ?? 0) : after - before;
            before = after;
          }
          expect(sum).toBeCloseTo(before, 12);
        }
      }),
      { numRuns: RUNS, seed: SEED + 1 },
    );
  });

  it('the story so far is the beginning of every longer one, and an earlier one is gone on from', () => {
    fc.assert(
      fc.property(EVENING, fc.nat(), fc.constantFrom(...CONTESTS), (rows, n, contest) => {
        const cut = n % (rows.length + 1);
        const whole = storyOf(SMALL, logFrom(...rows), contest);
        const first = storyOf(SMALL, logFrom(...rows.slice(0, cut)), contest);
        expect(first.start).toEqual(whole.start);
        expect(first.points).toEqual(whole.points.filter((p) => p.row <= cut));
        expect(storyOf(SMALL, logFrom(...rows), contest, first)).toEqual(whole);
        expect(storyOf(SMALL, logFrom(...rows.slice(0, cut)), contest, whole)).toEqual(first);
      }),
      { numRuns: RUNS, seed: SEED + 2 },
    );
  });
});

/** A demo meet and its log. */
function demo(name: string) {
  const log = text(`${name}.scores.csv`);
  const { meet } = readAll(text(`${name}.yaml`), log);
  if (meet === null) throw new Error(name);
  return { meet, source: { file: 'log', text: log } };
}

/** Every demo meet with a log of its own, in its first contest. */
describe.each(['mill-lane', 'tri', 'tenths', 'day-one', 'finals', 'dual'])('%s', (name) => {
  it('ends with the chances of now', () => {
    const { meet, source } = demo(name);
    const told = story(meet, source);
    const now = chances(meet);
    const last = told.points.at(-1);
    for (const c of now.contenders) {
      const here = last?.chances.find(({ id }) => id === c.id);
      const error = now.error + (last?.error ?? 0) + 1e-11;
      expect(Math.abs((here?.win ?? 2) - c.win)).toBeLessThanOrEqual(error);
      expect(Math.abs((here?.medal ?? 2) - c.medal)).toBeLessThanOrEqual(error);
    }
  });
});

/** Of teams, and of gymnasts. */
it.each(['tri', 'tenths'])(
  '%s is the same whether it is gone on from or told anew, and only what is new is worked out',
  (name) => {
    const { meet, source } = demo(name);
    const lines = source.text.trimEnd().split('\n');
    const shorter = { file: 'log', text: `${lines.slice(0, -1).join('\n')}\n` };
    const known = story(meet, shorter);
    const done: number[] = [];
    const next = story(meet, source, { known, onProgress: (row) => void done.push(row) });
    expect(next).toEqual(story(meet, source));
    expect(done).toEqual([lines.length - 1]);
  },
);

describe('an earlier answer is left aside', () => {
  const log = logFrom('ann,VT,9', 'bea,VT,8.5');
  const told = storyOf(SMALL, log, 'all-around');

  it('where it is about another contest', () => {
    expect(storyOf(SMALL, log, 'VT', told)).toEqual(storyOf(SMALL, log, 'VT'));
  });

  it('where the meet file is another', () => {
    const other = SMALL.replace('low: 8, likely: 9, high: 9.5', 'low: 8, likely: 8, high: 9.5');
    expect(other).not.toBe(SMALL);
    const anew = storyOf(other, log, 'all-around');
    expect(storyOf(other, log, 'all-around', told)).toEqual(anew);
    expect(anew.start).not.toEqual(told.start);
  });

  it('where it comes from a file, and was never worked out here', () => {
    const copy = JSON.parse(JSON.stringify(told)) as Story;
    const done: number[] = [];
    const meet = meetFrom(SMALL, log);
    const again = story(
      meet,
      { file: 'log', text: log },
      { known: copy, onProgress: (row) => void done.push(row) },
    );
    expect(again).toEqual(told);
    expect(done).toEqual([1, 2]);
  });

  it('from the first row on that is another', () => {
    const changed = logFrom('ann,VT,9', 'bea,VT,9.5', 'cleo,VT,8');
    expect(storyOf(SMALL, changed, 'all-around', told)).toEqual(
      storyOf(SMALL, changed, 'all-around'),
    );
  });
});

it('without a log nothing has happened', () => {
  const { points, turningPoints, top, closeness, isOver } = story(meetFrom(SMALL), null);
  expect([points, turningPoints, top, closeness, isOver]).toEqual([[], [], [], null, false]);
});
