/** The compiled loops against the same in plain words, each on random lists. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
// @ts-expect-error: a build script without types
import { compileKernel } from '../../bin/build/compile-kernel.mjs';
import { FLOAT, type Kernel, takeKernel, withKernel } from '../../lib/kernel/kernel.js';

const ROOM = 1 << 20;

const chance = fc.oneof(
  { weight: 8, arbitrary: fc.double({ min: 0, max: 1, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1, 0.5) },
);
const list = (length: number) => fc.array(chance, { minLength: length, maxLength: length });
/** So many lists of one length. */
const lists = (count: number): fc.Arbitrary<number[][]> =>
  fc
    .integer({ min: 1, max: 33 })
    .chain((length) => fc.array(list(length), { minLength: count, maxLength: count }));

/** Puts lists into a kernel, works there, and gives all of them back. */
function within(
  arrays: readonly (readonly number[])[],
  work: (kernel: Kernel, at: readonly number[]) => number | undefined,
): { lists: number[][]; result: number | undefined } {
  return withKernel(ROOM, (kernel) => {
    const there = arrays.map((values) => {
      const array = kernel.floats(values.length);
      array.set(values);
      return array;
    });
    const result = work(
      kernel,
      there.map((array) => array.byteOffset),
    );
    return { lists: there.map((array) => [...array]), result };
  });
}

function near(found: readonly number[], expected: readonly number[]): void {
  expect(found).toHaveLength(expected.length);
  for (const [k, value] of expected.entries()) expect(found[k]).toBeCloseTo(value, 12);
}

