/** Sessions: one group of rotations after another, each with its own circle, its numbers its own. */
import { describe, expect, it } from 'vitest';
import {
  check,
  graphics,
  type Meet,
  needs,
  nextUp,
  outcomes,
  readTemplates,
  record,
  reports,
  secondUp,
  standings,
} from '../../lib/index.js';
import { logFrom, meetFrom, problemsOf, readAll, show } from '../support/meet.js';
import { refusal } from '../support/refusal.js';

/** Two sessions of four; on hoop e is the best of all. The groups are not listed in order. */
const TWO = `discipline: [{ code: HP, name: hoop }, { code: BL, name: ball }]
scoring: ten
contests: [all-around]
startOrder: fixed
usual:
  HP: { low: 9, likely: 9.5, high: 9.9, falls: 0 }
  BL: { low: 8, likely: 9, high: 9.9, falls: 0 }
gymnasts:
  - { id: a }
  - { id: b }
  - { id: c }
  - { id: d }
  - { id: e, ranges: { HP: { likely: 9.8 } } }
  - { id: f }
  - { id: g }
  - { id: h }
groups:
  - { start: HP, order: [a, b] }
  - { session: 2, start: HP, order: [e, f] }
  - { start: BL, order: [c, d] }
  - { session: 2, start: BL, order: [g, h] }
`;

function plan(meet: Pick<Meet, 'rotations'>): string[] {
  return meet.rotations.map(({ session, rotation, stations }) => {
    const shown = stations.map((s) => `${s.apparatus ?? 'bye'} ${s.order.join('')}`.trim());
    return `${session}.${rotation}: ${shown.join(', ')}`;
  });
}

const next = (...rows: string[]) =>
  nextUp(meetFrom(TWO, logFrom(...rows))).map((r) => `${r.gymnast} ${r.apparatus}`);

const hp = (...ids: string[]) => ids.map((id) => `${id},HP,9.5`);
const bl = (...ids: string[]) => ids.map((id) => `${id},BL,9`);
const FIRST = [...hp('a', 'b', 'c', 'd'), ...bl('c', 'd', 'a', 'b')];

