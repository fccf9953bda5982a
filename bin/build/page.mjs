/**
 * Makes the script and the style of a page, with their hashes for its policy: node bin/build/page.mjs
 */
import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { build } from 'esbuild';
import { asText, licencesIn } from './licences.mjs';

/** Of every package that is built in, by name. */
const builtIn = new Map();

async function bundled(entry, format) {
  const { outputFiles, metafile } = await build({
    entryPoints: [entry],
    bundle: true,
    minify: true,
    write: false,
    metafile: true,
    platform: 'browser',
    target: 'es2022',
    ...(format === undefined ? {} : { format }),
    jsx: 'automatic',
    jsxImportSource: 'preact',
    charset: 'utf8',
    legalComments: 'none',
    logLevel: 'warning',
  });
  // Nothing in it may end the element that it stands in.
  const licences = licencesIn(metafile);
  for (const licence of licences) builtIn.set(licence.name, licence);
  const named = licences.map(({ name, license, text }) => {
    return `${name}, ${license}, ${/^.*copyright.*$/im.exec(text)?.[0].trim() ?? ''}`;
  });
  const notice = named.length === 0 ? '' : `/* Built in: ${named.join('; ')} */\n`;
  return `${notice}${outputFiles[0].text.trim()}`
    .replaceAll('</script', '<\\/script')
    .replaceAll('<!--', '<\\!--');
}

const hash = (text) => createHash('sha256').update(text).digest('base64');

const head = await bundled('lib/page/client/head.ts', 'iife');
const script = await bundled('lib/page/client/main.tsx', 'iife');
const style = await bundled('lib/page/client/style.css');
mkdirSync('dist/page', { recursive: true });
writeFileSync(
  'dist/page/assets.json',
  JSON.stringify({
    ...{ head, headHash: hash(head) },
    ...{ script, scriptHash: hash(script) },
    ...{ style, styleHash: hash(style) },
  }),
);
writeFileSync('dist/page/LICENCES.txt', asText([...builtIn.values()]));
