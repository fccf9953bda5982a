/** Two of one name: who is meant, at the prompt, in a command, by a program and by a feed. */
import { describe, expect, it } from 'vitest';
import {
  type Meet,
  namedContender,
  namedGymnast,
  needs,
  newMeet,
  readMeet,
  readTyped,
  record,
  withApparatus,
} from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';
import { refusal } from '../support/refusal.js';

/** Bars go up first in this group: Ruth Okafor, Lund, Mina Okafor. */
const START_LIST = `name,group
Ada Aber,VT
Bea Birk,VT
Rosa Whit,VT
Ruth Okafor,UB
Liv Lund,UB
Mina Okafor,UB
`;

function madeFrom(list: string, ...rows: string[]): Meet {
  const { text } = newMeet({ file: 'start.csv', text: list });
  const { meet, problems } = readMeet({
    meet: { file: 'meet.yaml', text: text ?? '' },
    log: rows.length === 0 ? null : { file: 'meet.scores.csv', text: logFrom(...rows) },
  });
  if (meet === null) throw new Error(JSON.stringify(problems));
  return meet;
}

function typed(meet: Meet, line: string): [row: string, question: string | null] {
  const { told, question } = readTyped(meet, line);
  return [`${told.gymnast} ${told.apparatus} ${told.score}`, question];
}

/** As an older `new` made it, and as a hand writes it: one has the bare family name. */
const UNEQUAL = `discipline: wag
scoring: open
startOrder: fixed
gymnasts:
  - { id: rokafor, name: Ruth Okafor }
  - { id: lund, name: Liv Lund }
  - { id: okafor, name: Mina Okafor }
groups: [{ start: UB, order: [rokafor, lund, okafor] }]
`;

describe('two Okafors, made by `new`', () => {
  const meet = madeFrom(START_LIST);

  it('are of equal rank: neither has the bare name', () => {
    const ids = meet.gymnasts.map((g) => g.id);
    expect(ids).toEqual(['aber', 'birk', 'whit', 'rokafor', 'lund', 'mokafor']);
  });

  it('the one who is next up is meant at the prompt', () => {
    // Once Mina's, a rotation ahead of her turn.
    expect(typed(meet, 'okafor 13.2')).toEqual(['rokafor UB 13.2', null]);
    expect(typed(meet, 'okafor bars 13.2')).toEqual(['rokafor UB 13.2', null]);
    const later = madeFrom(START_LIST, 'rokafor,UB,13.2', 'lund,UB,13.1');
    expect(typed(later, 'okafor 13.4')).toEqual(['mokafor UB 13.4', null]);
  });

  it('the other is asked back before her turn, by any name that is hers', () => {
    for (const name of ['mokafor', 'mina', 'Mina Okafor']) {
      expect(typed(meet, `${name} 13.2`)).toEqual([
        'mokafor UB 13.2',
        'Mina Okafor is up on bars after Ruth Okafor and Lund. Record 13.200 for her now?',
      ]);
    }
  });

  it('neither is taken where neither is next up', () => {
    const between = madeFrom(START_LIST, 'rokafor,UB,13.2');
    const error = refusal(() => typed(between, 'okafor 13.4'));
    expect(error.code).toBe('ambiguous-gymnast');
    expect(error.mend).toBe('say which: rokafor (Ruth Okafor), mokafor (Mina Okafor)');
    // On an apparatus where neither of them is.
    expect(refusal(() => typed(meet, 'okafor vault 13.4')).code).toBe('ambiguous-gymnast');
  });

  it('one whose score is awaited is thought of', () => {
    const late = madeFrom(START_LIST, 'lund,UB,13.1');
    // Ruth's score has not come, and it is Mina's turn.
    const [row, question] = typed(late, 'mokafor 13.4');
    expect(row).toBe('mokafor UB 13.4');
    expect(typed(late, 'ruth 13.4')).toEqual(['rokafor UB 13.4', null]);
    expect(question ?? '').not.toContain('Lund');
  });

  it('of two whose score is awaited the other is thought of', () => {
    const yaml = `discipline: wag
scoring: open
startOrder: fixed
gymnasts: [{ id: aber }, { id: birk }, { id: ruth, name: Ruth Okafor }, { id: lund }, { id: mina, name: Mina Okafor }]
`;
    const rows = logFrom('lund,UB,13.1');
    // Ruth was passed over on bars; Mina is up on vault.
    const meet = meetFrom(
      `${yaml}groups: [{ start: VT, order: [mina, birk] }, { start: UB, order: [aber, ruth, lund] }]\n`,
      rows,
    );
    const { told, question, instead } = readTyped(meet, 'okafor 13.4');
    expect(`${told.gymnast} ${told.apparatus}`).toBe('mina VT');
    expect(question).toBe(
      "Ruth Okafor's score on bars is awaited too. Record 13.400 for Mina Okafor on vault?",
    );
    expect(instead).toBe('For bars, write: ruth bars 13.4');
    // Mina's turn has not come.
    const later = meetFrom(
      `${yaml}groups: [{ start: VT, order: [birk, mina] }, { start: UB, order: [aber, ruth, lund] }]\n`,
      rows,
    );
    expect(typed(later, 'okafor 13.4')).toEqual(['ruth UB 13.4', null]);
  });

  it('an inquiry is about the one who has a score', () => {
    const meet = madeFrom(START_LIST, 'rokafor,UB,13.2', 'lund,UB,13.1');
    expect(typed(meet, 'okafor 13.4 inquiry')).toEqual([
      'rokafor UB 13.4',
      "Correct Ruth Okafor's bars from 13.200 to 13.400?",
    ]);
    expect(typed(meet, 'okafor void')[1]).toBe("Take back Ruth Okafor's 13.200 on bars?");
  });
});

