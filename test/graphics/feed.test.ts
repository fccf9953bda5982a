/** Lines over an evening: ids that stay, what is new of them, and what changed from one score to the next. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  atRow,
  changesBetween,
  type Graphics,
  type GraphicsLine,
  graphics,
  type Meet,
  secondUp,
} from '../../lib/index.js';
import { EXAMPLES } from '../support/cli.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** A demo meet, score after score: the lines of every contest. */
function eveningOf(name: string, step: number): Graphics[][] {
  const yaml = readFileSync(join(EXAMPLES, `${name}.yaml`), 'utf8');
  const log = { file: 'log', text: readFileSync(join(EXAMPLES, `${name}.scores.csv`), 'utf8') };
  const whole = meetFrom(yaml, log.text);
  const { rows } = atRow(whole, log);
  const counts = Array.from({ length: Math.ceil(rows / step) }, (_, i) => i * step);
  return counts.map((count) => {
    const { meet, before } = atRow(whole, log, count);
    return meet.contests.map(({ id }) => graphics(meet, { contest: id, before, rows: count }));
  });
}

/** What an id stands for, with nothing in it that a score changes. */
function subjectOf(contest: string, line: GraphicsLine): string {
  const { kind, about, apparatus, target, by, place, tied, worst, status, rotation, places } = line;
  const band = kind === 'outcome' ? [by, place, tied] : null;
  const also = { settled: null, final: status, rotation, 'like-for-like': by }[kind as string];
  const sizes = places?.map((ids) => ids.length);
  const ids = about.map((a) => a.id);
  return JSON.stringify([
    contest,
    kind,
    ids,
    apparatus,
    target,
    band,
    also ?? null,
    sizes,
    worst === null,
  ]);
}

it.each([
  ['harbour', 4],
  ['mill-lane', 1],
])('over the evening of %s an id stands for the same, and for nothing else', (name, step) => {
  const idOf = new Map<string, string>();
  const subject = new Map<string, string>();
  let again = 0;
  for (const { contest, lines } of eveningOf(name, step).flat()) {
    expect(new Set(lines.map((l) => l.id)).size).toBe(lines.length);
    for (const line of lines) {
      const what = subjectOf(contest, line);
      if (subject.has(line.id)) again++;
      expect(subject.get(line.id) ?? what, line.id).toBe(what);
      subject.set(line.id, what);
      // Two bands may bring one place; of all else there is one line.
      if (line.kind !== 'outcome') {
        expect(idOf.get(what) ?? line.id, what).toBe(line.id);
        idOf.set(what, line.id);
      }
    }
  }
  expect(again).toBeGreaterThan(500);
});

it('what changed, put onto the lines before, gives the lines after', () => {
  const [first, ...others] = eveningOf('mill-lane', 1).map(([answer]) => answer);
  let before = first ?? null;
  expect(before === null ? [] : changesBetween(null, before).added).toEqual(before?.lines);
  for (const after of others) {
    if (after === undefined || before === null) throw new Error('no answer');
    const { added, changed, withdrawn, since } = changesBetween(before, after);
    expect(since).toBe(before.rows);
    const held = new Map(before.lines.map((line) => [line.id, line]));
    for (const id of withdrawn) expect(held.delete(id)).toBe(true);
    for (const line of changed) expect(held.get(line.id)).not.toEqual(line);
    for (const line of added) expect(held.has(line.id)).toBe(false);
    for (const line of [...added, ...changed]) held.set(line.id, line);
    expect(held).toEqual(new Map(after.lines.map((line) => [line.id, line])));
    before = after;
  }
});

const FOUR = `
discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [] }]
medals: 2
usual: { FX: { low: 12.000, likely: 13.000, high: 14.000, falls: 0.1 } }
gymnasts:
  - { id: ada, name: Ada Quill }
  - { id: bea, name: Bea Harrow }
  - { id: cleo, name: Cleo Marsh }
  - { id: dita, name: Dita Vale }
`;

function scored(...rows: string[]): { meet: Meet; before: Meet } {
  const log = { file: 'log', text: logFrom(...rows) };
  return atRow(meetFrom(FOUR, log.text), log);
}

const textsOf = ({ meet, before }: { meet: Meet; before: Meet }, ...kinds: string[]) =>
  graphics(meet, { before, kinds }).lines.map((line) => line.text);

