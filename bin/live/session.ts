/** An evening at one desk: lines in, answers out, everything through the log. */
import {
  advancing,
  brief,
  chances,
  isAboutAdvancing,
  LastRotationError,
  looksLikeScore,
  readMove,
  reports,
} from '../../lib/index.js';
import { sayError } from '../errors.js';
import { printReport } from '../render/print.js';
import { COLOUR_OPTIONS, colour, writeLine, writeWords } from '../terminal.js';
import {
  again,
  contestOf,
  type Desk,
  type Evening,
  maySafelyQuit,
  openDesk,
  sayWhatIsNew,
  score,
  undo,
} from './desk.js';
import { commandWords, FORMER_NAME, needWords, QUESTIONS } from './question.js';
import { troubleOf } from './trouble.js';

export interface SessionOptions extends Evening {
  readonly meetPath: string;
  /** Asks back; true for yes. */
  readonly confirm: (question: string) => Promise<boolean>;
  /** Answers a question put in the words of a command. */
  readonly answer: (words: readonly string[]) => Promise<void>;
}

export interface Session {
  /** Does what a line asks for; false when the evening is over. */
  readonly handle: (line: string) => Promise<boolean>;
  /** Says what another desk has written since this was last called, and what is wrong with the files. */
  readonly sayOthers: () => void;
}

const HELP = `A score:     ade 13.566 · ade floor 13.566 d5.6 nd0.1 # a note · ade all dns
A mistake:   undo · ade floor 13.666 · ade fx void
No score yet: ade up · an inquiry: ade fx inquiry, then ade fx 13.666 or confirmed
Who goes up: velde for ade (or: on beam) · ade after lund
Not recorded: again (tries again) · the log was changed by hand: accept
What she needs: ade · ade gold · ade floor top 8 · everyone: gold
A question:  standings · chances · story · outcomes ade · suppose ade fx 13.9 · claim ade
Who is next: next · who can still win: who · the end: quit
An apparatus goes by code or name; of two gymnasts with one name, whoever is next up is meant.`;

/** A desk, and what its questions take. */
interface Asking extends Pick<SessionOptions, 'meetPath' | 'answer'> {
  readonly desk: Desk;
  readonly trouble: ReturnType<typeof troubleOf>;
  /** The words of the question that was answered in brief, for the whole answer. */
  whole: readonly string[] | null;
}

export function openSession(options: SessionOptions): Session {
  const { meetPath, confirm, answer } = options;
  const desk = openDesk(options, confirm);
  const trouble = troubleOf(desk.board);
  const asking: Asking = { meetPath, answer, desk, trouble, whole: null };
  return {
    handle: async (line) => {
      try {
        return await answerTo(asking, line.trim());
      } catch (error) {
        sayError(error, false);
        return true;
      }
    },
    sayOthers: () => {
      trouble.sayNews();
      sayWhatIsNew(desk, desk.board.meet());
    },
  };
}

async function answerTo(asking: Asking, line: string): Promise<boolean> {
  const { desk } = asking;
  const [first = '', ...rest] = line.split(/\s+/);
  const word = first.toLowerCase();
  const more = asking.whole;
  asking.whole = null;
  if (word === '') {
    if (more !== null) await ask(asking, [...more]);
    return true;
  }
  if (/^(quit|exit|q)$/.test(word) && rest.length === 0) return !(await maySafelyQuit(desk));
  if (/^(help|\?)$/.test(word)) for (const help of HELP.split('\n')) writeWords(help);
  else if (word === 'next' && rest.length === 0) {
    await asking.trouble.sayStale();
    printReport(reports.nextUp(desk.board.meet(), contestOf(desk)));
  } else if (isWho(line)) {
    await asking.trouble.sayStale();
    const meet = desk.board.meet();
    printReport(
      isAboutAdvancing(meet, contestOf(desk))
        ? reports.edge(meet, advancing(meet, { contest: contestOf(desk) }))
        : reports.contention(meet, chances(meet, null, { contest: contestOf(desk) })),
    );
  } else if (word === 'undo' && rest.length === 0) await undo(desk);
  else if (word === 'again' && rest.length === 0) await again(desk);
  else if (word === 'accept' && rest.length === 0) asking.trouble.accept();
  else if (word === FORMER_NAME) await ask(asking, [FORMER_NAME]);
  else if (QUESTIONS.some((q) => q === word)) await question(asking, word, wordsOf(line).slice(1));
  else if (readMove(desk.board.meet(), line) !== null || looksLikeScore(line))
    await score(desk, line);
  else await needsOf(asking, needWords(desk.board.meet(), line, wordsOf(line), contestOf(desk)));
  return true;
}

/** A name, and an apparatus: in brief, and an empty line gives the rest. Any other words: all of it. */
async function needsOf(asking: Asking, args: readonly string[]): Promise<void> {
  const { desk } = asking;
  const [who = '', option, on = null, ...more] = args;
  const isBrief = who.startsWith('id:') && (option === undefined || option === '--on');
  if (!isBrief || more.length > 0) {
    await ask(asking, ['needs', ...args]);
    return;
  }
  const told = brief(desk.board.meet(), who, { contest: contestOf(desk), on });
  if (told === null) {
    await ask(asking, ['needs', ...args]);
    return;
  }
  await asking.trouble.sayStale();
  printReport(reports.brief(desk.board.meet(), told));
  const { she } = desk.board.meet().words;
  writeLine(colour.dim(`Enter: all ${she} ${she === 'they' ? 'need' : 'needs'}`));
  asking.whole = ['needs', ...args];
}

async function question(asking: Asking, command: string, words: readonly string[]): Promise<void> {
  const { desk } = asking;
  // All but `check`, which says what is wrong with them, need files that are there and sound.
  const isCheck = command === 'check';
  await ask(asking, [
    command,
    ...(isCheck ? words : commandWords(desk.board.meet(), command, words, contestOf(desk))),
  ]);
}

async function ask(asking: Asking, words: string[]): Promise<void> {
  const { desk } = asking;
  if (words.includes('--follow')) {
    throw new LastRotationError('--follow never ends, and would hold up this prompt', {
      kind: 'usage',
      code: 'bad-usage',
      mend: 'run it in a window of its own',
    });
  }
  const colours = words.find((word) => COLOUR_OPTIONS.some((flag) => flag === word));
  if (colours !== undefined) {
    throw new LastRotationError(`${colours} is for the whole evening`, {
      kind: 'usage',
      code: 'bad-usage',
      mend: `begin it so: lastrotation live ${colours}`,
    });
  }
  // `check` says what is wrong with the files; all else is answered as they last were sound.
  if (words[0] !== 'check') await asking.trouble.sayStale();
  const args = [...words, '--meet', asking.meetPath];
  const takesContest = words[0] !== 'check' && !words.includes('--contest');
  if (takesContest) args.push('--contest', contestOf(desk));
  await asking.answer(args);
}

/** "who", "who can still win", "who can still win a medal?", "who goes through?" */
function isWho(line: string): boolean {
  return /^who( can| is| goes)?( still)?( win| medal| go)?( a medal| through)?\??$/i.test(
    line.trim(),
  );
}

/** Splits a question as a shell would. */
function wordsOf(line: string): string[] {
  return [...line.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map((m) => m[1] ?? m[2] ?? m[3] ?? '');
}
