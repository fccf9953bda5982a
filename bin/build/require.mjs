/**
 * The page for those who load the library with `require`: what it is built on comes as modules only, and is
 * built in: node bin/build/require.mjs
 */

import { writeFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { build } from 'esbuild';
import { asText, licencesIn } from './licences.mjs';

const PAGE = resolve('dist/lib/page');
const OUT = resolve('dist/require/lib/page');

const { metafile } = await build({
  entryPoints: ['dist/lib/page/page.js', 'dist/lib/page/svg.js'],
  outdir: OUT,
  bundle: true,
  metafile: true,
  platform: 'neutral',
  mainFields: ['module', 'main'],
  format: 'cjs',
  target: 'node20',
  logLevel: 'warning',
  plugins: [
    {
      name: 'the rest of the library stays where it is',
      setup({ onResolve }) {
        onResolve({ filter: /^\.\.?\// }, ({ path, importer, resolveDir }) => {
          const file = resolve(resolveDir, path);
          const isOutside =
            dirname(importer).startsWith(PAGE) && relative(PAGE, file).startsWith('..');
          return isOutside ? { path: relative(PAGE, file), external: true } : undefined;
        });
      },
    },
  ],
});

writeFileSync('dist/require/LICENCES.txt', asText(licencesIn(metafile)));
