/** Installed into an empty TypeScript project: no types of Node's, every declaration checked. */
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ROOT } from '../support/cli.js';
import { ADA_TO_WIN, type Packed, type Project, pack, project } from './stranger.js';

let packed: Packed;
let stranger: Project;

beforeAll(async () => {
  packed = await pack();
  stranger = await project(packed, { type: 'module' });
}, 120_000);
beforeEach((context) => {
  context.skip(stranger.unreachable !== null, stranger.unreachable ?? '');
});
afterAll(() => stranger?.clean());

const PROGRAM = `
import { formatScore, LastRotationError, type Meet, type Need, needs, parseScore } from 'lastrotation';
import { type MeetFiles, readMeetFiles } from 'lastrotation/files';

declare const console: { log(text: string): void };

const { meet, problems }: MeetFiles = readMeetFiles('meet.yaml');
if (meet === null) throw new LastRotationError(problems[0]?.message ?? 'unsound', {
  kind: 'file', code: 'syntax', mend: 'see lastrotation check',
});
const need: Need | undefined = needs(meet, 'ada', { for: 'win' }).needs[0];
const show = (meet: Meet, score: number | null | undefined): string =>
  score == null ? '' : formatScore(score, meet.scoring.decimals);

// The types are there, and are no any.
export function refused(meet: Meet, need: Need): void {
  // @ts-expect-error: a score is read from a text
  parseScore(13.5, 3);
  // @ts-expect-error: there is no such time
  needs(meet, 'ada', { when: 'yesterday' });
  // @ts-expect-error: there is no such target
  needs(meet, 'ada', { for: 'glory' });
  // @ts-expect-error: points where units are meant
  needs(meet, 'ada', { margin: 0.1 });
  // @ts-expect-error: beyond her reach there is no score on the grid
  const onGrid: number = need.onGrid;
  show(meet, onGrid);
  // @ts-expect-error: an answer is not changed
  need.ahead = 0;
}

console.log(JSON.stringify({
  level: show(meet, need?.level),
  ahead: show(meet, need?.ahead),
  onGrid: show(meet, need?.onGrid),
  mark: need?.mark?.id,
}));
`;

/** What a library built on this one does: its declarations name what it was answered. */
const LIBRARY = `
import { needs, parseScore, readMeet } from 'lastrotation';
import { openMeet, record } from 'lastrotation/files';

const meet = openMeet('meet.yaml');
const [need] = needs(meet, 'ada').needs;
export const score = parseScore('13.500', meet.scoring.decimals);
export const { above, settled, range } = needs(meet, 'ada');
export const { dialect, problems } = readMeet({ meet: { file: '', text: '' } });
export const [split, tieGoesTo, missing] = [need?.split, need?.tieGoesTo, need?.missing];
export const recorded = record('meet.yaml', { gymnast: 'ada', apparatus: 'FX', score: '13.533' });
`;

async function compiled(options: object, name: string, text: string): Promise<string> {
  stranger.write(name, text);
  const compilerOptions = {
    target: 'es2022',
    lib: ['es2023'],
    types: [],
    strict: true,
    exactOptionalPropertyTypes: true,
    noUncheckedIndexedAccess: true,
    skipLibCheck: false,
    outDir: 'out',
    rootDir: '.',
    ...options,
  };
  stranger.write('tsconfig.json', JSON.stringify({ compilerOptions, files: [name] }));
  rmSync(join(stranger.path, 'out'), { recursive: true, force: true });
  const compiler = join(ROOT, 'node_modules/typescript/bin/tsc');
  const { out, err } = await stranger.run(process.execPath, compiler, '-p', 'tsconfig.json');
  return out + err;
}

const SETTINGS = [
  { module: 'node16', moduleResolution: 'node16' },
  { module: 'esnext', moduleResolution: 'bundler' },
] as const;

describe('a program', () => {
  it.each(SETTINGS)('compiles and runs: module $module, $moduleResolution', async (settings) => {
    expect(await compiled(settings, 'program.mts', PROGRAM)).toBe('');
    const ran = await stranger.run(process.execPath, 'out/program.mjs');
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(ran.out)).toEqual(ADA_TO_WIN);
  });

  it('compiles as CommonJS where that may require an ES module', async () => {
    const nodenext = { module: 'nodenext', moduleResolution: 'nodenext' };
    expect(await compiled(nodenext, 'program.cts', PROGRAM)).toBe('');
  });

  it('declares what it was answered, by names it may import', async () => {
    const settings = { module: 'nodenext', moduleResolution: 'nodenext', declaration: true };
    expect(await compiled(settings, 'library.mts', LIBRARY)).toBe('');
  });
});
