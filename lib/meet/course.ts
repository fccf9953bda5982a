/**
 * The course of the evening: the rows of the log played one after another on the plan. The meet file
 * says who was to go up when; what follows here is who did, and what became of each routine.
 */
import type { ProblemCode } from '../codes.js';
import {
  type Act,
  type Gymnast,
  isScored,
  type Meet,
  type Result,
  type Rotation,
  type Routine,
  type Schedule,
  stationOf,
  type Told,
} from './meet.js';
import { routinesInOrder } from './rotations.js';
import { ALL, type ReadRow } from './rows.js';

/** A row that stands, and where: null in what was recorded in memory. */
export interface ToldAt extends Told {
  readonly line?: number | null;
}

/** Why a row of the log is not counted, or what is odd about it. */
export interface Remark {
  readonly told: ToldAt;
  /** A note: it counts all the same. */
  readonly severity: 'warning' | 'note';
  readonly code: ProblemCode;
  readonly wrong: string;
  readonly mend: string;
}

/** What the log has made of the plan. */
export interface Course extends Schedule, Pick<Meet, 'results' | 'up' | 'replaced'> {
  readonly remarks: readonly Remark[];
}

/** Somebody else does the routine. */
interface Replaced {
  readonly replacedBy: string;
}

/** What stands of a routine while rows are played. */
interface Mark {
  readonly result: Result | 'up' | Replaced;
  readonly line: number | null;
}

/** The evening so far, by rows played. */
interface Evening {
  readonly meet: Meet;
  /** By rotation, by station: who goes up, first up first. */
  readonly orders: string[][][];
  /** By gymnast: the apparatus she competes on. */
  readonly on: Map<string, Set<string>>;
  /** By gymnast and apparatus. */
  readonly marks: Map<string, Mark>;
  /** Who stands in for whom, on which apparatus. */
  readonly standIns: { by: string; whom: string; apparatus: string }[];
  readonly remarks: Remark[];
  isAsPlanned: boolean;
}

/** Rows that stand: a `void` takes away the last one before it of the same gymnast and apparatus. */
export function standingRows(
  before: readonly ToldAt[],
  rows: readonly (ReadRow & { readonly line?: number | null })[],
): { told: ToldAt[]; nothingToVoid: number[] } {
  const told = [...before];
  const nothingToVoid: number[] = [];
  for (const [i, { gymnast, apparatus, act, line = null }] of rows.entries()) {
    if (act !== 'void') {
      const isFor = act.kind === 'for';
      const then = isFor ? { ...act, performed: performedBy(act.whom, told) } : act;
      told.push({ gymnast, apparatus, act: then, line });
      continue;
    }
    const at = told.findLastIndex((t) => t.gymnast === gymnast && t.apparatus === apparatus);
    if (at >= 0) told.splice(at, 1);
    else nothingToVoid.push(i);
  }
  return { told, nothingToVoid };
}

/** Where somebody has performed, by the rows that stand: `up` takes no result away. */
function performedBy(gymnast: string, told: readonly ToldAt[]): string[] {
  const last = new Map<string, Act>();
  for (const { apparatus, act, ...whose } of told) {
    if (whose.gymnast !== gymnast || apparatus === ALL) continue;
    const isFirst = act.kind === 'up' && !last.has(apparatus);
    if (isFirst || act.kind === 'result') last.set(apparatus, act);
  }
  const isDone = (act: Act) => act.kind === 'up' || (act.kind === 'result' && act.result !== 'DNS');
  return [...last].flatMap(([apparatus, act]) => (isDone(act) ? [apparatus] : []));
}

/** Plays rows on the plan of a meet. What does not fit is remarked on, and stops nothing. */
export function play(meet: Meet, told: readonly ToldAt[]): Course {
  const { planned } = meet;
  const evening: Evening = {
    meet,
    orders: planned.rotations.map((r) => r.stations.map((s) => [...s.order])),
    on: new Map(planned.gymnasts.map((g) => [g.id, new Set(g.on)])),
    marks: new Map(),
    standIns: [],
    remarks: [],
    isAsPlanned: true,
  };
  for (const t of told) {
    for (const remark of remarksOn(evening, t)) evening.remarks.push({ told: t, ...remark });
  }
  const schedule = evening.isAsPlanned ? planned : scheduleOf(evening);
  const stood = schedule.routines.map((r) => markOf(evening, r.gymnast, r.apparatus)?.result);
  return {
    gymnasts: schedule.gymnasts,
    rotations: schedule.rotations,
    routines: schedule.routines,
    results: stood.map(resultOf),
    up: stood.map((result) => result === 'up'),
    replaced: stood.map(isReplaced),
    remarks: evening.remarks,
  };
}

