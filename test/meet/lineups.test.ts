/** Line-ups: who of a team goes up where, in which order, and what becomes of it. */
import { describe, expect, it } from 'vitest';
import { type Meet, nextUp, standings } from '../../lib/index.js';
import { logFrom, meetFrom, problemsOf } from '../support/meet.js';

/** Two teams on vault and bars; N has six, of whom n6 is in no line-up. */
const DUAL = `discipline: [{ code: VT, name: vault }, { code: UB, name: bars }]
scoring: ten
contests: [{ kind: team, up: 4, count: 3 }]
teams:
  - { id: N, name: North, lineup: { VT: [n1, n2, n3, n4], UB: [n5, n3, n1, n2] } }
  - { id: S, name: South, lineup: { VT: [s4, s3, s2, s1] } }
usual:
  VT: { low: 9, likely: 9.5, high: 9.9, falls: 0 }
  UB: { low: 9, likely: 9.5, high: 9.9, falls: 0 }
gymnasts:
  - { id: n1, team: N }
  - { id: n2, team: N }
  - { id: n3, team: N }
  - { id: n4, team: N }
  - { id: n5, team: N }
  - { id: n6, team: N }
  - { id: s1, team: S }
  - { id: s2, team: S }
  - { id: s3, team: S }
  - { id: s4, team: S }
`;
const GROUPS = `groups:
  - { route: [VT, UB], order: [N] }
  - { route: [UB, VT], order: [S] }
`;

function plan(meet: Pick<Meet, 'rotations'>): string[] {
  return meet.rotations.flatMap(({ stations }) =>
    stations.map((s) => `${s.apparatus ?? 'bye'}: ${s.order.join(' ')}`.trim()),
  );
}

const onOf = (meet: Meet, id: string) => meet.gymnasts.find((g) => g.id === id)?.on;

const problems = (yaml: string) =>
  problemsOf(yaml).map(({ severity, code, line, message, mend }) => ({
    severity,
    code,
    message,
    mend,
    at: yaml.split('\n')[(line ?? 0) - 1]?.trim(),
  }));

