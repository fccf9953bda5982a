/** The command: what its words ask for is found, done, and said. */
import { sayError } from './errors.js';
import { makeProgram } from './program.js';
import { endUnwritten } from './start/output.js';

process.stdout.on('error', endUnwritten);

async function main(): Promise<void> {
  try {
    const program = makeProgram();
    if (process.argv.length <= 2) program.outputHelp();
    else await program.parseAsync();
  } catch (error) {
    process.exitCode = sayError(error, process.argv.includes('--json'));
  }
}

void main();