describe('two sessions', () => {
  it('follow each other, whatever the order of the groups, and start on the same apparatus', () => {
    const meet = meetFrom(TWO);
    expect(plan(meet)).toEqual([
      '1.1: HP ab, BL cd',
      '1.2: HP cd, BL ab',
      '2.1: HP ef, BL gh',
      '2.2: HP gh, BL ef',
    ]);
    expect(meet.routines.map((r) => `${r.at} ${r.session}.${r.rotation} ${r.gymnast}`)).toEqual([
      ...['0 1.1 a', '0 1.1 c', '0 1.1 b', '0 1.1 d'],
      ...['1 1.2 c', '1 1.2 a', '1 1.2 d', '1 1.2 b'],
      ...['2 2.1 e', '2 2.1 g', '2 2.1 f', '2 2.1 h'],
      ...['3 2.2 g', '3 2.2 e', '3 2.2 h', '3 2.2 f'],
    ]);
  });

  it('have byes of their own: those of one do not lengthen the other', () => {
    const meet = meetFrom(
      TWO.replace(
        'start: BL, order: [g, h] }',
        'start: BL, order: [g] }\n  - { session: 2, start: bye, order: [h] }',
      ),
    );
    expect(plan(meet)).toEqual([
      '1.1: HP ab, BL cd',
      '1.2: HP cd, BL ab',
      '2.1: HP ef, BL g, bye h',
      '2.2: HP h, BL ef, bye g',
      '2.3: HP g, BL h, bye ef',
    ]);
  });

  it('may be numbered as they like; the lower number comes first', () => {
    const meet = meetFrom(TWO.replaceAll('session: 2', 'session: 7'));
    expect(plan(meet)[2]).toBe('7.1: HP ef, BL gh');
    const board = standings(meet, { after: 1, session: 7 });
    expect([board.session, board.after]).toEqual([7, 1]);
  });

  it('the second may be listed first', () => {
    const second = TWO.split('\n').filter((line) => line.includes('session: 2'));
    const rest = TWO.split('\n').filter((line) => !line.includes('session: 2'));
    const at = rest.indexOf('groups:') + 1;
    const yaml = [...rest.slice(0, at), ...second, ...rest.slice(at)].join('\n');
    expect(plan(meetFrom(yaml))).toEqual(plan(meetFrom(TWO)));
  });

  it('with two groups on one start in one of them are a problem of the file', () => {
    const yaml = TWO.replace('session: 2, start: BL', 'session: 2, start: HP');
    expect(problemsOf(yaml)).toContainEqual({
      severity: 'error',
      code: 'start-twice',
      file: 'meet.yaml',
      line: 21,
      message: 'two groups of session 2 start on HP',
      mend: 'let each group start elsewhere',
    });
  });

  it('a session with byes names its apparatus that nobody starts on', () => {
    const yaml = TWO.replace('session: 2, start: BL', 'session: 2, start: bye');
    expect(problemsOf(yaml)).toMatchObject([
      {
        code: 'station-missing',
        message: "with byes every apparatus is some group's start; none of session 2 starts on BL",
        mend: 'add - { session: 2, start: BL, order: [] }, also when nobody starts there',
      },
    ]);
  });

  it('are in `check`, in JSON as in the table', () => {
    const read = readAll(TWO);
    const checked = check(read);
    expect(checked.rotations?.map(({ session, rotation }) => [session, rotation])).toEqual([
      [1, 1],
      [1, 2],
      [2, 1],
      [2, 2],
    ]);
    const report = JSON.stringify(reports.check(read.plan, checked));
    expect(report).toContain('"head":"session"');
    const alone = readAll(
      TWO.replaceAll(/.*session: 2.*\n/g, '').replaceAll(/.*id: [e-h].*\n/g, ''),
    );
    expect(JSON.stringify(reports.check(alone.plan, check(alone)))).not.toContain('session');
  });
});

describe('the next up', () => {
  it('are of the first session until only the last are to come there', () => {
    expect(next()).toEqual(['a HP', 'c BL']);
    // On ball two are to come: hoop is over, and waits.
    expect(next(...hp('a', 'b', 'c', 'd'), ...bl('c', 'd'))).toEqual(['a BL']);
    expect(next(...hp('a', 'b', 'c', 'd'), ...bl('c', 'd', 'a'))).toEqual(['b BL', 'e HP']);
    expect(next(...FIRST)).toEqual(['e HP', 'g BL']);
  });

  it('nobody of the second session is up while two of an earlier rotation of the first are to come', () => {
    const rows = [...hp('a', 'b', 'c', 'd'), 'a,BL,DNS', 'b,BL,DNS'];
    expect(next(...rows)).toEqual(['c BL']);
    expect(next(...rows, ...bl('c'))).toEqual(['d BL', 'e HP']);
  });

  it('once the second session is under way, what is missing of the first holds up nothing', () => {
    const rows = [...hp('a', 'b', 'c', 'd'), 'a,BL,DNS', 'b,BL,DNS', ...hp('e')];
    expect(next(...rows)).toEqual(['c BL', 'f HP']);
  });

  it('are of the second session when all of the first have withdrawn', () => {
    expect(next('a,all,DNS', 'b,all,DNS', 'c,all,DNS', 'd,all,DNS')).toEqual(['e HP', 'g BL']);
  });

  it('and who follows them is of the same rotation, not of the same number in another session', () => {
    // On hoop d is the last of the session: e is of rotation 1, as a was.
    const meet = meetFrom(TWO, logFrom(...hp('a', 'b', 'c'), ...bl('c', 'd')));
    expect(nextUp(meet).map((r) => r.gymnast)).toEqual(['a', 'd']);
    expect(secondUp(meet).map((r) => r.gymnast)).toEqual(['b']);
    // Behind b, the last of rotation 1, nobody is: e is first in rotation 1 of the other session.
    const first = meetFrom(TWO, logFrom(...hp('a')));
    expect(nextUp(first).map((r) => r.gymnast)).toEqual(['c', 'b']);
    expect(secondUp(first).map((r) => r.gymnast)).toEqual(['d']);
  });

  it('the last of the whole meet waits too', () => {
    const rows = [...hp('a', 'b', 'c', 'd'), 'a,BL,DNS', 'b,BL,DNS'];
    const gone = ['e,all,DNS', 'f,all,DNS', 'h,all,DNS', 'g,BL,DNS'];
    expect(next(...rows, ...gone)).toEqual(['c BL']);
    expect(next(...rows, ...gone, ...bl('c', 'd'))).toEqual(['g HP']);
  });
});

