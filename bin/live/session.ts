/** An evening at one desk: lines in, answers out, everything through the log. */
import type { LiveBoard } from '../../lib/files/index.js';
import {
  advancing,
  brief,
  chances,
  contestUnderWay,
  type History,
  isAboutAdvancing,
  LastRotationError,
  looksLikeScore,
  type Meet,
  pastBest,
  readMove,
  readTyped,
  record,
  reports,
  scoreInPlace,
  type ToRecord,
  typedAgain,
} from '../../lib/index.js';
import { sayError } from '../errors.js';
import { printReport } from '../render/print.js';
import { COLOUR_OPTIONS, colour, writeLine, writeWords } from '../terminal.js';
import { commandWords, FORMER_NAME, needWords, QUESTIONS } from './question.js';
import { sayUnrecorded, troubleOf, type Unrecorded } from './trouble.js';

/** What a desk, or a feed, works on all evening. */
export interface Evening {
  readonly contest: string | undefined;
  readonly board: LiveBoard;
  /** Past results, where they are named. */
  readonly history: History | null;
}

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

export function openSession({
  meetPath,
  contest,
  board,
  history,
  confirm,
  answer,
}: SessionOptions): Session {
  let known = board.meet();
  /** What this desk has recorded and not taken back, the last at the end, by the line it was typed in. */
  const own: { gymnast: string; apparatus: string; result: string; line: number }[] = [];
  let lines = 0;
  /** How to write again what the last line took back; null where it took nothing back. */
  let takenBack: string | null = null;
  /** The words of the question that was answered in brief, for the whole answer. */
  let whole: readonly string[] | null = null;
  const trouble = troubleOf(board);
  /** What was told and could not be written, in that order. */
  let unrecorded: readonly Unrecorded[] = [];

  return {
    handle: async (line) => {
      try {
        return await answerTo(line.trim());
      } catch (error) {
        sayError(error, false);
        return true;
      }
    },
    sayOthers: () => {
      trouble.sayNews();
      sayWhatIsNew(board.meet());
    },
  };

  async function answerTo(line: string): Promise<boolean> {
    const [first = '', ...rest] = line.split(/\s+/);
    const word = first.toLowerCase();
    const more = whole;
    whole = null;
    if (word === '') {
      if (more !== null) await ask([...more]);
      return true;
    }
    if (/^(quit|exit|q)$/.test(word) && rest.length === 0) return !(await maySafelyQuit());
    if (/^(help|\?)$/.test(word)) for (const help of HELP.split('\n')) writeWords(help);
    else if (word === 'next' && rest.length === 0) {
      await trouble.sayStale();
      printReport(reports.nextUp(board.meet(), contestId()));
    } else if (isWho(line)) {
      await trouble.sayStale();
      const meet = board.meet();
      printReport(
        isAboutAdvancing(meet, contestId())
          ? reports.edge(meet, advancing(meet, { contest: contestId() }))
          : reports.contention(meet, chances(meet, null, { contest: contestId() })),
      );
    } else if (word === 'undo' && rest.length === 0) await undo();
    else if (word === 'again' && rest.length === 0) await again();
    else if (word === 'accept' && rest.length === 0) trouble.accept();
    else if (word === FORMER_NAME) await ask([FORMER_NAME]);
    else if (QUESTIONS.some((q) => q === word)) await question(word, wordsOf(line).slice(1));
    else if (readMove(board.meet(), line) !== null || looksLikeScore(line)) await score(line);
    else await needsOf(needWords(board.meet(), line, wordsOf(line), contestId()));
    return true;
  }

  /** A name, and an apparatus: in brief, and an empty line gives the rest. Any other words: all of it. */
  async function needsOf(args: readonly string[]): Promise<void> {
    const [who = '', option, on = null, ...more] = args;
    const isBrief = who.startsWith('id:') && (option === undefined || option === '--on');
    if (!isBrief || more.length > 0) {
      await ask(['needs', ...args]);
      return;
    }
    const told = brief(board.meet(), who, { contest: contestId(), on });
    if (told === null) {
      await ask(['needs', ...args]);
      return;
    }
    await trouble.sayStale();
    printReport(reports.brief(board.meet(), told));
    const { she } = board.meet().words;
    writeLine(colour.dim(`Enter: all ${she} ${she === 'they' ? 'need' : 'needs'}`));
    whole = ['needs', ...args];
  }

  async function question(command: string, words: readonly string[]): Promise<void> {
    // All but `check`, which says what is wrong with them, need files that are there and sound.
    const isCheck = command === 'check';
    await ask([
      command,
      ...(isCheck ? words : commandWords(board.meet(), command, words, contestId())),
    ]);
  }

  function contestId(): string {
    return contest ?? contestUnderWay(board.meet());
  }

  async function ask(words: string[]): Promise<void> {
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
    if (words[0] !== 'check') await trouble.sayStale();
    const args = [...words, '--meet', meetPath];
    const takesContest = words[0] !== 'check' && !words.includes('--contest');
    if (takesContest) args.push('--contest', contestId());
    await answer(args);
  }

  async function score(line: string): Promise<void> {
    const meet = board.meet();
    const { told, question, instead } = readMove(meet, line) ?? readTyped(meet, line);
    // What the log refuses is not asked about first.
    record(meet, told, { contest });
    if (question !== null && !(await confirm(question))) {
      writeWords(['Nothing was recorded.', instead ?? ''].join(' ').trim());
      return;
    }
    const isWritten = await putAll([told]);
    if (isWritten && told.score === 'void') takenBack = typedAgain(meet, told);
  }

  /**
   * Whether all was written. What cannot be is not recorded, and said to be so; all of it can be tried
   * again.
   */
  async function putAll(all: readonly ToRecord[]): Promise<boolean> {
    for (const [i, told] of all.entries()) {
      try {
        await put(told);
      } catch (error) {
        if (!couldNotBeWritten(error)) throw error;
        sayError(error, false);
        const meet = board.meet();
        for (const left of all.slice(i)) {
          const stood = toldOf(meet, left.gymnast, left.apparatus);
          unrecorded = [...others(unrecorded, left), { told: left, stood }];
          sayUnrecorded(meet, left);
        }
        return false;
      }
      unrecorded = others(unrecorded, told);
    }
    return true;
  }

  async function again(): Promise<void> {
    if (unrecorded.length === 0) writeWords('Nothing is waiting to be recorded.');
    for (const one of unrecorded) {
      const { told, stood } = one;
      const meet = board.meet();
      const { name } = meet.gymnasts.find((g) => g.id === told.gymnast) ?? { name: told.gymnast };
      const question = `${name} has been given another result on ${told.apparatus} meanwhile. Record ${told.score} all the same?`;
      const isAsBefore = toldOf(meet, told.gymnast, told.apparatus) === stood;
      if (isAsBefore || (await confirm(question))) await putAll([told]);
      else unrecorded = others(unrecorded, told);
    }
  }

  async function maySafelyQuit(): Promise<boolean> {
    if (unrecorded.length === 0) return true;
    for (const { told } of unrecorded) sayUnrecorded(board.meet(), told);
    return confirm('Quit all the same?');
  }

  async function put(told: ToRecord): Promise<void> {
    takenBack = null;
    const { before, recorded, after } = await board.record(told, { contest });
    const meet = board.meet();
    const line = lines++;
    for (const row of recorded.rows) {
      const [gymnast, apparatus] = [row.gymnast ?? '', row.apparatus ?? ''];
      if (row.score !== 'void') {
        own.push({ gymnast, apparatus, result: toldOf(meet, gymnast, apparatus), line });
        continue;
      }
      const at = own.findLastIndex((o) => o.gymnast === gymnast && o.apparatus === apparatus);
      if (at >= 0) own.splice(at, 1);
    }
    // Another desk may have written while this one waited for the disk.
    sayWhatIsNew(meet, recorded.rows);
    const inPlace = scoreInPlace(before, after, recorded);
    const past = history && inPlace && pastBest(after, history, inPlace);
    printReport(reports.said(after, recorded, inPlace, past));
    printReport(reports.nextUp(meet, contestId(), before));
  }

  /**
   * Takes back what this desk's last line recorded; another desk's row, or one of before this desk was
   * opened, is asked back.
   */
  async function undo(): Promise<void> {
    const meet = board.meet();
    if (takenBack !== null) {
      writeWords(`The last line took a result back. To have it again, write: ${takenBack}`);
      return;
    }
    const stands = own.findLast((o) => toldOf(meet, o.gymnast, o.apparatus) !== 'null');
    const last = stands ?? board.lastRow();
    if (last === null) {
      writeWords('There is nothing to take back.');
      return;
    }
    const { gymnast, apparatus } = last;
    const isUntouched = (o: (typeof own)[number]) =>
      o.result === toldOf(meet, o.gymnast, o.apparatus);
    if (stands === undefined || !isUntouched(stands)) {
      const { name } = meet.gymnasts.find((g) => g.id === gymnast) ?? { name: gymnast };
      const where = meet.apparatus.find((a) => a.code === apparatus)?.name ?? apparatus;
      const question = `Take back ${name} on ${where}, which this desk did not record?`;
      if (!(await confirm(question))) return;
      await putAll([{ gymnast, apparatus, score: 'void' }]);
      return;
    }
    const together = own.filter((o) => o.line === stands.line && isUntouched(o));
    const all = together.reverse();
    await putAll(all.map(({ gymnast, apparatus }) => ({ gymnast, apparatus, score: 'void' })));
  }

  /** Says what changed since it was last said, but for the rows this desk has just written. */
  function sayWhatIsNew(
    now: Meet,
    mine: readonly { gymnast: string | null; apparatus: string | null }[] = [],
  ): void {
    if (haveSameRoutines(known, now)) printReport(reports.news(known, now, mine));
    else writeWords('The meet file has changed.', colour.bold);
    known = now;
  }
}

