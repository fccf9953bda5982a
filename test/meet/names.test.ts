/** What the meet file says a gymnast is called: family, short, say, country, bib. */
import { describe, expect, it } from 'vitest';
import { type Meet, namedGymnast, needs, reports, standings } from '../../lib/index.js';
import { nameForms, shortName } from '../../lib/meet/names.js';
import { meetFrom, problemsOf } from '../support/meet.js';

const meetOf = (...gymnasts: readonly string[]) => `
discipline: wag
scoring: open
gymnasts:
${gymnasts.map((g) => `  - { ${g} }`).join('\n')}
`;

const called = (...gymnasts: readonly string[]) => meetFrom(meetOf(...gymnasts));

describe('the keys', () => {
  it('are carried as written, a country in capitals, and null where there is nothing', () => {
    const { gymnasts } = called(
      'id: wren, name: Wren Adeyemi, family: Adeyemi, short: W. Adeyemi, say: ah-deh-YEH-mee, country: nqy, bib: 007',
      'id: ida, name: Ida Brondt, short:',
    );
    expect(gymnasts).toMatchObject([
      {
        family: 'Adeyemi',
        short: 'W. Adeyemi',
        say: 'ah-deh-YEH-mee',
        country: 'NQY',
        bib: '007',
      },
      { family: null, short: null, say: null, country: null, bib: null },
    ]);
  });

  it.each([
    ['country: NQ', '`country` is "NQ"', 'three letters, such as NQY'],
    ['country: Norway', '`country` is "Norway"', 'three letters, such as NQY'],
    ['country: N1Y', '`country` is "N1Y"', 'three letters, such as NQY'],
    ['bib: 123456789', '`bib` is "123456789"', 'a number, or a text of up to 8 characters'],
    ['bib: [1]', '`bib` should be a text', 'a number, or a text of up to 8 characters'],
    ['short: "  "', '`short` cannot be "  "', 'use visible characters only, on one line'],
    ['family: "A\\nB"', '`family` cannot be "A', 'use visible characters only, on one line'],
    ['say: { a: b }', '`say` should be a text, not a mapping', 'how her name is spoken'],
    ['familly: Quill', '`familly` is not a known key', 'did you mean `family`?'],
  ])('%s', (key, message, mend) => {
    const problems = problemsOf(meetOf(`id: ada, name: Ada Quill, ${key}`));
    expect(problems.filter((p) => p.severity === 'error')).toMatchObject([{ line: 5, mend }]);
    expect(problems[0]?.message).toContain(message);
  });

  it.each(['short', 'bib'])('`%s` twice is warned of, and stops nothing', (key) => {
    const yaml = meetOf(`id: ada, name: Ada Quill, ${key}: X1`, `id: bea, ${key}: X1`);
    const warnings = problemsOf(yaml).filter((p) => p.severity === 'warning');
    expect(warnings).toMatchObject([
      { code: `${key}-twice`, line: 6, message: `bea has the same \`${key}\` as Ada Quill: X1` },
    ]);
  });
});

