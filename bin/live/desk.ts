/** What one desk records: scores in, mistakes taken back, what could not be written tried again. */
import type { LiveBoard } from '../../lib/files/index.js';
import {
  contestUnderWay,
  type History,
  LastRotationError,
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
import { colour, writeWords } from '../terminal.js';
import { sayUnrecorded, type Unrecorded } from './trouble.js';

/** What a desk, or a feed, works on all evening. */
export interface Evening {
  readonly contest: string | undefined;
  readonly board: LiveBoard;
  /** Past results, where they are named. */
  readonly history: History | null;
}

/** A result that this desk has recorded, and the line it was typed in. */
interface Own {
  readonly gymnast: string;
  readonly apparatus: string;
  readonly result: string;
  readonly line: number;
}

/** A desk, and what it has to remember of its evening. */
export interface Desk extends Evening {
  /** Asks back; true for yes. */
  readonly confirm: (question: string) => Promise<boolean>;
  /** The meet as it was when anything was last said of it. */
  known: Meet;
  /** What this desk has recorded and not taken back, the last at the end. */
  readonly own: Own[];
  /** How many lines have recorded something. */
  lines: number;
  /** How to write again what the last line took back; null where it took nothing back. */
  takenBack: string | null;
  /** What was told and could not be written, in that order. */
  unrecorded: readonly Unrecorded[];
}

export function openDesk(evening: Evening, confirm: Desk['confirm']): Desk {
  const known = evening.board.meet();
  return { ...evening, confirm, known, own: [], lines: 0, takenBack: null, unrecorded: [] };
}

/** The contest that is meant where none is named. */
export function contestOf({ contest, board }: Evening): string {
  return contest ?? contestUnderWay(board.meet());
}

/** Records what a line tells, asking back first where it is odd. */
export async function score(desk: Desk, line: string): Promise<void> {
  const meet = desk.board.meet();
  const { told, question, instead } = readMove(meet, line) ?? readTyped(meet, line);
  // What the log refuses is not asked about first.
  record(meet, told, { contest: desk.contest });
  if (question !== null && !(await desk.confirm(question))) {
    writeWords(['Nothing was recorded.', instead ?? ''].join(' ').trim());
    return;
  }
  const isWritten = await putAll(desk, [told]);
  if (isWritten && told.score === 'void') desk.takenBack = typedAgain(meet, told);
}

/**
 * Whether all was written. What cannot be is not recorded, and said to be so; all of it can be tried
 * again.
 */
async function putAll(desk: Desk, all: readonly ToRecord[]): Promise<boolean> {
  for (const [i, told] of all.entries()) {
    try {
      await put(desk, told);
    } catch (error) {
      if (!couldNotBeWritten(error)) throw error;
      sayError(error, false);
      const meet = desk.board.meet();
      for (const left of all.slice(i)) {
        const stood = toldOf(meet, left.gymnast, left.apparatus);
        desk.unrecorded = [...others(desk.unrecorded, left), { told: left, stood }];
        sayUnrecorded(meet, left);
      }
      return false;
    }
    desk.unrecorded = others(desk.unrecorded, told);
  }
  return true;
}

/** Tries to record what could not be written; a routine that has another result by now is asked about. */
export async function again(desk: Desk): Promise<void> {
  if (desk.unrecorded.length === 0) writeWords('Nothing is waiting to be recorded.');
  for (const one of desk.unrecorded) {
    const { told, stood } = one;
    const meet = desk.board.meet();
    const { name } = meet.gymnasts.find((g) => g.id === told.gymnast) ?? { name: told.gymnast };
    const question = `${name} has been given another result on ${told.apparatus} meanwhile. Record ${told.score} all the same?`;
    const isAsBefore = toldOf(meet, told.gymnast, told.apparatus) === stood;
    if (isAsBefore || (await desk.confirm(question))) await putAll(desk, [told]);
    else desk.unrecorded = others(desk.unrecorded, told);
  }
}

/** True where nothing would be lost, or somebody says that it may be. */
export async function maySafelyQuit(desk: Desk): Promise<boolean> {
  if (desk.unrecorded.length === 0) return true;
  for (const { told } of desk.unrecorded) sayUnrecorded(desk.board.meet(), told);
  return desk.confirm('Quit all the same?');
}

async function put(desk: Desk, told: ToRecord): Promise<void> {
  desk.takenBack = null;
  const { before, recorded, after } = await desk.board.record(told, { contest: desk.contest });
  const meet = desk.board.meet();
  const line = desk.lines++;
  for (const row of recorded.rows) {
    const [gymnast, apparatus] = [row.gymnast ?? '', row.apparatus ?? ''];
    if (row.score !== 'void') {
      desk.own.push({ gymnast, apparatus, result: toldOf(meet, gymnast, apparatus), line });
      continue;
    }
    const at = desk.own.findLastIndex((o) => o.gymnast === gymnast && o.apparatus === apparatus);
    if (at >= 0) desk.own.splice(at, 1);
  }
  // Another desk may have written while this one waited for the disk.
  sayWhatIsNew(desk, meet, recorded.rows);
  const inPlace = scoreInPlace(before, after, recorded);
  const past = desk.history && inPlace && pastBest(after, desk.history, inPlace);
  printReport(reports.said(after, recorded, inPlace, past));
  printReport(reports.nextUp(meet, contestOf(desk), before));
}

/**
 * Takes back what this desk's last line recorded; another desk's row, or one of before this desk was
 * opened, is asked back.
 */
export async function undo(desk: Desk): Promise<void> {
  const meet = desk.board.meet();
  if (desk.takenBack !== null) {
    writeWords(`The last line took a result back. To have it again, write: ${desk.takenBack}`);
    return;
  }
  const stands = desk.own.findLast((o) => toldOf(meet, o.gymnast, o.apparatus) !== 'null');
  const last = stands ?? desk.board.lastRow();
  if (last === null) {
    writeWords('There is nothing to take back.');
    return;
  }
  const { gymnast, apparatus } = last;
  const isUntouched = (o: Own) => o.result === toldOf(meet, o.gymnast, o.apparatus);
  if (stands === undefined || !isUntouched(stands)) {
    const { name } = meet.gymnasts.find((g) => g.id === gymnast) ?? { name: gymnast };
    const where = meet.apparatus.find((a) => a.code === apparatus)?.name ?? apparatus;
    const question = `Take back ${name} on ${where}, which this desk did not record?`;
    if (!(await desk.confirm(question))) return;
    await putAll(desk, [{ gymnast, apparatus, score: 'void' }]);
    return;
  }
  const together = desk.own.filter((o) => o.line === stands.line && isUntouched(o));
  const all = together.reverse();
  await putAll(
    desk,
    all.map(({ gymnast, apparatus }) => ({ gymnast, apparatus, score: 'void' })),
  );
}

/** Says what changed since it was last said, but for the rows this desk has just written. */
export function sayWhatIsNew(
  desk: Desk,
  now: Meet,
  mine: readonly { gymnast: string | null; apparatus: string | null }[] = [],
): void {
  if (haveSameRoutines(desk.known, now)) printReport(reports.news(desk.known, now, mine));
  else writeWords('The meet file has changed.', colour.bold);
  desk.known = now;
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
