/** A history that is long enough for threads: the command says what the library does on one. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { backtest, readHistory, written } from '../../lib/index.js';
import { answer, folder, run } from '../support/cli.js';

const CODES = ['VT', 'UB', 'BB', 'FX'];
const GYMNASTS = 12;
/** Over 8 MB. */
const MEETS = 1200;

const rowsOf = (meet: number) => {
  const on = new Date(Date.UTC(2015, 0, 1 + 3 * meet)).toISOString().slice(0, 10);
  return ['qualification', 'all-around final'].flatMap((round, day) =>
    Array.from({ length: GYMNASTS }, (_, g) =>
      CODES.map((code, a) => {
        const score = 12 + ((7 * meet + 5 * g + 3 * a + day) % 31) / 15;
        return `Gymnast Number ${(g * 7 + meet) % 90},wag,${on},Invented Cup ${meet},${round},${code},${score.toFixed(3)}`;
      }),
    ).flat(),
  );
};
const text = [
  'gymnast,discipline,date,competition,round,apparatus,score',
  ...Array.from({ length: MEETS }, (_, meet) => rowsOf(meet)).flat(),
].join('\n');

let place: ReturnType<typeof folder>;
let path: string;
beforeAll(() => {
  place = folder();
  path = join(place.path, 'results.csv');
  writeFileSync(path, text);
});
afterAll(() => place.clean());

it('is judged on threads as on one, to the last digit', () => {
  expect(text.length).toBeGreaterThan(8_000_000);
  const history = readHistory({ file: path, text });
  const whole = written('backtest', backtest(history), history.decimals);
  expect(answer(['backtest', path])).toEqual(JSON.parse(JSON.stringify(whole)));
});

it('is refused once, not once on each thread', () => {
  const { code, err } = run(['backtest', path, '--since', '2090-01-01']);
  expect(code).toBe(1);
  expect(err.split('no all-around final').length).toBe(2);
});
