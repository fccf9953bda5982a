/** What a hurried hand types, read as the colleague beside it would read it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isToCome,
  LastRotationError,
  type Meet,
  nextUp,
  type Routine,
  record,
} from '../../lib/index.js';
import { isScored } from '../../lib/meet/meet.js';
import { rowsToRecord } from '../../lib/needs/to-record.js';
import { looksLikeScore, readTyped } from '../../lib/needs/typed.js';
import { logFrom, meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';

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
/** The first rotation is over, and Bea has done bars in the second: Ann is next there, Zoë on beam. */
const ROWS = [
  'ashdown,VT,13.400',
  'birkwell,VT,13.600',
  'corby,UB,13.300',
  'zimmer,UB,13.200',
  'birkwell,UB,13.500',
];
const MEET = meetFrom(YAML, logFrom(...ROWS));

function told(line: string, meet: Meet = MEET) {
  const { told: row, odd, question, instead } = readTyped(meet, line);
  const { gymnast, apparatus, score, d, e, nd, note } = row;
  const parts = Object.entries({ d, e, nd }).flatMap(([key, v]) => (v == null ? [] : [key + v]));
  const text = [gymnast, apparatus, score, ...parts].join(' ');
  return { row: note == null ? text : `${text} # ${note}`, odd, question, instead };
}

/** Read, and nothing to be asked back. */
function plainly(line: string, meet: Meet = MEET): string {
  const { row, odd, question, instead } = told(line, meet);
  expect([odd, question, instead], line).toEqual([[], null, null]);
  return row;
}

