/** Verbal scales as published; what is from memory is marked. */
import { describe, expect, it } from 'vitest';
import { SCALES, type Scale, wordFor } from '../../lib/claim/scales.js';

/** The word for a chance, or the two it lies between. */
function word(scale: Scale, chance: number): string {
  const { term, between } = wordFor(scale, chance);
  if (term !== null) return term.term;
  return `${between[0]?.term ?? '–'} | ${between[1]?.term ?? '–'}`;
}

function bandsOf(scale: Scale) {
  return scale.terms.map((t) => [t.term, Math.round(t.from * 100), Math.round(t.to * 100)]);
}

describe('EFSA 2018, EFSA Journal 16(1):5123', () => {
  it('has nine words from 0 to 100%', () => {
    expect(bandsOf(SCALES.efsa)).toEqual([
      ['almost impossible', 0, 1],
      ['extremely unlikely', 1, 5],
      ['very unlikely', 5, 10],
      ['unlikely', 10, 33],
      ['about as likely as not', 33, 66],
      ['likely', 66, 90],
      ['very likely', 90, 95],
      ['extremely likely', 95, 99],
      ['almost certain', 99, 100],
    ]);
  });

  // The source lets neighbours share their ends; here an end goes to the milder word.
  it.each([
    [0, 'almost impossible'],
    [0.00999, 'almost impossible'],
    [0.01, 'extremely unlikely'],
    [0.05, 'very unlikely'],
    [0.1, 'unlikely'],
    [0.33, 'about as likely as not'],
    [0.5, 'about as likely as not'],
    [0.66, 'about as likely as not'],
    [0.6601, 'likely'],
    [0.9, 'likely'],
    [0.95, 'very likely'],
    [0.99, 'extremely likely'],
    [0.9901, 'almost certain'],
    [1, 'almost certain'],
  ])('calls %f %s', (chance, term) => {
    expect(word(SCALES.efsa, chance)).toBe(term);
  });
});

describe('IPCC AR4 as printed in Working Group II, 2007', () => {
  it('has seven words; "<1" and ">99" leave their ends to the neighbours', () => {
    expect(bandsOf(SCALES.ipcc)).toEqual([
      ['exceptionally unlikely', 0, 1],
      ['very unlikely', 1, 10],
      ['unlikely', 10, 33],
      ['about as likely as not', 33, 66],
      ['likely', 66, 90],
      ['very likely', 90, 99],
      ['virtually certain', 99, 100],
    ]);
    expect(word(SCALES.ipcc, 0.01)).toBe('very unlikely');
    expect(word(SCALES.ipcc, 0.99)).toBe('very likely');
    expect(word(SCALES.ipcc, 0.991)).toBe('virtually certain');
    expect(word(SCALES.ipcc, 0.009)).toBe('exceptionally unlikely');
  });
});

describe('US Intelligence Community Directive 203, 2015', () => {
  it('has seven words from 1 to 99%, and none beyond', () => {
    expect(bandsOf(SCALES.icd203)).toEqual([
      ['almost no chance', 1, 5],
      ['very unlikely', 5, 20],
      ['unlikely', 20, 45],
      ['roughly even chance', 45, 55],
      ['likely', 55, 80],
      ['very likely', 80, 95],
      ['almost certain', 95, 99],
    ]);
    expect(word(SCALES.icd203, 0.009)).toBe('– | almost no chance');
    expect(word(SCALES.icd203, 0.01)).toBe('almost no chance');
    expect(word(SCALES.icd203, 0.05)).toBe('very unlikely');
    expect(word(SCALES.icd203, 0.45)).toBe('roughly even chance');
    expect(word(SCALES.icd203, 0.55)).toBe('roughly even chance');
    expect(word(SCALES.icd203, 0.99)).toBe('almost certain');
    expect(word(SCALES.icd203, 0.991)).toBe('almost certain | –');
  });
});

describe('the UK probability yardstick, from memory', () => {
  it('has seven words with gaps between them, which are said to be gaps', () => {
    expect(bandsOf(SCALES.phia).map((b) => b[0])).toEqual([
      'remote chance',
      'highly unlikely',
      'unlikely',
      'realistic possibility',
      'likely',
      'highly likely',
      'almost certain',
    ]);
    expect(bandsOf(SCALES.phia).map(([, from, to]) => `${from}-${to}`)).toEqual([
      '0-5',
      '10-20',
      '25-35',
      '40-50',
      '55-75',
      '80-90',
      '95-100',
    ]);
    expect(word(SCALES.phia, 0.05)).toBe('remote chance');
    expect(word(SCALES.phia, 0.07)).toBe('remote chance | highly unlikely');
    expect(word(SCALES.phia, 0.5)).toBe('realistic possibility');
    expect(word(SCALES.phia, 0.52)).toBe('realistic possibility | likely');
    expect(word(SCALES.phia, 0.93)).toBe('highly likely | almost certain');
  });
});
