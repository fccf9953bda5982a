/** Gold, a medal and a fall in three lines: the figures of the sheet, and the chances of the whole field. */
import { describe, expect, it } from 'vitest';
import { type Brief, brief, chances, type Meet, reports, suppose } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';

const RANGE = '{ low: 12.500, likely: 13.500, high: 14.000, falls: 0.1 }';
const MEET = `discipline: wag
scoring: open
medals: 2
usual: { ${['VT', 'UB', 'BB', 'FX'].map((c) => `${c}: ${RANGE}`).join(', ')} }
gymnasts:
  - { id: ada, name: Ada Quill, team: NQY }
  - { id: bea, name: Bea Harrow, team: HRW }
  - { id: cleo, name: Cleo Marsh, team: NQY }
contests: [all-around, { kind: team, up: 2, count: 1 }]
`;
const DONE = ['ada', 'bea', 'cleo'].flatMap((id) => [`${id},VT,13.500`, `${id},UB,13.400`]);
const meetAfter = (...rows: string[]) => meetFrom(MEET, logFrom(...DONE, ...rows));

const briefOf = (meet: Meet, who: string, contest: string | null = null): Brief => {
  const answer = brief(meet, who, { contest });
  if (answer === null) throw new Error('has finished');
  return answer;
};

const linesOf = (meet: Meet, answer: Brief) =>
  reports
    .brief(meet, answer)
    .flat()
    .map((b) => (b.kind === 'title' || b.kind === 'sentence' ? b.text : ''));

describe('in brief', () => {
  it('the chances are those of the field, and after a fall those of supposing it', () => {
    const meet = meetAfter('ada,BB,13.600');
    for (const who of ['bea', 'cleo', 'ada']) {
      const { gold, medal, fall, sheet } = briefOf(meet, who);
      const field = chances(meet).contenders.find((c) => c.id === who);
      expect(gold?.chance).toBeCloseTo(field?.win ?? 0, 9);
      expect(medal?.chance).toBeCloseTo(field?.medal ?? 0, 9);
      // The expected 13.500 less a fall.
      expect(fall?.score).toBe(12_500);
      const supposed = suppose(meet, [
        { gymnast: who, apparatus: sheet.apparatus, score: '12.500' },
      ]);
      const then = supposed.chances?.after?.contenders.find((c) => c.id === who);
      expect(fall?.win).toBeCloseTo(then?.win ?? 0, 9);
      expect(fall?.medal).toBeCloseTo(then?.medal ?? 0, 9);
    }
  });

  it('are three lines under her name, each with its figure, its chances and the score to beat', () => {
    const meet = meetAfter('ada,BB,13.600');
    // Quill has 40.500, and with 13.500 on floor 54.000; Harrow 26.900, and 13.600 draws level.
    const [title, ...lines] = linesOf(meet, briefOf(meet, 'bea'));
    expect(title).toBe('Bea Harrow on beam');
    expect(lines).toHaveLength(3);
    expect(lines[0]).toMatch(
      /^Gold: 13\.6\d\d, her chance of it \d+%, beats Quill’s expected 54\.000.*\. Chance of gold \d+\.\d%\.$/,
    );
    expect(lines[1]).toMatch(/^A medal: 13\.\d{3}, .*Marsh’s expected 53\.900.*Chance of a medal/);
    expect(lines[2]).toMatch(/^A fall, about 12\.500: gold .*%, a medal .*% of the time\.$/);
  });

  it('are not of who has finished', () => {
    const done = ['ada,BB,13.600', 'ada,FX,13.600'];
    expect(brief(meetAfter(...done), 'ada')).toBeNull();
  });

  it('speak of the win alone where everybody has a medal', () => {
    const meet = meetAfter('ada,BB,13.600');
    const answer = briefOf(meet, 'HRW', 'team');
    expect(answer.medal).toBeNull();
    const lines = linesOf(meet, answer);
    expect(lines.join(' ')).not.toMatch(/medal|gold/i);
    expect(lines[1]).toMatch(/^To win: .* Chance to win/);
  });

  it('say whose total is expected, and whose is scored, and a tie that is won', () => {
    // Quill has 54.000 and is done. With 13.600 Harrow has 54.000 too, and the same four scores: shared.
    const meet = meetAfter('ada,BB,13.600', 'ada,FX,13.500', 'bea,BB,13.500');
    expect(linesOf(meet, briefOf(meet, 'bea'))[1]).toMatch(
      /^Gold: 13\.633, .* beats Quill’s 54\.000 \(13\.600 shares first place\)/,
    );
    // With 13.000 on beam 14.100 draws level, and her best three are 41.000 against 40.600.
    const uneven = meetAfter('ada,BB,13.600', 'ada,FX,13.500', 'bea,BB,13.000');
    expect(linesOf(uneven, briefOf(uneven, 'bea'))[1]).toContain(
      'ties Quill’s 54.000, and wins the tie on best scores',
    );
  });

  it('say what cannot be without giving up what may', () => {
    // Both rivals are done, 56.000 and 55.000; Harrow has 26.900 and two to come: 29.100 from two, or
    // 13.500 on floor and 15.600 here.
    const rows = ['ada,BB,14.600', 'ada,FX,14.500', 'cleo,BB,14.000', 'cleo,FX,14.100'];
    const meet = meetAfter(...rows);
    expect(linesOf(meet, briefOf(meet, 'bea'))[1]).toMatch(/^Gold: 15\.6\d\d, /);
    const far = meetFrom(
      MEET.replace('usual', 'ceiling: 15.000\nusual'),
      logFrom(...DONE, ...rows),
    );
    expect(linesOf(far, briefOf(far, 'bea'))[1]).toMatch(
      /^Gold: this routine alone is not enough, if all else goes as expected\. Chance of gold/,
    );
    const last = meetFrom(
      MEET.replace('usual', 'ceiling: 15.000\nusual'),
      logFrom(...DONE, ...rows, 'bea,BB,12.000'),
    );
    expect(linesOf(last, briefOf(last, 'bea'))[1]).toMatch(/^Gold: out of reach/);
  });
});
