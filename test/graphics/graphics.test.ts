/** `graphics`: what is said, of whom, and in whose words. */
import { describe, expect, it } from 'vitest';
import { namesOf, SHORTENING } from '../../lib/graphics/words.js';
import {
  awaited,
  beforeLastEntry,
  graphics,
  graphicsAs,
  type LineKind,
  type Meet,
  readTemplates,
  type Templates,
} from '../../lib/index.js';
import { graphemes, lengthOf } from '../../lib/meet/characters.js';
import { familyName, listed } from '../../lib/meet/names.js';
import { derived } from '../../lib/meet/sound.js';
import { logFrom, meetFrom } from '../support/meet.js';

const meetOf = (discipline: string, code: string, more = '') => `
discipline: ${discipline}
scoring: open
contests: [{ kind: apparatus, on: ${code}, ties: [execution, difficulty] }]
medals: 2
usual: { ${code}: { low: 12.000, likely: 13.000, high: 14.000, falls: 0.1 } }
gymnasts:
  - { id: ada, name: Ada Quill }
  - { id: bea, name: Bea Harrow }
  - { id: cleo, name: Cleo Marsh }
  - { id: dita, name: Dita Vale }
${more}`;

function linesOf(meet: Meet, kinds: LineKind[], more: object = {}): (string | null)[] {
  return graphics(meet, { kinds, ...more }).lines.map((c) => c.text);
}

function templates(text: string): Templates {
  const { templates: read, problems } = readTemplates({ file: 'lines.yaml', text });
  if (read === null) throw new Error(JSON.stringify(problems));
  return read;
}

/** A log, the meet with it, and the lines on what its last row did. */
function changes(...rows: string[]): (string | null)[] {
  const log = logFrom(...rows);
  const meet = meetFrom(meetOf('wag', 'FX'), log);
  const before = beforeLastEntry(meet, { file: 'log', text: log });
  return linesOf(meet, ['change'], { before });
}

it('lines are ready for a score that is awaited, and say on what they rest', () => {
  const meet = meetFrom(meetOf('wag', 'FX'), logFrom('bea,FX,13.500'));
  const waits = awaited(meet).map((r) => r.gymnast);
  expect(waits).toContain('ada');
  const { lines } = graphics(meet, { kinds: ['outcome', 'standing'] });
  const hers = lines.filter((l) => l.kind === 'outcome' && l.about[0]?.id === 'ada');
  expect(hers.length).toBeGreaterThan(1);
  expect(hers.every((l) => l.awaited.includes('ada'))).toBe(true);
  const board = lines.find((l) => l.kind === 'standing' && l.about[0]?.id === 'bea');
  expect(board?.awaited).toEqual([]);
  expect(board?.text).not.toContain('awaited');
  expect(hers.every((l) => l.text?.endsWith(' (score awaited).'))).toBe(true);
  const others = lines.filter(
    (l) => l.kind === 'outcome' && l.about[0]?.id !== 'ada' && l.upBefore.length === 0,
  );
  expect(others.length).toBeGreaterThan(1);
  expect(others.every((l) => l.text?.endsWith(' (Quill’s score awaited).'))).toBe(true);
});

