/** The error that something is refused with; anything else that is thrown goes on. */
import { LastRotationError } from '../../lib/index.js';

export function refusal(what: () => unknown): LastRotationError {
  try {
    what();
  } catch (error) {
    if (error instanceof LastRotationError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}
