/** Who performs where and when: the rotations against a walk through the hall, group by group. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { awaited, type Meet, needs, nextUp } from '../../lib/index.js';
import { logFrom, meetFrom } from '../support/meet.js';
import { times } from '../support/times.js';

/** Stations as texts: `VT: ann bea`, and `bye: …`. */
function shown(meet: Meet): string[][] {
  return meet.rotations.map(({ stations }) =>
    stations.map((s) => `${s.apparatus ?? 'bye'}: ${s.order.join(' ')}`.trim()),
  );
}

function up(meet: Meet): string[] {
  return meet.routines.map((r) => `${r.rotation} ${r.gymnast} ${r.apparatus}`);
}

function meetOf(rest: string, gymnasts = 'a b c d e f'.split(' ')): Meet {
  const listed = gymnasts.map((g) => (g.startsWith('{') ? `  - ${g}` : `  - { id: ${g} }`));
  return meetFrom(`discipline: wag\nscoring: open\ngymnasts:\n${listed.join('\n')}\n${rest}`);
}

describe('groups without byes', () => {
  it('go round all apparatus in Olympic order, and first up goes last', () => {
    const meet = meetOf(`groups:
  - { start: BB, order: [a, b, c] }
  - { start: VT, order: [d, e, f] }
`);
    expect(shown(meet)).toEqual([
      ['VT: d e f', 'BB: a b c'],
      ['UB: e f d', 'FX: b c a'],
      ['VT: c a b', 'BB: f d e'],
      ['UB: a b c', 'FX: d e f'],
    ]);
    expect(up(meet).slice(0, 8)).toEqual([
      '1 d VT',
      '1 a BB',
      '1 e VT',
      '1 b BB',
      '1 f VT',
      '1 c BB',
      '2 e UB',
      '2 b FX',
    ]);
  });

  it('with a fixed order nobody changes place', () => {
    const meet = meetOf(`startOrder: fixed
groups:
  - { start: UB, order: [a, b, c, d, e, f] }
`);
    expect(shown(meet)).toEqual([
      ['UB: a b c d e f'],
      ['BB: a b c d e f'],
      ['FX: a b c d e f'],
      ['VT: a b c d e f'],
    ]);
  });

  it('who is not on an apparatus is passed over, and the full list turns', () => {
    const meet = meetOf(
      `groups:
  - { start: VT, order: [a, b, c, d] }
`,
      ['{ id: a, on: [VT, BB] }', 'b', '{ id: c, on: [FX] }', 'd'],
    );
    expect(shown(meet)).toEqual([['VT: a b d'], ['UB: b d'], ['BB: d a b'], ['FX: d b c']]);
  });

  it('a group may be empty on an apparatus, or altogether', () => {
    const meet = meetOf(
      `groups:
  - { start: VT, order: [a] }
  - { start: BB, order: [] }
`,
      ['{ id: a, on: [UB] }', '{ id: r, on: [] }'],
    );
    expect(shown(meet)).toEqual([
      ['VT:', 'BB:'],
      ['UB: a', 'FX:'],
      ['VT:', 'BB:'],
      ['UB:', 'FX:'],
    ]);
    expect(up(meet)).toEqual(['2 a UB']);
  });

  it('stations are the apparatus of the meet alone', () => {
    const meet = meetOf(`contests: [{ kind: apparatus, on: UB }, { kind: apparatus, on: FX }]
groups:
  - { start: FX, order: [a, b, c] }
  - { start: UB, order: [d, e, f] }
`);
    expect(shown(meet)).toEqual([
      ['UB: d e f', 'FX: a b c'],
      ['UB: b c a', 'FX: e f d'],
    ]);
  });

  it('men go round six, from floor to high bar', () => {
    const meet = meetFrom(
      'discipline: mag\nscoring: open\ngymnasts: [{ id: a }, { id: b }]\ngroups: [{ start: PB, order: [a, b] }]\n',
    );
    expect(shown(meet)).toEqual([
      ['PB: a b'],
      ['HB: b a'],
      ['FX: a b'],
      ['PH: b a'],
      ['SR: a b'],
      ['VT: b a'],
    ]);
  });

  it('a list of its own is gone round in its order', () => {
    const meet = meetFrom(
      'discipline: [{ code: RB }, { code: HP }, { code: BL }]\nscoring: open\ngymnasts: [{ id: a }, { id: b }]\ngroups: [{ start: HP, order: [a, b] }]\n',
    );
    expect(shown(meet)).toEqual([['HP: a b'], ['BL: b a'], ['RB: a b']]);
  });
});

