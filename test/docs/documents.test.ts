/** What the documents show is what the tool does. */
import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { EXAMPLES, ROOT, run } from '../support/cli.js';

interface Step {
  /** A file that the document shows, or lines to add to one, or a command and its answer. */
  readonly file?: string;
  readonly append?: boolean;
  /** A program: what it prints stands in its comments. */
  readonly isRun?: boolean;
  readonly command?: string;
  readonly text: string;
}

/** Files and commands of a document, in order: blocks ```yaml file=meet.yaml, ```js file=ask.mjs run and ```console. */
function stepsOf(document: string): Step[] {
  const steps: Step[] = [];
  for (const [, info = '', body = ''] of document.matchAll(/^```(.*)\n([\s\S]*?)^```$/gm)) {
    const [, how, file] = /(file|append)=(\S+)/.exec(info) ?? [];
    if (file !== undefined) {
      steps.push({ file, append: how === 'append', isRun: /\brun$/.test(info), text: body });
    }
    if (info !== 'console') continue;
    for (const part of body.split(/^\$ /m).slice(1)) {
      const [command = '', ...answer] = part.split('\n');
      steps.push({ command, text: answer.join('\n') });
    }
  }
  return steps;
}

/** Splits a command line as a shell would, as far as the documents need it. */
function words(command: string): string[] {
  return [...command.matchAll(/"([^"]*)"|(\S+)/g)].map((m) => m[1] ?? m[2] ?? '');
}

function printedBy(program: string, cwd: string): string {
  const { stdout, stderr } = spawnSync(process.execPath, [program], { cwd, encoding: 'utf8' });
  return `${stderr}${stdout}`;
}

function commentsIn(program: string): string {
  return [...program.matchAll(/^\/\/ (.*\n)/gm)].map(([, line]) => line).join('');
}

describe.each(['docs/guide.md', 'docs/season.md', 'docs/story.md', 'README.md'])('%s', (name) => {
  it('every command answers as shown', () => {
    const document = readFileSync(join(ROOT, name), 'utf8');
    const steps = stepsOf(document);
    expect(steps.filter((s) => s.command !== undefined).length).toBeGreaterThan(1);
    const cwd = mkdtempSync(join(tmpdir(), 'lastrotation-docs-'));
    // Where the page says that it is read in the folder of the examples.
    if (document.includes('go there')) cpSync(EXAMPLES, cwd, { recursive: true });
    // What a reader in the checkout has beside the page.
    mkdirSync(join(cwd, 'node_modules'));
    symlinkSync(ROOT, join(cwd, 'node_modules', 'lastrotation'));
    symlinkSync(join(ROOT, 'docs'), join(cwd, 'docs'));
    try {
      for (const { file, append, isRun, command = '', text } of steps) {
        if (file !== undefined) {
          (append ? appendFileSync : writeFileSync)(join(cwd, file), text);
          if (isRun) expect(printedBy(file, cwd)).toBe(commentsIn(text));
          continue;
        }
        const [program, ...args] = words(command);
        expect(program).toBe('lastrotation');
        const ran = run(args, { cwd });
        expect(`$ ${command}\n${ran.err}${ran.out}`).toBe(`$ ${command}\n${text}`);
      }
    } finally {
      rmSync(cwd, { recursive: true, force: true });
    }
  });
});

describe('docs/examples/evening.sh', () => {
  it.skipIf(process.platform === 'win32')('plays the evening to its end', () => {
    const done = spawnSync('sh', ['docs/examples/evening.sh'], { cwd: ROOT, encoding: 'utf8' });
    expect([done.status, done.stderr]).toEqual([0, '']);
    expect(done.stdout).toContain('21 rows recorded');
    // 29.425 + 29.350 + (9.850 + 9.700 + 9.700) + (9.900 + 9.825 + 9.800), the best three of four.
    expect(done.stdout).toMatch(/1 {2}Mill Lane .* 117\.550/);
    expect(done.stdout).toContain('It is over: these are the final places.');
  });
});

describe('the example of the library in README.md', () => {
  it('runs, and prints what the comment beside it says', async () => {
    const document = readFileSync(join(ROOT, 'README.md'), 'utf8');
    const code = /^```ts\n([\s\S]*?)^```$/m.exec(document)?.[1] ?? '';
    expect(code.trim().split('\n').length).toBeLessThanOrEqual(6);
    const cwd = mkdtempSync(join(ROOT, 'dist/readme-'));
    try {
      const meet = join(ROOT, 'docs/examples/harbour.yaml');
      writeFileSync(join(cwd, 'example.mjs'), code.replace("'harbour.yaml'", JSON.stringify(meet)));
      const printed: string[] = [];
      const log = console.log;
      console.log = (...values) => void printed.push(values.join(' '));
      try {
        await import(join(cwd, 'example.mjs'));
      } finally {
        console.log = log;
      }
      const promised = [...code.matchAll(/; \/\/ (.*)$/gm)].map((m) => m[1]);
      expect(printed).toEqual(promised);
    } finally {
      rmSync(cwd, { recursive: true, force: true });
    }
  });
});
