/**
 * A second program for chances, which shares no line with the library: distributions of single routines as
 * DESIGN words them (docs/model.md), totals by convolution, places by counting who is ahead. Scores are whole
 * thousandths.
 */

/** The four numbers of a range, and the D to be shown. */
export interface Four {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly falls: number;
  readonly d: number | null;
}

/** Chances of consecutive whole numbers, the first of them `from`. */
export interface Dense {
  readonly from: number;
  readonly p: Float64Array;
}

export const certain = (value: number): Dense => ({ from: value, p: Float64Array.of(1) });

/** Nodes and weights of Gauss and Legendre on [-1, 1], five of them (from memory). */
const GAUSS = [
  [0, 0.5688888888888889],
  [0.5384693101056831, 0.47862867049936647],
  [-0.5384693101056831, 0.47862867049936647],
  [0.906179845938664, 0.23692688505618908],
  [-0.906179845938664, 0.23692688505618908],
] as const;
const PANELS = 40;

/** The integral of a beta density without its constant. */
function betaMass(a: number, b: number, from: number, to: number): number {
  let sum = 0;
  const width = (to - from) / PANELS;
  for (let k = 0; k < PANELS; k++) {
    const middle = from + (k + 0.5) * width;
    for (const [node, weight] of GAUSS) {
      const x = middle + (node * width) / 2;
      sum += (weight * width * x ** (a - 1) * (1 - x) ** (b - 1)) / 2;
    }
  }
  return sum;
}

/** The average of three judges' tenths, cut: 0, 33, 66, 100, … thousandths. */
function gridIn(low: number, high: number): number[] {
  const points: number[] = [];
  for (let j = 0; Math.floor((j * 100) / 3) <= high; j++) {
    const point = Math.floor((j * 100) / 3);
    if (point >= low) points.push(point);
  }
  return points;
}

const FALL = 1000;

/** What one routine scores: modified PERT on the grid, and up to two falls. */
export function routineOf({ low, likely, high, falls }: Four): Dense {
  const points = low === high ? [] : gridIn(low, high);
  const clean: [number, number][] = [];
  if (points.length === 0) clean.push([likely, 1]);
  else {
    const a = 1 + (4 * (likely - low)) / (high - low);
    const b = 1 + (4 * (high - likely)) / (high - low);
    const cuts = points.map((p, i) => (i === 0 ? low : (points[i - 1]! + p) / 2));
    const masses = points.map((_, i) => {
      const [from, to] = [cuts[i]!, cuts[i + 1] ?? high].map((c) => (c - low) / (high - low));
      return betaMass(a, b, from!, to!);
    });
    const all = masses.reduce((x, y) => x + y, 0);
    for (const [i, point] of points.entries()) clean.push([point, masses[i]! / all]);
  }
  const chances = new Map<number, number>();
  for (const [n, chance] of [1 - falls, falls * (1 - falls), falls * falls].entries()) {
    for (const [score, p] of clean) {
      const fallen = Math.max(score - n * FALL, 0);
      chances.set(fallen, (chances.get(fallen) ?? 0) + p * chance);
    }
  }
  return dense(chances);
}

function dense(chances: ReadonlyMap<number, number>): Dense {
  const from = Math.min(...chances.keys());
  const p = new Float64Array(Math.max(...chances.keys()) - from + 1);
  for (const [value, chance] of chances) p[value - from] = chance;
  return { from, p };
}

export function plus(a: Dense, b: Dense): Dense {
  const p = new Float64Array(a.p.length + b.p.length - 1);
  for (let j = 0; j < b.p.length; j++) {
    const chance = b.p[j]!;
    if (chance === 0) continue;
    for (let i = 0; i < a.p.length; i++) p[i + j] = p[i + j]! + a.p[i]! * chance;
  }
  return { from: a.from + b.from, p };
}

/** The average of two vaults, cut. */
export function cutMean(a: Dense, b: Dense): Dense {
  const chances = new Map<number, number>();
  for (const [i, x] of a.p.entries()) {
    if (x === 0) continue;
    for (const [j, y] of b.p.entries()) {
      if (y === 0) continue;
      const mean = Math.floor((a.from + i + b.from + j) / 2);
      chances.set(mean, (chances.get(mean) ?? 0) + x * y);
    }
  }
  return dense(chances);
}

/** Chances of first place and of one of the first three, for each of some contenders. */
export interface Said {
  readonly win: number;
  readonly medal: number;
}

/**
 * From totals that do not depend on each other. `isAhead(j, i)`: whether j is ahead of i on equal totals; nobody
 * is where ties stand.
 */
