/** The prompt on a terminal. */
import { createInterface } from 'node:readline';
import { CAUTION, contestUnderWay, type Meet, reports } from '../../lib/index.js';
import { printReport } from '../render/print.js';
import { colour, safe, terminalWidth, wrap, writeLine, writeWords } from '../terminal.js';
import type { Evening } from './desk.js';
import { QUESTIONS } from './question.js';
import { openSession, type SessionOptions } from './session.js';

const WORDS = [...QUESTIONS, 'next', 'undo', 'again', 'accept', 'help', 'quit'];
const TARGETS = ['gold', 'silver', 'bronze', 'medal', 'win', 'lead', 'hold', 'advance', 'top'];

/** Asks for lines until `quit` or the end of input. */
export async function prompt(
  evening: Evening & { readonly meetPath: string },
  answer: SessionOptions['answer'],
): Promise<void> {
  const { meetPath, contest, board } = evening;
  const meet = board.meet();
  const lines = createInterface({
    input: process.stdin,
    output: process.stdout,
    terminal: true,
    completer: (line: string) => complete(board.meet(), line),
  });
  lines.setPrompt('› ');
  let isBusy = false;
  const ask = (question: string) =>
    new Promise<boolean>((resolve) => {
      const asked = wrap(safe(`${question} (y/n)`), terminalWidth() - 1);
      for (const line of asked.slice(0, -1)) writeLine(line);
      // What is neither yes nor no was typed for something else, and is not taken for a no.
      const put = (last: string) =>
        lines.question(`${last} `, (answer) => {
          if (/^(y|yes|n|no|)$/i.test(answer.trim())) resolve(/^y/i.test(answer.trim()));
          else put('Answer y or n first:');
        });
      put(asked.at(-1) ?? '');
    });
  const session = openSession({ ...evening, confirm: ask, answer });
  const endWatching = board.watch(() => {
    if (isBusy) return;
    process.stdout.write('\r\u001b[K');
    session.sayOthers();
    lines.prompt(true);
  });
  writeWords(meet.title ?? meetPath, colour.bold);
  for (const { line, message, mend } of board.notCounted()) {
    writeWords(`Line ${line} of the log: ${message}; ${mend}`, colour.yellow);
  }
  printReport(reports.nextUp(meet, contest ?? contestUnderWay(meet)));
  writeWords(CAUTION, colour.dim);
  writeLine(colour.dim('A score: ade 13.566 · all of it: help'));
  const waiting: string[] = [];
  await new Promise<void>((resolve) => {
    const work = async () => {
      if (isBusy) return;
      isBusy = true;
      for (let line = waiting.shift(); line !== undefined; line = waiting.shift()) {
        const goesOn = await session.handle(line);
        if (!goesOn) {
          resolve();
          return;
        }
      }
      isBusy = false;
      session.sayOthers();
      lines.prompt();
    };
    lines.on('line', (line) => {
      waiting.push(line);
      void work();
    });
    lines.on('close', resolve);
    lines.prompt();
  });
  endWatching();
  lines.close();
}

/** What the word being typed may become: a gymnast's id, an apparatus, a target, a question. */
function complete(meet: Meet, line: string): [string[], string] {
  const word = /\S*$/.exec(line)?.[0] ?? '';
  const isFirst = line.trim() === word;
  const ids = meet.gymnasts.map((g) => g.id);
  const codes = meet.apparatus.flatMap((a) => [a.code.toLowerCase(), a.name]);
  const all = isFirst ? [...WORDS, ...ids] : [...ids, ...codes, ...TARGETS];
  const begins = all.filter((w) => w.toLowerCase().startsWith(word.toLowerCase()));
  const inside = meet.gymnasts.filter((g) => g.name.toLowerCase().includes(word.toLowerCase()));
  const found = begins.length > 0 ? begins : inside.map((g) => g.id);
  return [found.map((w) => `${w} `), word];
}
