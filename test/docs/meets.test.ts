/** Every example is sound, answers for every contest, adds up, and says the same in JSON as in its tables. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { openMeet } from '../../lib/files/index.js';
import { needsOfAll, standings, written } from '../../lib/index.js';
import { EXAMPLES, run } from '../support/cli.js';

/** As much of a meet file as a total needs; read with another reader than the tool's own. */
interface MeetFile {
  readonly discipline: 'wag' | 'mag' | readonly { readonly code: string }[];
  readonly contests?: readonly (string | ContestInFile)[];
  readonly teams?: readonly { readonly id: string; readonly name?: string }[];
  readonly gymnasts: readonly {
    readonly id: string;
    readonly name: string;
    readonly team?: string;
  }[];
}

interface ContestInFile {
  readonly kind: string;
  readonly on?: string;
  readonly vaults?: number;
  readonly count?: number;
  readonly carried?: string;
}

interface Row {
  readonly id: string;
  readonly name: string;
  readonly total: string;
  readonly done: number;
  readonly toCome: readonly string[];
  readonly scores: Readonly<Record<string, string | null>>;
}

const MEETS = readdirSync(EXAMPLES).filter((name) => name.endsWith('.yaml'));

const STATIONS = { wag: ['VT', 'UB', 'BB', 'FX'], mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'] };

const readFile = (name: string) => parse(readFileSync(join(EXAMPLES, name), 'utf8')) as MeetFile;

function contestsOf({ contests = ['all-around'] }: MeetFile): readonly ContestInFile[] {
  return contests.map((c) => (typeof c === 'string' ? { kind: c } : c));
}

const idOf = ({ kind, on }: ContestInFile) => on ?? kind;

/** By gymnast and apparatus: the score that stands, in thousandths. */
function scoresOf(name: string): ReadonlyMap<string, number> {
  const path = join(EXAMPLES, name.replace(/\.yaml$/, '.scores.csv'));
  const scores = new Map<string, number>();
  if (!existsSync(path)) return scores;
  const [head = '', ...lines] = readFileSync(path, 'utf8').trim().split('\n');
  const at = (column: string) => head.split(',').indexOf(column);
  for (const line of lines) {
    const cells = line.split(',');
    const score = cells[at('score')] ?? '';
    const key = `${cells[at('gymnast')]} ${cells[at('apparatus')]}`;
    if (/^\d+\.\d{3}$/.test(score)) scores.set(key, Number(score.replace('.', '')));
    else scores.delete(key);
  }
  return scores;
}

/** Totals of a contest worked out from the rows of the log, by contender. */
function totalsOf(name: string, contest: ContestInFile): ReadonlyMap<string, number> {
  const meet = readFile(name);
  const scores = scoresOf(name);
  const codes =
    typeof meet.discipline === 'string'
      ? STATIONS[meet.discipline]
      : meet.discipline.map((a) => a.code);
  const score = (id: string, code: string) => scores.get(`${id} ${code}`) ?? 0;
  const { carried: file } = contest;
  const there =
    file === undefined
      ? undefined
      : contestsOf(readFile(file)).find((c) => idOf(c) === idOf(contest));
  const before = file === undefined || there === undefined ? null : totalsOf(file, there);
  const carried = (id: string) => before?.get(id) ?? 0;
  if (contest.kind === 'team') {
    const ids = new Set(meet.gymnasts.flatMap((g) => g.team ?? []));
    return new Map(
      [...ids].map((team) => {
        const best = codes.map((code) =>
          meet.gymnasts
            .filter((g) => g.team === team)
            .map((g) => score(g.id, code))
            .sort((a, b) => b - a)
            .slice(0, contest.count)
            .reduce((a, b) => a + b, 0),
        );
        return [team, carried(team) + best.reduce((a, b) => a + b, 0)];
      }),
    );
  }
  return new Map(
    meet.gymnasts.map(({ id }) => {
      const parts =
        contest.on === undefined
          ? codes.map((code) => score(id, code)).reduce((a, b) => a + b, 0)
          : contest.vaults === 2
            ? Math.floor((score(id, 'VT') + score(id, 'VT2')) / 2)
            : score(id, contest.on);
      return [id, carried(id) + parts];
    }),
  );
}

/** The table of a contest, as wide as it likes to be. */
const wide = { env: { COLUMNS: '400' } };

const CASES = MEETS.flatMap((name) =>
  contestsOf(readFile(name)).map((contest, i) => ({
    name,
    contest,
    id: idOf(contest),
    // A table takes the command, which takes its time to begin.
    hasTable: i === 0,
  })),
);

describe('the examples', () => {
  it('are of every kind of meet', () => {
    expect(MEETS).toHaveLength(12);
    const files = MEETS.map((name) => readFileSync(join(EXAMPLES, name), 'utf8'));
    for (const sort of [
      ...['session: 3', 'unnamed:', 'perTeam: 2', 'lineup:', 'bye', 'route:', 'rotations:'],
      ...['vaults: 2', 'carried:', 'limit:', 'step: 0.1 }', 'scoring: ten', 'discipline: mag'],
    ]) {
      expect(
        files.some((text) => text.includes(sort)),
        sort,
      ).toBe(true);
    }
  });

  it.each(MEETS)('%s is sound, and scored on the grid of its panel', (name) => {
    const { code, out, err } = run(['check', '--meet', join(EXAMPLES, name)]);
    expect([code, err]).toEqual([0, '']);
    expect(out).not.toMatch(/^(error|warning) /m);
    // Whatever is off the grid is accepted with a note of `check`.
    expect(out).not.toContain('is not a score this panel can give');
  });
});

describe.each(CASES)('$name, $id', ({ name, contest, id, hasTable }) => {
  const args = (command: string) => [command, '--contest', id, '--meet', join(EXAMPLES, name)];
  // As `--json` prints it, which test/bin compares.
  const meet = openMeet(join(EXAMPLES, name));
  const { decimals } = meet.scoring;
  const boardOf = () => written('standings', standings(meet, { contest: id }), decimals);

  it('has the totals that its log adds up to, in JSON and in the table', () => {
    const totals = totalsOf(name, contest);
    const rows: readonly Row[] = boardOf().rows;
    expect(rows.length).toBeGreaterThan(1);
    const lines = hasTable ? run(args('standings'), wide).out.split('\n') : [];
    const named = rows.filter((r) => totals.has(r.id));
    let last = -1;
    for (const row of named) {
      const total = ((totals.get(row.id) ?? 0) / 1000).toFixed(3);
      expect(`${row.id} ${row.total}`).toBe(`${row.id} ${total}`);
      if (!hasTable) continue;
      const line = lines.findIndex((l) => l.includes(` ${row.name} `));
      expect(line, `${row.name} on the board`).toBeGreaterThan(last);
      last = line;
      for (const figure of [row.total, ...Object.values(row.scores).filter((s) => s !== null)]) {
        expect(lines[line]).toContain(figure);
      }
    }
    // Everyone else is one of those who are still to be named, and is told together.
    const unnamed = rows.length - named.length;
    if (unnamed > 0 && hasTable)
      expect(lines.join('\n')).toContain(`${unnamed} more to come in session`);
  });

  it('says what everyone needs, in JSON as in the table', () => {
    interface Sheet {
      readonly contender: string;
      readonly name: string;
      readonly total: string;
      readonly needs: readonly {
        target: string;
        when: string;
        onGrid: string | null;
        status: string | null;
      }[];
    }
    const rows: readonly Row[] = boardOf().rows;
    const all = written('needsOfAll', needsOfAll(meet, { contest: id }), decimals);
    const gymnasts: readonly Sheet[] = all.gymnasts;
    const open = rows.filter((r) => r.toCome.length > 0);
    expect(gymnasts.map((g) => g.contender).sort()).toEqual(open.map((r) => r.id).sort());
    if (!hasTable) return;
    const { out, code } = run(args('needs'), wide);
    expect(code).toBe(0);
    for (const sheet of gymnasts.filter((g) => totalsOf(name, contest).has(g.contender))) {
      const line = out.split('\n').find((l) => l.includes(` ${sheet.name} `)) ?? '';
      expect(line).toContain(sheet.total);
      const asked = ['win', 'advance'].flatMap((t) => sheet.needs.filter((n) => n.target === t));
      const [need] = asked.filter((n) => n.status === 'needs' || n.status === 'beyond');
      if (need === undefined || out.includes('to win') === (need.target === 'advance')) continue;
      expect(line).toContain(need.onGrid);
    }
  });
});
