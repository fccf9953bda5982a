import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

// biome-ignore lint/style/noDefaultExport: a configuration is found by its default export.
export default defineConfig({
  test: {
    include: ['test/soak/**/*.soak.ts'],
    testTimeout: 30 * 60_000,
    reporters: ['default', fileURLToPath(new URL('../support/closing-line.ts', import.meta.url))],
  },
});
