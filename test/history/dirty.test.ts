/**
 * A history as people keep them, dirty in ten ways: other columns, codes, dates, an old encoding, days on one
 * date, repeated rows, two scores for one routine, disciplines mixed up, scores that cannot be, names in two
 * spellings. What a person would read is read; what not is left out with its line.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readHistoryFile } from '../../lib/files/index.js';
import { readHistory } from '../../lib/index.js';

const ROWS = [
  // Columns by other names, semicolons, decimal commas.
  'Athlete;Gender;Meet Date;Meet;Phase;App;Total;D Score;Execution;Penalty;Nat',
  'Zoë Ahlgren;Women;27 Sep 2022;Quay Cup;Senior AA final;UE;13,500;5,200;8,400;0,100;NQY',
  'ZOE AHLGREN;w;27.9.2022;Quay Cup;Senior AA final;Beam;13,000;;;;NQY',
  'Zoë Ahlgren;F;September 27, 2022;Quay Cup;AA day 1;Floor Exercise;12,900;;;;NQY',
  'Zoë Ahlgren;F;2022/9/27;Quay Cup;AA day 2;Floor Exercise;13,100;;;;NQY',
  // The same again, and another score for it.
  'Zoë Ahlgren;F;2022-09-27;Quay Cup;AA day 2;FX;13,100;;;;NQY',
  'Zoë Ahlgren;F;2022-09-27;Quay Cup;AA day 2;FX;13,200;;;;NQY',
  // An apparatus of the other discipline, no discipline, no date, no such day.
  'Zoë Ahlgren;F;2022-09-27;Quay Cup;final;Pommel Horse;13,200;;;;NQY',
  'Ole Marren;boys;2022-09-27;Quay Cup;final;High Bar;13,200;;;;OLM',
  'Ole Marren;M;soon;Quay Cup;final;High Bar;13,200;;;;OLM',
  'Ole Marren;M;31.2.2022;Quay Cup;final;High Bar;13,200;;;;OLM',
  'Ole Marren;M;2022-09-27;Quay Cup;final;High Bar;13,200;;;;OLM',
  // Not the sum, over the limit, no score at all.
  'Ole Marren;M;2022-09-27;Quay Cup;final;Rings;13,200;5,000;8,000;0;OLM',
  'Ole Marren;M;2022-09-27;Quay Cup;final;PB;31,200;;;;OLM',
  'Ole Marren;M;2022-09-27;Quay Cup;final;VT;DNS;;;;OLM',
  'Ole Marren;M;2022-09-27;Quay Cup;final;2nd vault;14,000;;;;OLM',
  // Enough that can be used for the whole to be believed.
  ...['FX', 'PH', 'Still Rings', 'Parallel bars', 'p-bars'].map(
    (on, i) => `Ole Marren;M;2022-0${i + 3}-01;Mill Cup;qualification;${on};13,000;;;;OLM`,
  ),
  '',
  ';;;;;;;;;;',
];

describe('a history that is dirty in ten ways', () => {
  const folder = mkdtempSync(join(tmpdir(), 'dirty-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const text = ROWS.join('\r\n');
  const kinds = [
    ['UTF-8 with its mark', Buffer.from(`\uFEFF${text}`, 'utf8')],
    ['UTF-16', Buffer.from(`\uFEFF${text}`, 'utf16le')],
    ['the old Western code page', Buffer.from(text, 'latin1')],
  ] as const;

  it.each(kinds)('in %s is read as a person would', (name, bytes) => {
    const path = join(folder, `${name.replace(/\W/g, '')}.csv`);
    writeFileSync(path, bytes);
    const { routines, leftOut, notes, decimals } = readHistoryFile(path);
    expect(decimals).toBe(3);
    const read = routines.map((r) => [
      r.line,
      r.gymnast,
      r.discipline,
      r.date,
      r.apparatus,
      r.score,
    ]);
    expect(read.slice(6).map(([, , , , on]) => on)).toEqual(['FX', 'PH', 'SR', 'PB', 'PB']);
    expect(read.slice(0, 6)).toEqual([
      [2, 'Zoë Ahlgren', 'wag', '2022-09-27', 'UB', 13_500],
      [3, 'Zoë Ahlgren', 'wag', '2022-09-27', 'BB', 13_000],
      [4, 'Zoë Ahlgren', 'wag', '2022-09-27', 'FX', 12_900],
      [5, 'Zoë Ahlgren', 'wag', '2022-09-27', 'FX', 13_100],
      [12, 'Ole Marren', 'mag', '2022-09-27', 'HB', 13_200],
      [16, 'Ole Marren', 'mag', '2022-09-27', 'VT2', 14_000],
    ]);
    expect(routines[0]?.round).toMatchObject({ contest: 'all-around', stage: 'final' });
    expect(routines.slice(2, 4).map((r) => r.round.day)).toEqual([1, 2]);
    const why = new Map(leftOut.map((l) => [l.line, l.why]));
    expect([...why.keys()]).toEqual([6, 7, 8, 9, 10, 11, 13, 14, 15]);
    for (const [line, words] of [
      [6, 'the same routine as line 5'],
      [7, 'another score for the routine of line 5'],
      [8, 'is not an apparatus of wag'],
      [9, 'is not a discipline'],
      [10, 'is not a clear date'],
      [11, 'there is no such day'],
      [13, 'is 13.000, not 13.200'],
      [14, 'over the limit'],
      [15, 'no score (DNS)'],
    ] as const) {
      expect(why.get(line)).toContain(words);
    }
    expect(notes.map((n) => n.why).join('\n')).toContain('ZOE AHLGREN is taken to be Zoë Ahlgren');
    expect(notes.map((n) => n.why).join('\n')).toContain('the column Athlete is read as gymnast');
  });
});

it.each(['Day', 'When', 'Competition Date'])('the column %s is the date', (column) => {
  const text = `Athlete,Gender,${column},Meet,Phase,App,Score\nAnn,w,2022-09-27,Quay Cup,final,FX,13.1\n`;
  expect(readHistory({ file: 'h.csv', text }).routines[0]?.date).toBe('2022-09-27');
});