type Said = Omit<Remark, 'told'>;

/** Takes a row into the evening; what is to be said of it. */
function remarksOn(evening: Evening, told: ToldAt): Said[] {
  switch (told.act.kind) {
    case 'for':
      return stepIn(evening, told, told.act);
    case 'after':
      return goAfter(evening, told, told.act.whom);
    default:
      return told.apparatus === ALL ? withdraw(evening, told) : mark(evening, told, told.act);
  }
}

function withdraw(evening: Evening, told: ToldAt): Said[] {
  const toCome = [...competes(evening, told.gymnast)].filter((code) => {
    const before = markOf(evening, told.gymnast, code);
    return before === undefined || before.result === 'up';
  });
  for (const apparatus of toCome) mark(evening, { ...told, apparatus }, told.act);
  if (toCome.length > 0) return [];
  const wrong = `${told.gymnast} had no routine left`;
  return [{ severity: 'note', code: 'nothing-to-come', wrong, mend: 'nothing to do' }];
}

/** A result, a routine performed, or an inquiry, of one routine. */
function mark(evening: Evening, { gymnast, apparatus, line = null }: ToldAt, act: Act): Said[] {
  if (!competes(evening, gymnast).has(apparatus)) return [notHers(evening, gymnast, apparatus)];
  const before = markOf(evening, gymnast, apparatus);
  const stood = before?.result;
  if (isReplaced(stood)) {
    if (act.kind === 'result' && !isScored(act.result)) return [];
    return [
      {
        severity: 'warning',
        code: 'not-her-apparatus',
        wrong: `${stood.replacedBy} stands in for ${gymnast} on ${apparatus}`,
        mend: 'take that back first if it is wrong',
      },
    ];
  }
  const key = keyOf(gymnast, apparatus);
  if (act.kind === 'result') {
    evening.marks.set(key, { result: act.result, line });
    return repeated(before, act.result);
  }
  if (act.kind === 'up') {
    if (stood === undefined) evening.marks.set(key, { result: 'up', line });
    if (stood === undefined || stood === 'up') return [];
    const wrong = `${gymnast} already has a result on ${apparatus}, and that one counts`;
    return [
      {
        severity: 'warning',
        code: 'row-twice',
        wrong,
        mend: 'to take that result back, write void',
      },
    ];
  }
  if (typeof stood === 'object') {
    evening.marks.set(key, { result: { ...stood, underInquiry: true }, line });
    return [];
  }
  const wrong = `${gymnast} has no score on ${apparatus} yet for an inquiry`;
  return [{ severity: 'warning', code: 'nothing-to-void', wrong, mend: 'check the apparatus' }];
}

/** Whether somebody may still step in: nothing has been done, whether or not she has withdrawn. */
function isFree(mark: Mark | undefined): boolean {
  return mark === undefined || mark.result === 'DNS';
}

function repeated(before: Mark | undefined, result: Result): Said[] {
  if (before === undefined || JSON.stringify(before.result) !== JSON.stringify(result)) return [];
  const where = before.line === null ? 'a row before' : `line ${before.line}`;
  const wrong = `the same as ${where}; it counts once`;
  return [{ severity: 'note', code: 'row-twice', wrong, mend: 'nothing to do' }];
}

/** Somebody steps in for another: she has her place in the order, and the other is out of it. */
function stepIn(
  evening: Evening,
  { gymnast, apparatus, line = null }: ToldAt,
  { whom, performed }: Extract<Act, { kind: 'for' }>,
): Said[] {
  const station = stationOf(evening.meet, apparatus);
  if (station !== apparatus) {
    const wrong = `who steps in on ${station} does ${apparatus} too`;
    return [{ severity: 'warning', code: 'not-her-apparatus', wrong, mend: `write ${station}` }];
  }
  const codes = evening.meet.apparatus.filter((a) => a.follows === null).map((a) => a.code);
  const done = (station: string) =>
    evening.meet.apparatus.flatMap(({ code, follows }) =>
      (follows ?? code) === station && competes(evening, whom).has(code) ? [code] : [],
    );
  const taken = (apparatus === ALL ? codes : [apparatus]).filter(
    (code) =>
      competes(evening, whom).has(code) &&
      done(code).every((c) => !performed.includes(c) && isFree(markOf(evening, whom, c))) &&
      !competes(evening, gymnast).has(code),
  );
  if (taken.length === 0) {
    const where = apparatus === ALL ? 'anywhere' : `on ${apparatus}`;
    return [
      {
        severity: 'warning',
        code: 'not-her-apparatus',
        wrong: `${gymnast} cannot step in for ${whom} ${where}`,
        mend: `${whom} must have a routine to come there, and ${gymnast} none of her own`,
      },
    ];
  }
  evening.isAsPlanned = false;
  for (const code of taken) {
    for (const order of ordersOn(evening, code)) {
      const at = order.indexOf(whom);
      if (at >= 0) order[at] = gymnast;
    }
    for (const apparatus of done(code)) {
      competes(evening, gymnast).add(apparatus);
      evening.standIns.push({ by: gymnast, whom, apparatus });
      evening.marks.set(keyOf(whom, apparatus), { result: { replacedBy: gymnast }, line });
    }
  }
  return [];
}

