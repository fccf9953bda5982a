/** Who goes through, on boards worked out by hand. */
import { describe, expect, it } from 'vitest';
import {
  advancing,
  chances,
  needs,
  record,
  reports,
  scoreInPlace,
  standings,
} from '../../lib/index.js';
import { logFrom, meetFrom, problemsOf } from '../support/meet.js';
import { refusal } from '../support/refusal.js';

/** Floor alone. Of NQY ann, bea and cleo, of HBR dot and eva; fay and gil are of no team. */
const FIELD = `gymnasts:
  - { id: ann, team: NQY }
  - { id: bea, team: NQY }
  - { id: cleo, team: NQY }
  - { id: dot, team: HBR }
  - { id: eva, team: HBR }
  - { id: fay }
  - { id: gil }
`;
const yaml = (advance: string, ties = '[]', more = '') =>
  `discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: FX, ties: ${ties}, advance: ${advance} }]\n${more}${FIELD}`;

const SCORES = ['14.0', '13.9', '13.8', '13.7', '13.6', '13.5', '13.4'];
const IDS = ['ann', 'bea', 'cleo', 'dot', 'eva', 'fay', 'gil'];
const all = (scores: readonly string[] = SCORES) =>
  logFrom(...IDS.flatMap((id, i) => (scores[i] === '' ? [] : [`${id},FX,${scores[i]}`])));

const boardOf = (advance: string, scores: readonly string[] = SCORES, ties = '[]') =>
  standings(meetFrom(yaml(advance, ties), all(scores))).rows.map((r) =>
    [r.id, r.advance, r.reserve, ...r.blockedBy].filter((x) => x !== null).join(' '),
  );

describe('down the board', () => {
  it('so many are in, the next wait, and who is third of her team is kept out by the two ahead', () => {
    expect(boardOf('{ places: 3, perTeam: 2, reserves: 2 }')).toEqual([
      'ann in',
      'bea in',
      'cleo out ann bea',
      'dot in',
      'eva reserve 1',
      'fay reserve 2',
      'gil out',
    ]);
  });

  it('a reserve counts for the quota of reserves', () => {
    // One a team: bea and cleo cannot wait behind ann, nor eva behind dot.
    expect(boardOf('{ places: 1, perTeam: 1, reserves: 2 }')).toEqual([
      'ann in',
      'bea out ann',
      'cleo out ann',
      'dot reserve 1',
      'eva out dot',
      'fay reserve 2',
      'gil out',
    ]);
  });

  it('without a quota the first are in, and who is of no team keeps nobody out', () => {
    expect(boardOf('{ places: 6 }').slice(4)).toEqual(['eva in', 'fay in', 'gil out']);
    expect(boardOf('{ places: 5, perTeam: 1 }')).toEqual([
      'ann in',
      'bea out ann',
      'cleo out ann',
      'dot in',
      'eva out dot',
      'fay in',
      'gil in',
    ]);
  });

  it('who is equal at the last place is in, and the first reserve comes after them', () => {
    const scores = ['14.0', '13.0', '13.0', '13.9', '13.0', '13.0', '12.0'];
    expect(boardOf('{ places: 3, reserves: 1 }', scores)).toEqual([
      'ann in',
      'dot in',
      'bea in',
      'cleo in',
      'eva in',
      'fay in',
      'gil reserve 1',
    ]);
  });

  it('a rule that breaks the tie keeps somebody out, but not where all who are level go through', () => {
    const meet = (ties: string) =>
      standings(
        meetFrom(
          yaml(`{ places: 1, reserves: 1, ties: ${ties} }`, '[difficulty]'),
          'gymnast,apparatus,score,d\nann,FX,13.000,5.0\nbea,FX,13.000,5.2\nfay,FX,12.0,5.0\n',
        ),
      ).rows.slice(0, 3);
    expect(meet('rules').map((r) => [r.id, r.advance])).toEqual([
      ['bea', 'in'],
      ['ann', 'reserve'],
      ['fay', 'out'],
    ]);
    expect(meet('all').map((r) => [r.id, r.place, r.advance])).toEqual([
      ['bea', 1, 'in'],
      ['ann', 2, 'in'],
      ['fay', 3, 'reserve'],
    ]);
  });

  it('who has withdrawn is out and keeps nobody out; who has not been up has no answer yet', () => {
    const scores = ['DNS', '13.9', '13.8', '13.7', '', '', ''];
    const board = standings(meetFrom(yaml('{ places: 2, perTeam: 2 }'), all(scores))).rows;
    const of = new Map(board.map((r) => [r.id, r.advance]));
    expect(IDS.map((id) => of.get(id))).toEqual(['out', 'in', 'in', 'out', null, null, null]);
    const [eva] = board.filter((r) => r.id === 'eva');
    expect(eva?.projectedAdvance).not.toBeNull();
  });

  it('by projection it is who would be in if all goes as expected', () => {
    const usual = 'usual: { FX: { low: 13.950, likely: 13.950, high: 13.950, falls: 0 } }\n';
    const scores = ['14.0', '13.9', '13.8', '13.7', '13.6', '13.5', ''];
    const meet = meetFrom(yaml('{ places: 2, perTeam: 2 }', '[]', usual), all(scores));
    const { rows } = standings(meet);
    expect(rows.filter((r) => r.advance === 'in').map((r) => r.id)).toEqual(['ann', 'bea']);
    const then = rows.filter((r) => r.projectedAdvance?.advance === 'in').map((r) => r.id);
    expect(then).toEqual(['ann', 'gil']);
  });
});