/** The product of 1 - p + p x over all of them. */
function product(chances: readonly number[]): number[] {
  let all = [1];
  for (const p of chances) {
    const last = all;
    all = [...last, 0].map((_, k) => (last[k] ?? 0) * (1 - p) + (last[k - 1] ?? 0) * p);
  }
  return all;
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

describe('the kernel', () => {
  it('is what its sources compile to', async () => {
    expect(await compileKernel()).toBe(readFileSync('lib/kernel/code.ts', 'utf8'));
  });

  it('makes room for what it is asked for, and says so where it was asked for less', () => {
    for (const [numbers, kernel] of [
      [65536, takeKernel(65536 * FLOAT)],
      [2 ** 24, takeKernel(2 ** 24 * FLOAT)],
    ] as const) {
      expect(kernel.floats(numbers).every((x) => x === 0)).toBe(true);
      expect(() => kernel.floats(1)).toThrow(RangeError);
      kernel.end();
    }
  });

  it('gives room taken within other room back, also when the work fails', () => {
    withKernel(ROOM, (outer) => {
      const kept = outer.floats(2).fill(7);
      expect(() =>
        withKernel(ROOM, (inner) => {
          inner.floats(ROOM / FLOAT).fill(1);
          throw new Error('stopped');
        }),
      ).toThrow('stopped');
      const again = withKernel(ROOM, (inner) => inner.floats(3).every((x) => x === 0));
      expect([...kept, again]).toEqual([7, 7, true]);
    });
  });
});

describe('lists', () => {
  it('adds rows, each weighted, and touches nothing between them', () => {
    fc.assert(
      fc.property(lists(1), fc.integer({ min: 1, max: 4 }), chance, ([values], rows, weight) => {
        const source = new Array(rows).fill([...values!, 7]).flat();
        const target = source.map((_, k) => k);
        const length = values!.length;
        const { lists: found } = within([target, source], (kernel, [to, from]) => {
          kernel.loops.addRows(to!, length + 1, from!, length + 1, rows, length, weight);
          return undefined;
        });
        near(
          found[0]!,
          target.map((x, k) => (k % (length + 1) < length ? x + weight * source[k]! : x)),
        );
      }),
    );
  });

  it('adds up lists at every distance', () => {
    fc.assert(
      fc.property(lists(1), lists(1), ([a], [b]) => {
        const target = [...a!, ...b!.slice(1)].map((_, k) => k);
        const { lists: found } = within([target, a!, b!], (kernel, at) => {
          kernel.loops.convolve(at[0]!, at[1]!, a!.length, at[2]!, b!.length);
          return undefined;
        });
        const sums = [...target];
        for (const [i, x] of a!.entries()) for (const [k, y] of b!.entries()) sums[i + k]! += x * y;
        near(found[0]!, sums);
      }),
    );
  });

  it('multiplies one list by several', () => {
    fc.assert(
      fc.property(lists(4), ([own, ...others]) => {
        const { lists: found } = within([[0, 0, 0], own!, others.flat()], (kernel, at) => {
          kernel.loops.sumProducts(at[0]!, at[1]!, at[2]!, own!.length, 3, own!.length);
          return undefined;
        });
        near(
          found[0]!,
          others.map((other) => sum(other.map((x, k) => x * own![k]!))),
        );
      }),
    );
  });

  it('adds up what is before each number', () => {
    fc.assert(
      fc.property(lists(3), chance, fc.boolean(), ([own, together, squares], offset, added) => {
        const before = own!.map(() => 0);
        const { lists: found, result } = within([before, own!, together!, squares!], (kernel, at) =>
          kernel.loops.addUp(at[0]!, at[1]!, at[2]!, at[3]!, own!.length, offset, added ? 1 : 0),
        );
        near(
          found[0]!,
          own!.map((x, k) => offset + sum(own!.slice(0, k)) + x / 2),
        );
        near(
          found[2]!,
          together!.map((x, k) => (added ? x + own![k]! : x)),
        );
        near(
          found[3]!,
          squares!.map((x, k) => (added ? x + own![k]! ** 2 : x)),
        );
        expect(result).toBeCloseTo(offset + sum(own!), 12);
      }),
    );
  });

  it('tells what is shared, how far lists are apart, and the variance of a count', () => {
    fc.assert(
      fc.property(lists(3), fc.integer({ min: -1, max: 32 }), ([a, b, c], except) => {
        const of = (name: 'sumDistances' | 'leastVariance' | 'sumShared') =>
          within([a!, b!, c!], ({ loops }, [x, y, z]) => {
            if (name === 'sumShared') return loops.sumShared(x!, y!, z!, a!.length);
            if (name === 'sumDistances') return loops.sumDistances(x!, y!, a!.length, except);
            return loops.leastVariance(x!, a!.length, except);
          }).result;
        expect(of('sumShared')).toBeCloseTo(sum(a!.map((x, k) => x * (b![k]! - c![k]!))), 12);
        const but = <T>(values: readonly T[]) => values.filter((_, k) => k !== except);
        expect(of('sumDistances')).toBeCloseTo(
          sum(but(a!.map((x, k) => Math.abs(x - b![k]!)))),
          12,
        );
        const variances = but(a!)
          .map((p) => p * (1 - p))
          .sort((x, y) => x - y);
        expect(of('leastVariance')).toBeCloseTo(sum(variances.slice(0, -2)), 12);
      }),
    );
  });
});

describe('products', () => {
  it('multiplies all factors but one, those that are sure left out', () => {
    fc.assert(
      fc.property(lists(1), fc.integer({ min: -1, max: 32 }), ([chances], except) => {
        const room = [...chances!.map(() => 9), 9, 9];
        const { lists: found, result } = within([room, chances!], ({ loops }, [to, from]) =>
          loops.multiply(to!, from!, chances!.length, except),
        );
        const others = chances!.filter((_, k) => k !== except);
        const open = others.filter((p) => p > 0 && p < 1);
        expect(result! & 0xffff).toBe(open.length);
        expect(result! >> 16).toBe(others.filter((p) => p === 1).length);
        near(found[0]!.slice(0, open.length + 1), product(open));
      }),
    );
  });

  it('adds the places of one, the others raised by what they have ahead of her', () => {
    fc.assert(
      fc.property(lists(2), chance, ([before, besides], weight) => {
        const size = before!.length;
        const who = before!.map((_, k) => (k * 7 + 3) % size);
        fc.pre(new Set(who).size === size);
        const except = size >> 1;
        const row = new Array(size + 2).fill(0.25);
        const p = before!.map(() => 0);
        const [product_, result] = withKernel(ROOM, (kernel) => {
          const numbers = [row, p, before!, besides!].map((values) => {
            const array = kernel.floats(values.length + 2);
            array.set(values);
            return array;
          });
          const members = kernel.ints(size);
          members.set(who);
          const made = kernel.floats(size + 2);
          const [to, ahead, base, more] = numbers.map((n) => n.byteOffset);
          kernel.loops.raise(ahead!, base!, members.byteOffset, size, except, more!, weight);
          kernel.loops.place(to!, made.byteOffset, ahead!, size, who[except]!, 0.5);
          return [[...numbers[0]!], [...numbers[1]!]];
        });
        const raised = before!.map((_, j) => {
          const k = who.indexOf(j);
          return k === except ? 0 : Math.min(before![j]! + besides![k]! * weight, 1);
        });
        near(result!.slice(0, size), raised);
        const others = product(raised.filter((_, j) => j !== who[except]));
        near(
          product_!.slice(0, size),
          others.map((x) => 0.25 + 0.5 * x),
        );
      }),
    );
  });

  it('finds what one of them can change at most', () => {
    fc.assert(
      fc.property(lists(1), fc.integer({ min: 0, max: 32 }), ([chances], except) => {
        const size = chances!.length;
        const medals = 3;
        const others = chances!.map((p, k) => (k === except ? 0 : p));
        const sure = others.filter((p) => p === 1).length;
        const open = others.filter((p) => p > 0 && p < 1);
        const arrays = [
          new Array(size + 2).fill(0),
          new Array(size + 2).fill(0),
          product(open),
          others,
        ];
        const { lists: found, result } = within(arrays, ({ loops }, [to, quotient, all, p]) =>
          loops.findChanges(to!, quotient!, all!, p!, size, except, open.length, sure, medals),
        );
        const changes = new Array(size).fill(0);
        let medal = 0;
        for (const [j, p] of others.entries()) {
          if (j === except || p === 1) continue;
          // Of the count without that one: how it changes when it is ahead instead of behind.
          const rest = product(others.filter((_, k) => k !== except && k !== j));
          for (let k = 0; k < size; k++) {
            const change = Math.abs((rest[k] ?? 0) - (rest[k - 1] ?? 0));
            changes[k] = Math.max(changes[k], change);
          }
          medal = Math.max(medal, rest[medals - 1] ?? 0);
        }
        for (let k = 0; k < size; k++) expect(found[0]![k]).toBeCloseTo(changes[k], 8);
        expect(result).toBeCloseTo(medal, 8);
      }),
    );
  });
});

describe('columns', () => {
  it('are turned into rows of what each layer has more than the next', () => {
    const shape = fc.record({
      count: fc.integer({ min: 1, max: 5 }),
      planes: fc.integer({ min: 1, max: 3 }),
      height: fc.integer({ min: 1, max: 40 }),
      layers: fc.integer({ min: 1, max: 3 }),
      seed: fc.integer(),
    });
    fc.assert(
      fc.property(shape, ({ count, planes, height, layers, seed }) => {
        let state = seed;
        const random = () => {
          state = (Math.imul(state, 1103515245) + 12345) >>> 0;
          return state / 2 ** 32;
        };
        const size = planes * height;
        const from = Array.from({ length: count }, () => Math.floor(random() * height));
        const to = from.map((start) => start + Math.floor(random() * (height - start + 1)));
        const columns = new Array(layers * count * size).fill(0);
        for (let c = 0; c < count; c++) {
          for (let r = 0; r < size; r++) {
            const a = r % height;
            if (a < from[c]! || a >= to[c]! || random() < 0.3) continue;
            for (let layer = 0, here = random(); layer < layers; layer++, here *= random()) {
              columns[(layer * count + c) * size + r] = here;
            }
          }
        }
        withKernel(ROOM, (kernel) => {
          const there = kernel.floats(columns.length);
          there.set(columns);
          const ints = (values: readonly number[]) => {
            const array = kernel.ints(values.length);
            array.set(values);
            return array;
          };
          const [starts, stops] = [ints(from), ints(to)];
          const [firsts, ends, begins] = [0, 0, 0].map(() => kernel.ints(size));
          const rows = kernel.singles(layers * count * size);
          const of = [count, planes, height, starts.byteOffset, stops.byteOffset] as const;
          const { loops } = kernel;
          loops.findBands(there.byteOffset, ...of, firsts!.byteOffset, ends!.byteOffset);
          for (let r = 0; r < size; r++) begins![r] = r * count * layers;
          const rest = [firsts!, begins!, rows].map((array) => array.byteOffset);
          const [a, b, c] = rest as [number, number, number];
          loops.fillRows(there.byteOffset, layers, ...of, a, b, c);
          for (let r = 0; r < size; r++) {
            const has = Array.from({ length: count }, (_, k) => columns[k * size + r] !== 0);
            expect(ends![r]).toBe(has.lastIndexOf(true) + 1);
            if (!has.includes(true)) continue;
            expect(firsts![r]).toBe(has.indexOf(true));
            for (let k = firsts![r]!; k < ends![r]!; k++) {
              for (let layer = 0; layer < layers; layer++) {
                const here = columns[(layer * count + k) * size + r];
                const next = layer + 1 < layers ? columns[((layer + 1) * count + k) * size + r] : 0;
                const at = begins![r]! + layers * (k - firsts![r]!) + layer;
                expect(rows[at]).toBe(Math.fround(here - next));
              }
            }
          }
        });
      }),
    );
  });
});