/** What is asked back. */
function asked(line: string, meet: Meet = MEET): string | null {
  return told(line, meet).question;
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
      expect(plainly(`${who} 13.5`), who).toBe('zimmer BB 13.5');
    }
  });

  it('a part that fits several names those it fits, and nothing is read', () => {
    // Neither of them is next up.
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
  it('is the one she is up on, or her next one by the schedule, when not said', () => {
    expect(plainly('ann 13.5')).toBe('ashdown UB 13.5');
    expect(plainly('zoe 13.5')).toBe('zimmer BB 13.5');
    expect(told('cleo 13.5').row).toBe('corby BB 13.5');
    const later = meetFrom(YAML, logFrom(...ROWS, 'corby,BB,DNF'));
    expect(told('cleo dns', later).row).toBe('corby FX dns');
  });

  it('is the one said, in any case, before or behind the score', () => {
    for (const line of ['ann ub 13.5', 'ann 13.5 UB', 'ann Ub 13.5']) {
      expect(plainly(line)).toBe('ashdown UB 13.5');
    }
  });

  it('may be said by its name or by what else it is called, in one word or in two', () => {
    const words = ['bars', 'Bars', 'BARS', 'uneven bars', 'Uneven Bars', 'unevenbars'];
    for (const word of [...words, 'asymmetric bars']) {
      expect(plainly(`ann ${word} 13.5`)).toBe('ashdown UB 13.5');
      expect(plainly(`ann 13.5 ${word} d5.6`)).toBe('ashdown UB 13.5 d5.6');
      expect(plainly(`${word} ann 13.5`)).toBe('ashdown UB 13.5');
    }
    expect(plainly('zoe beam 13.5')).toBe('zimmer BB 13.5');
    expect(plainly('zoe balance beam 13.5')).toBe('zimmer BB 13.5');
  });

  it('is asked when it may be two', () => {
    const men = meetFrom('discipline: mag\nscoring: open\ngymnasts: [{ id: ann }]\n');
    const row = (where: string) => told(`ann ${where} 13.5`, men).row;
    expect(['p-bars', 'parallel bars', 'PB'].map(row)).toEqual(Array(3).fill('ann PB 13.5'));
    expect(['high bar', 'highbar', 'horizontal bar'].map(row)).toEqual(
      Array(3).fill('ann HB 13.5'),
    );
    expect(['pommel', 'pommel horse', 'rings'].map(row)).toEqual([
      'ann PH 13.5',
      'ann PH 13.5',
      'ann SR 13.5',
    ]);
    const error = refusal('ann bars 13.5', men);
    expect(error.message).toBe('"bars" could be parallel bars or high bar');
    expect(error.mend).toBe('say which: PB or HB');
  });

  it('may be the second vault by its name', () => {
    const meet = meetFrom(
      'discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: VT, vaults: 2 }]\ngymnasts: [{ id: ann }]\n',
      logFrom('ann,VT,13.9'),
    );
    expect(plainly('ann second vault 13.5', meet)).toBe('ann VT2 13.5');
    // Right after her first vault, and no correction of it.
    expect(plainly('ann 13.5', meet)).toBe('ann VT2 13.5');
    expect(told('ann vault 13.5', meet).question).toBe(
      "Correct ann's vault from 13.900 to 13.500?",
    );
  });

  it('in a discipline of the meet’s own is called as the meet calls it', () => {
    const meet = meetFrom(
      'discipline: [{ code: HP, name: hoop, limit: 20 }, { code: CL, name: two clubs, limit: 20 }]\nscoring: open\ngymnasts: [{ id: ann }]\n',
    );
    expect(told('ann Hoop 13.5', meet).row).toBe('ann HP 13.5');
    expect(told('ann two clubs 13.5', meet).row).toBe('ann CL 13.5');
    expect(told('ann cl 13.5', meet).row).toBe('ann CL 13.5');
  });

  it('is no part of a name that is somebody’s whole name', () => {
    const names = '{ id: beam, name: Ada Beam }, { id: vale, name: Dita Vale }';
    const yaml = `discipline: wag\nscoring: open\ngymnasts: [${names}]\n`;
    expect(told('ada beam 13.5', meetFrom(yaml)).row).toBe('beam VT 13.5');
    expect(told('ada beam beam 13.5', meetFrom(yaml)).row).toBe('beam BB 13.5');
    const two = meetFrom(yaml.replace('Dita', 'Ada'));
    const error = refusal('ada beam 13.5', two);
    expect(error.code).toBe('ambiguous-gymnast');
    expect(error.message).toBe('"ada beam" may be Ada Beam or Ada Vale on beam');
  });

  it('is one, not two', () => {
    expect(refusal('ann ub bb 13.5').message).toContain('two apparatus');
    expect(refusal('ann bars beam 13.5').message).toBe('bars and beam are two apparatus');
  });

  it('is none when all of hers is done; how to mend one is said', () => {
    const rows = ['VT', 'UB', 'BB', 'FX'].map((a) => `birkwell,${a},13`);
    const done = meetFrom(YAML, logFrom(...rows, 'ashdown,FX,13'));
    const error = refusal('bea 13.5', done);
    expect(error.code).toBe('nothing-to-come');
    expect(error.mend).toContain('birkwell VT');
    expect(asked('bea fx 13.5', done)).toBe("Correct Birkwell's floor from 13.000 to 13.500?");
    // Nobody has been on floor after her: it may be a correction.
    const last = meetFrom(YAML, logFrom(...rows));
    expect(told('bea 13.5', last)).toMatchObject({
      row: 'birkwell FX 13.5',
      question: "Correct Birkwell's floor from 13.000 to 13.500?",
      instead: null,
    });
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
    expect(asked('ann 14.501')).toBe(
      "14.501 on bars is far above Ashdown's realistic best of 14.000. Record it?",
    );
    expect(plainly('ann 11.000')).toBe('ashdown UB 11.000');
    expect(asked('ann 10.999')).toBe(
      "10.999 on bars is below Ashdown's low of 13.000 less two falls. Record it?",
    );
    const far = 'more than three points';
    expect(told('ann 9.999').odd).toEqual([`9.999 is ${far} below her low of 13.000`]);
    expect(told('ann 1.35').odd).toEqual([`1.350 is ${far} below her low of 13.000`]);
    expect(told('ann 17.001').odd).toEqual([`17.001 is ${far} above her best of 14.000`]);
  });

  it('a lost point, where nobody gave a range', () => {
    const meet = meetFrom('discipline: wag\nscoring: open\ngymnasts: [{ id: ann }]\n');
    expect(plainly('ann 13.9', meet)).toBe('ann VT 13.9');
    expect(told('ann 139', meet).odd[0]).toContain('139.000 is more than three points above');
  });

  it('a withdrawal, from one routine or from all', () => {
    expect(told('ann dns')).toMatchObject({
      row: 'ashdown UB dns',
      question: 'Record DNS for Ashdown on bars?',
    });
    expect(asked('ann dnf')).toBe('Record DNF for Ashdown on bars?');
    const all = told('ann all dns # knee');
    expect(all.row).toBe('ashdown all dns # knee');
    expect(all.question).toBe('Withdraw Ashdown from everything to come?');
    const { rows } = record(MEET, readTyped(MEET, 'ann all dns').told).recorded;
    expect(rows.map((r) => `${r.apparatus} ${r.score}`)).toEqual(['UB DNS', 'BB DNS', 'FX DNS']);
  });

  it('taking back: the row said, or her last one', () => {
    expect(told('ann vt void')).toMatchObject({
      row: 'ashdown VT void',
      question: "Take back Ashdown's 13.400 on vault?",
    });
    expect(told('ann void').row).toBe('ashdown VT void');
    const later = meetFrom(YAML, logFrom('ashdown,UB,13.100', 'ashdown,VT,13.400'));
    expect(asked('ann VOID', later)).toBe("Take back Ashdown's 13.100 on bars?");
    const before = meetFrom(YAML, logFrom('ashdown,VT,13.400'));
    expect(refusal('cleo void', before).code).toBe('nothing-to-void');
  });

  it('in the words of the discipline', () => {
    const men = 'discipline: mag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n';
    expect(asked('bea 13.5', meetFrom(men))).toContain('Record 13.500 for him now?');
    const own = men.replace('mag', '[{ code: HP, name: hoop, limit: 20 }]');
    expect(asked('bea 13.5', meetFrom(own))).toContain('Record 13.500 for them now?');
  });
});

