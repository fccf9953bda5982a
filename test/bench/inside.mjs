/** Parts of the library that no door has, for the benchmarks: bundled as the library is, from its sources. */
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';

/**
 * Everything that these modules export, all from one copy of the library.
 * @param {readonly string[]} modules such as `lib/chances/model.ts`
 */
export async function inside(...modules) {
  // Within the project: what it is built on is found from here.
  const folder = mkdtempSync('dist/bench-');
  const outfile = join(folder, 'inside.mjs');
  try {
    await build({
      stdin: {
        contents: modules.map((module) => `export * from './${module}';`).join('\n'),
        resolveDir: '.',
        loader: 'ts',
      },
      outfile,
      bundle: true,
      packages: 'external',
      platform: 'node',
      format: 'esm',
      target: 'es2022',
      jsx: 'automatic',
      jsxImportSource: 'preact',
      logLevel: 'warning',
    });
    return await import(pathToFileURL(outfile).href);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