describe('a short form', () => {
  const forms = (meet: Meet, id: string) => {
    const { whole, initial, family } = nameForms(meet).get(id) ?? {};
    return [whole, initial, family];
  };

  it('goes by the family name that is given, whatever stands in the name', () => {
    const meet = called(
      'id: ana, name: Ana María Robledo Cruz, family: Robledo Cruz',
      'id: hana, name: 橘花子, family: Tachibana',
      'id: bea, name: ROBLEDO Bea, family: Robledo',
      'id: sumi, name: Hwang Sumi, family: Hwang',
    );
    expect(forms(meet, 'ana')).toEqual([
      'Ana María Robledo Cruz',
      'A. Robledo Cruz',
      'Robledo Cruz',
    ]);
    expect(forms(meet, 'hana')).toEqual(['橘花子', '橘花子', 'Tachibana']);
    expect(forms(meet, 'bea')).toEqual(['ROBLEDO Bea', 'B. Robledo', 'Robledo']);
    expect(forms(meet, 'sumi')).toEqual(['Hwang Sumi', 'S. Hwang', 'Hwang']);
    expect(shortName(meet, 'hana')).toBe('Tachibana');
  });

  it('is `short` where it is given, and nobody else looks like it', () => {
    const meet = called(
      'id: ruth, name: Ruth Okafor, short: Okafor',
      'id: mina, name: Mina Okafor',
      'id: lou, name: Lou Okafor-Lund, short: M. Okafor',
    );
    expect(forms(meet, 'ruth')).toEqual(['Ruth Okafor', 'Okafor', 'Okafor']);
    expect(forms(meet, 'lou')).toEqual(['Lou Okafor-Lund', 'M. Okafor', 'M. Okafor']);
    expect(forms(meet, 'mina')).toEqual(['Mina Okafor', 'Mina Okafor', 'Mina Okafor']);
    // In a sentence the family name is said all the same.
    expect(shortName(meet, 'ruth')).toBe('Ruth Okafor');
  });

  it('is as the file says even where it says the same twice', () => {
    const meet = called('id: a, name: Ada Quill, short: Q', 'id: b, name: Bea Quill, short: Q');
    expect(forms(meet, 'a')).toEqual(['Ada Quill', 'Q', 'Q']);
    expect(forms(meet, 'b')).toEqual(['Bea Quill', 'Q', 'Q']);
  });

  it('has the first letter of the given names, and initials stay as they are', () => {
    const meet = called(
      'id: a, name: Ines Maria van der Aalst',
      'id: b, name: BRONDT Ida',
      'id: c, name: "Vale, Dita"',
      'id: d, name: J.P. Harrow',
      'id: e, name: Costeira L.',
      'id: f, name: ’Bee’ Tolle',
    );
    expect(['a', 'b', 'c', 'd', 'e', 'f'].map((id) => forms(meet, id)[1])).toEqual([
      ...['I. van der Aalst', 'I. BRONDT', 'D. Vale', 'J.P. Harrow', 'Costeira L.', 'B. Tolle'],
    ]);
  });
});

describe('whom a name means', () => {
  const meet = called(
    'id: tachibana, name: Sue Pell',
    'id: hana, name: 橘花子, family: Tachibana, short: Hanako T., bib: 13',
    'id: wit, name: Ada Quill',
    'id: dewit, name: Kit Pell',
    'id: fenna, name: DE WIT Fenna',
    'id: cruz, name: Ana Robledo Cruz, family: Robledo',
  );

  it('a family name or a short name that is given finds her', () => {
    expect(namedGymnast(meet, 'hanako')).toBe('hana');
    expect(namedGymnast(meet, 'robledo')).toBe('cruz');
  });

  it.each(['tachibana', 'wit', 'Tachibana', 'dewit'])(
    'an id that is a family name too is asked back: %s',
    (text) => {
      expect(() => namedGymnast(meet, text)).toThrow(/could be either of two/);
    },
  );

  it('a start number is no name: it could be a score', () => {
    expect(() => namedGymnast(meet, '13')).toThrow(/nobody here is called "13"/);
  });
});

describe('on the screen', () => {
  const boardOf = (meet: Meet) => {
    const table = reports
      .standings(meet, standings(meet))
      .flat()
      .find((block) => block.kind === 'table');
    const at = (head: string) => table?.columns.findIndex((c) => c.head === head) ?? -1;
    const column = (head: string) =>
      at(head) < 0 ? null : table?.rows.map((row) => row.cells[at(head)]?.text);
    return { team: column('team'), country: column('country') };
  };

  it('how her name is spoken stands where she is asked about', () => {
    const meet = called(
      'id: ruth, name: Ruth Okafor, say: oh-KAH-for',
      'id: ida, name: Ida Brondt',
    );
    const titleOf = (id: string) => reports.needs(meet, needs(meet, id))[0]?.[0];
    expect(titleOf('ruth')).toMatchObject({
      text: 'Ruth Okafor (oh-KAH-for) on vault, rotation 1 (all-around)',
    });
    expect(titleOf('ida')).toMatchObject({ text: 'Ida Brondt on vault, rotation 1 (all-around)' });
  });

  it('a country stands where there is no team', () => {
    expect(boardOf(called('id: a, country: NQY', 'id: b'))).toEqual({
      team: null,
      country: ['NQY', ''],
    });
    expect(boardOf(called('id: a, country: NQY', 'id: b, team: HBR'))).toEqual({
      team: ['NQY', 'HBR'],
      country: null,
    });
  });

  it('is said once where it is the team, and beside it where it is another', () => {
    expect(boardOf(called('id: a, team: NQY, country: NQY', 'id: b, team: HBR'))).toEqual({
      team: ['NQY', 'HBR'],
      country: null,
    });
    expect(boardOf(called('id: a, team: Quay, country: NQY', 'id: b, country: HBR'))).toEqual({
      team: ['Quay', ''],
      country: ['NQY', 'HBR'],
    });
  });
});
