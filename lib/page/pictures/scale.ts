/** Where a value lies in a picture. */
export type Scale = (value: number) => number;

/** Evenly from one end to the other; a scale of one value puts it in the middle. */
export function linear(
  [low, high]: readonly [number, number],
  [from, to]: readonly [number, number],
): Scale {
  if (high === low) return () => (from + to) / 2;
  return (value) => from + ((value - low) / (high - low)) * (to - from);
}
