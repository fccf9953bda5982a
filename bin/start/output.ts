/** What happens where what the command says finds no reader, or no room. */

/** Ends the command: a reader that closes the pipe early, such as `head`, is no error. */
export function endUnwritten({ code }: NodeJS.ErrnoException): void {
  if (code === 'EPIPE') process.exit(0);
  process.stderr.write(`lastrotation: the answer could not be written (${code})\n`);
  process.exit(3);
}
