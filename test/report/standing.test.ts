/** What is said of a place: a tie with whom and on what, and no place in the middle of a rotation. */
import { describe, expect, it } from 'vitest';
import {
  type AskedTarget,
  graphics,
  type Meet,
  type NeedsOptions,
  needChances,
  needs,
  needsOfAll,
  outcomes,
  type Report,
  readTemplates,
  record,
  reports,
  standings,
  suppose,
} from '../../lib/index.js';
import { decidedInWords } from '../../lib/report/words.js';
import { logFrom, meetFrom } from '../support/meet.js';

const APPARATUS = ['VT', 'UB', 'BB', 'FX'];

/** Two groups of two: one starts on vault, the other on bars; 13.000 is likely of everyone. */
const MEET = `
discipline: wag
scoring: open
startOrder: fixed
usual: { ${APPARATUS.map((c) => `${c}: { low: 10.0, likely: 13.0, high: 14.0, falls: 0.1 }`).join(', ')} }
gymnasts:
  - { id: ada, name: Ada Quill }
  - { id: bea, name: Bea Harrow }
  - { id: cleo, name: Cleo Marsh }
  - { id: dita, name: Dita Vale }
groups: [{ start: VT, order: [ada, bea] }, { start: UB, order: [cleo, dita] }]
`;

const ONE = ['ada,VT,14.000', 'bea,VT,13.000', 'cleo,UB,13.500', 'dita,UB,12.500'];
/** By hand: Quill 27.000, Harrow 27.100, Marsh 25.500, Vale 26.000. */
const TWO = ['ada,UB,13.000', 'bea,UB,14.100', 'cleo,BB,12.000', 'dita,BB,13.500'];

/** All on 52.000. Best three: 40.000, 39.500, 39.500; E of the last two: 32.000 and 31.000. */
const LEVEL = Object.entries({
  ada: [14, 13, 13, 12],
  bea: [13.5, 13, 13, 12.5],
  cleo: [13.5, 13, 13, 12.5],
  dita: [13, 12, 12, 12],
}).flatMap(([id, scores]) =>
  scores.map((score, i) => {
    const d = id === 'cleo' && i === 0 ? '6.0' : '5.0';
    return `${id},${APPARATUS[i]},${score.toFixed(1)},${d},`;
  }),
);

const meetAfter = (...rows: string[]) => meetFrom(MEET, logFrom(...rows));

/** Everything a report says in sentences and titles. */
function sentencesOf(report: Report): string[] {
  return report.flat().flatMap((b) => (b.kind === 'sentence' || b.kind === 'title' ? b.text : []));
}

/** What the prompt says once a row is told. */
function said(rows: readonly string[], told: string): string[] {
  const [gymnast = '', apparatus = '', score = '', d = null] = told.split(',');
  const { meet, recorded } = record(meetAfter(...rows), { gymnast, apparatus, score, d });
  return sentencesOf(reports.said(meet, recorded));
}

/** What the command `record` says. */
function recordedLines(rows: readonly string[], told: string): string[] {
  const [gymnast = '', apparatus = '', score = ''] = told.split(',');
  const before = meetAfter(...rows);
  const { meet, recorded } = record(before, { gymnast, apparatus, score });
  return sentencesOf(reports.recorded(before, recorded, meet, 'log')).slice(1);
}

function changes(rows: readonly string[], told: string): (string | null)[] {
  const [before, meet] = [meetAfter(...rows), meetAfter(...rows, told)];
  return graphics(meet, { kinds: ['change'], before }).lines.map((c) => c.text);
}

const linesOf = (meet: Meet, kind: 'standing' | 'need' | 'outcome' | 'final') =>
  graphics(meet, { kinds: [kind] }).lines.map((c) => c.text);

const board = (meet: Meet) => reports.standings(meet, standings(meet));

