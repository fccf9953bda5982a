/** `chances`: what programs read, and what people see. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import stringWidth from 'fast-string-width';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answer, folder, run } from '../support/cli.js';

const HARBOUR = ['--meet', 'docs/examples/harbour.yaml'];
const MILL_LANE = ['--meet', 'docs/examples/mill-lane.yaml'];

interface Answer {
  contest: string;
  method: string;
  error: number;
  skipped: string[];
  contenders: {
    id: string;
    win: number;
    medal: number;
    places: number[];
    total: { p5: string; p50: string; p95: string } | null;
    settled: { target: string; status: string; by: string }[];
  }[];
  podiums: { places: string[][]; chance: number }[];
  stillWin: number;
  stillMedal: number;
  atStake: {
    gymnast: string;
    apparatus: string;
    title: { id: string; low: number; high: number }[];
  }[];
  curve?: {
    apparatus: string;
    points: { score: string; win: number; medal: number; places: number[] }[];
  };
}

const KEYS = [
  'contest',
  'method',
  'error',
  'skipped',
  'contenders',
  'podiums',
  'stillWin',
  'stillMedal',
  'atStake',
];

describe('for programs', () => {
  const field = answer<Answer>(['chances', ...HARBOUR]);
  const hers = answer<Answer>(['chances', 'brandt', ...HARBOUR]);

  it('has the keys of the contract, scores as texts and chances as numbers', () => {
    expect(Object.keys(field)).toEqual(KEYS);
    expect(Object.keys(hers)).toEqual([...KEYS, 'curve']);
    const brandt = field.contenders.find((c) => c.id === 'brandt');
    expect(Object.keys(brandt ?? {})).toEqual(['id', 'win', 'medal', 'places', 'total', 'settled']);
    expect(Object.keys(brandt?.total ?? {})).toEqual(['p5', 'p50', 'p95']);
    for (const total of Object.values(brandt?.total ?? {})) expect(total).toMatch(/^\d\d\.\d{3}$/);
    expect(Object.keys(field.podiums[0] ?? {})).toEqual(['places', 'chance']);
    expect(Object.keys(field.atStake[0] ?? {})).toEqual(['gymnast', 'apparatus', 'title']);
    expect(Object.keys(field.atStake[0]?.title[0] ?? {})).toEqual(['id', 'low', 'high']);
    expect(Object.keys(hers.curve ?? {})).toEqual(['apparatus', 'points']);
    const [point] = hers.curve?.points ?? [];
    expect(Object.keys(point ?? {})).toEqual(['score', 'win', 'medal', 'places']);
    expect(point?.score).toMatch(/^\d\d\.\d{3}$/);
  });

  it('says how exact it is, and who is out has no chance and no total', () => {
    expect(field).toMatchObject({ contest: 'all-around', method: 'exact' });
    expect(field.error).toBeLessThan(1e-9);
    expect(field.contenders).toHaveLength(24);
    expect(field.contenders.find((c) => c.id === 'moreau')).toMatchObject({
      win: 0,
      medal: 0,
      total: null,
    });
    expect(field.podiums.reduce((sum, p) => sum + p.chance, 0)).toBeGreaterThanOrEqual(0.9);
  });

  it('draws the curve of a gymnast in a team contest for her team', () => {
    const gantry = answer<Answer>(['chances', 'gantry', ...MILL_LANE]);
    expect(gantry.contest).toBe('team');
    expect(gantry.curve?.apparatus).toBe('FX');
    const wins = gantry.curve?.points.map((p) => p.win) ?? [];
    expect(wins.length).toBeGreaterThan(20);
    for (const [i, win] of wins.entries()) {
      expect(win).toBeGreaterThanOrEqual((wins[i - 1] ?? 0) - 1e-9);
    }
  });
});

describe('for people', () => {
  const width = (text: string) => Math.max(...text.split('\n').map((line) => stringWidth(line)));

  it.each([80, 120])('keeps every line within %i columns', (columns) => {
    const env = { COLUMNS: String(columns) };
    const questions = [
      [...HARBOUR],
      ['brandt', ...HARBOUR],
      ['--contest', 'BB', ...HARBOUR],
      [...MILL_LANE],
      ['MIL', ...MILL_LANE],
      ['--contest', 'BB', ...MILL_LANE],
      ['gantry', '--contest', 'all-around', ...MILL_LANE],
    ];
    for (const question of questions) {
      const { code, out } = run(['chances', ...question], { env });
      expect(code).toBe(0);
      expect(width(out)).toBeLessThanOrEqual(columns);
    }
  });

  it('shows more places where there is room', () => {
    const heads = (columns: number) => {
      const { out } = run(['chances', ...HARBOUR], { env: { COLUMNS: String(columns) } });
      return out.split('\n').find((line) => line.startsWith('name ')) ?? '';
    };
    expect(heads(120)).toMatch(/to win +medal +likely total +5% to 95% +2nd +3rd +4th/);
    expect(heads(60)).toMatch(/to win +medal +likely total$/);
  });

  it('says what is settled in which sense, and never a false 0 or 100', () => {
    const { out } = run(['chances', ...HARBOUR]);
    const row = (name: string) => out.split('\n').find((line) => line.startsWith(name)) ?? '';
    expect(row('Wren Adeyemi')).toMatch(/█+\S? +45\.2% +█+\S? +90\.0% +57\.799 +56\.566 – 58\.299/);
    expect(row('Fenna Bakkerveld')).toMatch(/out of reach\* +out of reach\*/);
    expect(row('Salome Moreland')).toMatch(/out +out$/);
    expect(row('Orla Quinnell')).toMatch(/out of reach\* +<0\.1%/);
    expect(out).toContain('* as long as everyone stays within the ranges, falls included');
    expect(out).not.toMatch(/ (0|0\.0|100|100\.0)%/);
    expect(out).toContain('By the ranges 13 can still win, 4 of them');
    expect(out).toContain('Chances exact; they rest on the ranges given.');
    expect(out).toMatch(/A tie is not taken to execution or difficulty/);
  });

  it('lists medals in order, and what is at stake next', () => {
    const { out } = run(['chances', ...HARBOUR]);
    expect(out).toMatch(/Medals in order\n.*1st +2nd +3rd\n +24\.0% +Adeyemi +Tanakura +Brandt\n/);
    expect(out).toMatch(/next +3 +BB +Ida Brandt +<0\.1% → 34\.8% +Tanakura 48\.7% → 28\.1%/);
    expect(out).toMatch(/later +3 +BB +Wren Adeyemi +0\.5% → 80\.0%/);
  });

  it('thins a curve to what can be taken in', () => {
    const { out } = run(['chances', 'brandt', ...HARBOUR]);
    expect(out.split('\n').filter((line) => /^1\d\.\d{3} /.test(line))).toHaveLength(12);
    expect(out).toContain('12 of 92 scores her range allows');
    expect(out).toMatch(/An even chance to win from 14\.700; an even chance of a medal from/);
  });
});

