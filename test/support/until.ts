/** Waiting for what another process does. */

/** In milliseconds; only a process that hangs takes longer. */
const MOST_WAIT = 60_000;

/** Waits until something is the case; `what` is said where it never is. */
export async function until(holds: () => boolean, what: () => string): Promise<void> {
  for (const limit = Date.now() + MOST_WAIT; !holds(); ) {
    if (Date.now() > limit) throw new Error(`never came: ${what()}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}