function tableOf(report: Report) {
  const table = report.flat().find((b) => b.kind === 'table');
  if (table?.kind !== 'table') throw new Error('no table');
  const { columns, rows, notes } = table;
  return {
    notes,
    /** What is said of a row, beside it or under it. */
    remarks: rows.flatMap((r) =>
      columns.flatMap((c, i) => (c.goesUnder ? (r.cells[i]?.text ?? []) : [])),
    ),
    heads: columns.map((c) => c.head),
    column: (head: string) => {
      const at = columns.findIndex((c) => c.head === head);
      return rows.map(({ cells }) => cells[at]?.text.trim());
    },
  };
}

describe('in the middle of a rotation', () => {
  it('a score is said with its place by projection, and moves nobody else', () => {
    // Quill 27.000 + 26, Marsh 13.500 + 39, Harrow 13.000 + 39.
    expect(said(ONE, 'ada,UB,13.000')).toEqual([
      'Ada Quill, bars 13.000: 27.000 after 2 routines, 1st by projection',
    ]);
    expect(recordedLines(ONE, 'ada,UB,13.000')).toEqual([
      '27.000 after 2 routines in all-around, 1st by projection',
    ]);
    // 14.100 lifts her from third by projection, behind Quill and Marsh.
    expect(changes([...ONE, 'ada,UB,13.000'], 'bea,UB,14.100')).toEqual([
      'Bea Harrow: 14.100 on bars, 27.100 after 2 routines, up from 3rd to 1st by projection.',
    ]);
  });

  it('the last score of it is said with a place, and then with whom the rotation moved', () => {
    const [first, moved] = said([...ONE, ...TWO.slice(0, 3)], 'dita,BB,13.500');
    expect(first).toBe('Dita Vale, beam 13.500: 26.000, 3rd');
    // After the first rotation: Quill, Marsh, Harrow, Vale.
    expect(moved).toBe(
      'Rotation 2 is over: Bea Harrow up to 1st, Ada Quill down to 2nd, Dita Vale up to 3rd, Cleo Marsh down to 4th.',
    );
    expect(recordedLines([...ONE, ...TWO.slice(0, 3)], 'dita,BB,13.500')).toEqual([
      '26.000 in all-around, 3rd',
      'rotation 2 is over:',
      'Bea Harrow: 3rd → 1st',
      'Ada Quill: 1st → 2nd',
      'Dita Vale: 4th → 3rd',
      'Cleo Marsh: 2nd → 4th',
    ]);
    expect(changes([...ONE, ...TWO.slice(0, 3)], 'dita,BB,13.500')).toEqual([
      'Dita Vale: 13.500 on beam, up from 4th to 3rd with 26.000.',
      'Bea Harrow moves up from 3rd to 1st.',
      'Ada Quill drops from 1st to 2nd.',
      'Cleo Marsh drops from 2nd to 4th.',
    ]);
  });

  it('an inquiry once it is over moves whom it moves', () => {
    expect(said([...ONE, ...TWO], 'ada,UB,13.200')).toEqual([
      'Ada Quill, bars 13.200, corrected from 13.000: 27.200, 1st',
      'Bea Harrow down to 2nd.',
    ]);
    // A score taken back leaves the rotation under way.
    expect(said([...ONE, ...TWO], 'ada,UB,void')).toEqual([
      'Ada Quill, bars 13.000 taken back: 14.000 after 1 routine, 2nd by projection',
    ]);
    // One that was ahead of all others leaves them where they were.
    expect(said([...ONE, 'bea,UB,14.100'], 'bea,UB,void')).toEqual([
      'Bea Harrow, bars 14.100 taken back: 13.000, 3rd',
    ]);
  });

  it('the board says so, without gaps, and with places that compare like with like', () => {
    const report = board(meetAfter(...ONE, ...TWO.slice(0, 3)));
    expect(sentencesOf(report)[1]).toBe(
      'Some have done 1 routine, others 2, so look at the places after 1 each, or at the projected finish.',
    );
    const { heads, column } = tableOf(report);
    expect(heads).toEqual([
      ...['place', 'name', 'VT', 'UB', 'BB', 'FX', 'total', 'done', 'to come', 'after 1 each'],
      'projected finish',
    ]);
    expect(column('name')).toEqual(['Bea Harrow', 'Ada Quill', 'Cleo Marsh', 'Dita Vale']);
    expect(column('after 1 each')).toEqual(['3rd', '1st', '2nd', '4th']);
    expect(column('projected finish')).toEqual([
      ...['53.100, 1st', '53.000, 2nd', '51.500, 3rd', '51.500, 4th'],
    ]);
  });

  it('the board of a rotation that is over has none of that', () => {
    const report = board(meetAfter(...ONE, ...TWO));
    expect(sentencesOf(report)).toHaveLength(1);
    const { heads } = tableOf(report);
    expect(heads).toContain('behind');
    expect(heads.some((head) => head.startsWith('after'))).toBe(false);
  });

  it('lines on where everyone stands are by projection', () => {
    expect(linesOf(meetAfter(...ONE, 'ada,UB,12.500', 'cleo,BB,13.000'), 'standing')).toEqual([
      'Ada Quill has 26.500 after 2 routines, level with Cleo Marsh: 1st by projection.',
      'Cleo Marsh has 26.500 after 2 routines, level with Ada Quill: 2nd by projection.',
      'Bea Harrow has 13.000 after 1 routine: 3rd by projection.',
      'Dita Vale has 12.500 after 1 routine: 4th by projection.',
    ]);
  });

  it('a place that is shared by projection is said and shown to be', () => {
    const yaml = `${MEET}contests: [{ kind: all-around, ties: [] }]\n`;
    // Quill 13.000 + 13.000 + 2 · 13.000, Marsh 13.000 + 3 · 13.000: both 52.000.
    const rows = ['ada,VT,13.000', 'bea,VT,12.000', 'cleo,UB,13.000', 'dita,UB,12.500'];
    const meet = meetFrom(yaml, logFrom(...rows, 'ada,UB,13.000'));
    const { column, notes } = tableOf(board(meet));
    expect(column('projected finish')).toEqual([
      ...['52.000, =1st', '52.000, =1st', '51.500,  3rd', '51.000,  4th'],
    ]);
    expect(column('after 1 each')).toEqual(['=1st', '=1st', '3rd', '4th']);
    expect(notes[0]?.text).toContain('= shared place');
    expect(linesOf(meet, 'standing').slice(0, 2)).toEqual([
      'Ada Quill has 26.000 after 2 routines: joint 1st by projection.',
      'Cleo Marsh has 13.000 after 1 routine: joint 1st by projection.',
    ]);
    const one = { gymnast: 'bea', apparatus: 'UB', score: '13.0' };
    const supposed = reports.suppose(meet, suppose(meet, [one], { chances: false }));
    expect(tableOf(supposed).column('place')).toEqual(['=1', '=1', '3', '4']);
  });

  it('nobody is behind somebody with more routines, nor ahead of one with fewer', () => {
    const { templates } = readTemplates({
      file: 'own.yaml',
      text: 'standing: [{ text: "{name} {behind}" }, { text: "{name} {lead}" }, { text: "{name}" }]',
    });
    const meet = meetAfter(...ONE, 'ada,UB,12.500', 'cleo,BB,12.000');
    const lines = graphics(meet, { kinds: ['standing'], templates }).lines;
    expect(lines.map((c) => c.text)).toEqual([
      ...['Ada Quill 1.000', 'Cleo Marsh 1.000', 'Bea Harrow', 'Dita Vale'],
    ]);
    const sheet = needs(meet, 'bea');
    expect(sheet.above).toEqual({ id: 'cleo', gap: 12_500 });
    expect(sentencesOf(reports.needs(meet, sheet))[1]).toBe(
      '13.000 after 1 routine, 2nd by projection',
    );
  });

  it('lines ahead of a routine say that its place is one so far', () => {
    const meet = meetAfter(...ONE);
    expect(linesOf(meet, 'need')[0]).toBe(
      'Any score on bars puts Ada Quill in the lead so far, with 2 routines to others’ 1.',
    );
    expect(linesOf(meet, 'outcome')[0]).toBe(
      'Ada Quill on bars, any score: 1st place so far, with 2 routines to others’ 1.',
    );
    // The last of the rotation: everyone has two then.
    const last = meetAfter(...ONE, ...TWO.slice(0, 3));
    expect(linesOf(last, 'outcome')[0]).toContain('14.601 or better: 1st place.');
    expect(sentencesOf(reports.outcomes(meet, outcomes(meet, 'ada')))[1]).toBe(
      'Right after it some have done 1 routine, others 2, so these are places so far.',
    );
  });

  it('a place to hold is said to be by projection, in one sheet and in the table of all', () => {
    const meet = meetAfter(...ONE, ...TWO.slice(0, 3));
    const sheet = needs(meet, 'dita');
    const { column } = tableOf(reports.needs(meet, sheet));
    expect(column('').at(-1)).toBe('to hold 4th');
    const text = sentencesOf(reports.needs(meet, sheet));
    expect(text[1]).toBe('12.500 after 1 routine, 4th by projection');
    const all = tableOf(reports.needsOfAll(meet, needsOfAll(meet)));
    expect(all.heads).toContain('projected');
    expect(all.column('projected')).toEqual(['4th', '2nd', '3rd', '1st']);
    const even = meetAfter(...ONE);
    const { heads } = tableOf(reports.needsOfAll(even, needsOfAll(even)));
    expect(heads).not.toContain('projected');
  });

  it('a chance stands beside the target it is of, and beside no other assumption', () => {
    const meet = meetAfter(...ONE, ...TWO);
    const sheet = needs(meet, 'bea', { on: 'BB' });
    const { column } = tableOf(reports.needs(meet, sheet, { often: needChances(meet, sheet) }));
    const [labels, chancesOf] = [column(''), column('chance\nin all')];
    const isConditional = (label: string | undefined) => /others at/.test(label ?? '');
    expect(labels.filter(isConditional).length).toBeGreaterThan(0);
    for (const [i, label] of labels.entries()) {
      expect([label, chancesOf[i] === '']).toEqual([label, isConditional(label)]);
    }
  });

  it('a table of needs says of whom it assumes what', () => {
    const meet = meetAfter(...ONE);
    const notes = (options: NeedsOptions) =>
      sentencesOf(reports.needsOfAll(meet, needsOfAll(meet, options))).find((s) =>
        s.startsWith('The lowest'),
      );
    expect(notes({})).toBe('The lowest real scores that do it, if all else goes as expected.');
    expect(notes({ for: 'win', rivals: 'high' })).toBe(
      'The lowest real scores that do it, the others at their realistic best, and her own other routines as expected.',
    );
    expect(notes({ for: 'lead', when: 'now' })).toBe('The lowest real scores that do it.');
  });

  it('what is supposed is shown by projection, too', () => {
    const meet = meetAfter(...ONE);
    const one = { gymnast: 'ada', apparatus: 'UB', score: '10.0' };
    const report = reports.suppose(meet, suppose(meet, [one], { chances: false }));
    const { column } = tableOf(report);
    // 24.000 + 26 of Quill; Marsh 52.500, Harrow 52.000, Vale 51.500.
    expect(column('name')).toEqual(['Cleo Marsh', 'Bea Harrow', 'Dita Vale', 'Ada Quill']);
    expect(sentencesOf(report)[1]).toBe(
      'Some have done 1 routine, others 2, so these are the places if all that is to come scores as expected.',
    );
    expect(column('place')).toEqual(['1', '2', '3', '4']);
    expect(column('was')).toEqual(['2', '3', '4', '1']);
  });
});