/** Somebody goes up later, or earlier, than planned: right after another in the same rotation. */
function goAfter(evening: Evening, { gymnast, apparatus }: ToldAt, whom: string): Said[] {
  const order = ordersOn(evening, stationOf(evening.meet, apparatus)).find(
    (o) => o.includes(gymnast) && o.includes(whom),
  );
  if (order === undefined || gymnast === whom) {
    return [
      {
        severity: 'warning',
        code: 'not-in-rotations',
        wrong: `${gymnast} and ${whom} are not in the same rotation on ${apparatus}`,
        mend: 'name somebody of her own group',
      },
    ];
  }
  const stands = markOf(evening, gymnast, apparatus)?.result;
  if (stands !== undefined && stands !== 'DNS') {
    const wrong = `${gymnast} has been up on ${apparatus} already`;
    return [
      { severity: 'warning', code: 'row-twice', wrong, mend: 'move somebody who is still to come' },
    ];
  }
  evening.isAsPlanned = false;
  order.splice(order.indexOf(gymnast), 1);
  order.splice(order.indexOf(whom) + 1, 0, gymnast);
  return [];
}

function notHers({ meet, on }: Evening, gymnast: string, apparatus: string): Said {
  const hers = meet.apparatus.flatMap((a) => (on.get(gymnast)?.has(a.code) ? [a.code] : []));
  return {
    severity: 'warning',
    code: 'not-her-apparatus',
    wrong: `${gymnast} does not compete on ${apparatus}`,
    mend: `competes on: ${hers.join(', ') || 'nothing'}; correct \`on\` or the rotations in the meet file`,
  };
}

function ordersOn({ meet, orders }: Evening, code: string): string[][] {
  return meet.planned.rotations.flatMap(({ stations }, r) =>
    stations.flatMap(({ apparatus }, s) => (apparatus === code ? [orders[r]?.[s] ?? []] : [])),
  );
}

function competes({ on }: Evening, gymnast: string): Set<string> {
  return on.get(gymnast) ?? new Set();
}

function keyOf(gymnast: string, apparatus: string): string {
  return `${apparatus}\n${gymnast}`;
}

function markOf({ marks }: Evening, gymnast: string, apparatus: string): Mark | undefined {
  return marks.get(keyOf(gymnast, apparatus));
}

function isReplaced(stood: Mark['result'] | undefined): stood is Replaced {
  return typeof stood === 'object' && 'replacedBy' in stood;
}

/** Who was replaced withdrew. */
function resultOf(stood: Mark['result'] | undefined): Result | null {
  if (stood === undefined || stood === 'up') return null;
  return isReplaced(stood) ? 'DNS' : stood;
}

/** The schedule as it has become. Who was replaced keeps a routine, right behind who stands in. */
function scheduleOf(evening: Evening): Schedule {
  const { meet, orders, standIns } = evening;
  const rotations = meet.planned.rotations.map(
    ({ stations, ...which }, r): Rotation => ({
      ...which,
      stations: stations.map((s, i) => ({ ...s, order: orders[r]?.[i] ?? [] })),
    }),
  );
  const inOrder = routinesInOrder(rotations, meet.apparatus, (gymnast, code) =>
    competes(evening, gymnast).has(code),
  );
  const withReplaced = (routine: Routine): Routine[] => {
    const replaced = standIns.filter(
      (s) => s.by === routine.gymnast && s.apparatus === routine.apparatus,
    );
    return [routine, ...replaced.flatMap((s) => withReplaced({ ...routine, gymnast: s.whom }))];
  };
  const routines = inOrder.flatMap(withReplaced).map((routine, index) => ({ ...routine, index }));
  const gymnasts = meet.planned.gymnasts.map((g): Gymnast => {
    const on = meet.apparatus.flatMap((a) => (competes(evening, g.id).has(a.code) ? [a.code] : []));
    return { ...g, on };
  });
  return { gymnasts, rotations, routines };
}
