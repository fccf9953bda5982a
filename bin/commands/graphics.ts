import { type Command, Option } from 'commander';
import {
  fileNews,
  followMeet,
  type KeptFile,
  keepFile,
  readTemplatesFile,
  writeMadeFile,
} from '../../lib/files/index.js';
import {
  atRow,
  changesBetween,
  type Decimals,
  type Graphics,
  type GraphicsChanges,
  graphics,
  graphicsAs,
  LINE_FORMATS,
  LINE_KINDS,
  type LineFormat,
  type LogPoint,
  type Meet,
  namedContender,
  SHIPPED_TEMPLATES,
  written,
} from '../../lib/index.js';
import {
  addCaution,
  addMeetOptions,
  badUsage,
  type MeetAndLog,
  meetAndLogIn,
  meetAndLogOf,
  scoreOption,
  wholeNumberOption,
} from '../context.js';
import { sayNews } from '../errors.js';
import { safe, untilStopped, writeLine } from '../terminal.js';
import { type GraphicsOptions as Options, refuseAside } from './graphics-options.js';

export function addGraphics(program: Command): void {
  const command = program
    .command('graphics')
    .argument('[who...]', 'only lines about these gymnasts or teams')
    .summary('lines for graphics and for the voice, ready before it happens')
    .description(
      'Lines to put on a screen or to read out, each with its facts as values: what the last score did and settled, where everyone stands, what the next two up on each apparatus need, a line for every score they can get with its chance, before the last rotation the medals in order, and at the end who won what. --contest all is every contest of the meet. What does not fit its length is shortened, never cut.',
    )
    .option('--kind <kinds...>', `only these: ${LINE_KINDS.join(', ')}`)
    .addOption(
      new Option(
        '--when <when>',
        'places of outcomes right after the routine, after its rotation, or at the end (default: now)',
      ).choices(['now', 'rotation', 'end']),
    )
    .option('--from <score>', 'no outcome that is all below this score')
    .option('--with-chance', 'only outcomes that have a chance by her range')
    .option('--templates <file>', 'templates of your own, before the shipped ones')
    .option('--shipped', 'print the shipped templates, to begin your own from')
    .addOption(
      new Option('--format <format>', 'how lines are written (default: text)').choices(
        LINE_FORMATS,
      ),
    )
    .option('--out <file>', 'replace this file, whole and at once; with --contest all one each')
    .option('--since <rows>', 'with --json, only what changed since the log had so many rows')
    .option(
      '--follow',
      'do it again after every score, until stopped; what cannot be read leaves the last lines',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation graphics                          everything there is to say now
  lastrotation graphics brondt --kind outcome    a line for every score she can get
  lastrotation graphics --kind medals            the medals in order, likeliest first
  lastrotation graphics --contest all --json --out lines.json --follow
  lastrotation graphics --json --follow          what each score adds, changes and withdraws
  lastrotation graphics --shipped > lines.yaml   then edit, and --templates lines.yaml`,
    );
  addMeetOptions(addCaution(command)).action(async (who: string[], options: Options) => {
    refuseAside(who, options);
    if (options.shipped) {
      writeLine(SHIPPED_TEMPLATES.trimEnd());
      return;
    }
    if (options.since !== undefined) tellSince(who, options);
    else if (options.follow) await followed(who, options);
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
      throw badUsage(
        'there is no command `captions` any more',
        'it is called graphics: lastrotation graphics',
      );
    });
}

/** Lines of one contest or of all, and all it takes to write them. */
interface Told extends Omit<MeetAndLog, 'log'> {
  readonly answers: readonly Graphics[];
}

function toldFrom(files: MeetAndLog, who: readonly string[], options: Options): Told {
  const { meet, log, stale, sources } = files;
  const also = [...sources, ...alsoOf(options)];
  return { meet, stale, sources: also, answers: answersAt(atRow(meet, log), who, options, stale) };
}

function answersAt(
  { meet, before, rows, at }: LogPoint,
  who: readonly string[],
  options: Options,
  stale: string | null,
): Graphics[] {
  const { kind, when, withChance } = options;
  const templates = options.templates === undefined ? null : readTemplatesFile(options.templates);
  const from = scoreOption(meet, '--from', options.from);
  const asked = { kinds: kind ?? null, templates, before, when, from, withChance, rows, at };
  return contestsWith(meet, who, options).map(({ contest, named }) => ({
    ...graphics(meet, { ...asked, contest, who: named }),
    stale,
  }));
}

/** The contests that are asked for, and who is named in each: of all, those in which they are. */
function contestsWith(meet: Meet, who: readonly string[], options: Options) {
  const named = (contest: string | undefined) => ({
    contest,
    named: who.map((name) => namedContender(meet, name, { contest })),
  });
  if (!isOfAll(meet, options)) return [named(options.contest)];
  let wrong: unknown = null;
  const found = meet.contests.flatMap(({ id }) => {
    try {
      return [named(id)];
    } catch (error) {
      wrong ??= error;
      return [];
    }
  });
  if (found.length === 0) throw wrong;
  return found;
}

function isOfAll({ contests }: Meet, { contest }: Options): boolean {
  return contest === 'all' && !contests.some(({ id }) => id === 'all');
}

/** What the lines are made from beside the files of the meet. */
function alsoOf({ templates }: Options): string[] {
  return templates === undefined ? [] : [templates];
}

function formatOf(options: Options): LineFormat {
  return options.json ? 'json' : (options.format ?? 'text');
}

/** What is written where: on standard output, under no name, or into a file, of all contests one each. */
function textsOf({ meet, answers }: Told, options: Options): [path: string | null, text: string][] {
  const text = (some: readonly Graphics[]) =>
    graphicsAs(some, formatOf(options), meet.scoring.decimals);
  const { out } = options;
  if (out === undefined) return [[null, text(answers)]];
  if (!isOfAll(meet, options)) return [[out, text(answers)]];
  return answers.map((answer) => [pathFor(out, answer.contest), text([answer])]);
}

/** `lines.json` → `lines.UB.json` */
function pathFor(out: string, contest: string): string {
  const [, name = out, ending = ''] = /^(.*[^/\\])(\.[^./\\]*)$/s.exec(out) ?? [];
  return `${name}.${contest.replace(/[/\\:]/g, '-')}${ending}`;
}

/** On standard output, or whole and at once into files. */
function tell(told: Told, options: Options): void {
  for (const [path, text] of textsOf(told, options)) {
    if (path === null) print(text);
    else writeMadeFile(path, text, told.sources);
  }
  sayBeside(told, options);
}

function print(text: string): void {
  for (const line of text.split('\n').slice(0, -1)) writeLine(safe(line));
}

/** What changed since the log had so many rows. */
function tellSince(who: readonly string[], options: Options): void {
  if (formatOf(options) !== 'json') throw badUsage('--since is for programs', 'add --json');
  if (options.follow) {
    throw badUsage('--follow tells what changes by itself', 'leave --since out');
  }
  const files = meetAndLogOf(options);
  const rows = wholeNumberOption('--since', options.since ?? '', 'rows of the log, such as 12');
  const was = answersAt(atRow(files.meet, files.log, rows), who, options, null);
  const told = toldFrom(files, who, options);
  const changes = told.answers.map((answer) =>
    changesBetween(was.find((a) => a.contest === answer.contest) ?? null, answer),
  );
  const { meet } = files;
  const text = (some: readonly GraphicsChanges[]) => changesAsJson(some, meet.scoring.decimals);
  const { out } = options;
  if (out === undefined) print(text(changes));
  else if (!isOfAll(meet, options)) writeMadeFile(out, text(changes), told.sources);
  else {
    for (const one of changes) writeMadeFile(pathFor(out, one.contest), text([one]), told.sources);
  }
}

function changesAsJson(changes: readonly GraphicsChanges[], decimals: Decimals): string {
  return changes
    .map((c) => `${JSON.stringify(written('graphicsChanges', c, decimals))}\n`)
    .join('');
}

/** What is said beside the lines, to whoever reads no JSON. */
function sayBeside({ answers }: Told, options: Options): void {
  if (options.json) return;
  for (const answer of answers) sayUnfit(answer);
  if (answers.every(({ lines }) => lines.length === 0)) {
    process.stderr.write('nothing to say of that now\n');
  }
}

/** What nothing fits for is said, so that nobody misses the line on air. */
function sayUnfit({ lines }: Graphics): void {
  for (const { kind, about, apparatus, limit } of lines.filter((c) => c.text === null)) {
    const name = about[0]?.name ?? '';
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
  let told = last.value;
  const isFeed = formatOf(options) === 'json' && options.out === undefined;
  if (isFeed) printChanges(null, told);
  else tell(told, options);
  const files = new Map<string, KeptFile>();
  const fileAt = (path: string) => {
    const file = files.get(path) ?? keepFile(path, (news) => sayNews(news, json));
    files.set(path, file);
    return file;
  };
  const end = following.watch((now) => {
    for (const news of fileNews(last, now)) sayNews(news, json);
    const [isNew, isOther] = [now.value !== last.value, now.stale !== last.stale];
    last = now;
    if (!isNew && !isOther) return;
    const before = told;
    told = countedOn(before, { ...now.value, stale: now.stale });
    if (isFeed) printChanges(before, told);
    else {
      for (const [path, text] of textsOf(told, options)) {
        if (path === null) print(text);
        else fileAt(path).write(text, told.sources);
      }
    }
    if (isNew) sayBeside(told, options);
  });
  await untilStopped();
  end();
  for (const file of files.values()) file.close();
}

/** With sequence numbers that grow where the lines have changed. */
function countedOn(before: Told, now: Told): Told {
  const answers = now.answers.map((answer): Graphics => {
    const was = lastOf(before, answer);
    const sequence = was === null ? 1 : was.sequence + (isSame(was, answer) ? 0 : 1);
    return { ...answer, sequence, stale: now.stale };
  });
  return { ...now, answers };
}

function lastOf(before: Told | null, { contest }: Graphics): Graphics | null {
  return before?.answers.find((a) => a.contest === contest) ?? null;
}

function isSame(a: Graphics, b: Graphics): boolean {
  return JSON.stringify(a.lines) === JSON.stringify(b.lines);
}

/** A line for every contest of which something changed. */
function printChanges(before: Told | null, now: Told): void {
  const changed = now.answers.filter((answer) => {
    const was = lastOf(before, answer);
    return was === null || was.sequence !== answer.sequence || was.stale !== answer.stale;
  });
  const changes = changed.map((answer) => changesBetween(lastOf(before, answer), answer));
  print(changesAsJson(changes, now.meet.scoring.decimals));
}
