/** Arrays are told by their address; their numbers have 64 bits, and whole numbers 32. */

/** The address of a number. */
export function at(array: usize, index: i32): usize {
  return array + ((<usize>index) << 3);
}

/** The address of a whole number. */
export function whole(array: usize, index: i32): usize {
  return array + ((<usize>index) << 2);
}
