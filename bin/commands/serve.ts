import type { Command } from 'commander';
import { LastRotationError } from '../../lib/index.js';
import { addCaution, addMeetOptions, type MeetOptions, portOption } from '../context.js';
import { sayNews } from '../errors.js';
import { progressLine } from '../progress.js';
import { safe, untilStopped, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly port: string;
  readonly host?: string;
  readonly origin?: string;
}

/** `makeProgram` makes the command anew, for every question that is asked. */
export function addServe(program: Command, makeProgram: () => Command): void {
  const command = program
    .command('serve')
    .summary('the page and every answer over HTTP, for this machine')
    .description(
      'The page in a browser, always up to date, and every answer as --json prints it: /needs/NAME?for=medal, /standings, /chances and the others by the names of their commands. /events tells of every score as it comes. Nothing can be changed over it. Only this machine can ask, unless --host names an address; then whoever asks needs the key that is printed.',
    )
    .option('--port <number>', 'where it listens; 0: wherever there is room', '8730')
    .option('--host <address>', 'let other machines ask, with a key: an address of this machine')
    .option('--origin <address>', 'let a page of your own read, such as http://localhost:3000')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation serve                            then open the address it prints
  lastrotation serve --port 0 --meet final.yaml
  lastrotation serve --host 192.168.1.20        for the others on this network
  curl http://127.0.0.1:8730/needs/adeyemi?for=medal
  curl -N http://127.0.0.1:8730/events          a line for every score`,
    );
  addMeetOptions(addCaution(command), { json: false }).action(async (options: Options) => {
    const { serveMeet } = await import('../serve/server.js');
    const { meet, contest, host, origin } = options;
    if (host !== undefined && host.trim() === '') {
      throw new LastRotationError('--host: no address is named', {
        kind: 'usage',
        code: 'wrong-option',
        mend: 'name one of this machine, or leave it out for this machine only',
      });
    }
    const port = portOption(options.port);
    const progress = progressLine('rows of the log');
    const serving = await serveMeet({
      meetPath: meet,
      contest,
      port,
      host,
      origin,
      makeProgram,
      onNews: (news) => sayNews(news, false),
      onRows: (done, of) => (done < of ? progress.show(done, of) : progress.clear()),
    });
    writeLine(safe(`Open ${serving.address} in a browser. Ctrl-C ends it.`));
    await untilStopped();
    await serving.close();
    // Nobody waits any more for what is still being worked out.
    process.exit(0);
  });
}