describe('what she needs to go through', () => {
  const needOf = (who: string, advance: string, scores: readonly string[], ties = '[]') => {
    const [need] = needs(meetFrom(yaml(advance, ties), all(scores)), who, { for: 'advance' }).needs;
    return [need?.status, need?.level, need?.ahead, need?.mark?.id, need?.tieGoesTo];
  };

  it('the last one in is whom she must pass', () => {
    // Without gil ann, bea and dot are in; cleo is kept out and counts no more.
    const scores = ['14.0', '13.9', '13.8', '13.7', '13.6', '13.5', ''];
    expect(needOf('gil', '{ places: 3, perTeam: 2 }', scores)).toEqual([
      'needs',
      13_700,
      13_701,
      'dot',
      'shared',
    ]);
  });

  it('where her team is full it is the second of her team, however many places are left', () => {
    const scores = ['14.0', '13.9', '', '13.7', '13.6', '13.5', '13.4'];
    expect(needOf('cleo', '{ places: 6, perTeam: 2 }', scores)).toEqual([
      'needs',
      13_900,
      13_901,
      'bea',
      'shared',
    ]);
    expect(needOf('cleo', '{ places: 6 }', scores)).toEqual([
      'needs',
      13_400,
      13_401,
      'gil',
      'shared',
    ]);
  });

  it('any score does it where there are places enough', () => {
    const scores = ['14.0', '13.9', '13.8', '13.7', '13.6', '', ''];
    // Ann, bea, dot, eva and fay count, and cleo does not.
    expect(needOf('gil', '{ places: 6, perTeam: 2 }', scores)[0]).toBe('secured');
  });

  it('a shared tie is enough, and that is the score that is said', () => {
    const scores = ['14.0', '13.9', '13.8', '13.7', '13.6', '13.5', ''];
    const meet = meetFrom(yaml('{ places: 3, perTeam: 2 }'), all(scores));
    const text = JSON.stringify(reports.nextUp(meet, 'FX'));
    expect(text).toContain('13.700 to go through');
    expect(text).not.toContain('13.733');
  });

  it('after the score it is told whether it was enough: level with the last one in it is', () => {
    const scores = ['14.0', '13.9', '13.8', '13.7', '13.6', '13.5', ''];
    const meet = meetFrom(yaml('{ places: 3, perTeam: 2 }'), all(scores));
    const gotWith = (score: string) => {
      const { meet: after, recorded } = record(meet, { gymnast: 'gil', apparatus: 'FX', score });
      const inPlace = scoreInPlace(meet, after, recorded);
      const said = JSON.stringify(reports.said(after, recorded, inPlace));
      return [
        inPlace?.needed.find((n) => n.target === 'advance')?.got,
        / to go through: (enough|not enough)/.exec(said)?.[1],
      ];
    };
    expect(gotWith('13.733')).toEqual(['ahead', 'enough']);
    expect(gotWith('13.700')).toEqual(['level', 'enough']);
    expect(gotWith('13.666')).toEqual(['short', 'not enough']);
  });

  it('on the board of now, where a rule is against her and all who are level go through', () => {
    const log =
      'gymnast,apparatus,score,d\nann,FX,14.000,5.0\nbea,FX,13.000,5.2\nfay,FX,12.0,5.0\n';
    const range = 'usual: { FX: { low: 12.0, likely: 13.0, high: 14.0, falls: 0, d: 5.0 } }\n';
    const asked = (ties: string) => {
      const meet = meetFrom(yaml(`{ places: 2, ties: ${ties} }`, '[difficulty]', range), log);
      const [need] = needs(meet, 'gil', { for: 'advance', when: 'now', chance: 1 }).needs;
      return [need?.level, need?.ahead, need?.tieGoesTo, need?.scoreForChance];
    };
    expect(asked('rules')).toEqual([13_000, 13_001, 'rival', 13_033]);
    expect(asked('all')).toEqual([13_000, 13_001, 'shared', 13_000]);
  });

  it('nobody advances from a contest that does not say so', () => {
    const meet = meetFrom(`discipline: wag\nscoring: open\n${FIELD}`);
    expect(refusal(() => needs(meet, 'ann', { for: 'advance' }))).toMatchObject({
      code: 'wrong-target',
    });
    expect(refusal(() => advancing(meet))).toMatchObject({ code: 'wrong-target' });
  });
});

