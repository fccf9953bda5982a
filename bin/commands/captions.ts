import { type Command, Option } from 'commander';
import { follow, logPathOf, readTemplatesFile, writeCaptionsFile } from '../../lib/files/index.js';
import {
  beforeLastEntry,
  CAPTION_FORMATS,
  CAPTION_KINDS,
  type CaptionFormat,
  type Captions,
  captions,
  captionsAs,
  type Meet,
  namedContender,
  SHIPPED_TEMPLATES,
} from '../../lib/index.js';
import { addCaution, addMeetOptions, type MeetOptions, meetAndLogOf } from '../context.js';
import { sayError } from '../errors.js';
import { safe, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly kind?: string[];
  readonly templates?: string;
  readonly shipped?: boolean;
  readonly format?: CaptionFormat;
  readonly out?: string;
  readonly follow?: boolean;
}

export function addCaptions(program: Command): void {
  const command = program
    .command('captions')
    .argument('[who...]', 'only lines about these gymnasts or teams')
    .summary('lines for graphics and for the voice, ready before it happens')
    .description(
      'Lines to put on a screen or to read out: what the last score did, what is settled, where everyone stands, what the next up need, a line for every score they can get with its chance, and before the last rotation the medals in order. What does not fit its length is shortened, never cut.',
    )
    .option('--kind <kinds...>', `only these: ${CAPTION_KINDS.join(', ')}`)
    .option('--templates <file>', 'templates of your own, before the shipped ones')
    .option('--shipped', 'print the shipped templates, to begin your own from')
    .addOption(
      new Option('--format <format>', 'how lines are written (default: text)').choices(
        CAPTION_FORMATS,
      ),
    )
    .option('--out <file>', 'replace this file, whole and at once')
    .option('--follow', 'do it again after every score, until stopped')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation captions                          everything there is to say now
  lastrotation captions brandt --kind outcome    a line for every score she can get
  lastrotation captions --kind medals            the medals in order, likeliest first
  lastrotation captions --format csv --out captions.csv --follow
  lastrotation captions --shipped > lines.yaml   then edit, and --templates lines.yaml`,
    );
  addMeetOptions(addCaution(command)).action(async (who: string[], options: Options) => {
    if (options.shipped) {
      writeLine(SHIPPED_TEMPLATES.trimEnd());
      return;
    }
    if (options.follow) await followed(who, options);
    else tell(who, options);
  });
}

/** The files an answer is made from. */
function sourcesOf({ meet, templates }: Options): string[] {
  return [meet, logPathOf(meet), ...(templates === undefined ? [] : [templates])];
}

function tell(who: readonly string[], options: Options): void {
  const { contest, kind, out } = options;
  const { meet, log } = meetAndLogOf(options);
  const templates = options.templates === undefined ? null : readTemplatesFile(options.templates);
  const before = log === null ? null : beforeLastEntry(meet, log);
  const named = who.map((name) => namedContender(meet, name, { contest }));
  const answer = captions(meet, { contest, kinds: kind ?? null, who: named, templates, before });
  const format = options.json ? 'json' : (options.format ?? 'text');
  const text = captionsAs(answer, format, meet.scoring.decimals);
  if (out === undefined) for (const line of text.split('\n').slice(0, -1)) writeLine(safe(line));
  else writeCaptionsFile(out, text, sourcesOf(options));
  if (options.json) return;
  sayUnfit(meet, answer);
  if (answer.captions.length === 0) process.stderr.write('nothing to say of that now\n');
}

/** What nothing fits for is said, so that nobody misses the line on air. */
function sayUnfit(meet: Meet, { captions: all }: Captions): void {
  for (const { kind, about, apparatus, limit } of all.filter((c) => c.text === null)) {
    const name = meet.gymnasts.find((g) => g.id === about[0])?.name ?? about.join(', ');
    const where = apparatus === null ? '' : ` on ${apparatus}`;
    const text = `no ${kind} line for ${name}${where}: longer than ${limit}, however shortened`;
    process.stderr.write(`${safe(text)}\n`);
  }
}

/**
 * Now, and again whenever a file changes. A file that cannot be read for a while costs only that
 * while; at the beginning it is an error.
 */
function followed(who: readonly string[], options: Options): Promise<void> {
  return new Promise((done, failed) => {
    // Looked at before they are read, so that nothing is missed in between.
    const end = follow(sourcesOf(options), () => {
      try {
        tell(who, options);
      } catch (error) {
        sayError(error, options.json === true);
      }
    });
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      process.once(signal, () => {
        end();
        done();
      });
    }
    try {
      tell(who, options);
    } catch (error) {
      end();
      failed(error);
    }
  });
}
