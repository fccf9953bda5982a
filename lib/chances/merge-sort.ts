/** Sorting by numbers first, and only where they are equal by a comparison that costs more. */

let otherKeys = new Float64Array(1024);
let otherOrder = new Int32Array(1024);

/** Sorts by key, and where keys are equal by a comparison. */
export function mergeSort(
  order: Int32Array,
  from: number,
  n: number,
  keys: Float64Array,
  compare: (r: number, s: number) => number,
): void {
  if (otherKeys.length < n) {
    otherKeys = new Float64Array(n);
    otherOrder = new Int32Array(n);
  }
  const RUN = 8;
  for (let start = 0; start < n; start += RUN) {
    const end = Math.min(start + RUN, n);
    for (let k = start + 1; k < end; k++) {
      const key = keys[k]!;
      const r = order[from + k]!;
      let at = k;
      while (at > start) {
        const before = keys[at - 1]!;
        if (before < key || (before === key && compare(order[from + at - 1]!, r) <= 0)) break;
        keys[at] = before;
        order[from + at] = order[from + at - 1]!;
        at--;
      }
      keys[at] = key;
      order[from + at] = r;
    }
  }
  for (let width = RUN; width < n; width *= 2) {
    for (let start = 0; start + width < n; start += 2 * width) {
      const middle = start + width;
      const end = Math.min(middle + width, n);
      let [a, b, at] = [start, middle, start];
      while (a < middle && b < end) {
        const x = keys[a]!;
        const y = keys[b]!;
        if (x < y || (x === y && compare(order[from + a]!, order[from + b]!) <= 0)) {
          otherKeys[at] = x;
          otherOrder[at++] = order[from + a++]!;
        } else {
          otherKeys[at] = y;
          otherOrder[at++] = order[from + b++]!;
        }
      }
      while (a < middle) {
        otherKeys[at] = keys[a]!;
        otherOrder[at++] = order[from + a++]!;
      }
      while (b < end) {
        otherKeys[at] = keys[b]!;
        otherOrder[at++] = order[from + b++]!;
      }
      for (let k = start; k < end; k++) {
        keys[k] = otherKeys[k]!;
        order[from + k] = otherOrder[k]!;
      }
    }
  }
}