describe('chances of going through', () => {
  // Gil scores 13.700 for certain, or with a fall (0.5) 12.700; two falls (0.25 of all) 11.700.
  const usual = 'usual: { FX: { low: 13.700, likely: 13.700, high: 13.700, falls: 0.5 } }\n';
  const scores = ['14.0', '13.9', '13.8', '13.7', '13.6', '13.5', ''];
  const chanceOf = (advance: string, id: string) => {
    const meet = meetFrom(yaml(advance, '[]', usual), all(scores));
    const exact = chances(meet).contenders.find((c) => c.id === id)?.advance;
    const { contenders } = advancing(meet);
    expect(contenders.find((c) => c.id === id)?.chance).toBe(exact);
    return exact;
  };

  it('by hand', () => {
    // Level with dot on the third place she is in with her, else dot is alone.
    expect(chanceOf('{ places: 3, perTeam: 2 }', 'gil')).toBe(0.5);
    expect(chanceOf('{ places: 3, perTeam: 2 }', 'dot')).toBe(1);
    // Of four places eva has the last but where gil is ahead of her.
    expect(chanceOf('{ places: 4, perTeam: 2 }', 'eva')).toBe(0.5);
    expect(chanceOf('{ places: 3, perTeam: 2 }', 'cleo')).toBe(0);
    expect(chanceOf('{ places: 3 }', 'cleo')).toBe(1);
  });
});

describe('what is odd about it is said', () => {
  const told = (text: string) => problemsOf(text).map((p) => `${p.severity} ${p.code}`);

  it('more places than compete, a quota where nobody has a team, a quota of teams in a team contest', () => {
    expect(told(yaml('{ places: 7 }'))).toContain('warning all-advance');
    expect(told(yaml('{ places: 6 }'))).not.toContain('warning all-advance');
    const alone = 'gymnasts: [{ id: ann }, { id: bea }]\n';
    const contest = 'contests: [{ kind: apparatus, on: FX, advance: { places: 1, perTeam: 1 } }]\n';
    expect(told(`discipline: wag\nscoring: open\n${contest}${alone}`)).toContain(
      'warning no-teams',
    );
    const teams =
      'contests: [{ kind: team, up: 3, count: 3, advance: { places: 1, perTeam: 2 } }]\n';
    expect(told(`discipline: wag\nscoring: open\n${teams}${FIELD}`)).toContain('error wrong-value');
  });

  it('keys that are none, and no number', () => {
    expect(told(yaml('{ places: 0 }'))).toContain('error wrong-value');
    expect(told(yaml('{ perTeam: 2 }'))).toContain('error missing-key');
    expect(told(yaml('{ places: 3, ties: some }'))).toContain('error wrong-value');
    expect(told(yaml('{ places: 3, place: 4 }'))).toContain('error unknown-key');
  });
});
