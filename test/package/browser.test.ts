/** The first door has no Node behind it: it runs in a graphics page as well. */
import { join } from 'node:path';
import { createContext, runInContext } from 'node:vm';
import { type BuildResult, build } from 'esbuild';
import { beforeAll, expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';
import { ADA_TO_WIN, MEET, type Packed, pack } from './stranger.js';

let packed: Packed;
let page: BuildResult<{ write: false; metafile: true }>;
let script: string;

beforeAll(async () => {
  packed = await pack();
  page = await bundle('lastrotation');
  script = page.outputFiles[0]!.text;
});

/** As a page would be bundled that hands the whole door to its scripts. */
function bundle(door: string, what = '*') {
  return build({
    stdin: {
      contents: `export ${what} from '${door}';`,
      resolveDir: join(packed.path, '../..'),
    },
    nodePaths: [join(ROOT, 'node_modules')],
    bundle: true,
    minify: true,
    platform: 'browser',
    format: 'iife',
    globalName: 'lastrotation',
    legalComments: 'none',
    write: false,
    metafile: true,
    logLevel: 'silent',
  });
}

it('bundles for a page from the packed files, with nothing left to import', () => {
  expect(page.warnings).toEqual([]);
  const imports = Object.values(page.metafile.outputs).flatMap((output) => output.imports);
  expect(imports).toEqual([]);
  const ours = Object.keys(page.metafile.inputs).filter((path) => path.includes('/dist/lib/'));
  expect(ours.filter((path) => path.endsWith('/dist/lib/index.js'))).toHaveLength(1);
  expect(ours.filter((path) => /\/dist\/lib\/(files|require)\//.test(path))).toEqual([]);
});

it('uses nothing that only Node has', () => {
  expect(script).not.toMatch(/["'`]node:|\brequire\(/);
  expect(script).not.toMatch(/\b(process|Buffer|__dirname|__filename|setImmediate)\b\s*[.([]/);
  expect(script).not.toMatch(/\btypeof (process|Buffer|require|module)\b/);
});

it('leaves out of a page what it does not use', async () => {
  const sizeOf = async (what: string) => {
    return (await bundle('lastrotation', what)).outputFiles[0]!.text.length;
  };
  // Nothing but how a score is read; and less than half of all, where a meet is read and asked.
  expect(await sizeOf('{ parseScore }')).toBeLessThan(3000);
  expect(await sizeOf('{ readMeet, needs }')).toBeLessThan(script.length / 2);
});

it('answers where there is nothing but the language, and no code from strings', () => {
  const globals = createContext({ MEET }, { codeGeneration: { strings: false, wasm: false } });
  runInContext(script, globals);
  const answer = runInContext(
    `const { readMeet, needs, written } = lastrotation;
     const absent = [typeof require, typeof process, typeof Buffer, typeof window, typeof self];
     const { meet, problems } = readMeet({
       meet: { file: 'meet.yaml', text: MEET.yaml },
       log: { file: 'meet.scores.csv', text: MEET.log },
     });
     const sheet = needs(meet, 'ada', { for: 'win' });
     const [need] = written('needs', sheet, meet.scoring.decimals).needs;
     JSON.stringify({ absent, problems, need });`,
    globals,
  ) as string;
  const { absent, problems, need } = JSON.parse(answer);
  expect(new Set(absent)).toEqual(new Set(['undefined']));
  expect(problems).toEqual([]);
  const { level, ahead, onGrid, mark } = need;
  expect({ level, ahead, onGrid, mark: mark.id }).toEqual(ADA_TO_WIN);
});

it('refuses the second door, which touches the disk', async () => {
  await expect(bundle('lastrotation/files')).rejects.toThrow(
    /Could not resolve "(node:)?(fs|path)"/,
  );
});
