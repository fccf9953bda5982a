import { Argument, type Command } from 'commander';

const SHELLS = ['bash', 'zsh', 'fish'] as const;

/** `makeProgram` makes the command anew, to see what there is to complete. */
export function addCompletion(program: Command, makeProgram: () => Command): void {
  program
    .command('completion')
    .addArgument(new Argument('<shell>', 'for which shell').choices(SHELLS))
    .summary('Tab in your shell: commands, options, gymnasts, apparatus')
    .description(
      'Prints a script for your shell. With it Tab completes commands and options, and the gymnasts, apparatus and contests of the meet at hand: that of --meet, of LASTROTATION_MEET, or meet.yaml here.',
    )
    .addHelpText(
      'after',
      `
Examples:
  eval "$(lastrotation completion bash)"        in ~/.bashrc
  eval "$(lastrotation completion zsh)"         in ~/.zshrc, after compinit
  lastrotation completion fish > ~/.config/fish/completions/lastrotation.fish`,
    )
    .action(async (shell: (typeof SHELLS)[number]) => {
      const { printScript } = await import('../completion/script.js');
      printScript(shell);
    });
  // What the script asks; the words so far stand behind `--`.
  program
    .command('complete', { hidden: true })
    .argument('[words...]')
    .action(async (words: string[]) => {
      const { complete } = await import('../completion/complete.js');
      complete(makeProgram(), words);
    });
}
