/**
 * Makes the command one file, and puts the licences of what is built into it beside it:
 * node bin/build/command.mjs
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';
import { asText, licencesIn } from './licences.mjs';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

const { metafile } = await build({
  entryPoints: ['bin/lastrotation.ts'],
  outfile: 'dist/cli/lastrotation.cjs',
  bundle: true,
  minify: true,
  metafile: true,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  define: { LASTROTATION_VERSION: JSON.stringify(version) },
  external: ['proper-lockfile'],
  // A part of the command is loaded when it is asked for, from the same file.
  supported: { 'dynamic-import': false },
  alias: {
    'string-width': './bin/build/string-width.cjs',
    'node:child_process': './bin/build/no-child-process.cjs',
  },
  logLevel: 'warning',
});

writeFileSync('dist/cli/LICENCES.txt', asText(licencesIn(metafile)));
