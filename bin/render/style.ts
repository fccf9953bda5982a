/** Tones as colours of a terminal. */
import type { reports } from '../../lib/index.js';
import { colour } from '../terminal.js';

export { colour };

const STYLES: Readonly<Record<reports.Tone, (text: string) => string>> = {
  strong: colour.bold,
  quiet: colour.dim,
  warning: colour.yellow,
  error: colour.red,
};

/** How a text of a tone is written; as it is where it has none. */
export function styleOf(tone: reports.Tone | null | undefined): (text: string) => string {
  return tone == null ? String : STYLES[tone];
}