it('a score under inquiry is marked in the lines it touches, and told when it is over', () => {
  const rows = (...more: string[]) =>
    `gymnast,apparatus,score,status\nada,FX,13.500,\nbea,FX,13.400,\nada,FX,13.500,inquiry\n${more.map((m) => `${m}\n`).join('')}`;
  const text = (log: string) => {
    const meet = meetFrom(meetOf('wag', 'FX'), log);
    const before = beforeLastEntry(meet, { file: 'log', text: log });
    return graphics(meet, { kinds: ['change', 'standing'], before }).lines.map((c) => c.text);
  };
  expect(text(rows())[0]).toMatch(/^Ada Quill: 13\.500 on floor, .*\(score under inquiry\)\.$/);
  expect(text(rows()).filter((t) => t?.includes('inquiry'))).toHaveLength(2);
  const next = ['cleo'];
  const ahead = graphics(meetFrom(meetOf('wag', 'FX'), rows()), {
    kinds: ['need'],
    who: next,
  }).lines;
  expect(ahead.length).toBeGreaterThan(1);
  expect(ahead.every((c) => c.text?.endsWith(' (Quill’s score under inquiry).'))).toBe(true);
  const limited = (limit: number) => {
    const { templates } = readTemplates({
      file: 'lines.yaml',
      text: `need: [{ text: "{name} needs {score}.", length: ${limit} }]`,
    });
    const given = { kinds: ['need'], templates };
    const lines = graphics(meetFrom(meetOf('wag', 'FX'), rows()), given).lines;
    return lines.map((c) => c.text).find((t) => t?.startsWith('Cleo') || t?.startsWith('C.'));
  };
  expect(limited(60)).toMatch(/\(Quill’s score under inquiry\)\.$/);
  expect(limited(45)).toMatch(/ \(under inquiry\)\.$/);
  expect(limited(30)).toMatch(/\d\.$/);
  expect(text(rows('ada,FX,13.300,'))[0]).toContain(
    '13.300 after an inquiry (was 13.500) on floor',
  );
  expect(text(rows('ada,FX,13.500,'))[0]).toContain('13.500, confirmed, on floor');
});

describe('what the last row did', () => {
  it('says the first score', () => {
    expect(changes('ada,FX,13.500')).toEqual([
      'Ada Quill: 13.500 on floor, into 1st so far with 13.500.',
    ]);
  });

  it('says whom she passed', () => {
    expect(changes('ada,FX,13.500', 'bea,FX,13.600')).toEqual([
      'Bea Harrow: 13.600 on floor, into 1st so far with 13.600.',
      'Ada Quill drops from 1st to 2nd so far.',
    ]);
  });

  it('says that a place is shared', () => {
    expect(changes('ada,FX,13.500', 'bea,FX,13.500')).toEqual([
      'Bea Harrow: 13.500 on floor, shares 1st so far with Ada Quill on 13.500.',
    ]);
    expect(changes('ada,FX,13.500', 'bea,FX,13.500', 'dita,FX,13.600')).toEqual([
      'Dita Vale: 13.600 on floor, into 1st so far with 13.600.',
      'Ada Quill drops from 1st to share 2nd so far with Bea Harrow.',
      'Bea Harrow drops from 1st to share 2nd so far with Ada Quill.',
    ]);
    expect(changes('ada,FX,13.500', 'bea,FX,13.400', 'bea,FX,13.500')).toEqual([
      'Bea Harrow: 13.500 (was 13.400) on floor, up from 2nd to share 1st so far with Ada Quill on 13.500.',
    ]);
  });

  it('says what an inquiry did', () => {
    expect(changes('ada,FX,13.500', 'bea,FX,13.600', 'ada,FX,13.700')).toEqual([
      'Ada Quill: 13.700 (was 13.500) on floor, up from 2nd to 1st so far with 13.700.',
      'Bea Harrow drops from 1st to 2nd so far.',
    ]);
  });

  it('says a correction that was written in the same minute', () => {
    const log = 'gymnast,apparatus,score,at\nada,FX,13.500,15:02\nada,FX,13.700,15:02\n';
    const meet = meetFrom(meetOf('wag', 'FX'), log);
    const before = beforeLastEntry(meet, { file: 'log', text: log });
    const [line] = graphics(meet, { kinds: ['change'], before }).lines;
    expect([line?.was, line?.text]).toEqual([13_500, expect.stringContaining('(was 13.500)')]);
  });

  it('has what a score is to what stood before as a value', () => {
    const status = (...rows: string[]) => {
      const log = `gymnast,apparatus,score,status\n${rows.join('\n')}\n`;
      const before = beforeLastEntry(meetFrom(meetOf('wag', 'FX'), log), {
        file: 'log',
        text: log,
      });
      const meet = meetFrom(meetOf('wag', 'FX'), log);
      return graphics(meet, { kinds: ['change'], before }).lines[0]?.status;
    };
    const inquiry = ['ada,FX,13.500,', 'ada,FX,13.500,inquiry'];
    expect(status('ada,FX,13.500,')).toBe('score');
    expect(status(...inquiry)).toBe('inquiry');
    expect(status(...inquiry, 'ada,FX,13.500,')).toBe('confirmed');
    expect(status(...inquiry, 'ada,FX,13.700,')).toBe('changed');
    expect(status('ada,FX,13.500,', 'ada,FX,13.700,')).toBe('corrected');
    expect(status('ada,FX,DNS,', 'ada,FX,13.700,')).toBe('corrected');
    expect(status('ada,FX,13.500,', 'ada,FX,DNS,')).toBe('withdrawn');
    expect(status('ada,FX,13.500,', 'ada,FX,void,')).toBe('taken-back');
  });

  it('says who moves when a row is taken back', () => {
    expect(changes('ada,FX,13.500', 'bea,FX,13.600', 'bea,FX,void')).toEqual([
      'Bea Harrow: 13.600 on floor taken back.',
      'Ada Quill moves up from 2nd to 1st so far.',
    ]);
  });

  it('says a withdrawal', () => {
    expect(changes('ada,FX,13.500', 'bea,FX,DNS')).toEqual(['Bea Harrow does not score on floor.']);
  });

  it('is silent before anything has happened', () => {
    expect(changes()).toEqual([]);
  });
});

