/** Words for apparatus: which they are, and that none may be two where it should be one. */
import { describe, expect, it } from 'vitest';
import {
  apparatusCalled,
  apparatusWritten,
  type Called,
  calledIn,
  DISCIPLINES,
  type DisciplineCode,
} from '../lib/apparatus.js';
import { apparatusMend } from '../lib/meet/which-apparatus.js';

const codes = (found: readonly Called[]) => found.map((a) => a.code);
const called = (discipline: DisciplineCode, text: string) =>
  codes(apparatusCalled(calledIn(discipline), text));
const written = (discipline: DisciplineCode, text: string) =>
  codes(apparatusWritten(calledIn(discipline), text));

describe('English', () => {
  it.each<[DisciplineCode, string, string]>([
    ['wag', 'vault', 'VT'],
    ['wag', 'Bars', 'UB'],
    ['wag', 'uneven  bars', 'UB'],
    ['wag', 'BALANCE BEAM', 'BB'],
    ['wag', 'floor exercise', 'FX'],
    ['wag', '2nd vault', 'VT2'],
    ['mag', 'pommel horse', 'PH'],
    ['mag', 'Still Rings', 'SR'],
    ['mag', 'p-bars', 'PB'],
    ['mag', 'horizontal bar', 'HB'],
    ['mag', 'high-bar', 'HB'],
    ['mag', 'hb', 'HB'],
  ])('%s %s is %s', (discipline, text, code) => {
    expect(called(discipline, text)).toEqual([code]);
    expect(written(discipline, text)).toEqual([code]);
  });

  it('bars of men may be either of two', () => {
    expect(called('mag', 'bars')).toEqual(['PB', 'HB']);
    expect(apparatusMend('bars', calledIn('mag'), 'one of')).toBe('say which: PB or HB');
  });
});

// Names as federations write them on start lists, from memory.
describe('other languages', () => {
  it.each<[DisciplineCode, readonly string[], string]>([
    ['wag', ['Saut', 'Sprung', 'salto', 'volteggio'], 'VT'],
    ['wag', ['Barres asymétriques', 'Stufenbarren', 'asimétricas', 'parallele', 'UE'], 'UB'],
    ['wag', ['poutre', 'Schwebebalken', 'Balken', 'viga', 'trave', 'BE'], 'BB'],
    ['wag', ['SOL', 'Boden', 'suelo', 'corpo libero', 'solo', 'FL'], 'FX'],
    ['mag', ['Cheval d’arçons', 'Pauschenpferd', 'arzones', 'cavallo', 'cavalo com alças'], 'PH'],
    ['mag', ['anneaux', 'Ringe', 'anillas', 'anelli', 'argolas', 'RI'], 'SR'],
    ['mag', ['barres parallèles', 'Barren', 'paralelas', 'parallele pari'], 'PB'],
    ['mag', ['barre fixe', 'Reck', 'barra fija', 'sbarra', 'barra fixa', 'HI'], 'HB'],
  ])('%s %j are %s', (discipline, words, code) => {
    for (const word of words) {
      expect([word, ...written(discipline, word)]).toEqual([word, code]);
      // In a typed line they may be names.
      expect([word, ...called(discipline, word)]).toEqual([word]);
    }
  });

  it('Barren is one thing for women and another for men', () => {
    expect([written('wag', 'Barren'), written('mag', 'Barren')]).toEqual([['UB'], ['PB']]);
  });

  it('do not name what a meet’s own discipline calls otherwise', () => {
    const own = [{ code: 'HP', name: 'hoop' }];
    expect([codes(apparatusWritten(own, 'Hoop')), codes(apparatusWritten(own, 'Boden'))]).toEqual([
      ['HP'],
      [],
    ]);
  });
});

describe('what nobody knows', () => {
  it.each([
    ['flor', 'did you mean `floor`?'],
    ['valt', 'did you mean `vault`?'],
    ['bems', 'did you mean `bars` or `beam`?'],
    ['FXX', 'did you mean `FX`?'],
    ['trampoline', 'one of: VT, VT2, UB, BB, FX'],
    ['poutre', 'write `BB`'],
  ])('%s: %s', (text, mend) => {
    expect(apparatusMend(text, calledIn('wag'), 'one of')).toBe(mend);
  });
});

it.each(Object.keys(DISCIPLINES) as DisciplineCode[])(
  'no name of %s is two apparatus',
  (discipline) => {
    for (const { code, name } of calledIn(discipline)) {
      expect([written(discipline, code), written(discipline, name)]).toEqual([[code], [code]]);
    }
  },
);
