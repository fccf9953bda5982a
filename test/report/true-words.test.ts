/** What a report says is so: nobody is told a place, a chance or a score that is not hers. */
import { describe, expect, it } from 'vitest';
import { chances, type Meet, outcomes, type Report, reports, standings } from '../../lib/index.js';
import { chanceInWords } from '../../lib/report/chance-words.js';
import { logFrom, meetFrom } from '../support/meet.js';

const FOUR = ['VT', 'UB', 'BB', 'FX'];
const USUAL = `usual: { ${FOUR.map((c) => `${c}: { low: 12.0, likely: 13.0, high: 13.6, falls: 0.1 }`).join(', ')} }`;
const GYMNASTS = `gymnasts:
  - { id: ada, name: Ada Quill, team: NQY }
  - { id: bea, name: Bea Harrow, team: NQY }
  - { id: cleo, name: Cleo Marsh, team: HRB }
  - { id: dita, name: Dita Vale, team: HRB }`;
const MEET = `discipline: wag\nscoring: open\n${USUAL}\n${GYMNASTS}\n`;

const sentences = (report: Report) =>
  report.flat().flatMap((b) => (b.kind === 'sentence' || b.kind === 'title' ? b.text : []));

/** The first table, a row a record of head and text. */
function rowsOf(report: Report): Record<string, string>[] {
  const table = report.flat().find((b) => b.kind === 'table');
  if (table?.kind !== 'table') throw new Error('no table');
  return table.rows.map(({ cells }) =>
    Object.fromEntries(table.columns.map(({ head }, i) => [head, (cells[i]?.text ?? '').trim()])),
  );
}

const board = (meet: Meet) => rowsOf(reports.standings(meet, standings(meet)));

describe('who has withdrawn', () => {
  const rows = ['ada,VT,14.000', 'ada,UB,14.000', 'bea,VT,13.0', 'cleo,VT,13.0', 'dita,VT,12.0'];
  it.each([
    ['in the middle of a rotation', rows],
    ['at its end', [...rows, 'bea,UB,13.000', 'cleo,UB,13.000', 'dita,UB,12.0']],
  ])('has a total, and neither a place nor a projected finish, %s', (_, scores) => {
    const shown = board(meetFrom(MEET, logFrom(...scores, 'ada,all,DNS')));
    const [ada] = shown.filter((r) => r.name === 'Ada Quill');
    expect(ada).toMatchObject({ place: '–', total: '28.000', 'to come': 'out' });
    expect(ada?.['projected finish'] ?? '').toBe('');
    // Nobody with a place stands below her, whose total is the highest.
    expect(shown.at(-1)).toBe(ada);
    expect(shown.filter((r) => r.place === '–' && r['to come'] === 'out')).toHaveLength(1);
  });
});

describe('the bands of her next score', () => {
  /** Three finished within thousandths of each other, and Vale has floor to come. */
  const scores = ['ada', 'bea', 'cleo'].flatMap((id, i) =>
    FOUR.map((on, k) => `${id},${on},${k === 3 ? `13.1${10 + i}` : '13.000'}`),
  );
  const three = FOUR.slice(0, 3).map((on) => `dita,${on},13.000`);
  const meet = meetFrom(MEET, logFrom(...scores, ...three));
  const answer = outcomes(meet, 'dita');
  const shown = rowsOf(reports.outcomes(meet, answer));
  const texts = shown.map((r) => r['with a score of']);

  it('are all of those that reach into her range, whether or not a real score lies in them', () => {
    // By hand: 10.000 to 13.600 with up to two falls, so that only what is above is outside.
    const inRange = answer.bands.filter((b) => b.from <= 13_600 && b.to >= 10_000);
    expect(texts).toHaveLength(inRange.length);
    expect(texts).toContain('13.111');
    expect(shown.find((r) => r['with a score of'] === '13.111')?.['her chance']).toBe(
      'no real score',
    );
    expect(shown.filter((r) => r['her chance'] === '0%')).toEqual([]);
  });

  it('one band outside is one band', () => {
    // 15.000 ties with Quill and wins on the best three scores, so the bands are two: 1st and 2nd.
    const log = logFrom(
      ...FOUR.map((on) => `ada,${on},13.500`),
      ...three,
      ...['bea', 'cleo'].map((id) => `${id},all,DNS`),
    );
    const two = meetFrom(MEET, log);
    const said = outcomes(two, 'dita');
    expect(said.bands.map((b) => [b.from, b.place])).toEqual([
      [15_000, 1],
      [0, 2],
    ]);
    expect(sentences(reports.outcomes(two, said))).toContain(
      '1 more band lies outside her range; --json has all.',
    );
  });
});