it('nothing is better than the highest score there is', () => {
  const meet = meetFrom(
    meetOf('wag', 'FX').replace('ties: [execution, difficulty]', 'ties: []'),
    logFrom('ada,FX,17.000,,,,'),
  );
  const lines = linesOf(meet, ['outcome'], { who: ['bea'] });
  expect(lines[0]).toContain('17.000: shares 1st place');
  expect(lines.join()).not.toContain('17.000 or better');
});

describe('a tie that her E score will decide', () => {
  const log = logFrom('ada,FX,13.500,5.0,8.500,0,', 'bea,FX,13.000,5.0,8.000,0,');

  it('is not foretold, even where her D score is expected', () => {
    const expected = meetOf('wag', 'FX').replace(
      'name: Cleo Marsh',
      'name: Cleo Marsh, ranges: { FX: { d: 5.4 } }',
    );
    const meet = meetFrom(expected, log);
    expect(linesOf(meet, ['outcome'], { who: ['cleo'] })).toEqual([
      expect.stringContaining('13.501 or better: 1st place so far.'),
      expect.stringContaining(
        'Cleo Marsh on floor, 13.500: level with Ada Quill, 1st to 2nd so far, decided on execution.',
      ),
      expect.stringContaining('13.001 to 13.499: 2nd place so far.'),
      expect.stringContaining(
        '13.000: level with Bea Harrow, 2nd to 3rd so far, decided on execution.',
      ),
      expect.stringContaining('12.999 or less: 3rd place so far.'),
    ]);
    // With a higher D than expected her E is the lower one, and the tie is lost.
    const withD = (d: string) => meetFrom(expected, `${log}cleo,FX,13.500,${d},,,\n`);
    const places = ['4.900', '5.400'].map(
      (d) =>
        graphics(withD(d), {
          kinds: ['standing'],
          who: ['cleo'],
          templates: templates('standing: [{ text: "{place}" }]'),
        }).lines[0]?.text,
    );
    expect(places).toEqual(['1st', '2nd']);
  });
});