describe('what is settled', () => {
  it('is told once, when it is new', () => {
    const rows = ['ada,FX,14.500', 'bea,FX,13.600', 'cleo,FX,9.000'];
    expect(textsOf(scored(...rows.slice(0, 2)), 'settled')).toEqual([
      'Bea Harrow can no longer win.',
    ]);
    expect(textsOf(scored(...rows), 'settled')).toEqual([
      'Ada Quill is sure of a medal, whatever is still scored.',
      'Cleo Marsh can no longer win.',
      'Cleo Marsh can no longer reach a medal.',
    ]);
    // Of nothing new there is no line.
    expect(textsOf(scored(...rows, 'dita,FX,up'), 'settled')).toEqual([]);
  });
});

describe('the next two up', () => {
  it('have lines, the second with whom she is behind', () => {
    const { meet, before } = scored('ada,FX,13.000');
    expect(secondUp(meet).map((r) => r.gymnast)).toEqual(['cleo']);
    const { lines } = graphics(meet, { before, kinds: ['need', 'outcome'] });
    expect(new Set(lines.map((l) => l.about[0]?.id))).toEqual(new Set(['bea', 'cleo']));
    const lead = lines.filter((l) => l.target === 'lead');
    expect(lead.map((l) => [l.text, l.upBefore])).toEqual([
      ['Bea Harrow needs 13.033 on floor to lead so far; 13.000 shares the lead.', []],
      [
        'Cleo Marsh needs 13.033 on floor to lead so far; 13.000 shares the lead (before Harrow’s score).',
        ['bea'],
      ],
    ]);
  });
});

describe('outcomes', () => {
  const { meet } = scored('ada,FX,13.000');
  const bands = (more: object) =>
    graphics(meet, { kinds: ['outcome'], who: ['bea'], ...more }).lines.map((l) => [l.from, l.to]);

  it('may be only those that reach a score, or that have a chance', () => {
    expect(bands({})).toEqual([
      [13_001, 17_000],
      [13_000, 13_000],
      [0, 12_999],
    ]);
    expect(bands({ from: '13.000' })).toEqual([
      [13_001, 17_000],
      [13_000, 13_000],
    ]);
    expect(bands({ from: 13_001 })).toEqual([[13_001, 17_000]]);
    const lost = scored('ada,FX,14.500').meet;
    const asked = { kinds: ['outcome'], who: ['bea'], withChance: true };
    expect(graphics(lost, asked).lines.map((l) => l.place)).toEqual([2]);
  });

  it('may be of the end, and say what is taken of the others', () => {
    const { lines } = graphics(meet, { kinds: ['outcome'], who: ['bea'], when: 'end' });
    expect(lines.map((l) => [l.from, l.to, l.place, l.tied, l.by])).toEqual([
      [13_001, 17_000, 1, false, 'end'],
      [13_000, 13_000, 1, true, 'end'],
      [0, 12_999, 4, false, 'end'],
    ]);
    expect(lines[2]?.text).toBe(
      'Bea Harrow on floor, 12.999 or less: 4th place at the end, if all else goes as expected. Chance 54%.',
    );
  });
});

describe('medals', () => {
  it('are not spoken of where everyone has one', () => {
    const two = meetFrom(
      FOUR.replace(/ {2}- { id: (cleo|dita).*\n/g, ''),
      logFrom('ada,FX,13.000'),
    );
    const { lines } = graphics(two, { kinds: ['need', 'settled', 'final'] });
    expect(lines.filter((l) => l.target === 'medal')).toEqual([]);
    expect(lines.filter((l) => l.target === 'win')).not.toEqual([]);
  });
});

describe('the end', () => {
  it('is a final board, and who won what and how', () => {
    const end = scored('ada,FX,13.000', 'bea,FX,DNS', 'cleo,FX,13.000', 'dita,FX,13.500');
    expect(textsOf(end)).toEqual([
      'Dita Vale: 13.500 on floor, into 1st with 13.500.',
      'Ada Quill drops from 1st to share 2nd with Cleo Marsh.',
      'Cleo Marsh drops from 1st to share 2nd with Ada Quill.',
      'Gold for Dita Vale with 13.500, 0.500 ahead.',
      'Silver for Ada Quill and Cleo Marsh, level on 13.000.',
      'Dita Vale wins with 13.500, 0.500 ahead.',
      'Ada Quill shares 2nd with Cleo Marsh on 13.000.',
      'Cleo Marsh shares 2nd with Ada Quill on 13.000.',
    ]);
    const { lines } = graphics(end.meet, { kinds: ['final'] });
    expect(
      lines.slice(0, 2).map((l) => [l.status, l.place, l.tied, l.gap, l.about.length]),
    ).toEqual([
      ['gold', 1, false, 500, 1],
      ['silver', 2, true, 500, 2],
    ]);
  });
});