describe('while some have not been up', () => {
  it('a place is one so far, and the moves on such a board are said', () => {
    expect(said(ONE.slice(0, 1), 'bea,VT,14.200')).toEqual([
      'Bea Harrow, vault 14.200: 14.200, 1st so far',
      'note: 14.200 is above her realistic best of 14.000',
      'Ada Quill down to 2nd.',
    ]);
    expect(linesOf(meetAfter('ada,VT,14.000', 'bea,VT,13.000'), 'standing')).toEqual([
      'Ada Quill leads so far with 14.000 after 1 routine, 1.000 ahead.',
      'Bea Harrow is 2nd so far with 13.000 after 1 routine, 1.000 behind.',
    ]);
    expect(sentencesOf(board(meetAfter('ada,VT,14.000')))[1]).toBe(
      'Some have not been up yet, so look at the projected finish.',
    );
  });
});

describe('what decides', () => {
  it.each([
    [[13, 12, 12, 11], [12, 12, 12, 12], 'the best three scores'],
    [[13, 13, 11, 11], [13, 12, 12, 11], 'the best two scores'],
    [[14, 12, 12, 10], [13, 13, 12, 10], 'the best single score'],
    [[14, 13, 13, 13, 13, 10], [14, 13, 13, 13, 12, 11], 'the best five scores'],
  ])('between %j and %j is %s', (a, b, words) => {
    // In which order they were scored does not matter.
    expect(decidedInWords('best-scores', a.reverse(), b)).toBe(words);
    expect(decidedInWords('execution', a, b)).toBe('execution');
  });
});

