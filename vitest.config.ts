import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    // Only for what hangs: no test is about the time it takes.
    testTimeout: 10 * 60_000,
    hookTimeout: 10 * 60_000,
    // Files share the modules they load, which saves a tenth of the time.
    isolate: false,
    include: ['test/**/*.test.ts'],
    exclude: ['test/soak/**', 'test/bench/**'],
    globalSetup: ['test/support/run-folder.ts'],
    // By default one core is kept free, which on two cores means one test file at a time.
    maxWorkers: 2,
    reporters: ['default', './test/support/closing-line.ts'],
  },
});
