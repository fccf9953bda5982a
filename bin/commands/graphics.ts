import { type Command, Option } from 'commander';
import {
  fileNews,
  followMeet,
  keepFile,
  readTemplatesFile,
  writeLinesFile,
} from '../../lib/files/index.js';
import {
  beforeLastEntry,
  type Graphics,
  graphics,
  graphicsAs,
  LastRotationError,
  LINE_FORMATS,
  LINE_KINDS,
  type LineFormat,
  type Meet,
  namedContender,
  SHIPPED_TEMPLATES,
} from '../../lib/index.js';
import {
  addCaution,
  addMeetOptions,
  type MeetAndLog,
  type MeetOptions,
  meetAndLogIn,
  meetAndLogOf,
} from '../context.js';
import { sayNews } from '../errors.js';
import { safe, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly kind?: string[];
  readonly templates?: string;
  readonly shipped?: boolean;
  readonly format?: LineFormat;
  readonly out?: string;
  readonly follow?: boolean;
}

export function addGraphics(program: Command): void {
  const command = program
    .command('graphics')
    .argument('[who...]', 'only lines about these gymnasts or teams')
    .summary('lines for graphics and for the voice, ready before it happens')
    .description(
      'Lines to put on a screen or to read out: what the last score did, what is settled, where everyone stands, what the next up need, a line for every score they can get with its chance, and before the last rotation the medals in order. What does not fit its length is shortened, never cut.',
    )
    .option('--kind <kinds...>', `only these: ${LINE_KINDS.join(', ')}`)
    .option('--templates <file>', 'templates of your own, before the shipped ones')
    .option('--shipped', 'print the shipped templates, to begin your own from')
    .addOption(
      new Option('--format <format>', 'how lines are written (default: text)').choices(
        LINE_FORMATS,
      ),
    )
    .option('--out <file>', 'replace this file, whole and at once')
    .option(
      '--follow',
      'do it again after every score, until stopped; what cannot be read leaves the last lines',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation graphics                          everything there is to say now
  lastrotation graphics brandt --kind outcome    a line for every score she can get
  lastrotation graphics --kind medals            the medals in order, likeliest first
  lastrotation graphics --format csv --out lines.csv --follow
  lastrotation graphics --shipped > lines.yaml   then edit, and --templates lines.yaml`,
    );
  addMeetOptions(addCaution(command)).action(async (who: string[], options: Options) => {
    if (options.shipped) {
      writeLine(SHIPPED_TEMPLATES.trimEnd());
      return;
    }
    if (options.follow) await followed(who, options);
    else tell(toldFrom(meetAndLogOf(options), who, options), options);
  });
}

/** The command under its former name says what it is called now. */
export function addFormerName(program: Command): void {
  program
    .command('captions', { hidden: true })
    .argument('[words...]')
    .allowUnknownOption()
    .action(() => {
      throw new LastRotationError('there is no command `captions` any more', {
        kind: 'usage',
        code: 'bad-usage',
        mend: 'it is called graphics: lastrotation graphics',
      });
    });
}

/** Lines, and all it takes to write them. */
interface Told extends Omit<MeetAndLog, 'log'> {
  readonly answer: Graphics;
}

function toldFrom(files: MeetAndLog, who: readonly string[], options: Options): Told {
  const { contest, kind } = options;
  const { meet, log, stale, sources } = files;
  const templates = options.templates === undefined ? null : readTemplatesFile(options.templates);
  const before = log === null ? null : beforeLastEntry(meet, log);
  const named = who.map((name) => namedContender(meet, name, { contest }));
  const answer = graphics(meet, { contest, kinds: kind ?? null, who: named, templates, before });
  return { meet, stale, sources: [...sources, ...alsoOf(options)], answer };
}

/** What the lines are made from beside the files of the meet. */
function alsoOf({ templates }: Options): string[] {
  return templates === undefined ? [] : [templates];
}

function textOf({ meet, answer, stale }: Told, options: Options): string {
  const format = options.json ? 'json' : (options.format ?? 'text');
  return graphicsAs({ ...answer, stale }, format, meet.scoring.decimals);
}

/** On standard output, or whole and at once into the file. */
function tell(told: Told, options: Options): void {
  const text = textOf(told, options);
  if (options.out === undefined) print(text);
  else writeLinesFile(options.out, text, told.sources);
  sayBeside(told, options);
}

function print(text: string): void {
  for (const line of text.split('\n').slice(0, -1)) writeLine(safe(line));
}

/** What is said beside the lines, to whoever reads no JSON. */
function sayBeside({ meet, answer }: Told, options: Options): void {
  if (options.json) return;
  sayUnfit(meet, answer);
  if (answer.lines.length === 0) process.stderr.write('nothing to say of that now\n');
}

/** What nothing fits for is said, so that nobody misses the line on air. */
function sayUnfit(meet: Meet, { lines: all }: Graphics): void {
  for (const { kind, about, apparatus, limit } of all.filter((c) => c.text === null)) {
    const name = meet.gymnasts.find((g) => g.id === about[0])?.name ?? about.join(', ');
    const where = apparatus === null ? '' : ` on ${apparatus}`;
    const text = `no ${kind} line for ${name}${where}: longer than ${limit}, however shortened`;
    process.stderr.write(`${safe(text)}\n`);
  }
}

/**
 * Now, and again whenever a file changes. What cannot be read later, or has lost rows, leaves the last good
 * lines, marked as stale; what cannot be written is tried again. At the beginning both are errors.
 */
async function followed(who: readonly string[], options: Options): Promise<void> {
  const json = options.json === true;
  const following = followMeet(options.meet, {
    also: alsoOf(options),
    make: (files) => toldFrom({ ...meetAndLogIn(files, options), stale: null }, who, options),
  });
  let last = following.look();
  tell(last.value, options);
  const file =
    options.out === undefined ? null : keepFile(options.out, (news) => sayNews(news, json));
  const end = following.watch((now) => {
    for (const news of fileNews(last, now)) sayNews(news, json);
    const [isNew, isOther] = [now.value !== last.value, now.stale !== last.stale];
    last = now;
    if (!isNew && !isOther) return;
    const text = textOf({ ...now.value, stale: now.stale }, options);
    if (file === null) print(text);
    else file.write(text, now.value.sources);
    if (isNew) sayBeside(now.value, options);
  });
  await new Promise<void>((done) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => done());
  });
  end();
  file?.close();
}