describe('groups with byes', () => {
  it('go round the starts as listed, and a bye does not turn the order', () => {
    const meet = meetOf(
      `groups:
  - { start: VT, order: [a, b] }
  - { start: bye, order: [c, d] }
  - { start: UB, order: [e, f] }
  - { start: BB, order: [] }
  - { start: Bye, order: [g, h] }
  - { start: FX, order: [] }
`,
      'a b c d e f g h'.split(' '),
    );
    expect(shown(meet)).toEqual([
      ['VT: a b', 'bye: c d', 'UB: e f', 'BB:', 'bye: g h', 'FX:'],
      ['VT:', 'bye: b a', 'UB: c d', 'BB: f e', 'bye:', 'FX: g h'],
      ['VT: h g', 'bye:', 'UB: b a', 'BB: d c', 'bye: e f', 'FX:'],
      ['VT:', 'bye: g h', 'UB:', 'BB: a b', 'bye: c d', 'FX: e f'],
      ['VT: f e', 'bye:', 'UB: g h', 'BB:', 'bye: b a', 'FX: c d'],
      ['VT: d c', 'bye: e f', 'UB:', 'BB: h g', 'bye:', 'FX: b a'],
    ]);
    expect(meet.routines).toHaveLength(32);
    expect(up(meet).filter((r) => r.startsWith('2'))).toEqual([
      '2 c UB',
      '2 f BB',
      '2 g FX',
      '2 d UB',
      '2 e BB',
      '2 h FX',
    ]);
  });

  it('a bye names everyone in the group, also who competes nowhere', () => {
    const meet = meetOf(
      `groups:
  - { start: bye, order: [a, b] }
  - { start: VT, order: [] }
  - { start: UB, order: [] }
  - { start: BB, order: [] }
  - { start: FX, order: [] }
`,
      ['{ id: a, on: [VT] }', 'b'],
    );
    expect(shown(meet)[0]?.[0]).toBe('bye: a b');
    expect(meet.rotations).toHaveLength(5);
  });
});

describe('rotations written out', () => {
  it('are taken as they stand, the stations of one in Olympic order', () => {
    const meet = meetOf(
      `rotations:
  - { UB: [a, b] }
  - { FX: [c], BB: [b, a] }
  - {}
  - { UB: [c] }
`,
      ['a', 'b', 'c'],
    );
    expect(shown(meet)).toEqual([['UB: a b'], ['BB: b a', 'FX: c'], [], ['UB: c']]);
    expect(up(meet)).toEqual(['1 a UB', '1 b UB', '2 b BB', '2 c FX', '2 a BB', '4 c UB']);
    expect(meet.gymnasts.map((g) => g.on)).toEqual([
      ['UB', 'BB'],
      ['UB', 'BB'],
      ['UB', 'FX'],
    ]);
  });

  it('neither groups nor rotations: apparatus by apparatus, in list order', () => {
    const meet = meetOf('', ['b', '{ id: a, on: [UB, FX] }', 'c']);
    expect(shown(meet)).toEqual([['VT: b c'], ['UB: b a c'], ['BB: b c'], ['FX: b a c']]);
    expect(up(meet).slice(0, 5)).toEqual(['1 b VT', '1 c VT', '2 b UB', '2 a UB', '2 c UB']);
  });
});

