/** Asks the process that is kept, while the thread that asked waits; null where that process has ended. */
import { fork } from 'node:child_process';
import { workerData } from 'node:worker_threads';

const { port, signal, program, command } = workerData;
let child = null;
let answered = true;

function answer(ran) {
  if (answered) return;
  answered = true;
  port.postMessage(ran);
  Atomics.store(signal, 0, 1);
  Atomics.notify(signal, 0);
}

port.on('message', (asked) => {
  answered = false;
  if (child === null) {
    child = fork(program, [command], {
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
      execArgv: [],
    });
    child.on('message', answer);
    child.on('exit', () => {
      child = null;
      answer(null);
    });
  }
  child.send(asked);
});
