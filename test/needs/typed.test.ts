/** What a hurried hand types, read as the colleague beside it would read it. */
import { describe, expect, it } from 'vitest';
import { LastRotationError, type Meet, record } from '../../lib/index.js';
import { rowsToRecord } from '../../lib/needs/recorded.js';
import { looksLikeScore, readTyped } from '../../lib/needs/typed.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** Two groups of two: Ann and Bea begin on vault, Cleo and Zoë on bars. */
const YAML = `discipline: wag
scoring: open
usual:
  VT: { low: 13.000, likely: 13.500, high: 14.000, falls: 0.1 }
  UB: { low: 13.000, likely: 13.500, high: 14.000, falls: 0.1 }
  BB: { low: 13.000, likely: 13.500, high: 14.000, falls: 0.1 }
  FX: { low: 13.000, likely: 13.500, high: 14.000, falls: 0.1 }
gymnasts:
  - { id: ashdown, name: Ann Ashdown }
  - { id: birkwell, name: Bea Birkwell }
  - { id: corby, name: Cleo Corby }
  - { id: zimmer, name: Zoë Zimmer-Ødegård }
groups:
  - { start: VT, order: [ashdown, birkwell] }
  - { start: UB, order: [corby, zimmer] }
`;
/** Ann and Bea have vaulted; everything else is to come. */
const MEET = meetFrom(YAML, logFrom('ashdown,VT,13.400', 'birkwell,VT,13.600'));

function told(line: string, meet: Meet = MEET) {
  const { told: row, odd } = readTyped(meet, line);
  const { gymnast, apparatus, score, d, e, nd, note } = row;
  const parts = Object.entries({ d, e, nd }).flatMap(([key, v]) => (v == null ? [] : [key + v]));
  const text = [gymnast, apparatus, score, ...parts].join(' ');
  return { row: note == null ? text : `${text} # ${note}`, odd };
}

/** Read, and nothing to be asked back. */
function plainly(line: string, meet: Meet = MEET): string {
  const { row, odd } = told(line, meet);
  expect(odd, line).toEqual([]);
  return row;
}

function refusal(line: string, meet: Meet = MEET) {
  try {
    readTyped(meet, line);
  } catch (error) {
    if (error instanceof LastRotationError) return error;
    throw error;
  }
  throw new Error(`${line} was read`);
}

describe('whose score it is', () => {
  it.each([
    'ash 13.566',
    'ASH 13.566',
    'ann 13.566',
    'ashdown 13.566',
    'ann ash 13.566',
    'Ann Ashdown 13.566',
    '  ash   13.566  ',
    '13.566 ash',
  ])('%s', (line) => {
    expect(plainly(line)).toBe('ashdown UB 13.566');
  });

  it('accents and strokes may be left out', () => {
    for (const who of ['zoe', 'Zoë', 'zimmer', 'odegard', 'ødegård']) {
      expect(plainly(`${who} 13.5`), who).toBe('zimmer UB 13.5');
    }
  });

  it('a part that fits several names those it fits, and nothing is read', () => {
    const error = refusal('b 13.566');
    expect(error.code).toBe('ambiguous-gymnast');
    expect(error.mend).toContain('birkwell (Bea Birkwell)');
    expect(error.mend).toContain('corby (Cleo Corby)');
  });

  it('two names are nobody’s', () => {
    expect(refusal('ann bea 13.566').code).toBe('unknown-gymnast');
  });

  it('a misspelt name is nobody; the nearest is offered, never taken', () => {
    const error = refusal('birkwel1 13.566');
    expect(error.code).toBe('unknown-gymnast');
    expect(error.mend).toContain('`birkwell`');
  });

  it('a score alone is nobody’s', () => {
    expect(refusal('13.566').code).toBe('no-gymnast');
    expect(refusal('13.566 d5.6').code).toBe('no-gymnast');
  });
});

