/** Arrays are told by their address; their numbers have 64 bits, and whole numbers 32. */

/** The greater of two numbers; the instruction for it also minds what is no number, and is slow. */
export function greater(a: f64, b: f64): f64 {
  return a > b ? a : b;
}

export function less(a: f64, b: f64): f64 {
  return a < b ? a : b;
}

/** The address of a number. */
export function at(array: usize, index: i32): usize {
  return array + ((<usize>index) << 3);
}

/** The address of a whole number. */
export function whole(array: usize, index: i32): usize {
  return array + ((<usize>index) << 2);
}