describe('a team with line-ups', () => {
  it('goes up in their order, which does not turn; where there is none, in its own, which does', () => {
    expect(plan(meetFrom(DUAL + GROUPS))).toEqual([
      'VT: n1 n2 n3 n4',
      'UB: s1 s2 s3 s4',
      'VT: s4 s3 s2 s1',
      'UB: n5 n3 n1 n2',
    ]);
    const swapped = GROUPS.replace('[UB, VT]', '[VT, UB]').replace(
      '[VT, UB], order: [N',
      '[UB, VT], order: [N',
    );
    expect(plan(meetFrom(DUAL + swapped)).at(-1)).toBe('UB: s2 s3 s4 s1');
  });

  it('has each of its gymnasts on what she is in the line-up for', () => {
    const meet = meetFrom(DUAL + GROUPS);
    expect(['n1', 'n4', 'n5', 'n6'].map((id) => onOf(meet, id))).toEqual([
      ['VT', 'UB'],
      ['VT'],
      ['UB'],
      [],
    ]);
    expect(onOf(meet, 's1')).toEqual(['VT', 'UB']);
  });

  it('lets a reserve be in no group, and is on the rest where it is named whole', () => {
    const named = GROUPS.replace('[N]', '[n1, n2, n3, n4, n5]');
    expect(onOf(meetFrom(DUAL + named), 'n6')).toEqual([]);
    // With a line-up on vault only, n6 is a reserve outside a group, and on bars within it.
    const vault = DUAL.replace(', UB: [n5, n3, n1, n2]', '').replace('up: 4', 'up: 6');
    expect(onOf(meetFrom(vault + named), 'n6')).toEqual([]);
    expect(onOf(meetFrom(vault + GROUPS), 'n6')).toEqual(['UB']);
  });

  it('a gymnast in a line-up and in no group is a problem of the file', () => {
    const yaml = DUAL + GROUPS.replace('[N]', '[n1, n2, n3, n4, n6]');
    expect(problems(yaml)).toContainEqual({
      severity: 'error',
      code: 'gymnast-in-no-group',
      message: 'gymnast `n5` is in no group',
      mend: 'add her to the order of a group; a reserve has on: []',
      at: '- { id: n5, team: N }',
    });
  });

  it('shares a group with others: the slots of its members turn, and are filled in its order', () => {
    const gymnasts = '  - { id: i1 }\n  - { id: i2 }\n';
    const both = `${DUAL}${gymnasts}startOrder: rotate
groups:
  - { start: VT, order: [n1, i1, n2, n3, i2, n4, n5] }
  - { start: UB, order: [S] }
`;
    // On bars the list has turned by one, i1 n2 n3 i2 (n4) n5 n1: four slots of the team, filled n5 n3 n1 n2.
    expect(plan(meetFrom(both))).toEqual([
      'VT: n1 i1 n2 n3 i2 n4',
      'UB: s1 s2 s3 s4',
      'VT: s4 s3 s2 s1',
      'UB: i1 n5 n3 i2 n1 n2',
    ]);
  });

  it('in two groups fills the slots of each with those who are in it', () => {
    const yaml = `${DUAL.replace('lineup: { VT: [n1, n2, n3, n4], UB: [n5, n3, n1, n2] }', 'lineup: { VT: [n4, n1, n3, n2], UB: [n3, n1, n4, n2] }')}startOrder: fixed
groups:
  - { start: VT, order: [n1, n2, s1, s2] }
  - { start: UB, order: [n3, n4, s3, s4] }
`;
    expect(plan(meetFrom(yaml))).toEqual([
      'VT: n1 n2 s2 s1',
      'UB: n3 n4 s3 s4',
      'VT: n4 n3 s4 s3',
      'UB: n1 n2 s1 s2',
    ]);
  });

  it('without groups or rotations goes up in their order too', () => {
    expect(plan(meetFrom(DUAL))).toEqual([
      'VT: n1 n2 n3 n4 s4 s3 s2 s1',
      'UB: n5 n3 n1 n2 s1 s2 s3 s4',
    ]);
  });

  it('is named in rotations that are written out, which gives its line-up there', () => {
    const meet = meetFrom(`${DUAL}rotations: [{ VT: [N], UB: [S] }, { UB: [N], VT: [S] }]\n`);
    expect(plan(meet)).toEqual(plan(meetFrom(DUAL + GROUPS)));
    expect(onOf(meet, 'n6')).toEqual([]);
    expect(problems(`${DUAL}rotations: [{ VT: [N], UB: [S] }, { UB: [N], VT: [S] }]\n`)).toEqual(
      [],
    );
  });

  it('is named in them without one: those who are on it by their `on`', () => {
    const yaml = DUAL.replace('id: s2, team: S', 'id: s2, team: S, on: [VT]');
    const meet = meetFrom(`${yaml}rotations: [{ VT: [N], UB: [S] }, { UB: [N], VT: [S] }]\n`);
    expect(plan(meet)[1]).toBe('UB: s1 s3 s4');
  });

  it('in a meet with an all-around it is no news that somebody is not in the line-up', () => {
    const yaml = DUAL.replace('count: 3 }]', 'count: 3 }, all-around]');
    expect(problems(`${yaml}rotations: [{ VT: [N], UB: [S] }, { UB: [N], VT: [S] }]\n`)).toEqual(
      [],
    );
  });

  it('the second vault goes with the first', () => {
    const meet = meetFrom(`discipline: wag
scoring: open
contests: [{ kind: apparatus, on: VT, vaults: 2 }, { kind: apparatus, on: UB }]
teams: [{ id: N, lineup: { VT: [n2, n1] } }]
gymnasts:
  - { id: n1, team: N }
  - { id: n2, team: N }
  - { id: n3, team: N }
groups: [{ start: VT, order: [N] }]
`);
    expect(meet.routines.map((r) => `${r.gymnast} ${r.apparatus}`)).toEqual([
      ...['n2 VT', 'n2 VT2', 'n1 VT', 'n1 VT2'],
      ...['n2 UB', 'n3 UB', 'n1 UB'],
    ]);
    expect(onOf(meet, 'n3')).toEqual(['UB']);
  });

  it('an id of a gymnast comes before the id of a team', () => {
    const yaml = DUAL.replaceAll('team: S', 'team: s1').replace('id: S,', 'id: s1,');
    const groups =
      'groups:\n  - { start: VT, order: [N] }\n  - { start: UB, order: [s1, s2, s3, s4] }\n';
    expect(plan(meetFrom(yaml + groups))[1]).toBe('UB: s1 s2 s3 s4');
  });
});

