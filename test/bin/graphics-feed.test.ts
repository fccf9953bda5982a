/** `graphics` for machines: all contests at once, what changed, and the feed of an evening. */
import { type ChildProcess, spawn } from 'node:child_process';
import { appendFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { COMMAND, folder, run } from '../support/cli.js';
import { until } from '../support/until.js';

interface Line {
  readonly id: string;
  readonly kind: string;
  readonly text: string | null;
}

interface Answer {
  readonly schema: number;
  readonly contest: string;
  readonly sequence: number;
  readonly rows: number;
  readonly at: string | null;
  readonly stale: string | null;
  readonly lines: readonly Line[];
}

interface Changes extends Omit<Answer, 'lines'> {
  readonly since: number;
  readonly added: readonly Line[];
  readonly changed: readonly Line[];
  readonly withdrawn: readonly string[];
}

let place: ReturnType<typeof folder>;
let meet: string[];
let log: string;
const running: ChildProcess[] = [];
beforeEach(() => {
  place = folder('mill-lane.yaml', 'mill-lane.scores.csv');
  meet = ['--meet', join(place.path, 'mill-lane.yaml')];
  log = join(place.path, 'mill-lane.scores.csv');
});
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
  place.clean();
});

/** Answers, one on each line. */
function told<T>(out: string): T[] {
  const lines = out.trimEnd().split('\n');
  return lines.map((line) => JSON.parse(line) as T);
}

const graphics = (...args: string[]) => run(['graphics', ...args, ...meet]);
const wantedOf = (contest: string) => told<Answer>(graphics('--json', '--contest', contest).out)[0];

/** A row of the log, taken from its end. */
function withoutLastRow(): string {
  const rows = readFileSync(log, 'utf8').trimEnd().split('\n');
  writeFileSync(log, `${rows.slice(0, -1).join('\n')}\n`);
  return `${rows.at(-1)}\n`;
}

function started(...args: string[]) {
  const all = [COMMAND, 'graphics', ...meet, '--follow', ...args];
  const child = spawn(process.execPath, all, { stdio: ['ignore', 'pipe', 'pipe'] });
  running.push(child);
  let out = '';
  child.stdout?.on('data', (data: Buffer) => {
    out += String(data);
  });
  return () => out;
}

describe('--contest all', () => {
  it('is an answer a line, in the order of the meet', () => {
    const answers = told<Answer>(graphics('--contest', 'all', '--json').out);
    const ids = answers.map((a) => a.contest);
    expect(ids.length).toBeGreaterThan(1);
    expect(ids).toContain('team');
    for (const answer of answers) expect(answer).toEqual(wantedOf(answer.contest));
  });

  it('is a file each, as they would be one by one', () => {
    const out = join(place.path, 'lines.json');
    expect(graphics('--contest', 'all', '--json', '--out', out).code).toBe(0);
    const files = readdirSync(place.path).filter((f) => f.startsWith('lines.'));
    expect(files.sort()).toEqual(['lines.BB.json', 'lines.all-around.json', 'lines.team.json']);
    for (const contest of ['all-around', 'team', 'BB']) {
      const text = readFileSync(join(place.path, `lines.${contest}.json`), 'utf8');
      expect(JSON.parse(text)).toEqual(wantedOf(contest));
    }
  });

  it('is one table as CSV, and has a heading each as text', () => {
    const { out } = graphics('--contest', 'all', '--format', 'csv');
    const { data } = Papa.parse<Record<string, string>>(out, {
      header: true,
      skipEmptyLines: true,
    });
    expect(new Set(data.map((r) => r.contest))).toEqual(new Set(['team', 'all-around', 'BB']));
    const text = graphics('--contest', 'all', '--kind', 'need').out.split('\n');
    expect(text.filter((line) => line === 'team' || line === 'all-around')).toHaveLength(2);
  });

  it('leaves out the contests that somebody named is not in', () => {
    const asked = graphics('mill lane', '--contest', 'all', '--json');
    expect(told<Answer>(asked.out).map((a) => a.contest)).toEqual(['team']);
    expect(graphics('nobody', '--contest', 'all').code).toBe(1);
  });
});

