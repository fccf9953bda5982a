/** What every command shares: its options, its meet, and how it answers. */
import { type Command, Option } from 'commander';
import { type MeetFiles, readMeetFiles, soundMeet } from '../lib/files/index.js';
import {
  type AnswerName,
  type Answers,
  type Assumption,
  CAUTION,
  type Decimals,
  LastRotationError,
  type Meet,
  type NeedsOptions,
  parseScore,
  type Report,
  type Rivals,
  type Score,
  type Source,
  type When,
  written,
} from '../lib/index.js';
import { safe, safeJson, writeLine } from './terminal.js';

export interface MeetOptions {
  readonly meet: string;
  readonly contest?: string;
  readonly json?: boolean;
}

export function addMeetOptions(command: Command, { contest = true, json = true } = {}): Command {
  command.addOption(
    new Option('--meet <file>', 'the meet file').default('meet.yaml').env('LASTROTATION_MEET'),
  );
  if (contest) {
    command.option(
      '--contest <id>',
      'which contest: one of the meet, or an apparatus (default: the first)',
    );
  }
  return json ? command.option('--json', 'the same, for programs') : command;
}

/** The caution, at the end of the help of a command that prints chances. */
export function addCaution(command: Command): Command {
  return command.addHelpText('after', `\n${CAUTION}`);
}

/** The options that say which board a question is about, and what happens until then. */
export interface QuestionOptions extends MeetOptions {
  readonly when?: When;
  readonly rivals?: Rivals;
  readonly rest?: Assumption;
  readonly on?: string;
  readonly d?: string;
}

export function addQuestionOptions(command: Command): Command {
  const scores = ['low', 'likely', 'high', 'limit'];
  const choice = (flags: string, text: string, choices: readonly string[]) =>
    new Option(flags, text).choices(choices);
  return addMeetOptions(
    command
      .addOption(
        choice('--when <when>', 'on the board right after it, after the rotation, or at the end', [
          'now',
          'rotation',
          'end',
        ]),
      )
      .addOption(
        choice(
          '--rivals <how>',
          'how the others score in what they have to come: likely is as expected',
          ['as-is', ...scores],
        ),
      )
      .addOption(
        choice(
          '--rest <how>',
          'how she scores in her other routines (default: as expected)',
          scores,
        ),
      )
      .option('--on <apparatus>', 'on this apparatus, not in her next routine')
      .option('--d <score>', 'the D score of the routine she will do'),
  );
}

/** The same for the library. */
export function questionOf(
  meet: Meet,
  options: QuestionOptions,
): Pick<NeedsOptions, 'contest' | 'when' | 'rivals' | 'rest' | 'on' | 'd'> {
  const { contest, when, rivals, rest, on } = options;
  return { contest, when, rivals, rest, on, d: scoreOption(meet, '--d', options.d) };
}

/** The meet a question is about. */
export function meetOf(options: MeetOptions): Meet {
  return meetAndLogOf(options).meet;
}

/** The files of a meet as an answer is given from them. */
export interface FilesOfAnswer {
  readonly files: MeetFiles;
  /** Null, or since when these are the last that could be read. */
  readonly stale: string | null;
}

let filesAtHand = (): FilesOfAnswer | null => null;

/**
 * Where the files of a meet come from from now on: at the prompt, from the board that is open; while a
 * meet is served, from the one that is followed. Null: from the disk.
 */
export function answerFrom(other: () => FilesOfAnswer | null): void {
  filesAtHand = other;
}

function filesOf(meetPath: string): FilesOfAnswer {
  return filesAtHand() ?? { files: readMeetFiles(meetPath), stale: null };
}

export interface MeetAndLog extends Pick<FilesOfAnswer, 'stale'> {
  readonly meet: Meet;
  readonly log: Source | null;
  readonly sources: readonly string[];
}

/** With its log. A row that was lost half written is said with every answer. */
export function meetAndLogOf(options: MeetOptions): MeetAndLog {
  const { files, stale } = filesOf(options.meet);
  return { ...meetAndLogIn(files, options), stale };
}

