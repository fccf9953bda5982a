#!/usr/bin/env node
import { sayError } from './errors.js';
import { makeProgram } from './program.js';

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // A reader that closes the pipe early, such as `head`, is no error.
  if (error.code === 'EPIPE') process.exit(0);
  process.stderr.write(`lastrotation: the answer could not be written (${error.code})\n`);
  process.exit(3);
});

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