describe('the chance of a band', () => {
  it('is that of her range: a Beta(3, 3) here, by its closed form', () => {
    // The regularised incomplete beta function with whole parameters is a binomial tail:
    // I_x(3, 3) = sum over j = 3..5 of C(5, j) x^j (1-x)^(5-j) (DLMF 8.17.5).
    const x = 0.75;
    const below = 10 * x ** 3 * (1 - x) ** 2 + 5 * x ** 4 * (1 - x) + x ** 5;
    const meet = meetFrom(meetOf('wag', 'FX'), logFrom('ada,FX,13.500'));
    const { lines: all } = graphics(meet, { kinds: ['outcome'], who: ['bea'] });
    const [above, level] = all.map((c) => c.chance ?? 0);
    // Half of the cell of 13.500 lies above it; she falls once in ten times.
    expect((above ?? 0) + (level ?? 0) / 2).toBeCloseTo(0.9 * (1 - below), 3);
    expect(all.reduce((sum, c) => sum + (c.chance ?? 0), 0)).toBeCloseTo(1, 12);
  });
});

describe('what is settled', () => {
  it('says in which sense', () => {
    const log = logFrom('ada,FX,14.500', 'bea,FX,13.600', 'cleo,FX,9.000');
    expect(linesOf(meetFrom(meetOf('wag', 'FX'), log), ['settled'])).toEqual([
      'Ada Quill is sure of first place if every score stays within its range.',
      'Ada Quill is sure of a medal, whatever is still scored.',
      'Bea Harrow can no longer win.',
      'Cleo Marsh can no longer win.',
      'Cleo Marsh can no longer reach a medal.',
      'Dita Vale can no longer win if every score stays within its range.',
    ]);
  });
});

describe('the end', () => {
  it('has a winner, and nothing to prepare', () => {
    const log = logFrom('ada,FX,14.500', 'bea,FX,13.600', 'cleo,FX,13.600', 'dita,FX,DNF');
    const meet = meetFrom(meetOf('wag', 'FX'), log);
    expect(linesOf(meet, ['need', 'outcome'])).toEqual([]);
    expect(linesOf(meet, ['final'])).toEqual([
      'Gold for Ada Quill with 14.500, 0.900 ahead.',
      'Silver for Bea Harrow and Cleo Marsh, level on 13.600.',
      'Ada Quill wins with 14.500, 0.900 ahead.',
      'Bea Harrow shares 2nd with Cleo Marsh on 13.600.',
      'Cleo Marsh shares 2nd with Bea Harrow on 13.600.',
    ]);
    expect(linesOf(meet, ['medals'])).toEqual([
      '1st Ada Quill, 2nd Bea Harrow and Cleo Marsh. Chance >99.9%.',
    ]);
  });
});

describe('words', () => {
  const own = (text = '') => templates(`${text}\nstanding: [{ text: "{name}: {She}, {her}" }]`);
  const first = (meet: Meet, t = own()) => linesOf(meet, ['standing'], { templates: t })[0];

  it.each([
    ['wag', 'FX', 'Ada Quill: She, her'],
    ['mag', 'FX', 'Ada Quill: He, his'],
    ['[{ code: HP, name: hoop, limit: 20.000 }]', 'HP', 'Ada Quill: They, their'],
  ])('come from the discipline: %s', (discipline, code, text) => {
    expect(first(meetFrom(meetOf(discipline, code), logFrom(`ada,${code},13.500`)))).toBe(text);
  });

  it('come from the file where it has them', () => {
    const meet = meetFrom(meetOf('mag', 'FX'), logFrom('ada,FX,13.500'));
    expect(first(meet, own('words: { she: they, her: their }'))).toBe('Ada Quill: They, their');
  });
});

