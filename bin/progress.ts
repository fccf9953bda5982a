/** A line on a terminal that says how far a long answer is. */

/** Nothing is said of what takes less than this, in milliseconds. */
const PATIENCE = 1000;
/** Nor more often than this. */
const PAUSE = 200;

/** `what`: what is counted. */
export function progressLine(what: string): {
  readonly show: (done: number, of: number | null) => void;
  readonly clear: () => void;
} {
  const begun = Date.now();
  let last = 0;
  return {
    show: (done, of) => {
      const now = Date.now();
      if (!process.stderr.isTTY || now - begun < PATIENCE || now - last < PAUSE) return;
      last = now;
      const share = of === null ? '' : ` of ${of}`;
      process.stderr.write(`\r\u001b[K${done}${share} ${what} …`);
    },
    clear: () => {
      if (last > 0) process.stderr.write('\r\u001b[K');
    },
  };
}