describe('a tie', () => {
  const level = meetAfter(...LEVEL);
  const last = LEVEL.at(7) ?? '';

  it('is said of the board: who is level, who is ahead and on what', () => {
    const text = sentencesOf(board(level));
    expect(text).toContain(
      'Quill, Harrow and Marsh are level on 52.000; Quill is ahead of Harrow on the best three scores; Harrow is ahead of Marsh on execution.',
    );
    const { column } = tableOf(board(level));
    expect(column('total')).toEqual(['52.000*', '52.000*', '52.000*', '49.000']);
  });

  it('of two is said of the two, and one that is shared as shared', () => {
    const two = meetAfter(...LEVEL.filter((row) => !row.startsWith('cleo')));
    expect(sentencesOf(board(two))).toContain(
      'Quill and Harrow are level on 52.000; Quill is ahead on the best three scores.',
    );
    const shared = meetAfter('ada,VT,13.000', 'cleo,UB,13.000');
    expect(sentencesOf(board(shared))).toContain(
      'Quill and Marsh are level on 13.000 and share 1st.',
    );
  });

  it('is said after the score that makes it', () => {
    const without = LEVEL.filter((row) => row !== last && !row.startsWith('cleo'));
    expect(said([...without, 'cleo,VT,DNS'], 'bea,FX,12.500,5.0')[0]).toBe(
      'Bea Harrow, floor 12.500: 52.000, 2nd, level with Ada Quill, behind on the best three scores',
    );
    expect(recordedLines([...without, 'cleo,VT,DNS'], 'bea,FX,12.500')[0]).toBe(
      '52.000 in all-around, 2nd, level with Ada Quill, behind on the best three scores',
    );
    expect(said(ONE.slice(0, 2), 'cleo,UB,13.000')[0]).toBe(
      'Cleo Marsh, bars 13.000: 13.000, shares 2nd so far with Bea Harrow',
    );
  });

  it('is said in the lines', () => {
    expect(
      linesOf(level, 'final').filter((text) => !/^(Gold|Silver|Bronze)/.test(text ?? '')),
    ).toEqual([
      'Ada Quill wins with 52.000, level with Bea Harrow, ahead on the best three scores.',
      'Bea Harrow is 2nd with 52.000, level with Ada Quill, behind on the best three scores.',
      'Cleo Marsh is 3rd with 52.000, level with Bea Harrow, behind on execution.',
      'Dita Vale is 4th with 49.000, 3.000 behind.',
    ]);
    const without = LEVEL.filter((row) => row !== last);
    expect(changes(without, last)[0]).toBe(
      'Bea Harrow: 12.500 on floor, still 2nd, now with 52.000, level with Ada Quill, behind on the best three scores.',
    );
  });

  it('of three names both others, and whom the rule is about', () => {
    const text = said(
      LEVEL.filter((row) => row !== last),
      last,
    )[0];
    expect(text).toContain('52.000, 2nd');
    expect(text).toContain(
      'level with Ada Quill and Cleo Marsh, behind Ada Quill on the best three',
    );
  });

  it('stands beside her place in her sheet', () => {
    const rows = ['ada,VT,14.000', 'bea,VT,13.000', 'cleo,UB,13.000', 'dita,UB,12.500'];
    const meet = meetAfter(...rows);
    expect(sentencesOf(reports.needs(meet, needs(meet, 'bea')))[1]).toBe(
      '13.000, shares 2nd with Cleo Marsh, 0.500 ahead of Dita Vale',
    );
  });

  describe('that the next score can make', () => {
    /** Harrow has floor to come; all others are done. */
    const rows = [...LEVEL.filter((row) => row !== last && !row.startsWith('dita')), 'dita,VT,DNS'];
    const meet = meetAfter(...rows);
    const remarkOn = (of: Meet, target: AskedTarget) =>
      tableOf(reports.needs(of, needs(of, 'bea', { for: target }))).remarks;

    it('is said with the score, who has it and by which rule', () => {
      expect(remarkOn(meet, 'win')).toEqual(['12.500 ties, and loses the tie on best scores']);
      // Third place is hers with any score; the tie with Marsh hangs on an E score.
      const beat = tableOf(reports.needs(meet, needs(meet, 'bea', { for: 'beat:cleo' })));
      expect(beat.column('the score\nto beat')).toEqual(['Marsh 52.000']);
      expect(beat.remarks).toEqual(['12.500 ties, to be decided on execution']);
    });

    it('is not spoken of where no real score makes it', () => {
      const off = meetAfter(
        ...rows.map((row) => row.replace('ada,FX,12.0,5.0', 'ada,FX,12.001,5.0')),
      );
      expect(remarkOn(off, 'win')).toEqual([]);
      const win = tableOf(reports.needs(off, needs(off, 'bea', { for: 'win' })));
      expect(win.column('the score\nto beat')).toEqual(['Quill 52.001']);
    });

    it('is named by the band of that score, at the desk and on air', () => {
      // With D 5.0 her E is the higher one, whoever is first on the best three.
      const bands = outcomes(meet, 'bea', { chances: false, d: '5.0' }).bands;
      expect(bands.find((b) => b.from === 12_500)).toMatchObject({
        ...{ to: 12_500, place: 2, tied: false, open: false },
        ...{ levelWith: ['ada', 'cleo'], tieBy: null },
      });
      const shown = (of: Meet, d?: string) =>
        tableOf(reports.outcomes(of, outcomes(of, 'bea', { d }))).column('place');
      expect(shown(meet, '5.0')).toContain(
        '2nd, level with Ada Quill and Cleo Marsh, decided by the tie rules',
      );
      expect(shown(meet)).toContain(
        '2nd, level with Cleo Marsh, if the tie on execution goes her way',
      );
      expect(shown(meetAfter('ada,VT,13.000', 'cleo,UB,12.500'))).toContain(
        'shares 1st with Ada Quill',
      );
      const lines = graphics(meet, { kinds: ['outcome'], who: ['bea'] }).lines;
      expect(lines.find((c) => c.from === 12_500)?.text).toContain(
        'Bea Harrow on floor, 12.500: level with Cleo Marsh, 2nd to 3rd, decided on execution.',
      );
    });
  });
});
