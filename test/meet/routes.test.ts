/** Routes: groups that go their own way round, as in dual meets and meets of three and four teams. */
import { describe, expect, it } from 'vitest';
import type { Meet } from '../../lib/index.js';
import { meetFrom, problemsOf } from '../support/meet.js';

const TEAMS = { A: 'a', B: 'b', C: 'c', D: 'd' };

/** Teams of so many, each a group of its own. */
function meetOf(groups: string, size = 2, contest = '{ kind: team, up: 6, count: 1 }'): string {
  const gymnasts = Object.entries(TEAMS).flatMap(([team, letter]) =>
    Array.from({ length: size }, (_, i) => `  - { id: ${letter}${i + 1}, team: ${team} }`),
  );
  const used = gymnasts.filter((line) => groups.includes(line.slice(-3, -2)));
  return `discipline: wag\nscoring: ten\ncontests: [${contest}]\ngymnasts:\n${used.join('\n')}\ngroups:\n${groups}`;
}

function plan(meet: Meet): string[] {
  return meet.rotations.map(({ stations }) =>
    stations.map((s) => `${s.apparatus ?? 'bye'} ${s.order.join(' ')}`.trim()).join(', '),
  );
}

const errors = (yaml: string) =>
  problemsOf(yaml)
    .filter((p) => p.severity === 'error')
    .map(({ code, line, message, mend }) => ({ code, line, message, mend }));

const DUAL = `  - { route: [VT, UB, BB, FX], order: [A] }
  - { route: [UB, VT, FX, BB], order: [B] }
`;

describe('a dual meet', () => {
  it('two teams of six: vault and bars, bars and vault, beam and floor, floor and beam', () => {
    const meet = meetFrom(meetOf(DUAL, 6));
    expect(plan(meet)).toEqual([
      'VT a1 a2 a3 a4 a5 a6, UB b1 b2 b3 b4 b5 b6',
      'VT b2 b3 b4 b5 b6 b1, UB a2 a3 a4 a5 a6 a1',
      'BB a3 a4 a5 a6 a1 a2, FX b3 b4 b5 b6 b1 b2',
      'BB b4 b5 b6 b1 b2 b3, FX a4 a5 a6 a1 a2 a3',
    ]);
    // They alternate, the apparatus first in Olympic order before the other.
    expect(meet.routines.slice(0, 4).map((r) => r.gymnast)).toEqual(['a1', 'b1', 'a2', 'b2']);
    expect(meet.routines.slice(12, 16).map((r) => r.gymnast)).toEqual(['b2', 'a2', 'b3', 'a3']);
  });

  it('with a fixed order nobody changes place', () => {
    const meet = meetFrom(`startOrder: fixed\n${meetOf(DUAL)}`);
    expect(plan(meet)[3]).toBe('BB b1 b2, FX a1 a2');
  });
});

describe('more teams', () => {
  it('three teams over four apparatus with byes, in six rotations; a bye turns no order', () => {
    const meet = meetFrom(
      meetOf(`  - { route: [VT, bye, UB, BB, bye, FX], order: [A] }
  - { route: [UB, VT, bye, FX, BB, bye], order: [B] }
  - { route: [bye, UB, VT, bye, FX, BB], order: [C] }
`),
    );
    expect(plan(meet)).toEqual([
      'VT a1 a2, UB b1 b2, bye c1 c2',
      'VT b2 b1, UB c1 c2, bye a2 a1',
      'VT c2 c1, UB a2 a1, bye b1 b2',
      'BB a1 a2, FX b1 b2, bye c1 c2',
      'BB b2 b1, FX c1 c2, bye a2 a1',
      'BB c2 c1, FX a2 a1, bye b1 b2',
    ]);
    expect(meet.routines).toHaveLength(24);
  });

  it('four teams, a route each: the same as from four starts', () => {
    const routes = [
      ['VT', 'UB', 'BB', 'FX', 'A'],
      ['UB', 'BB', 'FX', 'VT', 'B'],
      ['BB', 'FX', 'VT', 'UB', 'C'],
      ['FX', 'VT', 'UB', 'BB', 'D'],
    ];
    const own = routes.map((r) => `  - { route: [${r.slice(0, 4)}], order: [${r[4]}] }\n`);
    const starts = routes.map((r) => `  - { start: ${r[0]}, order: [${r[4]}] }\n`);
    const meet = meetFrom(meetOf(own.join('')));
    expect(meet.rotations).toEqual(meetFrom(meetOf(starts.join(''))).rotations);
    expect(plan(meet)[1]).toBe('VT d2 d1, UB a2 a1, BB b2 b1, FX c2 c1');
  });

  it('routes alone say how many rotations there are', () => {
    const yaml = meetOf(DUAL.replaceAll(/, BB, FX|, FX, BB/g, ''));
    const meet = meetFrom(yaml.replaceAll(/(?<=team: .) }/g, ', on: [VT, UB] }'));
    expect(plan(meet)).toEqual(['VT a1 a2, UB b1 b2', 'VT b2 b1, UB a2 a1']);
  });

  it('a route beside groups that move round; there are as many rotations as the longer has', () => {
    const meet = meetFrom(
      meetOf(`  - { start: VT, order: [A] }
  - { route: [bye, bye, bye, BB, FX, VT, UB], order: [B] }
`),
    );
    expect(plan(meet)).toEqual([
      'VT a1 a2, bye b1 b2',
      'UB a2 a1, bye b1 b2',
      'BB a1 a2, bye b1 b2',
      'BB b1 b2, FX a2 a1',
      'FX b2 b1',
      'VT b1 b2',
      'UB b2 b1',
    ]);
  });

  it('routes and byes of one session do not bear on another', () => {
    const meet = meetFrom(
      meetOf(`  - { route: [VT, UB, BB, FX], order: [A] }
  - { session: 2, start: VT, order: [B] }
`),
    );
    expect(plan(meet).slice(3, 5)).toEqual(['FX a2 a1', 'VT b1 b2']);
    expect(meet.rotations).toHaveLength(8);
  });
});

