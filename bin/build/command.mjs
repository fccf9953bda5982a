/**
 * Makes the command one file, and another that starts it, and puts the licences of what is built into it beside it:
 * node bin/build/command.mjs
 */
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';
import { asText, licencesIn } from './licences.mjs';

const { version } = JSON.parse(readFileSync('package.json', 'utf8'));

const settings = {
  bundle: true,
  minify: true,
  metafile: true,
  write: false,
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  charset: 'ascii',
  define: { LASTROTATION_VERSION: JSON.stringify(version) },
  logLevel: 'warning',
};

const { outputFiles, metafile } = await build({
  ...settings,
  entryPoints: ['bin/lastrotation.ts'],
  outfile: 'dist/cli/command.cjs',
  external: ['proper-lockfile'],
  // A part of the command is loaded when it is asked for, from the same file.
  supported: { 'dynamic-import': false },
  alias: {
    'string-width': './bin/build/string-width.cjs',
    'simple-statistics': './bin/build/error-function.mjs',
    'node:child_process': './bin/build/no-child-process.cjs',
  },
});
const start = await build({
  ...settings,
  entryPoints: ['bin/start/start.ts'],
  outfile: 'dist/cli/lastrotation.cjs',
});

// The first line tells this code from any other, so that what is kept of one is not taken for another.
// Signs of other alphabets are left in patterns: written so, every character of the file is one byte.
const code = outputFiles[0].text.replace(/[\u0080-\uffff]/g, (sign) => {
  return `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`;
});
const build16 = createHash('sha256').update(code).digest('hex').slice(0, 16);
mkdirSync('dist/cli', { recursive: true });
writeFileSync('dist/cli/command.cjs', `// ${build16}\n${code}`);
writeFileSync('dist/cli/lastrotation.cjs', start.outputFiles[0].text, { mode: 0o755 });
writeFileSync('dist/cli/LICENCES.txt', asText(licencesIn(metafile)));