describe('the second vault', () => {
  const vaults =
    'contests: [{ kind: apparatus, on: VT, vaults: 2 }, { kind: apparatus, on: UB }]\n';

  it('comes right after the first, at the same station', () => {
    const meet = meetOf(
      `${vaults}groups:
  - { start: VT, order: [a, b] }
  - { start: UB, order: [c] }
`,
      ['a', 'b', '{ id: c, on: [VT, UB] }'],
    );
    expect(shown(meet)).toEqual([
      ['VT: a b', 'UB: c'],
      ['VT: c', 'UB: b a'],
    ]);
    expect(up(meet)).toEqual([
      '1 a VT',
      '1 a VT2',
      '1 c UB',
      '1 b VT',
      '1 b VT2',
      '2 c VT',
      '2 b UB',
      '2 a UB',
    ]);
    expect(meet.gymnasts.map((g) => g.on)).toEqual([
      ['VT', 'VT2', 'UB'],
      ['VT', 'VT2', 'UB'],
      ['VT', 'UB'],
    ]);
  });

  it('is done by default only where every contest is an apparatus contest', () => {
    const all = meetOf('contests: [all-around, { kind: apparatus, on: VT, vaults: 2 }]\n', [
      'a',
      '{ id: b, on: [VT, VT2, UB, BB, FX] }',
    ]);
    expect(all.gymnasts.map((g) => g.on)).toEqual([
      ['VT', 'UB', 'BB', 'FX'],
      ['VT', 'VT2', 'UB', 'BB', 'FX'],
    ]);
    expect(up(all).slice(0, 3)).toEqual(['1 a VT', '1 b VT', '1 b VT2']);
    const only = meetOf('contests: [{ kind: apparatus, on: VT, vaults: 2 }]\n', ['a']);
    expect(up(only)).toEqual(['1 a VT', '1 a VT2']);
    const one = meetOf('contests: [{ kind: apparatus, on: VT }]\n', ['a']);
    expect(up(one)).toEqual(['1 a VT']);
  });

  it('follows from written-out rotations as well', () => {
    const meet = meetOf(`${vaults}rotations: [{ VT: [a, b] }, { UB: [b] }]\n`, ['a', 'b']);
    expect(up(meet)).toEqual(['1 a VT', '1 a VT2', '1 b VT', '1 b VT2', '2 b UB']);
  });

  it('of men stands where their vault stands', () => {
    const meet = meetFrom(
      'discipline: mag\nscoring: open\ncontests: [{ kind: apparatus, on: VT, vaults: 2 }, { kind: apparatus, on: PB }, { kind: apparatus, on: SR }]\ngymnasts: [{ id: a }]\n',
    );
    expect(meet.apparatus.map((a) => a.code)).toEqual(['SR', 'VT', 'VT2', 'PB']);
  });
});