describe('what compares rotations', () => {
  const rotationNeed = (who: string, log = '') => {
    const meet = meetFrom(TWO, log);
    const sheet = needs(meet, who, { for: 'lead', when: 'rotation', rivals: 'likely' });
    const [need] = sheet.needs;
    return [need?.mark?.id, show(meet, need?.mark?.total ?? null)];
  };

  it('needs after a rotation of the first session leave the second to come', () => {
    // By rotation number alone e on hoop (9.8) would be the one to beat.
    expect(rotationNeed('a')).toEqual(['b', '9.500']);
  });

  it('needs after rotation 1 of the second session have all of the first done', () => {
    expect(rotationNeed('f')[1]).toBe('18.500');
  });

  it('outcomes after the rotation take the same boards', () => {
    const meet = meetFrom(TWO);
    const top = (who: string) =>
      outcomes(meet, who, { when: 'rotation', rivals: 'likely' }).bands[0];
    // Three others have 9.5 or 9.0 after rotation 1; after rotation 1 of session 2 four have 18.5.
    expect(top('a')?.place).toBe(1);
    expect(top('f')?.place).toBe(5);
  });

  it('the score for a chance after a rotation does not know of the other session', () => {
    const alone = TWO.replaceAll(/.*session: 2.*\n/g, '').replaceAll(/ {2}- \{ id: [e-h].*\n/g, '');
    const [here, there] = [TWO, alone].map((yaml) => {
      const asked = { for: 'lead', when: 'rotation', rivals: 'likely', chance: 0.5 } as const;
      return needs(meetFrom(yaml), 'a', asked).needs[0]?.scoreForChance;
    });
    expect(here).toBe(there);
    expect(here).toBeGreaterThan(9000);
  });

  it('lines and outcomes after a rotation of the second session say that the first has done more', () => {
    const meet = meetFrom(TWO);
    const text = 'outcome: [{ text: "uneven {place}", when: { board: uneven } }]';
    const { templates } = readTemplates({ file: 'lines.yaml', text });
    const asked = { kinds: ['outcome'], who: ['f'], when: 'rotation', templates } as const;
    const [line] = graphics(meet, asked).lines;
    expect(line).toMatchObject({ by: 'rotation', session: 2, rotation: 1, text: 'uneven 5th' });
    const answer = outcomes(meet, 'f', { when: 'rotation', rivals: 'likely' });
    expect(JSON.stringify(reports.outcomes(meet, answer))).toContain(
      'When this rotation is over some have done 1 routine, others 2',
    );
  });

  it('what is to come in rotation 2 of both sessions is not one rotation', () => {
    const kinds = (...rows: string[]) =>
      graphics(meetFrom(TWO, logFrom(...rows)), { contest: 'HP' }).lines.map((l) => l.kind);
    const rows = [...hp('a', 'b'), 'e,HP,DNS', 'f,HP,DNS'];
    expect(kinds(...rows)).not.toContain('medals');
    expect(kinds(...rows, ...hp('c', 'd'))).toContain('medals');
  });

  it('a score out of turn says of which session the rotation is', () => {
    const { recorded } = record(meetFrom(TWO), { gymnast: 'e', apparatus: 'BL', score: '9.5' });
    expect(recorded.warnings).toContain(
      'e is up on ball in rotation 2 of session 2, and c is next there',
    );
    const early = record(meetFrom(TWO), { gymnast: 'e', apparatus: 'HP', score: '9.5' });
    expect(early.recorded.warnings).toContain(
      'e is up on hoop in rotation 1 of session 2, and a is next there',
    );
    const waiting = meetFrom(TWO, logFrom(...hp('a', 'b', 'c', 'd')));
    const first = record(waiting, { gymnast: 'e', apparatus: 'HP', score: '9.5' });
    expect(first.recorded.warnings).toContain(
      'e is up on hoop in rotation 1 of session 2, which has not begun there',
    );
    expect(recorded.warnings).toContain('e has HP still to come before BL');
  });
});

describe('standings', () => {
  const rows = [
    'a,HP,9.9',
    'b,HP,9.5',
    'c,BL,9',
    'd,BL,8.5',
    'a,BL,8',
    'b,BL,8',
    'c,HP,9.5',
    'd,HP,9',
  ];
  const meet = meetFrom(TWO, logFrom(...rows));
  const placesOf = (options: Parameters<typeof standings>[1]) =>
    standings(meet, options).rows.flatMap((r) => (r.place === null ? [] : [`${r.place} ${r.id}`]));

  it('after a rotation mean the session under way', () => {
    expect(placesOf({ after: 1 })).toEqual(['1 a', '2 b', '3 c', '4 d']);
    expect(standings(meet, { after: 1 })).toMatchObject({ after: 1, session: 1 });
    const later = record(meet, { gymnast: 'e', apparatus: 'HP', score: '9.8' }).meet;
    expect(standings(later, { after: 1 })).toMatchObject({ after: 1, session: 2 });
    expect(standings(meetFrom(TWO), { after: 2 })).toMatchObject({ after: 2, session: 1 });
    expect(standings(meet)).toMatchObject({ after: null, session: null });
  });

  it('a withdrawal from the second session does not begin it', () => {
    const later = record(meet, { gymnast: 'e', apparatus: 'all', score: 'DNS' }).meet;
    expect(standings(later, { after: 1 }).session).toBe(1);
  });

  it('of another session by its number, and of a whole session', () => {
    const all = meetFrom(TWO, logFrom(...rows, 'e,HP,9.8', 'f,HP,9', 'g,BL,9', 'h,BL,9'));
    const first = standings(all, { session: 1 });
    expect(first).toMatchObject({ after: 2, session: 1 });
    expect(first.rows.filter((r) => r.place !== null)).toHaveLength(4);
    expect(
      standings(all, { session: 2, after: 1 }).rows.filter((r) => r.place !== null),
    ).toHaveLength(8);
  });

  it('places move from one full rotation to the next, over the seam as well', () => {
    const moved = (m: Meet) => standings(m).rows.map((r) => [r.id, r.moved]);
    // 17.9, 17.5, 18.5, 17.5: c was third.
    expect(moved(meet).slice(0, 2)).toEqual([
      ['c', 2],
      ['a', -1],
    ]);
    const after = meetFrom(TWO, logFrom(...rows, 'e,HP,9.8', 'f,HP,9', 'g,BL,9', 'h,BL,9'));
    expect(moved(after).slice(0, 2)).toEqual([
      ['c', 0],
      ['a', 0],
    ]);
  });

  it('say which session there is', () => {
    expect(refusal(() => standings(meet, { session: 3 }))).toMatchObject({
      code: 'unknown-session',
      message: 'there is no session 3',
      mend: 'choose from: 1, 2',
    });
    expect(refusal(() => standings(meet, { session: 2, after: 3 }))).toMatchObject({
      code: 'unknown-rotation',
      message: 'there is no rotation 3 in session 2',
    });
  });

  it('the lines name the rotation with its session', () => {
    const done = meetFrom(TWO, logFrom(...rows, 'e,HP,9.8', 'f,HP,9', 'g,BL,9', 'h,BL,9'));
    const [line] = graphics(done, { kinds: ['rotation'] }).lines;
    expect(line).toMatchObject({ rotation: 1 });
    expect(line?.text).toMatch(/^After rotation 1 of session 2 c leads with 18.500/);
  });
});