describe('which apparatus', () => {
  it('is her next one by the schedule when not said', () => {
    expect(plainly('ann 13.5')).toBe('ashdown UB 13.5');
    expect(plainly('cleo 13.5')).toBe('corby UB 13.5');
    const later = meetFrom(YAML, logFrom('corby,UB,13.400', 'corby,BB,DNF'));
    expect(plainly('cleo 13.5', later)).toBe('corby FX 13.5');
  });

  it('is the one said, in any case, before or behind the score', () => {
    for (const line of ['ann ub 13.5', 'ann 13.5 UB', 'ann Ub 13.5']) {
      expect(plainly(line)).toBe('ashdown UB 13.5');
    }
  });

  it('is one, not two', () => {
    expect(refusal('ann ub bb 13.5').message).toContain('two apparatus');
  });

  it('is none when all of hers is done; how to mend one is said', () => {
    const done = meetFrom(YAML, logFrom(...['VT', 'UB', 'BB', 'FX'].map((a) => `ashdown,${a},13`)));
    const error = refusal('ann 13.5', done);
    expect(error.code).toBe('nothing-to-come');
    expect(error.mend).toContain('ashdown VT');
    expect(told('ann fx 13.5', done).odd).toEqual(['Ann Ashdown has 13.000 on FX already']);
  });

  it('a gymnast called like a code is the first word, the code the next', () => {
    const meet = meetFrom(
      'discipline: wag\nscoring: open\ngymnasts: [{ id: fx, name: Frida Xu }, { id: ub }]\n',
    );
    expect(told('fx 13.5', meet).row).toBe('fx VT 13.5');
    expect(told('fx fx 13.5', meet).row).toBe('fx FX 13.5');
    expect(told('ub fx 13.5', meet).row).toBe('ub FX 13.5');
  });

  it('a gymnast with a number for an id keeps it apart from the score', () => {
    const meet = meetFrom(
      'discipline: wag\nscoring: open\ngymnasts: [{ id: "12", name: Ann }, { id: d5, name: Bea }]\n',
    );
    expect(told('12 13.5', meet).row).toBe('12 VT 13.5');
    expect(told('12 fx 13.5 d5.6', meet).row).toBe('12 FX 13.5 d5.6');
    expect(told('d5 13.5', meet).row).toBe('d5 VT 13.5');
    expect(refusal('12', meet).code).toBe('wrong-score');
  });
});

describe('the score and its parts', () => {
  it('D, E and deductions, in any order and however they are joined', () => {
    const row = 'ashdown UB 13.566 d5.6 e8.066 nd0.1';
    for (const parts of ['d5.6 e8.066 nd0.1', 'ND0.1 E8.066 D5.6', 'nd:0.1 d:5.6 e:8.066']) {
      expect(plainly(`ann 13.566 ${parts}`)).toBe(row);
      expect(plainly(`ann ${parts} ub 13.566`)).toBe(row);
    }
    expect(plainly('ann 13.566 d=5')).toBe('ashdown UB 13.566 d5');
  });

  it('a decimal comma is a point, and the row written has a point', () => {
    const { told: row } = readTyped(MEET, 'ann 13,566 d5,6');
    expect(rowsToRecord(MEET, row).rows).toMatchObject([{ score: '13.566', d: '5.600' }]);
  });

  it('a note is everything after #, figures and codes in it too', () => {
    expect(plainly('ann 13.566 # FX 14.2 dns, d9 #2')).toBe(
      'ashdown UB 13.566 # FX 14.2 dns, d9 #2',
    );
    expect(plainly('ann 13.566 #')).toBe('ashdown UB 13.566 # ');
    expect(refusal('# ann 13.566').code).toBe('wrong-score');
  });

  it('two scores are asked about, not chosen from', () => {
    expect(refusal('ann 13.566 13.666').message).toBe('13.566 and 13.666 are two scores');
    expect(refusal('ann 13.566 dns').message).toContain('two scores');
    // A blank too many makes a score of the D.
    expect(refusal('ann 13.566 d 5.6').mend).toContain('d5.6');
  });

  it('two D scores are not chosen from either', () => {
    expect(refusal('ann 13.566 d5.6 d5.8').message).toBe('d5.6 and d5.8 cannot both be');
  });

  it('what the log would refuse is read, and refused there', () => {
    for (const line of ['ann 13.5661', 'ann 1356.6', 'ann 13.566 d5.6 e8.0', 'ann 16 d5.6']) {
      const { told: row } = readTyped(MEET, line);
      expect(() => rowsToRecord(MEET, row), line).toThrow(LastRotationError);
    }
  });
});