describe('when there is no answer', () => {
  let place: ReturnType<typeof folder>;
  beforeAll(() => {
    place = folder('mill-lane.yaml', 'mill-lane.scores.csv');
    writeFileSync(
      join(place.path, 'bare.yaml'),
      'discipline: wag\nscoring: open\ngymnasts: [{ id: a }, { id: b }]\n',
    );
    const done = 'discipline: wag\nscoring: open\ncontests: [{ kind: apparatus, on: VT }]\n';
    writeFileSync(
      join(place.path, 'over.yaml'),
      `${done}gymnasts: [{ id: a }, { id: b }, { id: c }, { id: d }]\n`,
    );
    writeFileSync(
      join(place.path, 'over.scores.csv'),
      'gymnast,apparatus,score\na,VT,13.5\nb,VT,13.5\nc,VT,13.0\nd,VT,DNS\n',
    );
  });
  afterAll(() => place.clean());

  it.each([
    [['nobody', ...MILL_LANE], 1, /nobody/],
    [['--contest', 'none', ...MILL_LANE], 2, /there is no contest "none"/],
    [['--day-form', 'much', ...MILL_LANE], 2, /--day-form: "much" is not a number/],
  ])('%j ends with %i', (args, code, words) => {
    const ran = run(['chances', ...args]);
    expect(ran).toMatchObject({ code, out: '' });
    expect(ran.err).toMatch(words);
    expect(ran.err.trimEnd().split('\n').length).toBeLessThanOrEqual(2);
  });

  it('says which ranges are missing', () => {
    const ran = run(['chances', '--meet', 'bare.yaml'], { cwd: place.path });
    expect(ran).toMatchObject({ code: 1, out: '' });
    expect(ran.err.trimEnd().split('\n')).toEqual([
      expect.stringContaining('chances need a range for a on VT'),
      '  give low, likely, high and falls, or `usual`',
    ]);
    const json = run(['chances', '--meet', 'bare.yaml', '--json'], { cwd: place.path });
    expect(json).toMatchObject({ code: 1, out: '' });
    expect(JSON.parse(json.err)).toMatchObject({ error: { code: 'missing-range' } });
  });

  it('answers with certainties when all is over, needing no ranges', () => {
    const over = answer<Answer>(['chances', '--meet', 'over.yaml'], { cwd: place.path });
    expect(over.contenders.map((c) => c.places.indexOf(1) + 1)).toEqual([1, 1, 3, 0]);
    expect(over.podiums).toEqual([{ places: [['a', 'b'], [], ['c']], chance: 1 }]);
    expect(over.atStake).toEqual([]);
    const { out } = run(['chances', '--meet', 'over.yaml'], { cwd: place.path });
    expect(out).toContain('VT, chances with nothing to come');
    expect(out).toContain('Nothing is to come: these are the places.');
    const ran = run(['chances', 'a', '--meet', 'over.yaml'], { cwd: place.path });
    expect(ran.code).toBe(1);
    expect(ran.err).toContain('no routine to come');
  });
});