describe('a name that fits one better than another', () => {
  const list = START_LIST.replace('Ada Aber,VT', 'Joanna Aber,VT').replace('Bea', 'Ann');

  it('is not hers who only has it somewhere inside', () => {
    // Joanna is next up on vault, and Ann is after her.
    expect(refusal(() => typed(madeFrom(list), 'ann 13.2')).code).toBe('ambiguous-gymnast');
    expect(typed(madeFrom(list, 'aber,VT,13.1'), 'ann 13.2')).toEqual(['birk VT 13.2', null]);
  });
});

describe('two Reeds in a dual meet', () => {
  const names = ['Ida', 'Jo', 'Kit', 'Lea'].map((n, i) => `{ id: g${i}, name: ${n} Marsh }`);
  const meet = meetFrom(`discipline: wag
scoring: ten
gymnasts: [${names.join(', ')}, { id: reed, name: Tess Reed }, { id: nreed, name: Nell Reed }]
rotations:
  - { VT: [g0, g1, g2, g3, reed], UB: [nreed] }
  - { VT: [nreed], UB: [g0, g1, g2, g3, reed] }
`);

  it('the one who is fifth in the line-up is not taken by her bare id', () => {
    // Once hers, without a question.
    expect(typed(meet, 'reed 9.7')).toEqual(['nreed UB 9.7', null]);
    expect(typed(meet, 'tess 9.7')).toEqual([
      'reed VT 9.7',
      'Tess Reed is up on vault after Ida Marsh, Jo Marsh and 2 more. Record 9.700 for her now?',
    ]);
  });

  it('alone of her name she is asked back all the same', () => {
    const alone = meetFrom(`discipline: wag
scoring: ten
gymnasts: [${names.join(', ')}, { id: reed, name: Tess Reed }]
rotations: [{ VT: [g0, g1, g2, g3, reed] }]
`);
    expect(typed(alone, 'reed 9.7')[1]).toContain('Reed is up on vault after');
  });
});

