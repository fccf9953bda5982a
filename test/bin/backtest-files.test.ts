/** What `backtest` writes beside its answer. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { folder, run } from '../support/cli.js';

describe('the files of a backtest', () => {
  const place = folder();
  afterAll(() => place.clean());
  const rows = ['ann', 'bea', 'cleo', 'dot'].flatMap((g, i) =>
    ['VT', 'UB', 'BB', 'FX'].map(
      (on) => `${g},wag,2026-05-01,May Cup,all-around final,${on},1${3 - (i % 2)}.${i}`,
    ),
  );
  const head = 'gymnast,discipline,date,competition,round,apparatus,score';
  writeFileSync(join(place.path, 'results.csv'), [head, ...rows].join('\n'));
  const read = (name: string) => readFileSync(join(place.path, name), 'utf8');

  it('are the same each time, say what makes them again, and take the place of nothing else', () => {
    const args = ['backtest', 'results.csv', '--csv', 'f.csv', '--report', 'r.md', '--seed', '7'];
    expect(run(args, { cwd: place.path }).code).toBe(0);
    const [csv, report] = [read('f.csv'), read('r.md')];
    expect(csv.split('\n').length).toBe(1 + 4 * 4 * 3 + 1);
    const [, command = ''] = /```sh\nlastrotation (.*)\n```/.exec(report) ?? [];
    expect(run(command.split(' '), { cwd: place.path }).code).toBe(0);
    expect([read('f.csv'), read('r.md')]).toEqual([csv, report]);
    writeFileSync(join(place.path, 'mine.md'), 'mine');
    const refused = run(['backtest', 'results.csv', '--report', 'mine.md'], { cwd: place.path });
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(read('mine.md')).toBe('mine');
  });

  it('and what would be compared with itself is refused', () => {
    const { code, err } = run(['backtest', 'results.csv', '--against', 'rounds'], {
      cwd: place.path,
    });
    expect([code, err]).toEqual([
      2,
      'lastrotation: --against changes nothing here: both are rounds\n' +
        '  name other ranges: rounds, days, or a ranges file\n',
    ]);
  });
});
