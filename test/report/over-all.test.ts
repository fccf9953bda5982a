/** What is said of all that is to come: what it takes, and how it splits; every figure by hand. */
import { describe, expect, it } from 'vitest';
import { needs, reports } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const NAMES = ['Ada Kestrel', 'Bea Moor', 'Cora Lind', 'Dita Orr', 'Eve Tansy'];

/** Ranges of two scores, 9.700 and 9.725, so that a split is the one or the other. */
const RANGE = 'low: 9.700, likely: 9.700, high: 9.725, falls: 0.1';

const meetOf = (
  rows: readonly string[],
  { up = 4, count = 3, rival = '29.120', on = ['BB'], usual = RANGE } = {},
) =>
  meetFrom(
    `
discipline: [{ code: BB, name: beam, limit: 10.000 }, { code: FX, name: floor, limit: 10.000 }]
scoring: ten
contests: [{ kind: team, up: ${up}, count: ${count} }]
teams: [{ id: NQY, name: North Quay }, { id: HBR, name: Harbour Row, carried: ${rival} }]
usual: { ${on.map((code) => `${code}: { ${usual} }`).join(', ')} }
gymnasts:
${NAMES.slice(0, up)
  .map((name, i) => `  - { id: g${i}, name: ${name}, team: NQY, on: [${on}] }`)
  .join('\n')}
`,
    rows.length === 0 ? '' : logFrom(...rows),
  );

/** The sentence about all that is to come, to win. */
const saidOf = (meet: ReturnType<typeof meetOf>) =>
  reports
    .needs(meet, needs(meet, 'NQY', { contest: 'team', for: 'win' }))
    .flat()
    .flatMap((b) => (b.kind === 'sentence' && b.text.startsWith('To win') ? b.text : []))
    .map((text) => text.replace(/\d+(\.\d)?% each/, 'N% each'));

describe('over all that is to come', () => {
  it('of a team that drops a score: the scores that would do, each with its name', () => {
    // Two of 9.700 bring 29.200, two of 9.725 29.250.
    expect(saidOf(meetOf(['g0,BB,9.800'], { rival: '29.210' }))).toEqual([
      'To win its total must grow by more than 19.410: BB Moor 9.725, Lind 9.725, Orr 9.725 would do (N% each, no fall).',
    ]);
  });

  it('where not even its best is enough', () => {
    // 9.800 + 9.725 + 9.725 = 29.250 is level.
    expect(saidOf(meetOf(['g0,BB,9.800'], { rival: '29.250' }))).toEqual([
      'To win its total must grow by more than 19.450, and its realistic best brings no more.',
    ]);
  });

  it('more than eight are counted, the apparatus told once where they are listed', () => {
    const on = ['BB', 'FX'];
    expect(saidOf(meetOf(['g0,BB,9.800'], { rival: '58.300', on }))).toEqual([
      'To win its total must grow by more than 48.500: BB Moor 9.725, Lind 9.725, Orr 9.725, FX Kestrel 9.725, Moor 9.725, Lind 9.725, Orr 9.725 would do (N% each, no fall).',
    ]);
    // Without the first on beam there are eight, with the fifth gymnast nine.
    expect(saidOf(meetOf([], { rival: '58.300', on, up: 5 }))[0]).toMatch(
      /^To win its total must grow by more than 58\.300: scores that each of the 10 to come reaches [<\d.]+% of the time, no fall, would do\.$/,
    );
  });

  it('without the whole of a range nothing is split', () => {
    const meet = meetOf(['g0,BB,9.800'], {
      rival: '58.300',
      on: ['BB', 'FX'],
      usual: 'likely: 9.700, falls: 0.1',
    });
    expect(saidOf(meet)).toEqual(['To win its total must grow by more than 48.500.']);
  });

  it('of a team of which every score counts: a sum', () => {
    expect(saidOf(meetOf(['g0,BB,9.800'], { up: 3, rival: '29.210' }))).toEqual([
      'To win, 19.410 in all ties; say BB Moor 9.725, Lind 9.725 (N% each, no fall).',
    ]);
  });

  it('of a sum that her best does not reach: no word of more, since a tie may be enough', () => {
    expect(saidOf(meetOf(['g0,BB,9.800'], { up: 3, rival: '29.250' }))).toEqual([
      'To win, 19.450 in all ties, and its realistic best brings no more.',
    ]);
  });
});
