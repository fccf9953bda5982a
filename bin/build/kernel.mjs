/**
 * Compiles lib/kernel/assembly to WebAssembly and puts it into lib/kernel/code.ts, where the library
 * finds it without a file to read: npm run kernel
 */
import { writeFileSync } from 'node:fs';
import { compileKernel } from './compile-kernel.mjs';

writeFileSync('lib/kernel/code.ts', await compileKernel());
