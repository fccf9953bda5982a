/** The command in a process that is kept from one run to the next. */
import { fileURLToPath } from 'node:url';
import { MessageChannel, receiveMessageOnPort, Worker } from 'node:worker_threads';
import type { Ran } from './cli.js';

/** A command line, the folder it is given in, the whole environment, and what it reads. */
export interface Asked {
  readonly args: readonly string[];
  readonly cwd: string;
  readonly env: NodeJS.ProcessEnv;
  readonly input: string;
}

/** What a run said, and what it cost. */
export interface RanAtCost extends Ran {
  /** Of the processor, which others that use the machine do not add to. */
  readonly seconds: number;
  /** The most that this run or one before it took at any time. */
  readonly mebibytes: number;
}

const beside = (name: string) => fileURLToPath(new URL(name, import.meta.url));

/** Runs one after the other; null where the run took the process with it, so that it has to be run by itself. */
export function keptCommand(command: string): (asked: Asked) => RanAtCost | null {
  const { port1, port2 } = new MessageChannel();
  const signal = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  const worker = new Worker(beside('kept-thread.mjs'), {
    workerData: { port: port2, signal, program: beside('kept-process.mjs'), command },
    transferList: [port2],
  });
  worker.unref();
  port1.unref();
  return (asked) => {
    Atomics.store(signal, 0, 0);
    port1.postMessage(asked);
    Atomics.wait(signal, 0, 0);
    const found: { message: RanAtCost | null } | undefined = receiveMessageOnPort(port1);
    return found?.message ?? null;
  };
}