describe('what is asked back', () => {
  it('a score far above her best or far below her low, and no other', () => {
    // The best is 14.000 and the low 13.000; a fall costs a point.
    expect(plainly('ann 14.500')).toBe('ashdown UB 14.500');
    expect(told('ann 14.501').odd).toEqual(['14.501 is far above the realistic best of 14.000']);
    expect(plainly('ann 11.000')).toBe('ashdown UB 11.000');
    expect(told('ann 10.999').odd).toEqual(['10.999 is below 13.000 less two falls']);
    expect(told('ann 10').odd).toEqual(['10.000 is below 13.000 less two falls']);
    const far = 'more than three points';
    expect(told('ann 9.999').odd).toEqual([`9.999 is ${far} below her low of 13.000`]);
    expect(told('ann 1.35').odd).toEqual([`1.350 is ${far} below her low of 13.000`]);
    expect(told('ann 17').odd).toEqual(['17.000 is far above the realistic best of 14.000']);
    expect(told('ann 17.001').odd).toEqual([`17.001 is ${far} above her best of 14.000`]);
  });

  it('a lost point, where nobody gave a range', () => {
    const meet = meetFrom('discipline: wag\nscoring: open\ngymnasts: [{ id: ann }]\n');
    expect(plainly('ann 13.9', meet)).toBe('ann VT 13.9');
    expect(told('ann 139', meet).odd[0]).toContain('139.000 is more than three points above');
  });

  it('an apparatus that is not her turn', () => {
    expect(told('ann fx 13.5').odd).toEqual(['UB, BB of Ann Ashdown are still to come']);
    expect(told('cleo bb 13.5').odd).toEqual(['UB of Cleo Corby is still to come']);
  });

  it('a score that is there already, as after an inquiry', () => {
    expect(told('ann vt 13.5').odd).toEqual(['Ann Ashdown has 13.400 on VT already']);
    const out = meetFrom(YAML, logFrom('ashdown,VT,DNS'));
    expect(told('ann vt 13.5', out).odd).toEqual(['Ann Ashdown has DNS on VT already']);
  });

  it('several odd things at once are all said', () => {
    expect(told('ann vt 19').odd).toEqual([
      'Ann Ashdown has 13.400 on VT already',
      '19.000 is more than three points above her best of 14.000',
    ]);
  });

  it('a withdrawal, from one routine or from all', () => {
    expect(told('ann dns')).toEqual({ row: 'ashdown UB dns', odd: ['DNS for Ann Ashdown on UB'] });
    expect(told('ann dnf').odd).toEqual(['DNF for Ann Ashdown on UB']);
    const all = told('ann all dns # knee');
    expect(all.row).toBe('ashdown all dns # knee');
    expect(all.odd).toEqual(['withdraw Ann Ashdown from everything to come']);
    const { rows } = record(MEET, readTyped(MEET, 'ann all dns').told).recorded;
    expect(rows.map((r) => `${r.apparatus} ${r.score}`)).toEqual(['UB DNS', 'BB DNS', 'FX DNS']);
  });

  it('taking back: the row said, or her last one', () => {
    expect(told('ann vt void')).toEqual({
      row: 'ashdown VT void',
      odd: ['take back 13.400 of Ann Ashdown on VT'],
    });
    expect(told('ann void').row).toBe('ashdown VT void');
    const later = meetFrom(YAML, logFrom('ashdown,UB,13.100', 'ashdown,VT,13.400'));
    expect(told('ann VOID', later).odd).toEqual(['take back 13.100 of Ann Ashdown on UB']);
    expect(refusal('cleo void').code).toBe('nothing-to-void');
  });
});

describe('whether a line is a score at all', () => {
  it.each(['ade 13.566', 'ade 13,5', 'ade 13', 'ade dns', 'ade fx void', '13.566'])(
    '%s',
    (line) => {
      expect(looksLikeScore(line)).toBe(true);
    },
  );
  it.each(['', 'standing', 'ade', 'ade fx', 'ade d5.6', '# 13.566', 'ade 13.', 'ade 13.5.6'])(
    'not: %s',
    (line) => {
      expect(looksLikeScore(line)).toBe(false);
    },
  );
});

describe('every routine to come', () => {
  it('is reached by any part of her name that is hers alone, in turn order, without a question', () => {
    let log: string[] = [];
    const routines = meetFrom(YAML).routines;
    for (const { gymnast, apparatus } of [...routines].sort((a, b) => a.rotation - b.rotation)) {
      const meet = meetFrom(YAML, logFrom(...log));
      const { name } = meet.gymnasts.find((g) => g.id === gymnast) ?? { name: '' };
      for (let length = 1; length <= name.length; length++) {
        const part = name.slice(0, length).trim();
        const fits = meet.gymnasts.filter((g) =>
          [g.id, g.name].some((text) => text.toLowerCase().includes(part.toLowerCase())),
        );
        if (fits.length > 1) expect(refusal(`${part} 13.5`, meet).code).toBe('ambiguous-gymnast');
        else expect(plainly(`${part} 13.5`, meet)).toBe(`${gymnast} ${apparatus} 13.5`);
      }
      log = [...log, `${gymnast},${apparatus},13.5`];
    }
    expect(log).toHaveLength(16);
  });
});
