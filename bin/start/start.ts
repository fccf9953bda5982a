#!/usr/bin/env node
/**
 * Begins the command, whose code lies beside this file: with what Node has compiled of it before, where that
 * has been kept. Nothing else is loaded here, for this is what every command waits for.
 */
import { readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';
import { version } from '../version.js';
import { keepCompiled, keptCompiled, placeFor } from './compiled.js';
import { endUnwritten } from './output.js';

/** The folder that this lies in. */
declare const __dirname: string;

const PARAMETERS = 'exports, require, module, __filename, __dirname';

/**
 * Node 20 compiles a function a second time, for speed, after so little of it has run that most answers are
 * over before it pays. Later versions wait longer by themselves, and know no such word.
 */
function waitBeforeOptimizing(): void {
  if (process.versions.v8.startsWith('11.3.')) setFlagsFromString('--interrupt-budget=800000');
}

function run(): void {
  waitBeforeOptimizing();
  const file = join(__dirname, 'command.cjs');
  // All of it is ASCII, see bin/build/command.mjs, and so read at once.
  const code = readFileSync(file, 'latin1');
  const place = placeFor(code, process.argv);
  const cachedData = place === null ? undefined : keptCompiled(place);
  // The first line stays the first: a comment, behind which nothing may stand.
  const script = new Script(`(function (${PARAMETERS}) {${code}\n})`, {
    filename: file,
    cachedData,
  });
  if (place !== null && script.cachedDataRejected !== false) {
    process.once('exit', (exitCode) => {
      if (exitCode === 0) keepCompiled(place, () => script.createCachedData());
    });
  }
  script.runInThisContext()(exports, require, module, file, __dirname);
}

function sayVersion(): void {
  try {
    writeSync(1, `${version}\n`);
  } catch (error) {
    endUnwritten(error as NodeJS.ErrnoException);
  }
}

if (process.argv.length === 3 && process.argv[2] === '--version') sayVersion();
else run();
