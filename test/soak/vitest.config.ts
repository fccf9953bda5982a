import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// biome-ignore lint/style/noDefaultExport: a configuration is found by its default export.
export default defineConfig({
  test: {
    globalSetup: ['test/support/run-folder.ts'],
    include: ['test/soak/**/*.soak.ts', 'test/files/hostile.test.ts'],
    // Files as large as are taken.
    env: { LARGE_FILES: '1' },
    testTimeout: 30 * 60_000,
    reporters: ['default', fileURLToPath(new URL('../support/closing-line.ts', import.meta.url))],
  },
});