describe('an id that is somebody else’s family name', () => {
  const meet = meetFrom(UNEQUAL);
  const both = 'say which: rokafor (Ruth Okafor), id:okafor (Mina Okafor)';

  it('is asked back in a command, with both', () => {
    for (const name of ['okafor', 'Okafor', 'OKAFOR']) {
      for (const named of [namedGymnast, namedContender]) {
        const error = refusal(() => named(meet, name));
        expect(error.code).toBe('ambiguous-gymnast');
        expect(error.message).toBe(`"${name}" could be either of two`);
        expect(error.mend).toBe(both);
      }
    }
  });

  it('whoever is meant can be named', () => {
    for (const name of ['mina', 'Mina Okafor', 'id:okafor', 'ID:okafor']) {
      expect(namedGymnast(meet, name), name).toBe('okafor');
    }
    for (const name of ['ruth', 'rokafor']) expect(namedGymnast(meet, name), name).toBe('rokafor');
    expect(typed(meet, 'id:okafor bars 13.2')[0]).toBe('okafor UB 13.2');
    expect(refusal(() => namedGymnast(meet, 'id:nobody')).code).toBe('unknown-gymnast');
  });

  it('is whoever is next up at the prompt', () => {
    expect(typed(meet, 'okafor 13.2')).toEqual(['rokafor UB 13.2', null]);
    expect(namedContender(meet, 'okafor', { nextUpFirst: true })).toBe('rokafor');
  });

  it('is exact for a program and in a feed; in other letters it is a name that fits two', () => {
    expect(needs(meet, 'okafor', { on: 'UB' }).gymnast).toBe('okafor');
    const told = { gymnast: 'okafor', apparatus: 'UB', score: '13.2' };
    expect(record(meet, told).recorded.row.gymnast).toBe('okafor');
    expect(refusal(() => record(meet, { ...told, gymnast: 'Okafor' })).code).toBe(
      'ambiguous-gymnast',
    );
    expect(refusal(() => needs(meet, 'OKAFOR')).code).toBe('ambiguous-gymnast');
  });

  it('with another first name, or as a first name, is hers', () => {
    const other = meetFrom(UNEQUAL.replace('Ruth Okafor', 'Okafor Ruth'));
    expect(namedGymnast(other, 'okafor')).toBe('okafor');
  });

  it('accents make no other name', () => {
    const other = meetFrom(UNEQUAL.replace('Ruth Okafor', 'Ruth Ökafor'));
    expect(refusal(() => namedGymnast(other, 'okafor')).mend).toContain('Ruth Ökafor');
  });

  it('comes second to a team in a team contest', () => {
    const teams = meetFrom(`discipline: wag
scoring: open
contests: [{ kind: team, up: 2, count: 2 }, all-around]
teams: [{ id: okafor, name: Okafor Club }, { id: two, name: Second Club }]
gymnasts: [{ id: ruth, name: Ruth Okafor, team: two }, { id: mina, name: Mina Okafor, team: okafor }]
`);
    expect(namedContender(teams, 'okafor')).toBe('okafor');
    expect(refusal(() => namedContender(teams, 'okafor', { contest: 'all-around' })).code).toBe(
      'ambiguous-gymnast',
    );
  });
});

describe('a feed', () => {
  const meet = meetFrom(UNEQUAL);
  const fed = (gymnast: string, apparatus: string, on: Meet = meet) =>
    withApparatus(on, { gymnast, apparatus, score: '13.2' });

  it('takes exact ids with their apparatus in any order, and notes it', () => {
    const row = (gymnast: string, apparatus: string) =>
      record(meet, fed(gymnast, apparatus)).recorded;
    expect(row('okafor', 'UB').warnings).toContain(
      'Mina Okafor is up on bars after Ruth Okafor and Lund',
    );
    expect(row('rokafor', 'UB').warnings.join()).not.toContain('is up on');
    expect(row('okafor', 'FX').row.apparatus).toBe('FX');
    // Passed over before, and awaited since.
    const late = record(meet, fed('lund', 'UB')).meet;
    expect(record(late, fed('rokafor', 'UB', late)).recorded.warnings.join()).not.toContain(
      'is up',
    );
  });

  it('takes an apparatus by its name', () => {
    expect(fed('okafor', 'Uneven Bars').apparatus).toBe('UB');
    expect(fed('okafor', 'all').apparatus).toBe('ALL');
  });

  it('without an apparatus takes hers who is next up, or the only one she has to come', () => {
    expect(fed('rokafor', '').apparatus).toBe('UB');
    const rows = ['UB', 'BB', 'FX'].map((code) => `okafor,${code},13.2`);
    expect(fed('okafor', ' ', meetFrom(UNEQUAL, logFrom(...rows))).apparatus).toBe('VT');
  });

  it('refuses to guess', () => {
    const error = refusal(() => fed('okafor', ''));
    expect(error.code).toBe('no-apparatus');
    expect(error.message).toBe('Mina Okafor is not next up, and has UB, BB, FX and VT to come');
    expect(refusal(() => record(meet, fed('kafor', 'UB'))).code).toBe('ambiguous-gymnast');
  });
});