describe('nobody is recorded out of turn unasked', () => {
  it('before her turn: who is next there is said', () => {
    expect(told('cleo 13.5')).toMatchObject({
      row: 'corby BB 13.5',
      odd: ['Corby is up on beam after Zimmer-Ødegård'],
      question: 'Corby is up on beam after Zimmer-Ødegård. Record 13.500 for her now?',
      instead: null,
    });
  });

  it('a rotation ahead of it', () => {
    const meet = meetFrom(YAML, logFrom('ashdown,VT,13.400'));
    expect(asked('birkwell bars 13.2', meet)).toBe(
      'Birkwell is up on bars in rotation 2, and Corby is next there. Record 13.200 for her now?',
    );
  });

  it('on an apparatus that is not her next', () => {
    expect(asked('ann fx 13.5')).toBe(
      'Ashdown is up on floor in rotation 4, and Corby is next there. Record 13.500 for her now?',
    );
  });

  it('many before her are counted', () => {
    const list = ['ann', 'bea', 'cleo', 'dita', 'ella'].map((id) => `{ id: ${id} }`).join(', ');
    const meet = meetFrom(`discipline: wag\nscoring: open\ngymnasts: [${list}]\n`);
    expect(asked('dita 13.5', meet)).toContain('dita is up on vault after ann, bea and cleo.');
    expect(asked('ella 13.5', meet)).toContain('ella is up on vault after ann, bea and 2 more.');
  });

  it('who was passed over is not odd, and does not make those after her odd', () => {
    // Ann's score has not come yet, and Bea has hers.
    const meet = meetFrom(YAML, logFrom('birkwell,VT,13.600'));
    expect(plainly('ann 13.5', meet)).toBe('ashdown VT 13.5');
    // A withdrawal is no score: nobody is passed over by it.
    const out = meetFrom(YAML, logFrom('birkwell,VT,DNS'));
    expect(plainly('ann 13.5', out)).toBe('ashdown VT 13.5');
    expect(asked('zimmer 13.5', out)).toContain('after Corby');
  });

  it('several may have been passed over, and those who withdrew do not pass anybody', () => {
    const list = ['ann', 'bea', 'cleo', 'dita'].map((id) => `{ id: ${id} }`).join(', ');
    const yaml = `discipline: wag\nscoring: open\ngymnasts: [${list}]\n`;
    const late = meetFrom(yaml, logFrom('cleo,VT,13.4'));
    for (const id of ['ann', 'bea', 'dita']) {
      expect(plainly(`${id} vault 13.5`, late)).toBe(`${id} VT 13.5`);
      if (id !== 'ann') expect(plainly(`${id} 13.5`, late)).toBe(`${id} VT 13.5`);
    }
    // Ann may be next on bars by now: which score it is would be a guess.
    expect(asked('ann 13.5', late)).toBe(
      "ann's score on vault is awaited too. Record 13.500 for ann on bars?",
    );
    // By somebody of a later rotation too.
    const first = meetFrom(YAML, logFrom('zimmer,VT,13.1'));
    expect(plainly('bea vault 13.5', first)).toBe('birkwell VT 13.5');
    const out = meetFrom(yaml, logFrom('cleo,VT,DNS'));
    expect(asked('bea 13.5', out)).toContain('bea is up on vault after ann.');
  });

  it('where two scores of hers are awaited it asks which', () => {
    // Ann's vault is late; on bars she is next.
    const meet = meetFrom(YAML, logFrom(...ROWS.slice(1)));
    const { question, instead } = told('ann 13.5', meet);
    expect(question).toMatch(
      /^Ashdown's score on \w+ is awaited too\. Record 13\.500 for Ashdown on/,
    );
    expect(instead).toMatch(/^For (bars|vault), write: ashdown (bars|vault) 13\.5$/);
    expect(plainly('ann bars 13.5', meet)).toBe('ashdown UB 13.5');
    expect(plainly('ann vault 13.5', meet)).toBe('ashdown VT 13.5');
  });

  it('a withdrawal comes when it comes', () => {
    expect(asked('cleo dns')).toBe('Record DNS for Corby on beam?');
  });
});