describe('a chance of exactly 0 or 1', () => {
  it('is said as that where it was calculated, and never of a sample', () => {
    expect(chanceInWords(1, 0)).toBe('certain');
    expect(chanceInWords(0, 0)).toBe('no chance');
    expect(chanceInWords(1 - 1e-9, 0)).toBe('>99.9%');
    expect(chanceInWords(1e-9, 0)).toBe('<0.1%');
    expect(chanceInWords(1, 0.0003)).toBe('>99.9%');
    expect(chanceInWords(0, 0.0003)).toBe('<0.1%');
  });

  it('is shown in the bands: the title is certain with any score from there', () => {
    const scores = ['ada', 'bea', 'cleo'].flatMap((id) => FOUR.map((on) => `${id},${on},13.000`));
    const three = FOUR.slice(0, 3).map((on) => `dita,${on},13.000`);
    const meet = meetFrom(MEET, logFrom(...scores, ...three));
    const shown = rowsOf(reports.outcomes(meet, outcomes(meet, 'dita')));
    expect(shown.map((r) => [r.place, r['win then']])).toEqual([
      ['1st', 'certain'],
      ['shares 1st with Ada Quill, Bea Harrow and Cleo Marsh', 'certain'],
      ['4th', 'no chance'],
    ]);
  });
});

describe('who can still win is said in one line', () => {
  const line = (of: Meet, contest: string | null = null) =>
    sentences(reports.chances(of, chances(of, null, { contest })))[1];

  it('with names where they are few, and the same ones only once', () => {
    const scores = ['ada,13.600', 'bea,13.600', 'cleo,13.000'].flatMap((s) => {
      const [id, score] = s.split(',');
      return FOUR.slice(0, 3).map((on) => `${id},${on},${score}`);
    });
    // Vale is four points behind Harrow with one routine to come.
    const dita = ['dita,VT,12.000', 'dita,UB,12.000', 'dita,BB,12.000'];
    const meet = meetFrom(MEET, logFrom(...scores, ...dita));
    expect(line(meet)).toBe(
      'Two can still win: Quill and Harrow; three can still medal: Quill, Harrow and Marsh. Whoever has less than one chance in a thousand is not counted.',
    );
    const { contenders } = chances(meet);
    const real = (goal: 'win' | 'medal') =>
      contenders.filter((c) => c[goal] >= 0.001).map((c) => c.id);
    expect([real('win'), real('medal')]).toEqual([
      ['ada', 'bea'],
      ['ada', 'bea', 'cleo'],
    ]);
  });

  it('by number where they are more than can be named in one breath', () => {
    const ids = ['ann', 'bel', 'cat', 'dot', 'eve', 'fay', 'gia', 'hal'];
    const meet = meetFrom(
      `discipline: wag\nscoring: open\n${USUAL}\ngymnasts: [${ids.map((id) => `{ id: ${id} }`).join(', ')}]\ncontests: [{ kind: apparatus, on: VT }]\n`,
    );
    expect(line(meet)).toBe('Eight can still win; the same eight can still medal.');
  });

  it('where two meet nobody is told of a medal', () => {
    const dual = meetFrom(
      `${MEET}contests: [{ kind: team, up: 2, count: 2 }]\nteams: [{ id: NQY, name: North Quay }, { id: HRB, name: Harbour Row }]\n`,
      logFrom(
        ...['ada', 'bea', 'cleo', 'dita'].flatMap((id) =>
          FOUR.slice(0, 3).map((on) => `${id},${on},13.000`),
        ),
      ),
    );
    const report = reports.chances(dual, chances(dual));
    expect(JSON.stringify(report)).not.toMatch(/medal/i);
    expect(line(dual)).toBe('Two can still win: North Quay and Harbour Row.');
  });
});
