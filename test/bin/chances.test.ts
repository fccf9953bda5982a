/** `chances`: what programs read, and what people see. */

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import stringWidth from 'fast-string-width';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { score } from '../../lib/index.js';
import { byHope } from '../../lib/report/chances.js';
import { answer, COVE, folder, run } from '../support/cli.js';

const HARBOUR = ['--meet', 'docs/examples/harbour.yaml'];
const MILL_LANE = ['--meet', 'docs/examples/mill-lane.yaml'];
const SIX = ['--meet', COVE];

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

const LAST = ['awaited', 'underInquiry', 'caution'];
const KEYS = [
  'contest',
  'method',
  'error',
  'skipped',
  'contenders',
  'podiums',
  'stillWin',
  'stillMedal',
  'stillAdvance',
  'atStake',
];

describe('for programs', () => {
  const field = answer<Answer>(['chances', ...HARBOUR]);
  const hers = answer<Answer>(['chances', 'brondt', ...HARBOUR]);

  it('has the keys of the contract, scores as texts and chances as numbers', () => {
    expect(Object.keys(field)).toEqual([...KEYS, ...LAST]);
    expect(Object.keys(hers)).toEqual([...KEYS, 'curve', ...LAST]);
    const brondt = field.contenders.find((c) => c.id === 'brondt');
    expect(Object.keys(brondt ?? {})).toEqual([
      'id',
      'win',
      'medal',
      'advance',
      'places',
      'total',
      'settled',
    ]);
    expect(Object.keys(brondt?.total ?? {})).toEqual(['p5', 'p50', 'p95']);
    for (const total of Object.values(brondt?.total ?? {})) expect(total).toMatch(/^\d\d\.\d{3}$/);
    expect(Object.keys(field.podiums[0] ?? {})).toEqual(['places', 'chance']);
    expect(Object.keys(field.atStake[0] ?? {})).toEqual(['gymnast', 'apparatus', 'title']);
    expect(Object.keys(field.atStake[0]?.title[0] ?? {})).toEqual(['id', 'low', 'high']);
    expect(Object.keys(hers.curve ?? {})).toEqual(['apparatus', 'points']);
    const [point] = hers.curve?.points ?? [];
    expect(Object.keys(point ?? {})).toEqual(['score', 'win', 'medal', 'advance', 'places']);
    expect(point?.score).toMatch(/^\d\d\.\d{3}$/);
  });

  it('says how exact it is, and who is out has no chance and no total', () => {
    expect(field).toMatchObject({ contest: 'all-around', method: 'exact' });
    expect(field.error).toBeLessThan(1e-9);
    expect(field.contenders).toHaveLength(24);
    expect(field.contenders.find((c) => c.id === 'morelund')).toMatchObject({
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
      ['brondt', ...SIX],
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
    expect(heads(120)).toMatch(/to win +for a medal +likely total +9 times in 10 +2nd +3rd +4th/);
    expect(heads(60)).toMatch(/to win +for a medal +likely total$/);
  });

  it('says what is settled in which sense, and never a false 0 or 100', () => {
    const { out } = run(['chances', ...HARBOUR]);
    const row = (name: string) => out.split('\n').find((line) => line.startsWith(name)) ?? '';
    expect(row('Wren Adeyemi')).toMatch(
      /█+\S? +45\.2% +█+\S? +90\.0% +57\.799 +56\.566 to 58\.299/,
    );
    expect(row('Fenna Bakkerveld')).toMatch(/out of reach\* +out of reach\*/);
    expect(row('Salome Morelund')).toMatch(/out +out$/);
    expect(row('Orla Quinvell')).toMatch(/out of reach\* +<0\.1%/);
    expect(out).toContain('* as long as everyone stays within their ranges, falls included');
    expect(out).not.toMatch(/ (0|0\.0|100|100\.0)%/);
    expect(out.split('\n').slice(1, 4).join(' ')).toBe(
      'Four can still win: Adeyemi, Tanakura, Brondt and Costeira; six can still medal: Tanakura, Adeyemi, Brondt, Costeira, Duboissy and Lindkvarn. Whoever has less than one chance in a thousand is not counted.',
    );
    expect(out).toContain('The chances are worked out from the ranges.');
    expect(out).not.toMatch(/exact/i);
    expect(out).toMatch(
      /Ties are decided without execution and difficulty: not everyone has the scores for that/,
    );
  });

  it('lists medals in order, and what is at stake next', () => {
    const { out } = run(['chances', ...HARBOUR]);
    expect(out).toMatch(/Medals in order\n.*1st +2nd +3rd\n +24\.0% +Adeyemi +Tanakura +Brondt\n/);
    expect(out).toMatch(/next up +3 +BB +Ida Brondt +<0\.1% → 34\.8% +Tanakura 48\.7% → 28\.1%/);
    expect(out).toMatch(/later +3 +BB +Wren Adeyemi +0\.5% → 80\.0%/);
  });

  it('thins a curve to what can be taken in', () => {
    const { out } = run(['chances', 'brondt', ...HARBOUR]);
    expect(out.split('\n').filter((line) => /^ +1\d\.\d{3} /.test(line))).toHaveLength(12);
    expect(out).toContain('12 of the 92 scores in her range are shown');
    expect(out).toMatch(/From 14\.700 up she is at least as likely to win as not; from 13\.600 up/);
  });
});

describe('by sampling, where it is asked for', () => {
  const asked = ['chances', '--sample', '20000', '--seed', '3', ...MILL_LANE];

  it('says so, gives the same for the same seed, and no more digits than that warrants', () => {
    const drawn = answer<Answer>(asked);
    expect(Object.keys(drawn)).toEqual([...KEYS, ...LAST]);
    expect(drawn.method).toBe('sampled');
    expect(drawn.error).toBeGreaterThan(0.001);
    // Asked for another width, it is asked anew and not remembered.
    const again = run([...asked, '--json'], { env: { COLUMNS: '90' } });
    expect(JSON.parse(again.out)).toEqual(drawn);
    const exact = answer<Answer>(['chances', ...MILL_LANE]);
    for (const [i, row] of drawn.contenders.entries()) {
      expect(Math.abs(row.win - (exact.contenders[i]?.win ?? 0))).toBeLessThan(5 * drawn.error);
    }
    const { out } = run(asked);
    expect(out).toMatch(/Mill Lane +█+\S? +\d\d% +1/);
    expect(out).toContain(
      'The chances come from so many meets drawn at random from the ranges, with a standard error of 0.4%.',
    );
  });

  it.each([
    ['--sample', '0'],
    ['--seed', '1.5'],
    ['--day-form', '2'],
    ['--precision', '0'],
  ])('refuses %s %s', (option, value) => {
    const ran = run(['chances', option, value, ...MILL_LANE]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err.trimEnd().split('\n')).toHaveLength(2);
  });
});

it('equal chances keep the order of the meet, whatever the last digit of a sum', () => {
  const total = { p5: score('52'), p50: score('53'), p95: score('54') };
  const one = (id: string, win: number, medal: number) => {
    return { id, win, medal, advance: null, total, places: [win], settled: [] };
  };
  const field = [
    one('ida', 0.3, 0.8),
    one('lua', 0.3 + 1e-16, 0.8 - 1e-16),
    one('suzu', 0.3 - 2e-16, 0.8 + 2e-16),
    one('wren', 0.3 - 1e-15, 0.9),
    one('nkem', 0.3 + 1e-6, 0.5),
  ];
  expect(field.sort(byHope).map(({ id }) => id)).toEqual(['nkem', 'wren', 'ida', 'lua', 'suzu']);
});

describe('when there is no answer', () => {
  let place: ReturnType<typeof folder>;
  beforeAll(() => {
    place = folder('mill-lane.yaml', 'mill-lane.scores.csv');
    writeFileSync(
      join(place.path, 'bare.yaml'),
      'discipline: [{ code: VT }, { code: UB }]\nscoring: open\ngymnasts: [{ id: a }, { id: b }]\n',
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
    [['--seed', 'abc', ...MILL_LANE], 2, /--seed: "abc" is not.*\n.*any whole number, such as 7/],
    [['--seed', '0.5', ...MILL_LANE], 2, /--seed: "0.5" is not a whole number/],
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
    expect(out).toContain('vault, chances with nothing to come');
    expect(out).toContain('It is over: these are the final places.');
    const ran = run(['chances', 'a', '--meet', 'over.yaml'], { cwd: place.path });
    expect(ran.code).toBe(1);
    expect(ran.err).toContain('no routine to come');
  });
});

describe('needs with chances', () => {
  interface Sheet {
    needs: { target: string; when: string; ahead: string; scoreForChance: string | null }[];
  }
  const scoresFor = (chance: string) =>
    answer<Sheet>(['needs', 'brondt', '--chance', chance, ...SIX]).needs;

  it('finds the score for a chance: where the curve passes it', () => {
    const { curve } = answer<Answer>(['chances', 'brondt', ...SIX]);
    const needs = scoresFor('50%');
    expect(scoresFor('0.5')).toEqual(needs);
    for (const target of ['win', 'medal'] as const) {
      const first = curve?.points.find((p) => p[target] >= 0.5)?.score;
      const end = needs.filter((n) => n.target === target && n.when === 'end');
      expect(end.length).toBeGreaterThan(0);
      for (const need of end) expect(need.scoreForChance).toBe(first);
    }
  });

  it('is null unless it is asked for, or where no score within the limit is enough', () => {
    const { needs } = answer<Sheet>(['needs', 'brondt', ...HARBOUR]);
    expect(needs.every((n) => n.scoreForChance === null)).toBe(true);
    const silvane = answer<Sheet>([
      'needs',
      'silvane',
      '--for',
      'win',
      '--chance',
      '0.5',
      ...HARBOUR,
    ]);
    expect(silvane.needs[0]?.scoreForChance).toBeNull();
  });

  it('stands in the sheet beside the chance of the target, within the width', () => {
    const asked = ['needs', 'brondt', '--chance', ...HARBOUR];
    const field = answer<Answer>(['chances', ...HARBOUR]);
    const brondt = field.contenders.find((c) => c.id === 'brondt');
    const shown = (p = 0) => `${(p * 100).toFixed(1)}%`;
    const { out } = run(asked, { env: { COLUMNS: '80' } });
    const text = out.replace(/\s+/g, ' ');
    // Beside a target stands its chance, and beside a score the chance of that score.
    expect(text).toContain(` to win ${shown(brondt?.win)} 14.700 2.2% 14.700 Adeyemi 57.999 `);
    expect(text).toContain(
      ` for a medal and to hold ${shown(brondt?.medal)} 13.766 86.0% 13.600 Costeira 57.098 `,
    );
    expect(Math.max(...out.split('\n').map((l) => stringWidth(l)))).toBeLessThanOrEqual(80);
    expect(run(['needs', 'brondt', ...HARBOUR]).out).not.toContain('for 50%');
  });

  it.each(['0', '1.5', '101%', 'even'])('refuses --chance %s', (chance) => {
    const ran = run(['needs', 'brondt', '--chance', chance, ...HARBOUR]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err.trimEnd().split('\n').length).toBe(2);
  });
});

describe('outcomes and suppositions with chances', () => {
  const field = answer<Answer>(['chances', ...SIX]);
  const brondt = field.contenders.find((c) => c.id === 'brondt');

  it('bands come to the chances of the whole', () => {
    const { bands } = answer<{
      bands: { chance: number; win: number | null; medal: number | null }[];
    }>(['outcomes', 'brondt', ...SIX]);
    for (const target of ['win', 'medal'] as const) {
      const sum = bands.reduce((s, b) => s + b.chance * (b[target] ?? 0), 0);
      expect(sum).toBeCloseTo(brondt?.[target] ?? 0, 9);
    }
    expect(bands.every((b) => (b.win === null) === (b.chance === 0))).toBe(true);
  });

  it('a supposition brings the chances before and after, and the table says who moves', () => {
    const asked = ['suppose', 'brondt', 'BB', 'fall'];
    const { chances } = answer<{ chances: { before: Answer; after: Answer } }>([...asked, ...SIX]);
    expect(chances.before).toEqual(field);
    const after = chances.after.contenders.find((c) => c.id === 'brondt');
    expect(Object.keys(chances.after)).toEqual([...KEYS, ...LAST]);
    expect(after?.medal).toBeLessThan(brondt?.medal ?? 0);
    const { out } = run([...asked, ...HARBOUR]);
    expect(out).toMatch(/Ida Brondt +14\.6% → <0\.1% +84\.2% → 31\.8%/);
    expect(out).not.toMatch(/How chances change[\s\S]*Nkem Okaforde[\s\S]*What the next up/);
  });

  it('has none where a range is missing, and says everything else all the same', () => {
    const place = folder();
    try {
      writeFileSync(
        join(place.path, 'meet.yaml'),
        'discipline: [{ code: VT }]\nscoring: open\ncontests: [{ kind: apparatus, on: VT }]\n' +
          'gymnasts:\n  - { id: a, ranges: { VT: { low: 13, likely: 13.5, high: 14, falls: 0 } } }\n' +
          '  - { id: b }\n',
      );
      const there = { cwd: place.path };
      const supposed = answer<{ chances: unknown }>(['suppose', 'a', 'VT', 'likely'], there);
      expect(supposed.chances).toEqual({ before: null, after: null });
      const done = answer<{ chances: { before: unknown; after: Answer } }>(
        ['suppose', 'b', 'VT', '13.2'],
        there,
      );
      expect(done.chances.before).toBeNull();
      expect(done.chances.after.contenders.map((c) => c.win > 0)).toEqual([true, true]);
      const { bands } = answer<{ bands: { win: number | null }[] }>(['outcomes', 'a'], there);
      expect(bands.every((b) => b.win === null)).toBe(true);
      const sheet = run(['needs', 'a', '--chance'], there);
      expect(sheet.code).toBe(0);
      const single = run(['needs', 'a', '--for', 'win', '--rivals', 'likely', '--chance'], there);
      expect(single).toMatchObject({ code: 1, out: '' });
    } finally {
      place.clean();
    }
  });
});