export function saidOf(
  totals: readonly Dense[],
  isAhead: (j: number, i: number) => boolean = () => false,
): Said[] {
  const upTo = totals.map(({ p }) => {
    let sum = 0;
    return p.map((x) => {
      sum += x;
      return sum;
    });
  });
  const most = (j: number, value: number) => {
    const k = value - totals[j]!.from;
    return k < 0 ? 0 : Math.min(upTo[j]![Math.min(k, upTo[j]!.length - 1)]!, 1);
  };
  return totals.map(({ from, p }, i): Said => {
    let [win, medal] = [0, 0];
    for (const [k, chance] of p.entries()) {
      if (chance === 0) continue;
      const value = from + k;
      // How many are ahead: none, one, two.
      let [none, one, two] = [1, 0, 0];
      for (let j = 0; j < totals.length; j++) {
        if (j === i) continue;
        const ahead = 1 - most(j, isAhead(j, i) ? value - 1 : value);
        if (ahead === 0) continue;
        two = two * (1 - ahead) + one * ahead;
        one = one * (1 - ahead) + none * ahead;
        none *= 1 - ahead;
      }
      win += chance * none;
      medal += chance * (none + one + two);
    }
    return { win, medal };
  });
}

/** Random numbers from 0 to 1 ("mulberry32", from memory). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Draws from a distribution. */
export function drawFrom({ from, p }: Dense): (random: () => number) => number {
  const values: number[] = [];
  const limits: number[] = [];
  let sum = 0;
  for (const [k, chance] of p.entries()) {
    if (chance === 0) continue;
    values.push(from + k);
    sum += chance;
    limits.push(sum);
  }
  return (random) => {
    const u = random() * sum;
    let [low, high] = [0, limits.length - 1];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (limits[middle]! > u) high = middle;
      else low = middle + 1;
    }
    return values[low]!;
  };
}

/** What the rows of a log say so far: scores by gymnast and apparatus, and who is out. */
function soFar(log: string, row: number) {
  const scores = new Map<string, Map<string, number>>();
  const out = new Set<string>();
  for (const line of log
    .trim()
    .split('\n')
    .slice(1, row + 1)) {
    const [gymnast = '', apparatus = '', score = ''] = line.split(',');
    if (score === 'DNS' || score === 'DNF') out.add(gymnast);
    else {
      const hers = scores.get(gymnast) ?? new Map<string, number>();
      scores.set(gymnast, hers.set(apparatus, Math.round(Number(score) * 1000)));
    }
  }
  return { scores, out };
}

/** Below 0: the first of two sets of scores is ahead: more in all, or else more in the best of them. */
function compareSets(a: readonly number[], b: readonly number[]): number {
  const sum = (values: readonly number[]) => values.reduce((x, y) => x + y, 0);
  for (let best = a.length; best > 0; best--) {
    const difference = sum(b.slice(0, best)) - sum(a.slice(0, best));
    if (difference !== 0) return difference;
  }
  return 0;
}

/** How often everyone of a women's all-around is first, and among the first three, from a row of its log on. */
export function allAroundDrawn(given: {
  readonly log: string;
  readonly row: number;
  readonly ids: readonly string[];
  readonly ranges: ReadonlyMap<string, Four>;
  readonly draws: number;
  readonly seed: number;
}): Map<string, { win: number; medal: number }> {
  const { scores, out } = soFar(given.log, given.row);
  const random = randomFrom(given.seed);
  const counts = new Map(given.ids.map((id) => [id, { win: 0, medal: 0 }]));
  const field = given.ids
    .filter((id) => !out.has(id))
    .map((id) => ({
      of: counts.get(id)!,
      turns: ['VT', 'UB', 'BB', 'FX'].map((on) => {
        const score = scores.get(id)?.get(on);
        return score === undefined
          ? drawFrom(routineOf(given.ranges.get(`${id} ${on}`)!))
          : () => score;
      }),
    }));
  for (let draw = 0; draw < given.draws; draw++) {
    const sets = field.map(({ turns }) => turns.map((t) => t(random)).sort((a, b) => b - a));
    const order = sets.map((_, i) => i).sort((i, j) => compareSets(sets[i]!, sets[j]!));
    for (let k = 0; k < order.length; k++) {
      const isLevel = (p: number) => compareSets(sets[order[p]!]!, sets[order[k]!]!) === 0;
      let place = k;
      while (place > 0 && isLevel(place - 1)) place--;
      if (place > 2) break;
      const { of } = field[order[k]!]!;
      of.medal++;
      if (place === 0) of.win++;
    }
  }
  return counts;
}
