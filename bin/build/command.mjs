/**
 * Makes the command one file, and puts the licences of what is built into it beside it:
 * node bin/build/command.mjs
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';

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

/** The folder of each package of which something is built in. */
const folders = new Set(
  Object.keys(metafile.inputs).flatMap((file) => {
    const [folder] = /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file) ?? [];
    return folder === undefined ? [] : [folder];
  }),
);
const licences = [...folders].sort().map((folder) => {
  const { name, license } = JSON.parse(readFileSync(`${folder}/package.json`, 'utf8'));
  const file = readdirSync(folder).find((f) => /^licen[cs]e/i.test(f));
  if (file === undefined) throw new Error(`${name} has no licence text`);
  return `${name} (${license})\n\n${readFileSync(`${folder}/${file}`, 'utf8').trim()}\n`;
});
writeFileSync('dist/cli/LICENCES.txt', licences.join(`\n${'-'.repeat(72)}\n\n`));
