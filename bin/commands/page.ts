import type { Command } from 'commander';
import { fileNews, followMeet, keepFile, writeMadeFile } from '../../lib/files/index.js';
import {
  addCaution,
  addMeetOptions,
  type MeetAndLog,
  type MeetOptions,
  meetAndLogIn,
  meetAndLogOf,
} from '../context.js';
import { sayNews } from '../errors.js';
import { PAGE, pageAssets } from '../page-assets.js';
import { progressLine } from '../progress.js';
import { safe, safeJson, untilStopped, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly out?: string;
  readonly follow?: boolean;
}

export function addPage(program: Command): void {
  const command = program
    .command('page')
    .summary('something to look at: all of it in one HTML file')
    .description(
      'Writes one HTML file that opens in any browser, from a disk or a mail, and asks no network for anything: the board and what the next up need, to be read from a metre away; their routines as pictures; everyone’s chances; the story of the evening; scores to try out; and, printed, a sheet of paper for each rotation to come.',
    )
    .option('--out <file>', 'the file to write (default: the name of the meet file, with .html)')
    .option(
      '--follow',
      'write it again after every score, until stopped; an open page takes it over',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation page                             meet.html, beside meet.yaml
  lastrotation page --out desk.html --follow    leave it open in a browser all evening
  lastrotation page --contest team --out team.html`,
    );
  addMeetOptions(addCaution(command)).action(async (options: Options) => {
    const { pageMaker } = await import('../../lib/index.js');
    const path = pathOf(options);
    const progress = progressLine('rows of the log');
    const maker = pageMaker(pageAssets(), progress.show);
    const made: Making = (files, version) => {
      const { contest } = options;
      const follows = version === null ? null : 'file';
      const text = maker(files, { contest, follows, version: version ?? '', stale: files.stale });
      progress.clear();
      return text;
    };
    if (options.follow) {
      await followed(path, options, made);
      return;
    }
    const files = meetAndLogOf(options);
    const text = made(files, null);
    writeMadeFile(path, text, files.sources, PAGE);
    say(path, text, options);
  });
}

/** The page of some files; with a version that an open page can compare, where it is followed. */
type Making = (files: Pick<MeetAndLog, 'meet' | 'log' | 'stale'>, version: string | null) => string;

/**
 * Now, and again whenever a file changes. What cannot be read later leaves the page as it was, marked as
 * stale; what cannot be written is tried again. At the beginning both are errors.
 */
async function followed(path: string, options: Options, made: Making): Promise<void> {
  const json = options.json === true;
  let count = 0;
  const begun = Date.now().toString(36);
  const text = (files: MeetAndLog) => made(files, `${begun}.${count++}`);
  const following = followMeet(options.meet, {
    make: (files) => ({ ...meetAndLogIn(files, options), stale: null }),
  });
  let last = following.look();
  const first = text(last.value);
  writeMadeFile(path, first, last.value.sources, PAGE);
  say(path, first, options);
  const file = keepFile(path, (news) => sayNews(news, json), PAGE);
  const end = following.watch((now) => {
    for (const news of fileNews(last, now)) sayNews(news, json);
    const isOther = now.value !== last.value || now.stale !== last.stale;
    last = now;
    if (isOther) file.write(text({ ...now.value, stale: now.stale }), now.value.sources);
  });
  await untilStopped();
  end();
  file.close();
}

/** `meet.yaml` → `meet.html`, where no other file is named. */
function pathOf({ out, meet }: Options): string {
  return out ?? `${meet.replace(/\.(ya?ml|json)$/i, '')}.html`;
}

function say(path: string, text: string, { json }: Options): void {
  const bytes = Buffer.byteLength(text);
  if (json) writeLine(safeJson({ file: path, bytes }));
  else writeLine(safe(`${path}: ${Math.ceil(bytes / 1024)} KB; open it in a browser`));
}
