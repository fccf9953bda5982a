/**
 * A page that allows itself nothing but its own scripts (Content-Security-Policy: script-src 'self',
 * https://www.w3.org/TR/CSP3/) gets every answer, the same as here: in Chromium, where there is one.
 */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { build } from 'esbuild';
import { expect, it } from 'vitest';
import { answersOf, type Texts } from '../support/answers.js';
import { BROWSER, FLAGS } from '../support/browser.js';
import { COVE, ROOT } from '../support/cli.js';

it.skipIf(BROWSER === undefined)(
  'a page that allows only its own scripts gets every answer',
  async () => {
    const texts: Texts = {
      meet: readFileSync(join(ROOT, COVE), 'utf8'),
      log: readFileSync(join(ROOT, COVE.replace('.yaml', '.scores.csv')), 'utf8'),
      history: history(),
    };
    const door = await import(join(ROOT, 'dist/lib/index.js'));
    const expected = JSON.parse(JSON.stringify(answersOf(door, texts)));
    const { answers, compiled } = await inBrowser(texts);
    // The policy holds: code from strings is refused, and so is WebAssembly.
    expect(compiled).toEqual(['EvalError', 'CompileError']);
    expect(Object.keys(answers)).toEqual(Object.keys(expected));
    expect(differences(answers, expected)).toEqual([]);
  },
);

/**
 * Where two answers differ, but for the last digits of a chance: ECMAScript leaves those of `Math.exp`
 * and `Math.log` to the engine (ECMA-262, "Function Properties of the Math Object").
 */
function differences(one: unknown, other: unknown, where = ''): string[] {
  if (typeof one === 'number' && typeof other === 'number') {
    const isEqual = Math.abs(one - other) < 1e-12;
    return isEqual ? [] : [`${where}: ${one} instead of ${other}`];
  }
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) {
    return one === other ? [] : [`${where}: ${one} instead of ${other}`];
  }
  const [hers, theirs] = [Object.entries(one), Object.entries(other)];
  if (hers.length !== theirs.length) return [`${where}: ${hers.length} of ${theirs.length}`];
  const byKey = new Map(theirs);
  return hers.flatMap(([key, value]) => differences(value, byKey.get(key), `${where}/${key}`));
}

/** What a script of the page wrote into it. */
interface Page {
  readonly answers: Record<string, unknown>;
  /** The names of the errors that code from a string and WebAssembly ended in. */
  readonly compiled: readonly string[];
}

async function inBrowser(texts: Texts): Promise<Page> {
  const script = await bundled(texts);
  const server = createServer((request, response) => {
    response.setHeader('Content-Security-Policy', "default-src 'none'; script-src 'self'");
    const isScript = request.url === '/page.js';
    response.setHeader('Content-Type', isScript ? 'text/javascript' : 'text/html');
    response.end(isScript ? script : '<pre id="page"></pre><script src="/page.js"></script>');
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  const profile = mkdtempSync(join(tmpdir(), 'lastrotation-'));
  try {
    const { stdout } = await promisify(execFile)(
      BROWSER ?? '',
      [
        '--headless',
        ...FLAGS,
        `--user-data-dir=${profile}`,
        '--dump-dom',
        `http://127.0.0.1:${port}/`,
      ],
      { maxBuffer: 64 * 1024 * 1024 },
    );
    const text = /<pre id="page">([A-Za-z0-9+/=]*)<\/pre>/.exec(stdout)?.[1] ?? '';
    return JSON.parse(Buffer.from(text, 'base64').toString());
  } finally {
    server.close();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
}

/** The script of the page: the library as it is packed, and every answer asked for. */
async function bundled(texts: Texts): Promise<string> {
  const { outputFiles } = await build({
    stdin: {
      contents: `
        import * as door from './dist/lib/index.js';
        import { answersOf } from './test/support/answers.ts';
        const nameOf = (work) => { try { work(); return null; } catch (e) { return e.name; } };
        const empty = new Uint8Array([0, 97, 115, 109, 1, 0, 0, 0]);
        const compiled = [
          nameOf(() => new Function('return 1')),
          nameOf(() => new WebAssembly.Module(empty)),
        ];
        let page;
        try { page = { answers: answersOf(door, ${JSON.stringify(texts)}), compiled }; }
        catch (e) { page = { answers: { error: String(e) }, compiled }; }
        const bytes = new TextEncoder().encode(JSON.stringify(page));
        const text = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
        document.getElementById('page').textContent = btoa(text);`,
      resolveDir: ROOT,
    },
    bundle: true,
    platform: 'browser',
    format: 'iife',
    write: false,
    logLevel: 'silent',
  });
  return outputFiles[0]?.text ?? '';
}

/** Two invented all-around finals of five. */
function history(): string {
  const rows = ['gymnast,discipline,date,competition,round,apparatus,score'];
  for (const [c, date] of ['2025-03-01', '2025-05-10'].entries()) {
    for (let g = 0; g < 5; g++) {
      for (const [a, code] of ['VT', 'UB', 'BB', 'FX'].entries()) {
        const score = 13 + ((7 * g + 5 * a + 3 * c) % 11) / 10;
        rows.push(`g${g},wag,${date},Cup ${c},AA final,${code},${score.toFixed(3)}`);
      }
    }
  }
  return `${rows.join('\n')}\n`;
}