describe('a score for somebody who has just been scored', () => {
  /** Whit is last on bars in the first rotation, and third on beam in the second. */
  const FOUR = meetFrom(
    `discipline: wag
scoring: open
gymnasts: [{ id: aber, name: Ada Aber }, { id: lund, name: Liv Lund }, { id: reed, name: Rosa Reed }, { id: whit, name: Wilma Whit }]
groups: [{ start: UB, order: [aber, lund, reed, whit] }]
`,
    logFrom('aber,UB,13.1', 'lund,UB,13.2', 'reed,UB,13.3', 'whit,UB,13.9'),
  );

  it('is a correction first; how to write the other is said', () => {
    expect(told('whit 14.1 d5.9', FOUR)).toMatchObject({
      row: 'whit UB 14.1 d5.9',
      question: "Correct Whit's bars from 13.900 to 14.100?",
      instead: 'For beam, write: whit beam 14.1 d5.9',
    });
    // As it was told to write it.
    expect(told('whit beam 14.1 d5.9', FOUR)).toMatchObject({
      row: 'whit BB 14.1 d5.9',
      question: 'Whit is up on beam after Lund and Reed. Record 14.100 for her now?',
    });
  });

  it('is none once somebody was scored after her, or she is up in a rotation that has begun', () => {
    expect(asked('reed 14.1', FOUR)).toBe(
      'Reed is up on beam after Lund. Record 14.100 for her now?',
    );
    const later = record(FOUR, { gymnast: 'lund', apparatus: 'BB', score: '13.1' }).meet;
    const whits = record(later, { gymnast: 'reed', apparatus: 'BB', score: '13.1' }).meet;
    expect(plainly('whit 14.1', whits)).toBe('whit BB 14.1');
    // She is not up yet: it may still be a correction.
    expect(asked('whit 14.1', later)).toBe("Correct Whit's bars from 13.900 to 14.100?");
  });

  it('the first of a rotation, who was the last of the one before, is asked', () => {
    const line = 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n';
    const ups = 'rotations: [{ VT: [ann, bea] }, { UB: [bea, ann] }, { BB: [ann, bea] }]\n';
    const meet = meetFrom(
      `${line}contests: [{ kind: apparatus, on: VT }, { kind: apparatus, on: UB }, { kind: apparatus, on: BB }]\n${ups}`,
      logFrom('ann,VT,13.1', 'bea,VT,13.2'),
    );
    expect(told('bea 13.4', meet)).toMatchObject({
      question: "Correct bea's vault from 13.200 to 13.400?",
      instead: 'For bars, write: bea bars 13.4',
    });
    expect(plainly('bea bars 13.4', meet)).toBe('bea UB 13.4');
  });

  it('the same again is said to be that', () => {
    expect(asked('whit 13.9', FOUR)).toBe(
      'Whit has 13.900 on bars already. Record it there again?',
    );
  });

  it('an inquiry goes where her score is, however much has happened since', () => {
    // Once a row on her next apparatus.
    for (const line of [
      'whit 14.1 d5.9 # inquiry accepted',
      'whit 14.1 d5.9 inquiry',
      'inquiry whit 14.1 d5.9',
    ]) {
      const { row, question } = told(line, FOUR);
      expect(row, line).toMatch(/^whit UB 14\.1 d5\.9 # inquiry/);
      expect(question, line).toBe("Correct Whit's bars from 13.900 to 14.100?");
    }
    // Zoë is up on beam, and her last score is that on bars.
    expect(told('zoe 13.4 inquiry')).toMatchObject({
      row: 'zimmer UB 13.4 # inquiry',
      question: "Correct Zimmer-Ødegård's bars from 13.200 to 13.400?",
      instead: 'For beam, write: zimmer beam 13.4',
    });
    expect(asked('bea vault 13.7 # Inquiry')).toBe(
      "Correct Birkwell's vault from 13.600 to 13.700?",
    );
  });

  it('an inquiry about nothing is asked about', () => {
    expect(asked('zoe beam 13.4 inquiry')).toBe(
      'Zimmer-Ødegård has no score on beam that an inquiry could change. Record 13.400 for Zimmer-Ødegård on beam?',
    );
  });

  it('a score that is there already, where the apparatus is named', () => {
    expect(told('ann vt 13.5')).toMatchObject({
      question: "Correct Ashdown's vault from 13.400 to 13.500?",
      instead: null,
    });
    const out = meetFrom(YAML, logFrom('ashdown,VT,DNS'));
    expect(asked('ann vt 13.5', out)).toBe("Correct Ashdown's vault from DNS to 13.500?");
    expect(asked('ann vt dns')).toBe("Correct Ashdown's vault from 13.400 to DNS?");
  });

  it('several odd things at once are all said', () => {
    expect(asked('ann vt 19')).toBe(
      "19.000 is more than three points above her best of 14.000. Correct Ashdown's vault from 13.400 to 19.000?",
    );
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
  it.each(['ade top 8', 'ade fx Top 3', 'ade place 3', 'ade total 57.000'])(
    'a question with a number is none: %s',
    (line) => {
      expect(looksLikeScore(line)).toBe(false);
      expect(looksLikeScore(`${line} 13.5`)).toBe(true);
    },
  );
});

describe('whatever has been recorded', () => {
  it('without a question nobody is recorded but who is next up or was passed over', () => {
    const { routines } = meetFrom(YAML);
    const rows = routines.map((r) => `${r.gymnast},${r.apparatus}`);
    fc.assert(
      fc.property(
        fc.subarray(rows),
        fc.constantFrom(...routines),
        fc.boolean(),
        fc.constantFrom('', ' inquiry', ' d5.0'),
        (done, { gymnast, apparatus }, isNamed, rest) => {
          const log = done.map((row, i) => (i % 5 === 4 ? `${row},DNS` : `${row},13.2`));
          const meet = meetFrom(YAML, done.length === 0 ? '' : logFrom(...log));
          const line = `${gymnast}${isNamed ? ` ${apparatus}` : ''} 13.5${rest}`;
          let row: ReturnType<typeof readTyped>;
          try {
            row = readTyped(meet, line);
          } catch {
            // Nothing of hers is to come.
            return;
          }
          if (isNamed) expect(row.told.apparatus).toBe(apparatus);
          if (row.question !== null) return;
          const asked = routines.findIndex(
            (r) => r.gymnast === gymnast && r.apparatus === row.told.apparatus,
          );
          expect(meet.results[asked]).toBeNull();
          const isUp = nextUp(meet).some((r) => r.index === asked);
          // Late, or nobody is to come before her there but who is late.
          const isLate = (index: number) => routines.some((r) => r.index > index && isDone(r));
          const isDone = (r: Routine) =>
            r.apparatus === row.told.apparatus && isScored(meet.results[r.index]);
          const before = routines.filter(
            (r) => r.index < asked && r.apparatus === row.told.apparatus && isToCome(meet, r.index),
          );
          expect(isUp || before.every((r) => isLate(r.index)), line).toBe(true);
          expect(rest).not.toBe(' inquiry');
        },
      ),
      { numRuns: times(100), seed: 20261016 },
    );
  });
});

describe('every routine to come', () => {
  it('is reached by any part of her name that is hers alone, in turn order, without a question', () => {
    // First up stays first, so that nobody is up right after her own score.
    const yaml = `${YAML}startOrder: fixed\n`;
    let log: string[] = [];
    for (const { gymnast, apparatus } of meetFrom(yaml).routines) {
      const meet = meetFrom(yaml, logFrom(...log));
      const { name } = meet.gymnasts.find((g) => g.id === gymnast) ?? { name: '' };
      for (let length = 1; length <= name.length; length++) {
        const part = name.slice(0, length).trim();
        const fits = meet.gymnasts.filter((g) =>
          [g.id, g.name].some((text) => text.toLowerCase().includes(part.toLowerCase())),
        );
        // Of several it is hers, since she is up, or nobody's.
        const read =
          fits.length > 1 ? rowOrNull(`${part} 13.5`, meet) : told(`${part} 13.5`, meet).row;
        if (read !== null)
          expect(plainly(`${part} 13.5`, meet)).toBe(`${gymnast} ${apparatus} 13.5`);
        if (fits.length === 1) expect(read).not.toBeNull();
      }
      log = [...log, `${gymnast},${apparatus},13.5`];
    }
    expect(log).toHaveLength(16);
  });
});

describe('two vaults', () => {
  const FINAL = `discipline: mag
scoring: open
contests: [{ kind: apparatus, on: VT, vaults: 2 }]
gymnasts: [{ id: ott, name: Bo Ott }, { id: lind, name: Per Lind }]
`;

  it('the first is no question while the second is to come', () => {
    const meet = meetFrom(FINAL, logFrom('ott,VT,14.500', 'ott,VT2,14.100'));
    for (const of of [meetFrom(FINAL), meet]) {
      const up = nextUp(of)[0];
      const { told: row, question } = readTyped(of, `${up?.gymnast} 14.8 d5.6`);
      expect([row.apparatus, question]).toEqual(['VT', null]);
    }
  });
});

function rowOrNull(line: string, meet: Meet): string | null {
  try {
    return told(line, meet).row;
  } catch {
    return null;
  }
}