describe('what is wrong with a route', () => {
  it.each([
    [
      'a start besides',
      DUAL.replace('route: [UB', 'start: UB, route: [UB'),
      {
        code: 'start-and-route',
        message: 'group 2 has both a start and a route',
        mend: 'keep one of the two',
      },
    ],
    [
      'an unknown code',
      DUAL.replace('BB, FX]', 'BX, FX]'),
      {
        code: 'unknown-apparatus',
        message: 'BX in the route of group 1 is not part of this meet',
        mend: 'did you mean `BB`?',
      },
    ],
    [
      'an apparatus twice',
      DUAL.replace('BB, FX]', 'BB, VT, FX]'),
      {
        code: 'apparatus-twice',
        message: 'VT is twice in the route of group 1',
        mend: 'keep it in one rotation',
      },
    ],
    [
      'an apparatus missed',
      DUAL.replace('BB, FX]', 'BB]'),
      {
        code: 'not-in-rotations',
        message: 'the route of group 1 does not lead to FX, where `a1` and 1 more compete',
        mend: 'add FX to the route, or say with `on` who competes where',
      },
    ],
    [
      'another group on the apparatus',
      DUAL.replace('[UB, VT, FX, BB]', '[UB, VT, BB, FX]'),
      {
        code: 'two-groups-up',
        message: 'groups 1 and 2 are both on BB in rotation 3',
        mend: 'change the route of one of the two',
      },
    ],
    [
      'neither a start nor a route',
      DUAL.replace('route: [UB, VT, FX, BB], ', ''),
      { code: 'missing-key', message: '`start` is missing' },
    ],
  ])('%s', (_, groups, problem) => {
    const [first] = errors(meetOf(groups));
    expect(first).toMatchObject(problem);
    const lines = meetOf(groups).split('\n');
    expect(lines[(first?.line ?? 0) - 1]).toMatch(/^ {2}- {.*(start|route|order): /);
  });

  it('a group on its route in the way of one that moves round', () => {
    const groups = DUAL.replace('route: [VT, UB, BB, FX]', 'start: VT');
    expect(errors(meetOf(groups.replace('[UB, VT, FX, BB]', '[UB, BB, VT, FX]')))).toEqual([
      {
        code: 'two-groups-up',
        line: 11,
        message: 'groups 1 and 2 are both on FX in rotation 4',
        mend: 'change the route of one of the two',
      },
    ]);
  });

  it('in another session nobody is in the way', () => {
    const groups = DUAL.replace('[UB, VT, FX, BB]', '[VT, UB, BB, FX]');
    expect(errors(meetOf(groups))).toHaveLength(4);
    expect(
      errors(
        meetOf(
          groups.replace(
            '- { route: [VT, UB, BB, FX], order: [B]',
            '- { session: 2, route: [VT, UB, BB, FX], order: [B]',
          ),
        ),
      ),
    ).toEqual([]);
  });

  it('a second vault has no place of its own in it, and is done right after the first', () => {
    const yaml = meetOf(
      DUAL,
      2,
      '{ kind: apparatus, on: VT, vaults: 2 }, { kind: apparatus, on: UB }',
    );
    const groups = yaml.replaceAll(/, BB, FX|, FX, BB/g, '');
    expect(
      meetFrom(groups)
        .routines.slice(0, 3)
        .map((r) => r.apparatus),
    ).toEqual(['VT', 'VT2', 'UB']);
  });
});
