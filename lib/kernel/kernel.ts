/**
 * Loops over numbers that most of the time goes into, compiled to WebAssembly from assembly:
 * browsers and Node.js run them several times as fast as the same in JavaScript. What each of them
 * does is said there.
 */
import { CODE } from './code.js';

/** Arrays are told by their address in bytes, places in them and lengths in numbers. */
interface Loops {
  readonly memory: { readonly buffer: ArrayBuffer; readonly grow: (pages: number) => number };
  readonly addRows: (
    target: number,
    targetStep: number,
    source: number,
    sourceStep: number,
    rows: number,
    length: number,
    weight: number,
  ) => void;
  readonly convolve: (
    target: number,
    list: number,
    length: number,
    weights: number,
    count: number,
  ) => void;
  readonly sumProducts: (
    sums: number,
    list: number,
    table: number,
    step: number,
    rows: number,
    length: number,
  ) => void;
  readonly findBands: (
    columns: number,
    count: number,
    planes: number,
    height: number,
    from: number,
    to: number,
    firsts: number,
    ends: number,
  ) => void;
  readonly fillRows: (
    columns: number,
    layers: number,
    count: number,
    planes: number,
    height: number,
    from: number,
    to: number,
    firsts: number,
    starts: number,
    rows: number,
  ) => void;
  readonly handOut: (parts: number) => void;
  readonly addUp: (
    before: number,
    list: number,
    together: number,
    squares: number,
    length: number,
    offset: number,
    added: number,
  ) => number;
  readonly sumShared: (list: number, all: number, own: number, length: number) => number;
  readonly sumDistances: (list: number, other: number, length: number, except: number) => number;
  readonly leastVariance: (list: number, length: number, except: number) => number;
  readonly multiply: (product: number, chances: number, size: number, except: number) => number;
  readonly findChanges: (
    changes: number,
    quotient: number,
    product: number,
    chances: number,
    size: number,
    except: number,
    degree: number,
    sure: number,
    edge: number,
  ) => number;
  readonly place: (
    row: number,
    product: number,
    ahead: number,
    size: number,
    except: number,
    chance: number,
  ) => number;
  readonly raise: (
    ahead: number,
    before: number,
    who: number,
    length: number,
    except: number,
    besides: number,
    weight: number,
  ) => void;
  readonly leaveOut: (who: number, length: number, stale: number, nobody: number) => void;
  readonly takeLevel: (
    count: number,
    who: number,
    chances: number,
    length: number,
    part: number,
    negligible: number,
  ) => void;
  readonly countMedals: (
    count: number,
    who: number,
    chances: number,
    equals: number,
    length: number,
    negligible: number,
  ) => void;
  readonly faceTitles: (bound: number, p: number, except: number) => number;
  readonly beginTitles: (
    bound: number,
    who: number,
    p: number,
    chance: number,
    wrong: number,
    dependent: number,
  ) => number;
  readonly addTitles: (
    bound: number,
    level: number,
    k: number,
    who: number,
    chance: number,
    told: number,
  ) => void;
  readonly countTitles: (
    count: number,
    who: number,
    chances: number,
    equals: number,
    length: number,
  ) => void;
  readonly countResults: (
    count: number,
    who: number,
    chances: number,
    equals: number,
    length: number,
  ) => void;
}

/** What is used of WebAssembly; both browsers and Node.js have it. */
declare const WebAssembly: {
  readonly Module: new (code: Uint8Array) => object;
  readonly Instance: new (module: object) => { readonly exports: unknown };
};
declare const atob: (text: string) => string;

const PAGE = 65536;

/** Bytes of a number of 64 and of 32 bits. */
export const FLOAT = 8;
export const INT = 4;
const SINGLE = 4;

/** The most bytes that a class of the assembly takes in memory. */
export const STRUCT = 32 * INT;

let compiled: object | null = null;

function compile(): object {
  compiled ??= new WebAssembly.Module(Uint8Array.from(atob(CODE), (c) => c.charCodeAt(0)));
  return compiled;
}

/** So much memory is shared by all work; what is not written to takes no room. */
const SHARED = 64 * 1024 * 1024;

/** The loops with a memory of their own, of which a part is taken. */
class Memory {
  readonly loops = new WebAssembly.Instance(compile()).exports as Loops;
  readonly buffer: ArrayBuffer;
  taken = 0;

  constructor(bytes: number) {
    const { memory } = this.loops;
    memory.grow(Math.ceil(Math.max(bytes - memory.buffer.byteLength, 0) / PAGE));
    this.buffer = memory.buffer;
  }
}

let shared: Memory | null = null;

/** Arrays in a part of a memory, and the loops over them. */
export class Kernel {
  readonly loops: Loops;
  private used: number;

  constructor(
    private readonly memory: Memory,
    private readonly from: number,
    private readonly to: number,
  ) {
    this.loops = memory.loops;
    this.used = from;
  }

  /** Gives its part back, and those taken after it; the arrays in them are not to be used after. */
  end(): void {
    this.memory.taken = this.from;
  }

  /** An array of zeros, within the room there is. */
  floats(length: number): Float64Array {
    return new Float64Array(this.memory.buffer, this.take(length * FLOAT), length).fill(0);
  }

  /** Of numbers with half as many bits. */
  singles(length: number): Float32Array {
    return new Float32Array(this.memory.buffer, this.take(length * SINGLE), length).fill(0);
  }

  ints(length: number): Int32Array {
    return new Int32Array(this.memory.buffer, this.take(length * INT), length).fill(0);
  }

  /** Of whole numbers from 0 to 255. */
  bytes(length: number): Uint8Array {
    return new Uint8Array(this.memory.buffer, this.take(length), length).fill(0);
  }

  /** Numbers, and then where some lists are, as a class of the assembly lies in memory. */
  struct(
    numbers: readonly number[],
    lists: readonly { readonly byteOffset: number }[],
  ): Int32Array {
    const made = this.ints(numbers.length + lists.length);
    made.set([...numbers, ...lists.map((list) => list.byteOffset)]);
    return made;
  }

  private take(bytes: number): number {
    const at = this.used;
    this.used += roundUp(bytes);
    if (this.used > this.to) throw new RangeError('no room left');
    return at;
  }
}

function roundUp(bytes: number): number {
  return Math.ceil(bytes / FLOAT) * FLOAT;
}

/** Room for so many bytes, until it ends: of the shared memory, or where that is too small of its own. */
export function takeKernel(bytes: number): Kernel {
  shared ??= new Memory(SHARED);
  const from = shared.taken;
  const to = from + roundUp(bytes);
  if (to > SHARED) return ownKernel(bytes);
  shared.taken = to;
  return new Kernel(shared, from, to);
}

/** Room that need not end. */
export function ownKernel(bytes: number): Kernel {
  return new Kernel(new Memory(roundUp(bytes)), 0, roundUp(bytes));
}

/** Work in room for so many bytes; the arrays made in it are not to be used after. */
export function withKernel<T>(bytes: number, work: (kernel: Kernel) => T): T {
  const kernel = takeKernel(bytes);
  try {
    return work(kernel);
  } finally {
    kernel.end();
  }
}
