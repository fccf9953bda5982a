/**
 * Makes the library: its two doors as ES modules and for `require`, what they share in files of its own, and their
 * types: node bin/build/library.mjs, after the compiler has written the declarations to dist/types
 */
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { build, transform } from 'esbuild';
import { droppable } from './droppable.mjs';
import { asText, licencesIn } from './licences.mjs';

const DOORS = ['index', 'files/index'];

/** What a door gives as a namespace stays a file, so that a bundler sees what is taken from it. */
const NAMESPACE = 'report/index';

/** What comes as ES modules only, and what needs it: older versions of Node cannot `require` it, so it is built in. */
const MODULES_ONLY = ['d3-array', 'd3-shape', 'preact', 'preact-render-to-string'];

const { dependencies } = JSON.parse(readFileSync('package.json', 'utf8'));

const settings = {
  // Names stay as they are: they are read where something goes wrong.
  minifyWhitespace: true,
  minifySyntax: true,
  // Node shows the line that an error was thrown from.
  lineLimit: 120,
  target: 'es2022',
  charset: 'utf8',
  legalComments: 'none',
  logLevel: 'warning',
};

/** The doors and what they share, each file with its text; `outside` are the packages that stay what they are. */
async function bundled(outside, outdir) {
  const { outputFiles, metafile } = await build({
    ...settings,
    entryPoints: [...DOORS, NAMESPACE].map((door) => `lib/${door}.ts`),
    outdir,
    chunkNames: 'shared-[hash]',
    bundle: true,
    splitting: true,
    metafile: true,
    write: false,
    platform: 'neutral',
    format: 'esm',
    mainFields: ['module', 'main'],
    jsx: 'automatic',
    jsxImportSource: 'preact',
    plugins: [
      {
        name: 'a namespace of its own',
        setup({ onResolve }) {
          const path = `./${NAMESPACE}.js`;
          onResolve({ filter: /^\.\/report\/index\.js$/ }, () => ({ path, external: true }));
        },
      },
    ],
    external: ['node:*', ...outside.flatMap((name) => [name, `${name}/*`])],
  });
  return { metafile, files: outputFiles.map(({ path, text }) => ({ path, text })) };
}

/** A file as another imports it. */
function beside(from, file) {
  const path = relative(dirname(from), file).replaceAll('\\', '/');
  return path.startsWith('.') ? path : `./${path}`;
}

function write(path, text) {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, text);
}

for (const folder of ['dist/lib', 'dist/require']) rmSync(folder, { recursive: true, force: true });

const names = Object.keys(dependencies);
const modules = await bundled(names, 'dist/lib');
/** The file that passes on a package, such as `preact/hooks`. */
const passing = (name) => resolve('dist/lib/packages', `${name.replaceAll('/', '-')}.js`);
const { files, passedOn } = droppable(modules.files, (from, name) => beside(from, passing(name)));
for (const { path, text } of files) write(path, text);
for (const [name, text] of passedOn) write(passing(name), text);

const required = await bundled(
  names.filter((name) => !MODULES_ONLY.includes(name)),
  'dist/require',
);
for (const { path, text } of required.files) {
  const { code } = await transform(text, { ...settings, format: 'cjs', platform: 'node' });
  write(path, code);
}
write('dist/require/package.json', '{"type":"commonjs"}');
write('dist/require/LICENCES.txt', asText(licencesIn(required.metafile)));

// One declaration of each type, for modules and for `require`: a module may take its types from what is required, and
// not the other way round.
write('dist/types/package.json', '{"type":"commonjs"}');
for (const door of DOORS) {
  const types = beside(`dist/lib/${door}`, `dist/types/${door}.js`);
  write(`dist/lib/${door}.d.ts`, `export * from '${types}';\n`);
}

/** The declarations that a door leads to. */
const reached = new Set();
function reach(file) {
  if (reached.has(file)) return;
  reached.add(file);
  const text = readFileSync(file, 'utf8');
  for (const [, path] of text.matchAll(/\b(?:from|import)\s*\(?\s*['"](\.[^'"]+)\.js['"]/g)) {
    reach(resolve(dirname(file), `${path}.d.ts`));
  }
}
for (const door of DOORS) reach(resolve(`dist/types/${door}.d.ts`));
for (const name of readdirSync('dist/types', { recursive: true })) {
  const file = resolve(join('dist/types', name));
  if (file.endsWith('.d.ts') && !reached.has(file)) rmSync(file);
}