/** The same of files that have been read. */
export function meetAndLogIn(files: MeetFiles, options: MeetOptions): Omit<MeetAndLog, 'stale'> {
  const meet = soundMeet(files);
  for (const { severity, code, file, line, message } of options.json ? [] : files.problems) {
    const isGone =
      severity === 'warning' && file === files.log?.file && code.startsWith('unknown-');
    if (code !== 'half-written' && !isGone) continue;
    const what = isGone ? 'this row does not count' : 'is its score on the board?';
    process.stderr.write(`${safe(`${file}:${line}: ${message}; ${what}`)}\n`);
  }
  return { meet, log: files.log, sources: files.sources };
}

/** Prints an answer: as JSON with so many decimals, or as a report. */
export async function answer<N extends AnswerName>(
  options: Pick<MeetOptions, 'json'>,
  name: N,
  decimals: Decimals,
  value: Answers[N],
  report: () => Report,
): Promise<void> {
  if (options.json) {
    writeLine(safeJson(written(name, value, decimals)));
    return;
  }
  const { printReport } = await import('./render/print.js');
  printReport(report());
}

/** A command that cannot be meant as it is written. */
export function badUsage(message: string, mend: string): LastRotationError {
  return new LastRotationError(message, { kind: 'usage', code: 'bad-usage', mend });
}

/** What is said in words or by an option: once, and not in both ways. */
export function oneOf<T>(name: string, word: T | null, option: T | undefined): T | undefined {
  if (word === null || option === undefined) return word ?? option;
  throw badUsage(`${word} and --${name} ${option} are two questions`, 'ask one at a time');
}

/** An option that would change nothing is refused, since whoever wrote it thinks that it does. */
export function refuseUnused(option: string, why: string, mend: string): never {
  throw badUsage(`${option} changes nothing here: ${why}`, mend);
}

/** `--rest` where no answer reaches beyond the board of now. */
export function refuseUnusedRest({ rest }: QuestionOptions, whens: readonly When[]): void {
  if (
    rest === undefined ||
    rest === 'likely' ||
    whens.length === 0 ||
    whens.some((when) => when !== 'now')
  )
    return;
  const why = 'the board of now completes nothing';
  refuseUnused('--rest', why, 'leave it out, or ask with --when end');
}

/** A score given as an option. */
export function scoreOption(meet: Meet, name: string, text: string | undefined): Score | null {
  if (text === undefined) return null;
  const parsed = parseScore(text, meet.scoring.decimals);
  if ('value' in parsed) return parsed.value;
  throw new LastRotationError(`${name}: ${parsed.wrong}`, {
    kind: 'usage',
    code: 'wrong-score',
    mend: parsed.mend,
  });
}

/** A whole number given as an option. Which it may be is for the library to say. */
export function wholeNumberOption(name: string, text: string, mend: string): number {
  if (/^-?\d+$/.test(text.trim())) return Number(text);
  throw new LastRotationError(`${name}: "${text}" is not a whole number`, {
    kind: 'usage',
    code: 'wrong-number',
    mend,
  });
}

/** A port given as an option. */
export function portOption(text: string): number {
  const mend = 'a port is a whole number from 0 to 65535, such as 8730';
  const port = wholeNumberOption('--port', text, mend);
  if (port >= 0 && port <= 65_535) return port;
  throw new LastRotationError(`--port: there is no port ${port}`, {
    kind: 'usage',
    code: 'wrong-number',
    mend,
  });
}

/** A seed given as an option. */
export function seedOption(text: string | undefined): number | null {
  if (text === undefined) return null;
  return wholeNumberOption('--seed', text, 'a seed is any whole number, such as 7');
}

/** A number given as an option; `50%` is 0.5. What it may be is for the library to say. */
export function numberOption(name: string, text: string | undefined): number | null {
  if (text === undefined) return null;
  const [, digits, percent] = /^(-?\d+(?:[.,]\d+)?)(\s*%)?$/.exec(text.trim()) ?? [];
  if (digits === undefined) {
    throw new LastRotationError(`${name}: "${text}" is not a number`, {
      kind: 'usage',
      code: 'wrong-number',
      mend: 'write it like 0.5',
    });
  }
  const value = Number(digits.replace(',', '.'));
  return percent === undefined ? value : value / 100;
}
