/** The examples in the doc comments of what the two doors export, as a program that can be run. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../support/cli.js';

export const DOORS = { lastrotation: 'lib/index.ts', 'lastrotation/files': 'lib/files/index.ts' };

export interface Example {
  /** `lib/score.ts parseScore` */
  readonly of: string;
  /** Null where there is none. */
  readonly code: string | null;
}

/** A module, and the values it exports through a door, by the name they have in it. */
function exportsOf(door: string): readonly (readonly [module: string, name: string])[] {
  const text = readFileSync(join(ROOT, door), 'utf8');
  const passedOn = [...text.matchAll(/^export \{([^}]*)\} from '\.\/([^']+)\.js';/gm)].flatMap(
    ([, names = '', module = '']) =>
      names
        .split(',')
        .map((name) => name.trim().replace(/ as .*/, ''))
        .filter((name) => name !== '' && !name.startsWith('type '))
        .map((name) => [join(door, '..', `${module}.ts`), name] as const),
  );
  const own = [...text.matchAll(/^export function (\w+)/gm)].map(
    ([, name = '']) => [door, name] as const,
  );
  return [...passedOn, ...own];
}

/** What a door exports as a name of its own. */
function roomsOf(door: string): readonly (readonly [name: string, door: string])[] {
  const text = readFileSync(join(ROOT, door), 'utf8');
  return [...text.matchAll(/^export \* as (\w+) from '\.\/([^']+)\.js';/gm)].map(
    ([, name = '', module = '']) => [name, join(door, '..', `${module}.ts`)] as const,
  );
}

/** Of every value that a door exports, the example in the comment before it. */
export function examplesOf(door: string): readonly Example[] {
  const rooms = [door, ...roomsOf(door).map(([, room]) => room)];
  return rooms.flatMap(exportsOf).map(([module, name]) => {
    const path = join(ROOT, module);
    const text = readFileSync(existsSync(path) ? path : `${path}x`, 'utf8');
    const at = text.search(
      new RegExp(`^export (?:async )?(?:function|const|class) ${name}\\b`, 'm'),
    );
    const comment = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\n$/.exec(text.slice(0, Math.max(at, 0)))?.[1];
    const [, example] = comment?.replace(/^ \* ?/gm, '').split('@example\n') ?? [];
    return { of: `${module} ${name}`, code: example?.trim() ?? null };
  });
}

/** What a line says of the expression before it: its value, or the error it throws. */
const CLAIM = /^(.*?);?\s*\/\/ → (.*)$/s;

/** One example as a function: each of its claims is passed on, with the value that was found. */
function asFunction({ of, code }: Example): string {
  const statements: string[] = [];
  let open: string[] = [];
  for (const line of (code ?? '').split('\n')) {
    open.push(line);
    const text = open.join('\n');
    if (!isWhole(text)) continue;
    statements.push(claimed(of, text));
    open = [];
  }
  return `  async () => {\n${[...statements, ...open].join('\n')}\n  },`;
}

/** Whether every bracket is closed. */
function isWhole(text: string): boolean {
  const code = text.replace(/\/\/.*$/, '').replace(/'(?:\\.|[^'\\\n])*'|`[^`]*`/g, '');
  const count = (brackets: RegExp) => code.match(brackets)?.length ?? 0;
  return count(/[([{]/g) === count(/[)\]}]/g);
}

function claimed(of: string, text: string): string {
  const [, expression = '', claim = ''] = CLAIM.exec(text) ?? [];
  if (claim === '') return text;
  const [, error] = /^throws ([\w-]+)$/.exec(claim) ?? [];
  const at = JSON.stringify(`${of}: ${expression.trim()}`);
  return error === undefined
    ? `gives(${at}, ${expression}, ${claim});`
    : `await refuses(${at}, async () => ${expression}, '${error}');`;
}

/** A module that runs all examples of a door, each in a folder as it was. */
export function programOf(door: keyof typeof DOORS, examples: readonly Example[]): string {
  const files = door === 'lastrotation/files';
  const names = (from: string) => exportsOf(from).map(([, name]) => name);
  const inFiles = names(DOORS['lastrotation/files']);
  const rooms = roomsOf(DOORS.lastrotation).map(([name]) => name);
  const pure = [...names(DOORS.lastrotation), ...rooms].filter(
    (name) => !files || !inFiles.includes(name),
  );
  return `
import { ${pure.join(', ')} } from 'lastrotation';
import { ${files ? inFiles.join(', ') : 'openMeet'} } from 'lastrotation/files';
import { gives, refuses, run } from './harness.mjs';
const meet = openMeet('harbour.yaml');
declare const console: { log(text: string): void };
await run([
${examples.map(asFunction).join('\n')}
]);
`;
}
