/** Columns of numbers turned into rows. */
import { at, greater, whole } from './memory';

/**
 * Columns of `size` numbers, `planes` lists of `height` each, as rows. A column has numbers other
 * than 0 only from `from` up to `to` of each of the lists. First: by row, which columns have one.
 */
export function findBands(
  columns: usize,
  count: i32,
  planes: i32,
  height: i32,
  from: usize,
  to: usize,
  firsts: usize,
  ends: usize,
): void {
  const size = planes * height;
  for (let c = 0; c < count; c++) {
    const start = load<i32>(whole(from, c));
    const stop = load<i32>(whole(to, c));
    for (let plane = 0; plane < planes; plane++) {
      for (let r = plane * height + start; r < plane * height + stop; r++) {
        if (load<f64>(at(columns, c * size + r)) === 0) continue;
        if (load<i32>(whole(ends, r)) === 0) store<i32>(whole(firsts, r), c);
        store<i32>(whole(ends, r), c + 1);
      }
    }
  }
}

/** So many rows are filled together, since their numbers lie near each other in the columns. */
const BLOCK: i32 = 16;

/**
 * Then: the rows, each from where it starts. There are `layers` of such columns, the numbers of each
 * no greater than those of the one before, and a row has what each has more than the next.
 */
export function fillRows(
  columns: usize,
  layers: i32,
  count: i32,
  planes: i32,
  height: i32,
  from: usize,
  to: usize,
  firsts: usize,
  starts: usize,
  rows: usize,
): void {
  const size = planes * height;
  for (let plane = 0; plane < planes; plane++) {
    for (let block = 0; block < height; block += BLOCK) {
      for (let c = 0; c < count; c++) {
        const start = max(block, load<i32>(whole(from, c))) + plane * height;
        const stop = min(block + BLOCK, load<i32>(whole(to, c))) + plane * height;
        for (let r = start; r < stop; r++) {
          let column = at(columns, c * size + r);
          let here = load<f64>(column);
          if (here === 0) continue;
          const first = load<i32>(whole(firsts, r));
          let row = whole(rows, load<i32>(whole(starts, r)) + layers * (c - first));
          for (let layer = 1; layer < layers; layer++) {
            column += (<usize>(count * size)) << 3;
            const next = load<f64>(column);
            store<f32>(row, <f32>greater(here - next, 0));
            row += 4;
            here = next;
          }
          store<f32>(row, <f32>here);
        }
      }
    }
  }
}
