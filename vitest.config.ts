import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/soak/**', 'test/bench/**'],
    testTimeout: 60_000,
    reporters: ['default', './test/support/closing-line.ts'],
  },
});
