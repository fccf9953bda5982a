/** How sure a rate is, where what belongs together is drawn together. */
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** What one group, such as a meet, adds to a rate: the sum, and by how much it is divided. */
export interface Share {
  readonly sum: number;
  readonly of: number;
}

const DRAWS = 2000;
const TAIL = 0.025;

/** 95%, by drawing groups anew, as many as there are; the same for the same seed. Null of fewer than two. */
export function drawnAnew(
  groups: readonly Share[],
  seed: number,
): readonly [low: number, high: number] | null {
  if (groups.length < 2) return null;
  const random = xoroshiro128plus(seed);
  const rates = Float64Array.from({ length: DRAWS }, () => {
    let [sum, of] = [0, 0];
    for (let m = 0; m < groups.length; m++) {
      const drawn = groups[uniformInt(random, 0, groups.length - 1)];
      sum += drawn?.sum ?? 0;
      of += drawn?.of ?? 0;
    }
    return sum / of;
  }).sort();
  const at = (k: number) => rates[k] ?? 0;
  return [at(Math.floor(TAIL * DRAWS)), at(Math.ceil((1 - TAIL) * DRAWS) - 1)];
}

/** Sums by group, in the order in which the groups come first. */
export function sharesBy<T>(
  values: readonly T[],
  group: (value: T) => string,
  share: (value: T) => Share,
): Share[] {
  const groups = new Map<string, { sum: number; of: number }>();
  for (const value of values) {
    const key = group(value);
    const { sum, of } = share(value);
    const so = groups.get(key) ?? { sum: 0, of: 0 };
    groups.set(key, so);
    so.sum += sum;
    so.of += of;
  }
  return [...groups.values()];
}
