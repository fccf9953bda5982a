/**
 * A backtest of a long history on all threads that the machine runs at once. Each runs the same command: it reads the
 * history for itself, and hands over its part instead of an answer.
 */
import { statSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { type BacktestPart, type ErrorDetails, LastRotationError } from '../lib/index.js';

/** This file, as it is built. */
declare const __filename: string;

/** Which part a thread does, of how many. */
interface Share {
  readonly part: number;
  readonly of: number;
}

/** What a thread tells the one that began it. */
type Told =
  | { readonly done: number }
  | { readonly part: BacktestPart }
  | { readonly message: string; readonly details: ErrorDetails | null };

/** Of a shorter history, in bytes, it takes longer to begin threads than they save. */
const LONG = 8_000_000;

/** Room for what is short-lived, in megabytes: twice what a thread has else (docs/decisions.md, "Speed"). */
const YOUNG = 96;

/** No more threads than this: each has the whole history in memory. */
const MOST = 8;

/** A thread that was begun for it does its part, and tells of it; true where this is one. */
export function doneAsThread(
  work: (share: Share, onProgress: (done: number, of: number) => void) => BacktestPart,
): boolean {
  if (isMainThread || parentPort === null) return false;
  const port = parentPort;
  const tell = (told: Told) => port.postMessage(told);
  try {
    tell({ part: work(workerData as Share, (done, of) => tell({ done: done / of })) });
  } catch (error) {
    if (!(error instanceof LastRotationError)) tell({ message: String(error), details: null });
    else {
      const { message, kind, code, file, line, mend, others } = error;
      tell({ message, details: { kind, code, file, line, mend, others } });
    }
  }
  return true;
}

/** All parts of the backtest that this command asks for; undefined where that is not worth it. */
export async function partsOnThreads(
  history: string,
  onProgress: (done: number, of: number) => void,
): Promise<BacktestPart[] | undefined> {
  const of = Math.min(availableParallelism(), MOST);
  const before = stampOf(history);
  if (of === 1 || before === null || before.size < LONG) return undefined;
  const done = new Array<number>(of).fill(0);
  const workers = done.map(
    (_, part) =>
      new Worker(__filename, {
        argv: process.argv.slice(2),
        workerData: { part, of },
        resourceLimits: { maxYoungGenerationSizeMb: YOUNG },
      }),
  );
  const parts = workers.map((worker, part) =>
    partFrom(worker, (share) => {
      done[part] = share;
      onProgress(Math.round((100 * done.reduce((a, b) => a + b, 0)) / of), 100);
    }),
  );
  try {
    const found = await Promise.all(parts);
    if (stampOf(history)?.changed === before.changed) return found;
    throw new LastRotationError('it has changed while it was read', {
      ...{ kind: 'file', code: 'file-unreadable', file: history, mend: 'ask again' },
    });
  } finally {
    for (const worker of workers) void worker.terminate();
  }
}

/** How long a file is, and what changes with it; null where there is none. */
function stampOf(path: string): { readonly size: number; readonly changed: string } | null {
  try {
    const { size, mtimeMs, ino } = statSync(path);
    return { size, changed: [size, mtimeMs, ino].join() };
  } catch {
    return null;
  }
}

function partFrom(worker: Worker, onProgress: (done: number) => void): Promise<BacktestPart> {
  return new Promise((resolve, reject) => {
    worker.on('message', (told: Told) => {
      if ('done' in told) onProgress(told.done);
      else if ('part' in told) resolve(told.part);
      else if (told.details !== null) reject(new LastRotationError(told.message, told.details));
      else reject(new Error(told.message));
    });
    worker.on('error', reject);
    worker.on('exit', () => reject(new Error('a thread has ended before its time')));
  });
}