describe('shortening', () => {
  const named = (...names: string[]) => {
    const meet = meetFrom(meetOf('wag', 'FX'));
    const gymnasts = meet.gymnasts.map((g, i) => ({ ...g, name: names[i] ?? g.name }));
    return derived(meet, { gymnasts });
  };
  const forms = (meet: Meet, id: string) => SHORTENING.map((s) => namesOf(meet).of(id)(s));

  it('goes from the given name to the family name', () => {
    expect([...new Set(forms(named(), 'ada'))]).toEqual(['Ada Quill', 'A. Quill', 'Quill']);
  });

  it('never makes two gymnasts one', () => {
    const meet = named('Ada Quill', 'Bea Quill', 'Amy Marsh', 'Ann Marsh');
    expect(forms(meet, 'ada').at(-1)).toBe('A. Quill');
    expect(forms(meet, 'cleo').at(-1)).toBe('Amy Marsh');
  });

  it('takes a letter with its accents for one', () => {
    expect(lengthOf('Zoe\u0308')).toBe(3);
    expect(lengthOf('👩‍🚀')).toBe(1);
    expect(graphemes('e\u0301a')).toEqual(['e\u0301', 'a']);
    expect(forms(named('E\u0301lise Quill'), 'ada')[1]).toBe('E\u0301. Quill');
  });

  it('lists names as they are read out', () => {
    expect([listed([]), listed(['A']), listed(['A', 'B']), listed(['A', 'B', 'C'])]).toEqual([
      '',
      'A',
      'A and B',
      'A, B and C',
    ]);
  });
});

describe('a family name', () => {
  it.each([
    ['Ada Quill', 'Quill'],
    ['Fenna de Wit', 'de Wit'],
    ['Ines Maria van der Aalst', 'van der Aalst'],
    ['Juno', 'Juno'],
  ])('of %s is %s', (name, family) => {
    expect(familyName({ name })).toBe(family);
  });
});

describe('templates', () => {
  const meet = meetFrom(meetOf('wag', 'FX'), logFrom('ada,FX,13.500'));

  it('are passed over where a field has nothing to say', () => {
    const own = templates('standing: [{ text: "{team}" }, { text: "{place}, {name}" }]');
    expect(linesOf(meet, ['standing'], { templates: own })).toEqual(['1st, Ada Quill']);
  });

  it('give way to the next where they do not fit', () => {
    const own = templates(
      'standing: [{ text: "{name} leads", length: 6 }, { text: "{place}", length: 3 }]',
    );
    expect(linesOf(meet, ['standing'], { templates: own })).toEqual(['1st']);
  });

  it('leave no outcome out, and no shipped line is longer than the longest of theirs', () => {
    const own = templates(
      'outcome: [{ text: "{scores}: GOLD", length: 70, when: { place: first } }]',
    );
    const { lines: all } = graphics(meet, { kinds: ['outcome'], who: ['bea'], templates: own });
    expect(all.map((c) => c.text)).toEqual([
      '13.501 or better: GOLD',
      '13.500: GOLD',
      'Bea Harrow on floor, 13.499 or less: 2nd place so far. Chance 90%.',
    ]);
    for (const { limit } of all) expect(limit).toBe(70);
  });

  it('silence a kind by an empty list', () => {
    expect(linesOf(meet, ['standing'], { templates: templates('standing: []') })).toEqual([]);
  });
});

describe('CSV', () => {
  it('quotes what needs it, and changes nothing', () => {
    const own = templates(`standing: [{ text: '="{name}", {place}' }]`);
    const answer = graphics(meetFrom(meetOf('wag', 'FX'), logFrom('ada,FX,13.500')), {
      kinds: ['standing'],
      templates: own,
    });
    expect(graphicsAs([answer], 'csv', 3)).toBe(
      'contest,about,name,short,team,country,id,kind,target,status,by,apparatus,session,rotation,done,from,to,' +
        'place,wasPlace,worst,tied,tieBy,levelWith,score,was,total,gap,chance,text,length,limit,' +
        'awaited,underInquiry,upBefore,stale\n' +
        'FX,ada,Ada Quill,,,,FX/standing/ada,standing,,,so-far,,,,1,,,1,,,false,,,,,13.500,,,' +
        '"=""Ada Quill"", 1st",17,140,,,,\n',
    );
  });
});