/** "who", "who can still win", "who can still win a medal?", "who goes through?" */
function isWho(line: string): boolean {
  return /^who( can| is| goes)?( still)?( win| medal| go)?( a medal| through)?\??$/i.test(
    line.trim(),
  );
}

/** Nothing is wrong with what was told, so that it can be tried again as it is. */
function couldNotBeWritten(error: unknown): boolean {
  return error instanceof LastRotationError && (error.kind === 'writing' || error.kind === 'file');
}

/** All but what was told of the same routine. */
function others(all: readonly Unrecorded[], { gymnast, apparatus }: ToRecord): Unrecorded[] {
  return all.filter(({ told }) => told.gymnast !== gymnast || told.apparatus !== apparatus);
}

function haveSameRoutines(a: Meet, b: Meet): boolean {
  const [was, is] = [a.planned.routines, b.planned.routines];
  if (was.length !== is.length) return false;
  return was.every(({ gymnast, apparatus }, i) => {
    const other = is[i];
    return gymnast === other?.gymnast && apparatus === other.apparatus;
  });
}

/** What the log says last of somebody on an apparatus, to compare. */
function toldOf(meet: Meet, gymnast: string, apparatus: string): string {
  const last = meet.told.findLast((t) => t.gymnast === gymnast && t.apparatus === apparatus);
  return JSON.stringify(last?.act ?? null);
}

/** Splits a question as a shell would. */
function wordsOf(line: string): string[] {
  return [...line.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map((m) => m[1] ?? m[2] ?? m[3] ?? '');
}
