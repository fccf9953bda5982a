/** What Tab may complete: commands and options, and whoever and whatever the meet at hand has. */
import type { Complete, Command as Completed } from '@bomb.sh/tab';
import tab from '@bomb.sh/tab/commander';
import { Command, type Option } from 'commander';
import { writeLine } from '../terminal.js';
import { atHand, FILES, type Offers, offersFor, offersOf } from './offers.js';

/** The command that prints a script, and the one that the script asks. */
const OWN = ['completion', 'complete'] as const;

/** Prints what the words of a line, the last of them unfinished, may go on with; nothing goes wrong aloud. */
export function complete(program: Command, words: readonly string[]): void {
  const root = tab(withoutOwn(program), { completionCommandName: OWN[0] });
  // Into what follows `--contest=` the word goes without it.
  const word = (words.at(-1) ?? '').replace(/^--[a-z-]+=/, '');
  const handlerOf =
    (offers: Offers): Handler =>
    (put) => {
      if (offers === FILES) throw FILES_ASKED;
      for (const [value, about] of offersFor(offers, atHand(words), word)) put(value, about);
    };
  for (const command of program.commands) {
    const completed = root.commands.get(command.name());
    if (completed !== undefined) fill(completed, command, program.options, handlerOf);
  }
  try {
    root.parse([...words]);
  } catch (error) {
    if (error !== FILES_ASKED) throw error;
    writeLine(':0');
  }
}

type Handler = (put: Complete) => void;

/** Thrown before anything is printed: files are for the shell to complete. */
const FILES_ASKED = new Error('files');

/** A program without the commands of completion, which its library adds itself. */
function withoutOwn({ commands, options }: Command): Command {
  const bare = new Command('lastrotation');
  for (const option of options) bare.addOption(option);
  for (const command of commands) {
    // In one line, as the list of all commands has it.
    if (command.summary() !== '') command.description(command.summary());
    const isHidden = !bare
      .createHelp()
      .visibleCommands(command.parent ?? bare)
      .includes(command);
    if (!OWN.some((name) => name === command.name()))
      bare.addCommand(command, { hidden: isHidden });
  }
  return bare;
}

/** Says for each value of a command what it may be, where its options do not say so themselves. */
function fill(
  completed: Completed,
  command: Command,
  ofAll: readonly Option[],
  handlerOf: (offers: Offers) => Handler,
): void {
  for (const option of command.options) {
    const found = completed.options.get(option.name());
    const offers = offersOf(command.name(), option.flags);
    if (found !== undefined && offers !== null) found.handler = handlerOf(offers);
  }
  for (const { long, description } of ofAll) {
    if (long != null && long !== '--version') completed.option(long.slice(2), description);
  }
  for (const argument of command.registeredArguments) {
    const found = completed.arguments.get(argument.name());
    const offers = offersOf(command.name(), argument.name());
    if (found !== undefined && offers !== null) found.handler = handlerOf(offers);
  }
}