describe('who is next up', () => {
  const groups = `groups:
  - { start: VT, order: [a, b] }
  - { start: UB, order: [c, d] }
`;

  function next(meet: Meet): string[] {
    return nextUp(meet).map((r) => `${r.gymnast} ${r.apparatus}`);
  }

  function waiting(meet: Meet): string[] {
    return awaited(meet).map((r) => `${r.gymnast} ${r.apparatus}`);
  }

  const text = `discipline: wag\nscoring: open\ngymnasts: [{ id: a }, { id: b }, { id: c }, { id: d }]\n${groups}`;

  it('is the first without a result at each station of the rotation in progress', () => {
    expect(next(meetFrom(text))).toEqual(['a VT', 'c UB']);
    expect(next(meetFrom(text, logFrom('a,VT,13.000')))).toEqual(['c UB', 'b VT']);
    expect(next(meetFrom(text, logFrom('a,VT,DNS', 'b,VT,DNF')))).toEqual(['c UB']);
    expect(next(meetFrom(text, logFrom('a,VT,13', 'b,VT,13', 'c,UB,13', 'd,UB,13')))).toEqual([
      'b UB',
      'd BB',
    ]);
  });

  it('is somebody on every apparatus of the next rotation once no more than one is to come on each', () => {
    expect(next(meetFrom(text, logFrom('a,VT,13', 'b,VT,13', 'c,UB,13')))).toEqual(['d UB']);
    const larger = `${text.replace('[c, d]', '[c, d, e]').replace('{ id: d }', '{ id: d }, { id: e }')}`;
    const log = ['a,VT,13', 'b,VT,13', 'c,UB,13'];
    // Two are to come on bars; then one, and d may go on to beam when she is through.
    expect(next(meetFrom(larger, logFrom(...log)))).toEqual(['d UB']);
    expect(next(meetFrom(larger, logFrom(...log, 'd,UB,13')))).toEqual(['e UB', 'd BB']);
  });

  it('follows who performs: who was passed over is awaited, and holds up nothing elsewhere', () => {
    const passed = meetFrom(text, logFrom('b,VT,13.000'));
    expect(next(passed)).toEqual(['c UB']);
    expect(waiting(passed)).toEqual(['a VT']);
    // A row of rotation 1 was forgotten; rotation 2 is under way.
    const forgotten = meetFrom(text, logFrom('a,VT,13', 'b,VT,13', 'c,UB,13', 'b,UB,13'));
    expect(next(forgotten)).toEqual(['d BB', 'a UB']);
    expect(waiting(forgotten)).toEqual(['d UB']);
    const taken = meetFrom(text, logFrom('a,VT,13', 'b,VT,13', 'c,UB,13', 'd,UB,13', 'a,VT,void'));
    expect(next(taken)).toEqual(['b UB', 'd BB']);
    expect(waiting(taken)).toEqual(['a VT']);
  });

  it('is nobody before an earlier routine of her own', () => {
    // On vault a is done, and b is up; c, who is behind her there, is first on bars in rotation 2.
    const meet = meetFrom(
      `discipline: wag\nscoring: open\ngymnasts: [{ id: a }, { id: b }, { id: c }]\nrotations: [{ VT: [a, b, c] }, { UB: [c, a, b] }]\n`,
      logFrom('a,VT,13', 'a,UB,13'),
    );
    expect(next(meet)).toEqual(['b VT']);
    expect(waiting(meet)).toEqual(['c UB']);
    const later = `${'discipline: wag\nscoring: open\ngymnasts: [{ id: a }, { id: b }, { id: c }]\n'}rotations: [{ VT: [a, b, c] }, { UB: [a, c, b] }]\n`;
    expect(next(meetFrom(later, logFrom('a,VT,13', 'a,UB,13')))).toEqual(['b VT']);
  });

  it('is the next one while a score is awaited', () => {
    const up = meetFrom(text, logFrom('a,VT,up'));
    expect(next(up)).toEqual(['c UB', 'b VT']);
    expect(waiting(up)).toEqual(['a VT']);
    expect(needs(up, 'a').apparatus).toBe('VT');
    const scored = meetFrom(text, logFrom('a,VT,up', 'a,VT,13'));
    expect(waiting(scored)).toEqual([]);
    // Who broke off has been up; who is withdrawn from several at once has not.
    expect(waiting(meetFrom(text, logFrom('b,VT,DNF')))).toEqual(['a VT']);
    expect(waiting(meetFrom(text, logFrom('b,VT,DNF', 'b,UB,DNF')))).toEqual([]);
    // A withdrawal told ahead of her turn moves nothing on.
    const ahead = meetFrom(text, logFrom('b,VT,DNS'));
    expect(next(ahead)).toEqual(['a VT', 'c UB']);
    expect(waiting(ahead)).toEqual([]);
  });

  it('is nobody at the end', () => {
    const rows = ['a', 'b', 'c', 'd'].flatMap((g) =>
      ['VT', 'UB', 'BB', 'FX'].map((code) => `${g},${code},13.000`),
    );
    expect(next(meetFrom(text, logFrom(...rows)))).toEqual([]);
  });

  it('waits for the second vault before the next first one', () => {
    const vaults = `discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: VT, vaults: 2 }]\ngymnasts: [{ id: a }, { id: b }]\n`;
    expect(next(meetFrom(vaults))).toEqual(['a VT']);
    expect(next(meetFrom(vaults, logFrom('a,VT,13.000')))).toEqual(['a VT2']);
    expect(next(meetFrom(vaults, logFrom('a,VT,13.000', 'a,VT2,13.000')))).toEqual(['b VT']);
    // A second vault that was forgotten does not blank the contest.
    const forgotten = meetFrom(vaults, logFrom('a,VT,13.000', 'b,VT,13.000'));
    expect([next(forgotten), waiting(forgotten)]).toEqual([['b VT2'], ['a VT2']]);
  });
});

