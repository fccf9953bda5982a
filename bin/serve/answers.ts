/** The answers by name: a command is run as it is on the command line, and what it prints is kept. */
import { AsyncLocalStorage } from 'node:async_hooks';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { type Command, CommanderError } from 'commander';
import { LastRotationError, type Wrong } from '../../lib/index.js';
import { answerFrom, badUsage, type FilesOfAnswer } from '../context.js';
import { errorAsJson } from '../errors.js';
import { COLOUR_OPTIONS, printTo, STANDARD_OUTPUT, safeJson } from '../terminal.js';

/** What may be asked of one command: options that name files or take as long as one likes stay at home. */
interface Question {
  readonly keys: readonly string[];
  /** The key whose values are words of the command, and what parts the words of one value. */
  readonly words?: readonly [key: string, separator: string];
}

const QUESTION_KEYS = ['contest', 'when', 'rivals', 'rest', 'on', 'd'];

/** What is answered, by the name of the command; another one is one line here. */
export const QUESTIONS: Readonly<Record<string, Question>> = {
  check: { keys: [] },
  standings: { keys: ['contest', 'after', 'session'] },
  needs: { keys: [...QUESTION_KEYS, 'for', 'margin', 'chance', 'why', 'safe'] },
  outcomes: { keys: QUESTION_KEYS },
  chances: { keys: ['contest', 'through', 'day-form', 'seed'] },
  suppose: { keys: ['contest'], words: ['score', ':'] },
  graphics: { keys: ['contest', 'kind', 'when', 'from', 'with-chance', 'since'] },
  story: { keys: ['contest'] },
  claim: {
    keys: ['contest', 'to', 'phrase', 'scale', 'behind', 'remaining', 'discipline', 'scoring'],
  },
};

export interface Answer {
  readonly status: Status;
  readonly type: string;
  readonly body: string;
}

export type Status = 200 | 400 | 404 | 409 | 500 | 503;

export interface Asked {
  readonly name: string;
  /** What follows the name in the path. */
  readonly who: string | null;
  readonly query: URLSearchParams;
}

export interface Answering {
  /** Makes the command anew for every question. */
  readonly makeProgram: () => Command;
  readonly meetPath: string;
  /** The contest that is meant where none is named. */
  readonly contest: string | undefined;
  /** What answers are given from now; another `state` makes them other answers. */
  readonly now: () => { readonly state: string; readonly files: FilesOfAnswer };
}

/** So many questions may wait; more are told to come again. */
const MOST_WAITING = 200;

/** Answers are kept up to this size, in characters, as long as nothing changes. */
const MOST_KEPT = 32 * 1024 * 1024;

/**
 * Answers each question once for as long as nothing changes, and one after another, so that between two of
 * them whatever else there is to do has its turn.
 */
export function answering(options: Answering): (asked: Asked) => Promise<Answer> {
  let state = '';
  let kept = new Map<string, Promise<Answer>>();
  let size = 0;
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = (asked: Asked): Promise<Answer> => {
    if (waiting >= MOST_WAITING) return Promise.resolve(errorAnswer(BUSY));
    waiting += 1;
    const answer = last.then(() => nextTurn()).then(() => answerTo(asked, options));
    last = answer.finally(() => {
      waiting -= 1;
    });
    return answer;
  };
  return (asked) => {
    // The only one that looks at the files themselves, sound or not.
    if (asked.name === 'check') return inTurn(asked);
    const now = options.now();
    if (now.state !== state) {
      [state, kept, size] = [now.state, new Map(), 0];
    }
    const key = JSON.stringify([asked.name, asked.who, ...asked.query]);
    const known = kept.get(key);
    if (known !== undefined) return known;
    const answer = inTurn(asked);
    const within = kept;
    kept.set(key, answer);
    void answer.then(({ status, body }) => {
      // What goes wrong is cheap to find again, and there is no end to what may be asked wrongly.
      if (status !== 200) within.delete(key);
      else if (within === kept) size += body.length;
      if (size > MOST_KEPT) [kept, size] = [new Map(), 0];
    });
    return answer;
  };
}

const BUSY = new LastRotationError('too much is being asked at once', {
  kind: 'question',
  code: 'busy',
  mend: 'ask again in a second',
});

async function answerTo(asked: Asked, options: Answering): Promise<Answer> {
  const { makeProgram, now } = options;
  try {
    const program = makeProgram();
    const words = wordsOf(asked, options, program);
    const { files } = now();
    const run: Run = { files: asked.name === 'check' ? null : files, text: '' };
    await running.run(run, () => program.parseAsync(words, { from: 'user' }));
    const isOne = run.text.indexOf('\n') === run.text.length - 1;
    return { status: 200, type: isOne ? JSON_TYPE : LINES_TYPE, body: run.text };
  } catch (error) {
    return errorAnswer(error);
  }
}