describe('a line-up that is wrong', () => {
  const vault = (order: string) => DUAL.replace('VT: [n1, n2, n3, n4]', `VT: [${order}]`) + GROUPS;
  const north = (order: string) =>
    `- { id: N, name: North, lineup: { VT: [${order}], UB: [n5, n3, n1, n2] } }`;

  it.each([
    [
      'somebody twice',
      'n1, n2, n1, n4',
      'lineup-twice',
      'gymnast `n1` is twice in the line-up of N on VT',
      'keep her in one place',
    ],
    [
      'somebody of another team',
      'n1, n2, s1, n4',
      'other-team',
      'gymnast `s1` in the line-up of N is of team S',
      'take her from it, or write team: N with her',
    ],
    [
      'nobody who is known',
      'n1, n2, m3, n4',
      'unknown-gymnast',
      'gymnast `m3` in the line-up of N is not in the list',
      'did you mean `n3`?',
    ],
    [
      'too long',
      'n1, n2, n3, n4, n6',
      'too-many-up',
      'team N has 5 in the line-up on VT, but 4 are up',
      'take somebody out of it, or correct `up`',
    ],
  ])('%s', (_, order, code, message, mend) => {
    expect(problems(vault(order)).filter((p) => p.severity === 'error')).toEqual([
      { severity: 'error', code, message, mend, at: north(order) },
    ]);
  });

  it('who is of another team is said once, and a team that is short without line-ups is no news', () => {
    const both = DUAL.replace('VT: [n1,', 'VT: [s1,').replace('UB: [n5,', 'UB: [s1,') + GROUPS;
    expect(problems(both).filter((p) => p.code === 'other-team')).toHaveLength(1);
    const three = DUAL.replace(', lineup: { VT: [s4, s3, s2, s1] }', '').replace(
      / {2}- { id: s4.*\n/,
      '',
    );
    expect(problems(three + GROUPS)).toEqual([]);
  });

  it('shorter than may go up is a note, shorter than counts a warning', () => {
    expect(problems(vault('n1, n2, n3'))).toMatchObject([
      {
        severity: 'note',
        code: 'too-few-up',
        message: 'team N has 3 in the line-up on VT, and 4 may go up',
        at: north('n1, n2, n3'),
      },
      // n4 is in no other line-up.
    ]);
    expect(problems(vault('n1, n2'))).toMatchObject([
      {
        severity: 'warning',
        code: 'too-few-up',
        message: 'only 2 scores of team N can count on VT, and 3 should',
        at: north('n1, n2'),
      },
    ]);
    expect(problems(vault(''))).toMatchObject([
      { severity: 'warning', message: 'no score of team N can count on VT, and 3 should' },
    ]);
  });

  it('a team without line-ups and with too few gymnasts has the same warning, once', () => {
    const few = DUAL.replace(', lineup: { VT: [s4, s3, s2, s1] }', '').replace(
      / {2}- { id: s[34].*\n/g,
      '',
    );
    expect(problems(few + GROUPS)).toEqual([
      {
        severity: 'warning',
        code: 'too-few-up',
        message: 'only 2 scores of team S can count on VT and UB, and 3 should',
        mend: 'add who is missing; nothing to do, if the team has no more',
        at: '- { id: S, name: South }',
      },
    ]);
  });

  it.each([
    [
      'on: [VT]',
      'n5',
      'not-in-lineup',
      'VT is in the `on` of gymnast `n5`, but N has a line-up there without her',
    ],
    [
      'on: [VT]',
      'n1',
      'not-her-apparatus',
      'gymnast `n1` is in the line-up of N on UB, which is not in her `on`',
    ],
  ])('%s of %s contradicts it', (on, id, code, message) => {
    const yaml = DUAL.replace(`id: ${id}, team: N`, `id: ${id}, team: N, ${on}`) + GROUPS;
    expect(problems(yaml).filter((p) => p.severity === 'error')).toContainEqual(
      expect.objectContaining({ code, message, at: `- { id: ${id}, team: N, ${on} }` }),
    );
  });

  it('on an apparatus of no meet, of none that counts, or the second vault', () => {
    const wag = (contests: string, lineup: string) => `discipline: wag
scoring: open
contests: ${contests}
teams:
  - { id: N, lineup: ${lineup} }
gymnasts:
  - { id: n1, team: N }
`;
    const found = (contests: string, lineup: string) =>
      problems(wag(contests, lineup)).filter((p) => p.at?.startsWith('- { id: N'));
    expect(found('[{ kind: apparatus, on: UB }]', '{ BB: [n1] }')).toMatchObject([
      {
        severity: 'note',
        code: 'not-counted',
        message: 'no contest of this meet counts BB, where N has a line-up',
      },
    ]);
    expect(found('[all-around]', '{ BX: [n1] }')).toMatchObject([
      { severity: 'error', code: 'unknown-apparatus', mend: 'did you mean `BB`?' },
    ]);
    expect(found('[{ kind: apparatus, on: VT, vaults: 2 }]', '{ VT2: [n1] }')).toMatchObject([
      {
        severity: 'error',
        message: 'VT2 is done right after the first vault and has no line-up of its own',
      },
    ]);
  });

  it('a list where a mapping by apparatus belongs is said, here as in rotations', () => {
    const list = DUAL.replace('lineup: { VT: [s4, s3, s2, s1] }', 'lineup: [s4, s3]') + GROUPS;
    expect(problems(list).filter((p) => p.severity === 'error')).toMatchObject([
      {
        code: 'wrong-value',
        message: '`lineup` should be a mapping from apparatus to gymnasts, not a list',
      },
    ]);
    expect(problems(`${DUAL}rotations: [[n1]]\n`)[0]).toMatchObject({ code: 'wrong-value' });
  });

  it('and rotations written out that do not fit it', () => {
    const yaml = `${DUAL}rotations: [{ VT: [n1, n2, n3, n6], UB: [S] }, { UB: [N], VT: [S] }]\n`;
    expect(problems(yaml).filter((p) => p.severity === 'error')).toMatchObject([
      {
        code: 'not-in-rotations',
        message: 'gymnast `n4` is in the line-up of N on VT, but no rotation has her there',
      },
      {
        code: 'not-in-lineup',
        message: 'a rotation has gymnast `n6` on VT, but N has a line-up there without her',
      },
    ]);
  });

  it('a team named twice, or beside one of its own', () => {
    expect(problems(DUAL + GROUPS.replace('[S]', '[S, N]'))).toMatchObject([
      { code: 'gymnast-in-two-groups', message: 'gymnast `n1` of N is in group 1 and in group 2' },
    ]);
    expect(problems(DUAL + GROUPS.replace('[N]', '[n3, N]'))).toMatchObject([
      { code: 'gymnast-in-two-groups', message: 'gymnast `n3` of N is twice in group 1' },
    ]);
  });
});

describe('a late change, in one line of the log', () => {
  const VAULT = ['n1,VT,9.0', 'n2,VT,9.1', 'n3,VT,9.2'];
  const total = (log: string) =>
    standings(meetFrom(DUAL + GROUPS, log)).rows.find((r) => r.id === 'N')?.scores.VT;

  it('a reserve steps in: she has the place in the order, and the counting part is hers', () => {
    const meet = meetFrom(DUAL + GROUPS, logFrom(...VAULT, 'n6,VT,for:n4'));
    expect(plan(meet)[0]).toBe('VT: n1 n2 n3 n6');
    expect(nextUp(meet).map((r) => `${r.gymnast} ${r.apparatus}`)).toEqual(['s1 UB', 'n6 VT']);
    // The best three of four: 9.1 + 9.2 and the score of n6 in place of 9.0.
    expect(total(logFrom(...VAULT, 'n6,VT,for:n4'))).toBe(27300);
    expect(total(logFrom(...VAULT, 'n6,VT,for:n4', 'n6,VT,9.9'))).toBe(28200);
    // Who is out of the line-up brings nothing, whatever is written of her.
    expect(total(logFrom(...VAULT, 'n6,VT,for:n4', 'n4,VT,9.9'))).toBe(27300);
  });

  it('somebody of the team who is in another line-up steps in for all that is to come', () => {
    const meet = meetFrom(DUAL + GROUPS, logFrom('n5,all,for:n4'));
    expect(onOf(meet, 'n5')).toEqual(['VT', 'UB']);
    expect(plan(meet)).toEqual([
      'VT: n1 n2 n3 n5',
      'UB: s1 s2 s3 s4',
      'VT: s4 s3 s2 s1',
      'UB: n5 n3 n1 n2',
    ]);
  });

  it('somebody goes up later: the line-up is as it has become', () => {
    const meet = meetFrom(DUAL + GROUPS, logFrom('n1,VT,after:n3'));
    expect(plan(meet)[0]).toBe('VT: n2 n3 n1 n4');
    expect(nextUp(meet)[0]?.gymnast).toBe('n2');
    expect(total(logFrom('n1,VT,after:n3', ...VAULT))).toBe(27300);
  });
});