describe('what changed', () => {
  it('since the log had so many rows, is what a feed of that row would be', () => {
    const [before] = [wantedOf('team')].map((a) => a?.rows ?? 0);
    const last = withoutLastRow();
    const was = wantedOf('team');
    appendFileSync(log, last);
    const now = wantedOf('team');
    const rows = String((before ?? 0) - 1);
    const [changes] = told<Changes>(graphics('--json', '--contest', 'team', '--since', rows).out);
    expect([changes?.since, changes?.rows]).toEqual([(before ?? 0) - 1, before]);
    const held = new Map(was?.lines.map((line) => [line.id, line]));
    for (const id of changes?.withdrawn ?? []) held.delete(id);
    for (const line of [...(changes?.added ?? []), ...(changes?.changed ?? [])]) {
      held.set(line.id, line);
    }
    expect(held).toEqual(new Map(now?.lines.map((line) => [line.id, line])));
    expect(changes?.changed.length).toBeGreaterThan(0);
  });

  it.each([
    [['--since', '3'], 'add --json'],
    [['--json', '--since', '3', '--follow'], 'leave --since out'],
    [['--json', '--since', '9999'], 'as many as the log has'],
    [['--json', '--since', 'x'], 'rows of the log'],
  ])('is asked for as it can be answered: %j', (args, mend) => {
    const { code, out, err } = graphics(...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(mend);
  });
});

describe('--follow --json', () => {
  it('is one object for each change, counted on', async () => {
    const last = withoutLastRow();
    const [first] = [wantedOf('team')];
    const out = started('--json', '--contest', 'team');
    await until(
      () => out().includes('\n'),
      () => out(),
    );
    appendFileSync(log, last);
    await until(
      () => out().trimEnd().split('\n').length === 2,
      () => out(),
    );
    const [begin, next] = told<Changes>(out());
    expect([begin?.sequence, begin?.since, begin?.added]).toEqual([1, 0, first?.lines]);
    expect([next?.sequence, next?.since]).toEqual([2, first?.rows]);
    const [since] = told<Changes>(
      graphics('--json', '--contest', 'team', '--since', String(first?.rows)).out,
    );
    expect(next).toEqual({ ...since, sequence: 2 });
  });

  it('counts on in the file too, where the lines are others', async () => {
    const out = join(place.path, 'lines.json');
    started('--json', '--contest', 'all', '--out', out);
    const team = join(place.path, 'lines.team.json');
    const read = () => {
      try {
        return JSON.parse(readFileSync(team, 'utf8')) as Answer;
      } catch {
        return null;
      }
    };
    await until(
      () => read()?.sequence === 1,
      () => 'no file',
    );
    const rows = read()?.rows ?? 0;
    const last = readFileSync(log, 'utf8').trimEnd().split('\n').at(-1) ?? '';
    // The same score once more changes no line that is told of it.
    appendFileSync(log, `${last}\n`);
    await until(
      () => read()?.rows === rows + 1,
      () => JSON.stringify(read()?.rows),
    );
    const same = read()?.sequence ?? 0;
    appendFileSync(log, `${last.replace(/(\d+\.\d+)/, '9.1')}\n`);
    await until(
      () => read()?.rows === rows + 2,
      () => JSON.stringify(read()?.rows),
    );
    expect(read()?.sequence).toBe(same + 1);
    expect(read()?.stale).toBeNull();
  });
});

it('the former name says the new one', () => {
  for (const args of [['captions'], ['captions', 'abaru', '--kind', 'need', '--json']]) {
    const { code, out, err } = run([...args, ...meet]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('lastrotation graphics');
  }
});
