/** A command that nobody knows: which one may have been meant. */
import type { Command } from 'commander';
import { distance } from 'fastest-levenshtein';
import { badUsage } from './context.js';

/** Refuses a word that is no command, and says which ones begin with it, or are nearest to it. */
export function suggestCommands(program: Command): void {
  program.on('command:*', ([word = '']: string[]) => {
    const known = program.createHelp().visibleCommands(program);
    const near = nearTo(
      word.toLowerCase(),
      known.map((command) => command.name()),
    );
    const mend =
      near.length === 0
        ? 'see: lastrotation help'
        : `did you mean ${near.map((name) => `\`${name}\``).join(' or ')}?`;
    throw badUsage(`unknown command '${word}'`, mend);
  });
}

/** The names that begin with a word; where none does, the nearest ones, unless half of its letters would have to change. */
function nearTo(word: string, names: readonly string[]): readonly string[] {
  const begun = names.filter((name) => word.length > 1 && name.startsWith(word));
  if (begun.length > 0) return begun;
  const far = names.map((name) => distance(word, name));
  const least = Math.min(...far);
  return least < word.length / 2 ? names.filter((_, i) => far[i] === least) : [];
}
