/** On air and on the desk the same figure for the same need: the lowest real score, the tie apart. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { graphics, nextUp, reports } from '../../lib/index.js';
import { compareFigures } from '../properties/laws/figures.js';
import { EXAMPLES } from '../support/cli.js';
import { logFrom, meetFrom } from '../support/meet.js';

it.each([
  ['harbour', 3],
  ['mill-lane', 1],
])('all through the demo meet %s', (name, step) => {
  const yaml = readFileSync(join(EXAMPLES, `${name}.yaml`), 'utf8');
  const rows = readFileSync(join(EXAMPLES, `${name}.scores.csv`), 'utf8')
    .trimEnd()
    .split('\n');
  const compared = { figures: 0, ties: 0 };
  for (let count = 1; count <= rows.length; count += step) {
    const meet = meetFrom(yaml, `${rows.slice(0, count).join('\n')}\n`);
    for (const { id } of meet.contests) {
      const { figures, ties } = compareFigures(meet, id, (what) => expect.fail(what));
      compared.figures += figures;
      compared.ties += ties;
    }
  }
  expect(compared.figures).toBeGreaterThan(100);
  expect(compared.ties).toBeGreaterThan(5);
});

const meetOf = (ties: string, more = '') => `
discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [${ties}] }]
medals: 1
usual: { FX: { low: 12.000, likely: 13.000, high: 14.000, falls: 0.1 } }
gymnasts:
  - { id: ada, name: Ada Quill }
  - { id: bea, name: Bea Harrow${more} }
`;

/** The line to lead, and what the desk says, once Ada has a score. */
function said(yaml: string, row: string): [air: string | null | undefined, desk: string] {
  const meet = meetFrom(yaml, logFrom(row));
  const [line] = graphics(meet, { kinds: ['need'] }).lines;
  const [sentence] = reports.nextUp(meet, 'FX').flat();
  expect(nextUp(meet).map((r) => r.gymnast)).toEqual(['bea']);
  return [line?.text, sentence?.kind === 'sentence' ? sentence.text : ''];
}

it('a tie at a real score is said apart, with what becomes of it', () => {
  expect(said(meetOf(''), 'ada,FX,13.500')).toEqual([
    'Bea Harrow needs 13.533 on floor to lead; 13.500 shares the lead.',
    'Next on floor, Bea Harrow: 13.533 to win (13.500 shares it).',
  ]);
  // Her D score of 5.0 leaves her 8.5 for execution, where Ada has 8.6, or 8.4.
  const known = meetOf('execution', ', ranges: { FX: { d: 5.0 } }');
  expect(said(known, 'ada,FX,13.500,4.9')).toEqual([
    'Bea Harrow needs 13.533 on floor to lead; 13.500 ties, and loses the tie on execution.',
    expect.stringContaining('13.533 to win (13.500 ties, and loses the tie on execution)'),
  ]);
  expect(said(known, 'ada,FX,13.500,5.1')).toEqual([
    'Bea Harrow needs 13.500 on floor to lead.',
    expect.stringContaining('13.500 to win.'),
  ]);
  expect(said(meetOf('execution'), 'ada,FX,13.500,4.9')).toEqual([
    'Bea Harrow needs 13.533 on floor to lead; 13.500 ties, to be decided on execution.',
    expect.stringContaining('13.533 to win (13.500 ties, to be decided on execution)'),
  ]);
});

it('no score that the panel cannot give is said to tie', () => {
  // Ada was scored by a larger panel; the grid of this one has 13.500 and 13.533.
  expect(said(meetOf(''), 'ada,FX,13.510')).toEqual([
    'Bea Harrow needs 13.533 on floor to lead.',
    'Next on floor, Bea Harrow: 13.533 to win.',
  ]);
});

it('a tie that she would lose is no lead to share', () => {
  const yaml = `
discipline: [{ code: HP, name: hoop, limit: 20.000 }]
scoring: open
contests: [{ kind: apparatus, on: HP, ties: [execution] }]
gymnasts: [{ id: ada, name: Ada Quill }, { id: bea, name: Bea Harrow, ranges: { HP: { d: 10.5 } } }]
`;
  const lines = (d: string) =>
    graphics(meetFrom(yaml, logFrom(`ada,HP,20.000,${d}`)), { kinds: ['need'] }).lines.map(
      (c) => c.text,
    );
  expect(lines('10.500')[0]).toBe('Bea Harrow can share the lead with 20.000 on hoop, no more.');
  expect(lines('10.400')[0]).toBe('Bea Harrow cannot take the lead on hoop.');
});
