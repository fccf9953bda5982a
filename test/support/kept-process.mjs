/**
 * Runs the command as built, one command line after the other, in a process that stays: to start one takes longer
 * than most answers. Each time all of the command is evaluated anew, so that nothing it keeps goes from one run to
 * the next; a run is over when nothing is left to be done, as it would be in a process of its own.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { Script } from 'node:vm';

const [, , start = ''] = process.argv;
const file = join(dirname(start), 'command.cjs');
const parameters = 'exports, require, module, __filename, __dirname';
const code = readFileSync(file, 'utf8');
const command = new Script(`(function (${parameters}) {${code}\n})`, {
  filename: file,
}).runInThisContext();

const said = { out: [], err: [] };
const capture = (stream, into) => {
  stream.write = (chunk, encoding, done) => {
    into.push(Buffer.from(chunk).toString());
    const then = done ?? encoding;
    if (typeof then === 'function') process.nextTick(then);
    return true;
  };
};
capture(process.stdout, said.out);
capture(process.stderr, said.err);

/** What a run hangs up on the process, and on what it writes to, is taken down after it. */
const emitters = [process, process.stdout];
const { emit, reallyExit } = process;
const takeDown = (before) => {
  Object.assign(process, { emit, reallyExit });
  for (const [k, emitter] of emitters.entries()) {
    for (const name of emitter.eventNames()) {
      for (const listener of emitter.listeners(name)) {
        if (!before[k].has(listener)) emitter.removeListener(name, listener);
      }
    }
  }
};
const listenersNow = () =>
  emitters.map((e) => new Set(e.eventNames().flatMap((name) => e.listeners(name))));

let before = null;
let begun = process.cpuUsage();
process.on('message', ({ args, cwd, env, input }) => {
  // From here on only what the command has begun keeps the process from its end.
  process.channel.unref();
  before = listenersNow();
  begun = process.cpuUsage();
  process.chdir(cwd);
  for (const name of Object.keys(process.env)) delete process.env[name];
  Object.assign(process.env, env);
  process.argv = [process.execPath, start, ...args];
  process.exitCode = undefined;
  const stdin = Readable.from(input === '' ? [] : [Buffer.from(input)]);
  Object.defineProperty(process, 'stdin', { value: stdin, configurable: true });
  command({}, createRequire(file), { exports: {} }, file, dirname(file));
});
process.on('beforeExit', () => {
  if (before === null) return;
  takeDown(before);
  before = null;
  const { user, system } = process.cpuUsage(begun);
  const ran = {
    code: Number(process.exitCode ?? 0),
    out: said.out.join(''),
    err: said.err.join(''),
    seconds: (user + system) / 1e6,
    mebibytes: process.resourceUsage().maxRSS / 1024,
  };
  said.out.length = 0;
  said.err.length = 0;
  process.channel.ref();
  process.send(ran);
});