export const JSON_TYPE = 'application/json; charset=utf-8';
/** Several contests at once are an answer a line. */
const LINES_TYPE = 'application/x-ndjson; charset=utf-8';

/** A command that runs for a question: what it answers from, and what it has printed. */
interface Run {
  readonly files: FilesOfAnswer | null;
  text: string;
}

const running = new AsyncLocalStorage<Run>();

// Whatever a question calls knows by this which question it is called for.
answerFrom(() => running.getStore()?.files ?? null);
printTo(() => {
  const run = running.getStore();
  if (run === undefined) return STANDARD_OUTPUT;
  return {
    write: (text) => {
      run.text += text;
    },
    endWith: () => undefined,
  };
});

/** The words of the command line that ask the same. */
function wordsOf({ name, who, query }: Asked, options: Answering, program: Command): string[] {
  const question = Object.hasOwn(QUESTIONS, name) ? QUESTIONS[name] : undefined;
  const command = program.commands.find((c) => c.name() === name);
  if (question === undefined || command === undefined) throw unknownPath(`/${name}`);
  const words = who === null ? [] : [who];
  const given: string[] = [];
  const [wordsKey, separator = ''] = question.words ?? [];
  for (const [key, value] of query) {
    if (key === wordsKey) words.push(...value.split(separator));
    else given.push(optionOf(command, question, key, value));
  }
  const repeated = given.find((option, i) => isAgain(command, given.slice(0, i), option));
  if (repeated !== undefined) throw badUsage(`${keyOf(repeated)} is given twice`, 'give it once');
  const { meetPath, contest } = options;
  const isOpen = question.keys.includes('contest') && !query.has('contest');
  const usual = contest !== undefined && isOpen ? [`--contest=${contest}`] : [];
  return [name, `--meet=${meetPath}`, '--json', ...usual, ...given, '--', ...words];
}

/** Options of every command that are about a terminal. */
const AT_HOME: readonly string[] = ['--help', '--version', ...COLOUR_OPTIONS];

/** `for=medal` → `--for=medal`. What the command does not know it refuses itself. */
function optionOf(command: Command, { keys }: Question, key: string, value: string): string {
  const flag = `--${key}`;
  const option = command.options.find((o) => o.long === flag);
  if (!/^[a-z][a-z-]*$/.test(key)) {
    throw badUsage(`there is no option "${key}"`, `see: lastrotation ${command.name()} --help`);
  }
  if (keys.includes(key) && option !== undefined) {
    const isBare = option.isBoolean() || (option.optional && value === '');
    if (isBare && value === '') return flag;
    if (!option.isBoolean()) return `${flag}=${value}`;
    throw badUsage(`${flag} takes no value`, `write it as ?${key}`);
  }
  if (option === undefined && !AT_HOME.includes(flag)) return flag;
  throw badUsage(`${flag} is not for questions over HTTP`, `ask on the command line: ${flag}`);
}

function isAgain(command: Command, before: readonly string[], option: string): boolean {
  const flag = keyOf(option);
  const isVariadic = command.options.some((o) => o.long === flag && o.variadic);
  return !isVariadic && before.some((other) => keyOf(other) === flag);
}

function keyOf(option: string): string {
  return option.replace(/=.*$/s, '');
}

/** Of a path that leads nowhere. */
export function unknownPath(path: string): LastRotationError {
  return new LastRotationError(`there is nothing at ${path}`, {
    kind: 'question',
    code: 'unknown-path',
    mend: `ask one of: /, /events, ${Object.keys(QUESTIONS)
      .map((name) => `/${name}`)
      .join(', ')}`,
  });
}

/** What went wrong, as the command says it, with the status that fits. */
export function errorAnswer(error: unknown): Answer {
  const isKnown = error instanceof LastRotationError || error instanceof CommanderError;
  if (!isKnown) process.stderr.write(`${safeJson({ error: errorAsJson(error) })}\n`);
  const said = isKnown ? errorAsJson(error) : INTERNAL;
  return {
    status: statusOf(error),
    type: JSON_TYPE,
    body: `${safeJson({ error: said })}\n`,
  };
}

/** What it was is said on the terminal of the server: it may speak of the machine. */
const INTERNAL: Wrong = {
  code: 'internal',
  message: 'something went wrong inside',
  file: null,
  line: null,
  mend: 'please report it',
};

/** What a meet may not have: not found, whatever the way it was asked for. */
const NOT_FOUND = /^unknown-(path|gymnast|team|contest|rotation|session|apparatus)$/;

function statusOf(error: unknown): Status {
  if (error instanceof CommanderError) return 400;
  if (!(error instanceof LastRotationError)) return 500;
  if (error.code === 'busy' || error.kind === 'file') return 503;
  if (NOT_FOUND.test(error.code)) return 404;
  // There is no answer as things stand; later there may be one.
  if (error.kind === 'question') return 409;
  return error.kind === 'usage' ? 400 : 500;
}
