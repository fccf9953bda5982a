import { defineConfig } from 'vitest/config';

const ELSEWHERE = ['test/soak/**', 'test/bench/**'];

/** Files that put something in the place of Node's own modules. */
const APART = ['test/files/record.test.ts'];

export default defineConfig({
  test: {
    // Only for what hangs: no test is about the time it takes.
    testTimeout: 10 * 60_000,
    hookTimeout: 10 * 60_000,
    // Files share the modules they load, which saves a tenth of the time.
    projects: [
      {
        extends: true,
        test: {
          name: 'together',
          isolate: false,
          include: ['test/**/*.test.ts'],
          exclude: [...APART, ...ELSEWHERE],
        },
      },
      { extends: true, test: { name: 'apart', include: APART } },
    ],
    globalSetup: ['test/support/run-folder.ts'],
    // By default one core is kept free, which on two cores means one test file at a time.
    maxWorkers: 2,
    reporters: ['default', './test/support/closing-line.ts'],
  },
});
