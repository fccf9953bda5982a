import { defineConfig } from 'vitest/config';

const ELSEWHERE = ['test/soak/**', 'test/bench/**'];

/** Files that put something in the place of Node's own modules. */
const APART = ['test/files/record.test.ts'];

/** Rooms that start the command, hundreds of times: the larger the process that does, the longer it takes. */
const STARTING = ['bin', 'docs', 'files', 'package', 'page', 'serve'].map((r) => `test/${r}/**`);

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
          name: 'command',
          isolate: false,
          include: STARTING.map((room) => `${room}/*.test.ts`),
          exclude: APART,
        },
      },
      {
        extends: true,
        test: {
          name: 'library',
          isolate: false,
          include: ['test/**/*.test.ts'],
          exclude: [...STARTING, ...ELSEWHERE],
        },
      },
      { extends: true, test: { name: 'apart', include: APART } },
    ],
    // By default one core is kept free, which on two cores means one test file at a time.
    maxWorkers: 2,
    reporters: ['default', './test/support/closing-line.ts'],
  },
});
