/** Who goes through, in the words of boards, chances and lines. */
import { describe, expect, it } from 'vitest';
import { advancing, graphics, needChances, needs, reports, standings } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const FIELD = `gymnasts:
  - { id: ann, name: Ann Bell, team: NQY }
  - { id: bea, name: Bea Till, team: NQY }
  - { id: cleo, name: Cleo Marsh, team: NQY }
  - { id: dot, name: Dot Vale, team: HBR }
  - { id: eva, name: Eva Wynn, team: HBR }
  - { id: fay, name: Fay Orme }
`;
// Eva scores 13.500 for certain, or 12.500 with a fall (0.5), or less.
const YAML = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX, ties: [], advance: { places: 3, perTeam: 2, reserves: 1 } }]
usual: { FX: { low: 13.500, likely: 13.500, high: 13.500, falls: 0.5 } }
${FIELD}`;
const LOG = ['ann,FX,14.0', 'bea,FX,13.9', 'cleo,FX,13.8', 'dot,FX,13.4', 'fay,FX,13.0'];
const meet = meetFrom(YAML, logFrom(...LOG));

const words = (report: unknown) => JSON.stringify(report);
const columnOf = (report: ReturnType<typeof reports.standings>, head: string) =>
  report.flat().flatMap((block) => {
    if (block.kind !== 'table') return [];
    const at = block.columns.findIndex((c) => c.head === head);
    return at < 0 ? [] : block.rows.map((r) => r.cells[at]?.text ?? '');
  });

describe('the board', () => {
  it('says who is through, in, a reserve or kept out, by projection while some have not been up', () => {
    const board = reports.standings(meet, standings(meet));
    // Ann and Bea have the places of their team, whatever Eva does; Eva is expected to pass Dot.
    expect(columnOf(board, 'through')).toEqual([
      'through',
      'through',
      'quota',
      'reserve 1',
      'out',
      'in',
    ]);
    expect(words(board)).toContain('Kept out by team-mates ahead: Marsh by Bell and Till.');
    expect(words(board)).toContain(
      'The last of 3 in, by projected finish: Wynn on 13.500; the first out is Vale, 0.100 behind.',
    );
  });

  it('once all is over says who goes through', () => {
    const over = meetFrom(YAML, logFrom(...LOG, 'eva,FX,13.3'));
    const board = reports.standings(over, standings(over));
    expect(columnOf(board, 'through')).toEqual([
      'through',
      'through',
      'quota',
      'through',
      'reserve 1',
      'out',
    ]);
    expect(words(board)).toContain('The last of 3 in: Vale on 13.400');
  });
});

describe('chances', () => {
  it('are told the likeliest first, and who is settled in words', () => {
    const answer = advancing(meet);
    expect(answer.contenders.map((c) => [c.id, c.chance])).toEqual([
      ['ann', 1],
      ['bea', 1],
      ['dot', 0.5],
      ['eva', 0.5],
      ['cleo', 0],
      ['fay', 0],
    ]);
    expect(answer.open).toBe(2);
    const text = words(reports.advancing(meet, answer));
    expect(text).toContain('Two are through.');
    expect(text).toContain('On the edge: Vale 50.0% and Wynn 50.0%.');
    expect(text).toContain('Unofficial');
  });

  it('beside a need are those of a score that is enough: a tie with the last one in', () => {
    // Dot has 13.500 already: level with her Eva is in, so that her 13.500 is enough.
    const level = meetFrom(YAML, logFrom(...LOG.slice(0, 3), 'dot,FX,13.5', 'fay,FX,13.0'));
    const sheet = needs(level, 'eva', { for: 'advance' });
    expect([sheet.needs[0]?.level, sheet.needs[0]?.ahead]).toEqual([13_500, 13_501]);
    const [chance] = needChances(level, sheet);
    expect([chance?.any, chance?.onceAhead]).toEqual([0.5, 1]);
  });
});

describe('a need', () => {
  const need = (perTeam: number, ...scores: string[]) => {
    const quota = meetFrom(
      `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: BB, ties: [], advance: { places: 2, perTeam: ${perTeam} } }]
gymnasts:
  - { id: ann, name: Ann Oster, team: K }
  - { id: abi, name: Abi Holt, team: K }
  - { id: cat, name: Cat Ivers, team: M }
  - { id: bea, name: Bea Lund, team: K, ranges: { BB: { low: 13.3, likely: 13.3, high: 13.3, falls: 0.3 } } }
`,
      logFrom('cat,BB,12.9', ...scores),
    );
    const sheet = needs(quota, 'bea', { for: 'advance' });
    return { level: sheet.needs[0]?.level, said: words(reports.needs(quota, sheet)) };
  };

  it('says that it is a team-mate whom she must pass, since so many of a team go through', () => {
    // Ahead of her must be fewer of her team than may go through: level with Ann nobody is.
    const one = need(1, 'ann,BB,13.2', 'abi,BB,DNS');
    expect(one.level).toBe(13_200);
    expect(one.said).toContain('a team-mate: one of a team goes through at most');
    const two = need(2, 'ann,BB,13.2', 'abi,BB,13.1');
    expect(two.level).toBe(13_100);
    expect(two.said).toContain('a team-mate: two of a team go through at most');
  });
});

describe('lines', () => {
  it('say who is in and who is kept out, and nothing of medals', () => {
    const { lines } = graphics(meet, { kinds: ['standing', 'medals', 'need'] });
    const of = (kind: string) => lines.filter((l) => l.kind === kind);
    expect(of('medals')).toEqual([]);
    expect(of('standing').map((l) => [l.about[0]?.id, l.target, l.status])).toContainEqual([
      'cleo',
      'advance',
      'not-in',
    ]);
    expect(of('need').map((l) => [l.target, l.status, l.chance])).toContainEqual([
      'advance',
      'needs',
      0.5,
    ]);
  });
});