/** A walk through the hall: each group stands somewhere, competes, turns, and moves on. */
function walk(
  stations: readonly string[],
  groups: readonly { start: string; order: readonly string[] }[],
  startOrder: 'rotate' | 'fixed',
  on: ReadonlyMap<string, ReadonlySet<string>>,
): string[][] {
  const byes = groups.some((g) => g.start === 'bye');
  const circle = byes ? groups.map((g) => g.start) : stations;
  const walkers = groups.map((g, i) => ({
    at: byes ? i : circle.indexOf(g.start),
    order: [...g.order],
  }));
  const rotations: string[][] = [];
  for (let turn = 0; turn < circle.length; turn++) {
    const rotation: string[] = [];
    for (const [place, station] of circle.entries()) {
      const here = walkers.find((w) => w.at === place);
      if (here === undefined) continue;
      const order =
        station === 'bye' ? here.order : here.order.filter((g) => on.get(g)?.has(station));
      rotation.push(`${station}: ${order.join(' ')}`.trim());
      const [first] = here.order;
      if (station !== 'bye' && startOrder === 'rotate' && first !== undefined) {
        here.order = [...here.order.slice(1), first];
      }
    }
    rotations.push(rotation);
    for (const w of walkers) w.at = (w.at + 1) % circle.length;
  }
  return rotations;
}

const CODES = { wag: ['VT', 'UB', 'BB', 'FX'], mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'] } as const;

const hall = fc
  .record({
    discipline: fc.constantFrom('wag' as const, 'mag' as const),
    startOrder: fc.constantFrom('rotate' as const, 'fixed' as const),
    size: fc.integer({ min: 1, max: 14 }),
    byes: fc.integer({ min: 0, max: 3 }),
    starts: fc.infiniteStream(fc.nat(1_000_000)),
    skips: fc.infiniteStream(fc.integer({ min: 0, max: 3 })),
  })
  .map(({ discipline, startOrder, size, byes, starts, skips }) => {
    const draw = (n: number) => (starts.next().value as number) % n;
    const stations = CODES[discipline];
    const shuffled = <T>(list: readonly T[]): T[] => {
      const rest = [...list];
      return list.map(() => rest.splice(draw(rest.length), 1)[0] as T);
    };
    const all: string[] = [...stations];
    const begun =
      byes > 0
        ? shuffled([...all, ...Array.from({ length: byes }, () => 'bye')])
        : shuffled(all).slice(0, 1 + draw(all.length));
    const ids = Array.from({ length: size }, (_, i) => `g${i}`);
    const orders = begun.map((): string[] => []);
    for (const id of shuffled(ids)) orders[draw(begun.length)]?.push(id);
    const on = new Map(
      ids.map((id) => [id, new Set(all.filter(() => (skips.next().value as number) > 0))] as const),
    );
    const groups = begun.map((start, i) => ({ start, order: orders[i] ?? [] }));
    return { discipline, startOrder, stations, ids, on, groups };
  });

it('any groups go as they would walk, and every routine goes up exactly once', () => {
  fc.assert(
    fc.property(hall, ({ discipline, startOrder, stations, ids, on, groups }) => {
      const listed = ids.map(
        (id) => `  - { id: ${id}, on: [${[...(on.get(id) ?? [])].join(', ')}] }`,
      );
      const written = groups.map(
        (g) => `  - { start: ${g.start}, order: [${g.order.join(', ')}] }`,
      );
      const meet = meetFrom(
        `discipline: ${discipline}\nscoring: open\nstartOrder: ${startOrder}\ngymnasts:\n${listed.join('\n')}\ngroups:\n${written.join('\n')}\n`,
      );
      const expected = walk(stations, groups, startOrder, on);
      expect(shown(meet)).toEqual(expected);

      // By rotation, then position in the order, then station.
      const order = expected.flatMap((rotation, r) => {
        const lists = rotation
          .filter((s) => !s.startsWith('bye'))
          .map((s) => ({ code: s.slice(0, 2), up: s.slice(4).split(' ').filter(Boolean) }));
        const longest = Math.max(0, ...lists.map((l) => l.up.length));
        return Array.from({ length: longest }, (_, position) =>
          lists.flatMap(({ code, up: names }) =>
            names[position] === undefined ? [] : [`${r + 1} ${names[position]} ${code}`],
          ),
        ).flat();
      });
      expect(up(meet)).toEqual(order);
      expect(meet.routines.map((r) => r.index)).toEqual(meet.routines.map((_, i) => i));
      const routines = new Set(meet.routines.map((r) => `${r.gymnast} ${r.apparatus}`));
      const all = ids.flatMap((id) => [...(on.get(id) ?? [])].map((code) => `${id} ${code}`));
      expect(routines).toEqual(new Set(all));
      expect(meet.routines).toHaveLength(all.length);
    }),
    { numRuns: times(150), seed: 20260519 },
  );
});
