/** What is in the package, and what linters of packages have to say about it. */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { homedir, tmpdir } from 'node:os';
import { join, posix } from 'node:path';
import { build } from 'esbuild';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';
import { type Packed, pack } from './stranger.js';

let packed: Packed;
beforeAll(async () => {
  packed = await pack();
});

const textOf = (file: string) => readFileSync(join(packed.path, file), 'utf8');
const files = (pattern: RegExp) => packed.files.filter((file) => pattern.test(file));

describe('the packed files', () => {
  it('are the built code, the docs, and the four papers at the top', () => {
    expect(files(/^[^/]+$/)).toEqual(['CHANGELOG.md', 'LICENSE', 'README.md', 'package.json']);
    expect(packed.files).toContain('dist/cli/lastrotation.cjs');
    expect(packed.files).toContain('dist/cli/command.cjs');
    for (const door of ['index', 'files/index']) {
      expect(packed.files).toContain(`dist/lib/${door}.js`);
      expect(packed.files).toContain(`dist/lib/${door}.d.ts`);
      expect(packed.files).toContain(`dist/require/${door}.js`);
      expect(packed.files).toContain(`dist/types/${door}.d.ts`);
    }
    expect(packed.files).toContain('dist/schemas/standings.json');
    expect(packed.files).toContain('dist/page/assets.json');
    expect(packed.files).toContain('docs/examples/harbour.yaml');
    expect(
      files(/\//).filter(
        (file) => !/^(dist\/(lib|cli|page|require|schemas|types)|docs)\//.test(file),
      ),
    ).toEqual([]);
    // What an editor shows on each name is not packed a second time, nor the pictures.
    expect(files(/^docs\/(reference|pictures)\//)).toEqual([]);
  });

  it('are few: the code of the library in a handful, a declaration that no door leads to not among them', () => {
    expect(files(/^dist\/(lib|require)\/.*\.js$/).length).toBeLessThan(30);
    const reached = new Set<string>();
    for (const door of ['dist/lib/index.d.ts', 'dist/lib/files/index.d.ts']) reach(door, reached);
    const declarations = files(/\.d\.[cm]?ts$/);
    expect([...reached].sort()).toEqual(declarations);
    expect(declarations.length).toBeGreaterThan(50);
  });

  it('have one text of a schema and of the page, without spaces for the eye', () => {
    for (const file of files(/^dist\/(schemas|page)\/.*\.json$/)) {
      const text = textOf(file).trim();
      expect(text).toBe(JSON.stringify(JSON.parse(text)));
    }
  });

  it('have no test, no source and no source map among them', () => {
    expect(files(/\.test\.|(^|\/)test\//)).toEqual([]);
    expect(files(/\.[cm]?ts$/).filter((file) => !/\.d\.[cm]?ts$/.test(file))).toEqual([]);
    expect(files(/\.map$/)).toEqual([]);
    expect(packed.files.filter((file) => /sourceMappingURL/.test(textOf(file)))).toEqual([]);
  });

  it('have the licence of every package that is built into the command', () => {
    const licences = textOf('dist/cli/LICENCES.txt');
    const builtIn = [
      ...['commander', 'fast-string-width', 'picocolors', 'hono'],
      ...Object.keys(packed.manifest.dependencies).filter(
        (name) => !textOf('dist/cli/command.cjs').includes(`require("${name}")`),
      ),
    ];
    expect(builtIn).toContain('valibot');
    for (const name of builtIn) expect(licences).toContain(`${name} (`);
    expect(licences.match(/Permission/g)?.length).toBeGreaterThanOrEqual(builtIn.length);
  });

  it('have the licence of every package that is built into what is required', () => {
    const licences = textOf('dist/require/LICENCES.txt');
    for (const name of ['preact', 'preact-render-to-string', 'd3-array', 'd3-shape']) {
      expect(licences).toContain(`${name} (`);
    }
  });

  it('name no folder of the machine they were built on', () => {
    const here = [ROOT, homedir(), tmpdir()].map((path) => path.replace(/[/\\]+$/, ''));
    const anywhere = /\/(home|Users)\/\w|[A-Z]:\\+Users\\|file:\/\/\//;
    const names = (text: string) =>
      anywhere.test(text) || here.some((path) => path !== '' && text.includes(`${path}/`));
    expect(packed.files.filter((file) => names(textOf(file)))).toEqual([]);
  });

  it('have a command that Node is asked to run', () => {
    expect(textOf(packed.manifest.bin.lastrotation!)).toMatch(/^#!\/usr\/bin\/env node\n/);
  });
});

describe('the dependencies', () => {
  it('are those the packed files import, and no more', async () => {
    const imported = [...(await importedByCode()), ...importedByTypes()].map(packageOf);
    expect([...new Set(imported)].sort()).toEqual(Object.keys(packed.manifest.dependencies).sort());
  });

  it('are no part of the command but for the lock, so that it begins at once', async () => {
    const { outputs } = await follow([packed.manifest.bin.lastrotation!, 'dist/cli/command.cjs']);
    expect(packagesIn(outputs)).toEqual(['proper-lockfile']);
  });
});

describe('linters of packages', () => {
  it('find nothing wrong with how it is published', async () => {
    const { messages, pkg } = await publint({ pkgDir: packed.path, pack: false, strict: true });
    expect(messages.map((message) => formatMessage(message, pkg, { color: false }))).toEqual([]);
  });

  it('find its types wherever they look', () => {
    const { problems, entrypoints } = analysed(packed.tarball);
    expect(Object.keys(entrypoints)).toEqual(Object.keys(packed.manifest.exports));
    expect(problems).toEqual([]);
  });
});

/** Goes from a declaration to those it names. */
function reach(file: string, reached: Set<string>): void {
  if (reached.has(file)) return;
  reached.add(file);
  for (const [, path = ''] of textOf(file).matchAll(/['"](\.[^'"\n]*)\.js['"]/g)) {
    reach(posix.join(posix.dirname(file), `${path}.d.ts`), reached);
  }
}

/** What is imported from outside, from every module as it stands. */
async function importedByCode(): Promise<readonly string[]> {
  return packagesIn((await follow(files(/\.[cm]?js$/))).outputs);
}

/** Follows the imports; fails where a file that is imported is not in the package. */
async function follow(entryPoints: readonly string[]) {
  const { metafile } = await build({
    absWorkingDir: packed.path,
    entryPoints: [...entryPoints],
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    outdir: 'nowhere',
    write: false,
    metafile: true,
    logLevel: 'silent',
  });
  return metafile;
}

function packagesIn(outputs: Awaited<ReturnType<typeof follow>>['outputs']): readonly string[] {
  const all = Object.values(outputs).flatMap(({ imports }) => imports);
  const names = all.filter((i) => i.external === true).map(({ path }) => path);
  return [...new Set(names)].filter((name) => !isBuiltin(name));
}

function importedByTypes(): readonly string[] {
  const named =
    /(?<!['"])\b(?:from|import)\s*\(?\s*['"]([^'".][^'"]*)['"]|<reference types="([^"]+)"/g;
  return files(/\.d\.[cm]?ts$/).flatMap((file) =>
    [...textOf(file).matchAll(named)].map(([, name, reference]) => name ?? reference ?? ''),
  );
}

const packageOf = (name: string): string =>
  name
    .split('/')
    .slice(0, name.startsWith('@') ? 2 : 1)
    .join('/');

interface TypesProblem {
  readonly kind: string;
  readonly resolutionKind?: string;
  readonly entrypoint?: string;
}

interface TypesAnalysis {
  readonly problems: readonly TypesProblem[];
  readonly entrypoints: Readonly<Record<string, unknown>>;
}

function analysed(tarball: string): TypesAnalysis {
  const linter = join(ROOT, 'node_modules/@arethetypeswrong/cli/dist/index.js');
  const flags = ['--format', 'json', '--no-definitely-typed'];
  const { stdout, stderr } = spawnSync(process.execPath, [linter, tarball, ...flags], {
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  if (stdout === '') throw new Error(stderr);
  const { analysis } = JSON.parse(stdout) as { analysis: TypesAnalysis };
  return analysis;
}
