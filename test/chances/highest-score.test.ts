/** Ties that go to the higher single score, each fact worked out by hand; meets and names are invented. */
import { describe, expect, it } from 'vitest';
import { chances, type Meet, needs, standings } from '../../lib/index.js';
import { logFrom, meetFrom, spoken } from '../support/meet.js';

/** A range of one score, with so many falls. */
const sure = (score: string, falls: number) =>
  `{ low: ${score}, likely: ${score}, high: ${score}, falls: ${falls} }`;

/** Both have 36.000 from three; ada's 13.000 may lose a fall or two, bea's 12.000 is certain. */
function duel(ties: string): Meet {
  return meetFrom(
    `discipline: wag
scoring: open
ties: ${ties}
gymnasts:
  - { id: ada, ranges: { FX: ${sure('13.000', 0.5)} } }
  - { id: bea, ranges: { FX: ${sure('12.000', 0)} } }
`,
    logFrom(
      ...['ada,VT,12.000', 'ada,UB,12.000', 'ada,BB,12.000'],
      ...['bea,VT,12.500', 'bea,UB,11.000', 'bea,BB,12.500'],
    ),
  );
}

/** Chances of first place by name. */
const winsOf = (meet: Meet, options = {}) =>
  Object.fromEntries(chances(meet, null, options).contenders.map(({ id, win }) => [id, win]));

/** To the last digits. */
const near = (chance: number) => expect.closeTo(chance, 12);

describe('level before the last routine', () => {
  // No fall 0.5: 49.000 to 48.000. One fall 0.5 · 0.5: 48.000 each. Two falls 0.5 · 0.5: 47.000.
  it('shares first place with one fall where nothing breaks the tie: 0.75 and 0.50', () => {
    expect(winsOf(duel('[]'))).toEqual({ ada: near(0.75), bea: near(0.5) });
  });

  it('loses it to a 12.500 where the higher single score decides: 0.50 each', () => {
    const meet = duel('[highest-score]');
    const answer = chances(meet);
    expect(winsOf(meet)).toEqual({ ada: near(0.5), bea: near(0.5) });
    const half = [near(0.5), near(0.5)];
    expect(answer.contenders.map((c) => c.places)).toEqual([half, half]);
    expect(answer.error).toBeLessThanOrEqual(1e-12);
    expect(answer.skipped).toEqual([]);
    expect(answer.podiums.map(({ places, chance }) => [places, chance])).toEqual(
      expect.arrayContaining([
        [[['ada'], ['bea'], []], near(0.5)],
        [[['bea'], ['ada'], []], near(0.5)],
      ]),
    );
  });

  it('is said by her curve too: 13.000 wins, 12.000 and 11.000 do not', () => {
    const { curve } = chances(duel('[highest-score]'), 'ada');
    expect(curve?.points.map(({ score, win }) => [score, win])).toEqual([
      [11_000, near(0)],
      [12_000, near(0)],
      [13_000, near(1)],
    ]);
  });

  it('comes out of a sample the same, within four standard errors', () => {
    const { ada = 0, bea = 0 } = winsOf(duel('[highest-score]'), { sample: 20_000, seed: 7 });
    expect(Math.abs(ada - 0.5)).toBeLessThan(4 * Math.sqrt(0.25 / 20_000));
    // Nobody shares it.
    expect(ada + bea).toBeCloseTo(1, 12);
  });

  it('so she needs one unit more than level', () => {
    const meet = duel('[highest-score]');
    const [need] = needs(meet, 'ada', { for: 'win', rivals: 'likely' }).needs;
    expect(spoken(meet, need)).toMatchObject({
      level: '12.000',
      ahead: '12.001',
      tieGoesTo: 'rival',
      tieBy: 'highest-score',
    });
  });

  it('and on the board after it the places are not shared', () => {
    const level = meetFrom(
      'discipline: wag\nscoring: open\nties: [highest-score]\ngymnasts: [{ id: ada }, { id: bea }]\n',
      logFrom(
        ...['ada,VT,12.000', 'ada,UB,12.000', 'ada,BB,12.000', 'ada,FX,12.000'],
        ...['bea,VT,12.500', 'bea,UB,11.000', 'bea,BB,12.500', 'bea,FX,12.000'],
      ),
    );
    expect(standings(level).rows.map((r) => [r.place, r.id, r.tied])).toEqual([
      [1, 'bea', false],
      [2, 'ada', false],
    ]);
  });
});

describe('a routine to come may itself be the highest', () => {
  // With 13.000 on floor cleo has 49.000 from 13.000 and three of 12.000; dana 49.000 from 12.900,
  // 12.100, 12.000 and 12.000. With one fall cleo has 48.000 and is second.
  it('and then the tie is hers', () => {
    const meet = meetFrom(
      `discipline: wag
scoring: open
ties: [highest-score]
gymnasts:
  - { id: cleo, ranges: { FX: ${sure('13.000', 0.5)} } }
  - { id: dana }
`,
      logFrom(
        ...['cleo,VT,12.000', 'cleo,UB,12.000', 'cleo,BB,12.000'],
        ...['dana,VT,12.900', 'dana,UB,12.100', 'dana,BB,12.000', 'dana,FX,12.000'],
      ),
    );
    expect(winsOf(meet)).toEqual({ cleo: near(0.5), dana: near(0.5) });
    const [need] = needs(meet, 'cleo', { for: 'win' }).needs;
    expect(spoken(meet, need)).toMatchObject({
      level: '13.000',
      ahead: '13.000',
      tieGoesTo: 'her',
      tieBy: 'highest-score',
    });
  });

  // The highest is 13.000 for both, and nothing else is looked at: the place is shared.
  it('and equal highest scores share the place', () => {
    const meet = meetFrom(
      `discipline: wag
scoring: open
ties: [highest-score]
gymnasts:
  - { id: cleo, ranges: { FX: ${sure('13.000', 0)} } }
  - { id: dana }
`,
      logFrom(
        ...['cleo,VT,12.000', 'cleo,UB,12.000', 'cleo,BB,12.000'],
        ...['dana,VT,13.000', 'dana,UB,12.900', 'dana,BB,12.000', 'dana,FX,11.100'],
      ),
    );
    expect(winsOf(meet)).toEqual({ cleo: near(1), dana: near(1) });
  });
});

// Whose points were carried in has scores that nobody sees here.
it('is skipped where points were carried in, and the answer says so', () => {
  const meet = meetFrom(
    `discipline: wag
scoring: open
ties: [highest-score]
gymnasts:
  - { id: ada, on: [FX], carried: 36.000, ranges: { FX: ${sure('13.000', 0.5)} } }
  - { id: bea, ranges: { FX: ${sure('12.000', 0)} } }
`,
    logFrom('bea,VT,12.500', 'bea,UB,11.000', 'bea,BB,12.500'),
  );
  expect(chances(meet).skipped).toEqual(['highest-score']);
  expect(winsOf(meet)).toEqual({ ada: near(0.75), bea: near(0.5) });
});
