/** The answers of the command: what programs read, and that tables say the same. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { answer, folder, run } from '../support/cli.js';

const MEET = ['--meet', 'docs/examples/harbour.yaml'];

interface Row {
  place: number | null;
  tied: boolean;
  id: string;
  total: string;
  behind: string | null;
  moved: number | null;
  done: number;
  toCome: string[];
  projected: string | null;
  scores: Record<string, string | null>;
  counting: Record<string, { gymnast: string; score: string; counts: boolean }[]> | null;
}
interface Board {
  contest: string;
  after: number | null;
  rows: Row[];
}
interface Need {
  target: string;
  when: string;
  rivals: string;
  rest: string;
  status: string | null;
  ahead: string | null;
  onGrid: string | null;
  level: string | null;
  tieGoesTo: string | null;
  tieBy: string | null;
  mark: { id: string | null; total: string } | null;
  e: string | null;
  fallsAffordable: number | null;
  reach: number | null;
  remainingTotal: string | null;
  split: {
    quantile: number;
    scores: { gymnast: string; apparatus: string; score: string }[];
  } | null;
  scoreForChance: string | null;
  skipped: string[];
  missing: unknown[];
  boards: { at: Board; below: Board | null } | null;
}
interface Sheet {
  needs: Need[];
  gymnast: string;
  apparatus: string;
  settled: { target: string; status: string; by: string }[];
}

const NEED_KEYS = [
  'target',
  'when',
  'rivals',
  'rest',
  'status',
  'ahead',
  'onGrid',
  'level',
  'tieGoesTo',
  'tieBy',
  'mark',
  'e',
  'fallsAffordable',
  'reach',
  'remainingTotal',
  'split',
  'scoreForChance',
  'skipped',
  'missing',
  'boards',
];

const byId = (board: Board, id: string): Row => {
  const row = board.rows.find((r) => r.id === id);
  if (row === undefined) throw new Error(`${id} is not on the board`);
  return row;
};

describe('the board of the demo meet in the middle of the third rotation', () => {
  const board = answer<Board>(['standings', ...MEET]);

  it('has 24 gymnasts, and the two who are level share a place', () => {
    expect(board.contest).toBe('all-around');
    expect(board.after).toBeNull();
    expect(board.rows).toHaveLength(24);
    expect(byId(board, 'novakine')).toMatchObject({ place: 4, tied: true, total: '41.299' });
    expect(byId(board, 'okaforde')).toMatchObject({ place: 4, tied: true, total: '41.299' });
    expect(byId(board, 'ferrandel')).toMatchObject({ place: 6, tied: false });
  });

  it('says what each has done, has to come and may end with', () => {
    // By hand: 43.566 + 14.300 likely on floor.
    expect(byId(board, 'tanakura')).toEqual({
      place: 1,
      tied: false,
      tieBy: null,
      levelWith: [],
      // After two each she has 29.433, the most; Adeyemi is likely to end with 57.999.
      evenPlace: 1,
      projectedPlace: 2,
      id: 'tanakura',
      name: 'Suzu Tanakura',
      team: 'LTH',
      total: '43.566',
      behind: '0.000',
      moved: expect.any(Number),
      done: 3,
      toCome: ['FX'],
      projected: '57.866',
      scores: { VT: '14.433', UB: '15.000', BB: '14.133', FX: null },
      counting: null,
      // Nobody advances from a final.
      advance: null,
      reserve: null,
      blockedBy: [],
      projectedAdvance: null,
    });
  });

  it('keeps a withdrawn gymnast behind everyone, with her total', () => {
    expect(byId(board, 'morelund')).toMatchObject({
      place: 24,
      total: '13.066',
      projected: null,
      scores: { VT: 'DNS', UB: 'DNS', BB: '13.066', FX: 'DNS' },
    });
  });

  it('counts places gained from the first rotation to the second: the third moves nobody', () => {
    const [first, second] = ['1', '2'].map((after) =>
      answer<Board>(['standings', '--after', after, ...MEET]),
    );
    if (first === undefined || second === undefined) throw new Error('no boards');
    expect(second.after).toBe(2);
    for (const row of board.rows) {
      const [was, is] = [first, second].map((b) => byId(b, row.id).place);
      expect(row.moved).toBe(was == null || is == null ? null : was - is);
    }
    expect(board.rows.some((r) => (r.moved ?? 0) > 0)).toBe(true);
  });

  it('the inquiry stands: D was raised by a tenth', () => {
    const bars = answer<Board>(['standings', '--contest', 'UB', ...MEET]);
    expect(byId(bars, 'tanakura').total).toBe('15.000');
  });
});

describe('needs of the next up', () => {
  const sheet = answer<Sheet>(['needs', 'brondt', ...MEET]);

  it('has every key of every need, null where there is nothing to say', () => {
    expect(Object.keys(sheet)).toEqual([
      'contest',
      'contender',
      'name',
      'gymnast',
      'apparatus',
      'session',
      'rotation',
      'done',
      'toCome',
      'total',
      'place',
      'hold',
      'above',
      'below',
      'range',
      'settled',
      'needs',
      'safe',
      'counting',
      'finished',
      'awaited',
      'underInquiry',
      'caution',
    ]);
    for (const need of sheet.needs) expect(Object.keys(need)).toEqual(NEED_KEYS);
  });

  it('asks the seven questions of the sheet, most useful first', () => {
    expect(sheet.needs.map((n) => [n.target, n.when, n.rivals, n.rest])).toEqual([
      ['lead', 'now', 'as-is', 'likely'],
      ['lead', 'rotation', 'likely', 'likely'],
      ['win', 'end', 'likely', 'likely'],
      ['medal', 'end', 'likely', 'likely'],
      ['medal', 'end', 'high', 'likely'],
      ['medal', 'end', 'low', 'high'],
      ['hold', 'end', 'likely', 'likely'],
    ]);
  });

  it('to lead now: 43.566 - 28.966 draws level; she still has floor to come, so a tie is shared', () => {
    expect(sheet.needs[0]).toMatchObject({
      level: '14.600',
      ahead: '14.601',
      onGrid: '14.633',
      tieGoesTo: 'shared',
      tieBy: null,
      // D 6.1.
      e: '8.501',
      status: 'needs',
      mark: { id: 'tanakura', total: '43.566' },
      remainingTotal: null,
    });
  });

  it('for a medal the tie with the third is hers by the best three', () => {
    // By hand: 57.098 - 28.966 - 14.366 likely on floor = 13.766. Best three: 14.600 + 14.366 +
    // 14.366 = 43.332 against 14.966 + 14.166 + 14.000 = 43.132.
    expect(sheet.needs[3]).toMatchObject({
      level: '13.766',
      ahead: '13.766',
      onGrid: '13.766',
      tieGoesTo: 'her',
      tieBy: 'best-scores',
      mark: { id: 'costeira', total: '57.098' },
      // One unit more than the mark, less 28.966.
      remainingTotal: '28.133',
    });
  });

  it('a need asked by itself is the same need', () => {
    const medal = answer<Sheet>(['needs', 'brondt', '--for', 'medal', ...MEET]);
    expect(medal.needs).toEqual([sheet.needs[3]]);
    const best = answer<Sheet>(['needs', 'brondt', '--for', 'medal', '--rivals', 'high', ...MEET]);
    expect(best.needs).toEqual([sheet.needs[4]]);
  });

  it('--why shows her ahead of the mark at `ahead` and not one unit below', () => {
    const why = answer<Sheet>(['needs', 'brondt', '--for', 'win', '--why', ...MEET]);
    const { at, below } = why.needs[0]?.boards ?? { at: null, below: null };
    if (at === null || below === null) throw new Error('no boards');
    expect(byId(at, 'brondt').place).toBe(1);
    expect(byId(at, 'brondt').tied).toBe(false);
    const under = byId(below, 'brondt');
    expect(under.place === 1 && !under.tied).toBe(false);
  });

  it('everyone with a routine to come has a sheet, in the order they go up', () => {
    const all = answer<{ gymnasts: Sheet[] }>(['needs', ...MEET]);
    expect(all.gymnasts).toHaveLength(23);
    const mine = all.gymnasts.find((s) => s.gymnast === 'brondt');
    expect(mine).toEqual(sheet);
    expect(all.gymnasts.slice(0, 4).map((s) => s.apparatus)).toEqual(['VT', 'UB', 'BB', 'FX']);
  });

  it('a table says each thing once, and fits 100 and 80 columns', () => {
    for (const columns of [100, 80]) {
      for (const args of [['needs', 'brondt'], ['needs'], ['standings'], ['outcomes', 'brondt']]) {
        const { out } = run([...args, ...MEET], { env: { COLUMNS: String(columns) } });
        for (const line of out.split('\n'))
          expect([...line].length, line).toBeLessThanOrEqual(columns);
      }
    }
    const { out } = run(['needs', 'brondt', ...MEET]);
    expect(out).toContain('13.766');
    expect(out).toContain('13.766 ties, and wins the tie on best scores');
    expect(out).toContain('Costeira 57.098');
    const { out: narrow } = run(['needs', 'brondt', ...MEET], { env: { COLUMNS: '80' } });
    expect(narrow.trimEnd().split('\n').length).toBeLessThanOrEqual(24);
  });

  it('a board of 80 columns keeps the places that compare like with like, and shortens names', () => {
    const { out } = run(['standings', ...MEET], { env: { COLUMNS: '80' } });
    const [, some, more, heads, first] = out.split('\n');
    expect(`${some} ${more}`).toBe(
      'Some have done 2 routines, others 3, so look at the places after 2 each, or at the projected finish.',
    );
    expect(heads?.split(/ {2,}/)).toEqual([
      ...['place', 'name', 'team', 'total', 'done', 'to come', 'after 2 each', 'projected finish'],
    ]);
    expect(first).toContain('Tanakura');
    expect(first).not.toContain('Suzu');
  });
});

describe('outcomes', () => {
  interface Bands {
    bands: { from: string; to: string; place: number; tied: boolean; chance: number }[];
  }
  it('bands touch, highest first, down to 0.000, and their chances add up to one', () => {
    const { bands } = answer<Bands>(['outcomes', 'brondt', ...MEET]);
    // Up to the ceiling, whatever D is expected of her.
    expect(bands[0]).toMatchObject({ from: '14.601', to: '17.000', place: 1, tied: false });
    expect(bands[1]).toMatchObject({ from: '14.600', to: '14.600', place: 1, tied: true });
    expect(bands.at(-1)?.from).toBe('0.000');
    for (const [i, band] of bands.entries()) {
      const next = bands[i + 1];
      if (next === undefined) continue;
      expect(Number(next.to)).toBeCloseTo(Number(band.from) - 0.001, 6);
      expect([next.place, next.tied]).not.toEqual([band.place, band.tied]);
    }
    expect(bands.reduce((sum, b) => sum + b.chance, 0)).toBeCloseTo(1, 12);
  });
});

describe('suppose', () => {
  it('shows the boards before and after and what the next up would need; nothing is written', () => {
    const { path, clean } = folder('harbour.yaml', 'harbour.scores.csv');
    const options = { cwd: path };
    const meet = ['--meet', 'harbour.yaml'];
    const before = answer<Board>(['standings', ...meet], options);
    const value = answer<{
      supposed: unknown[];
      before: Board;
      after: Board;
      needs: Sheet[];
      chances: unknown;
    }>(['suppose', 'brondt', 'BB', 'fall', 'costeira', 'bb', '14,1', ...meet], options);
    // Likely 14.366 less one fall.
    expect(value.supposed).toEqual([
      { gymnast: 'brondt', apparatus: 'BB', score: '13.366' },
      { gymnast: 'costeira', apparatus: 'BB', score: '14.100' },
    ]);
    expect(value.before).toEqual(before);
    expect(byId(value.after, 'brondt').total).toBe('42.332');
    expect(value.needs.map((s) => s.gymnast)).toEqual(['silvane', 'oseiwa', 'duboissy', 'adeyemi']);
    expect(answer<Board>(['standings', ...meet], options)).toEqual(before);
    clean();
  });
});

describe('an evening on a copy of the demo', () => {
  let place: ReturnType<typeof folder>;
  beforeAll(() => {
    place = folder('harbour.yaml', 'harbour.scores.csv');
  });
  afterAll(() => place.clean());
  const meet = ['--meet', 'harbour.yaml'];

  it('a recorded score is on the board, and what it changed is said', () => {
    const done = answer<{
      row: Record<string, string | null>;
      accepted: boolean;
      warnings: string[];
      total: string;
      place: number;
      changes: { id: string; from: number; to: number }[];
      settled: unknown[];
    }>(['record', 'ida', 'bb', '14,633', '--d', '6.1', '--note', 'clean', ...meet], {
      cwd: place.path,
    });
    expect(done).toMatchObject({ accepted: true, total: '43.599', place: 1, warnings: [] });
    expect(done.row).toMatchObject({
      gymnast: 'brondt',
      apparatus: 'BB',
      score: '14.633',
      d: '6.100',
      e: null,
      note: 'clean',
    });
    expect(done.changes).toContainEqual({ id: 'brondt', from: 14, to: 1 });
    expect(done.changes).toContainEqual({ id: 'tanakura', from: 1, to: 2 });
  });

  it('an inquiry supersedes it, and void brings the first score back', () => {
    const total = () =>
      byId(answer<Board>(['standings', ...meet], { cwd: place.path }), 'brondt').total;
    const again = answer<{ warnings: string[] }>(['record', 'brondt', 'BB', '14.533', ...meet], {
      cwd: place.path,
    });
    expect(again.warnings[0]).toContain('supersedes 14.633');
    expect(total()).toBe('43.499');
    run(['record', 'brondt', 'BB', 'void', ...meet], { cwd: place.path });
    expect(total()).toBe('43.599');
    run(['record', 'brondt', 'BB', 'void', ...meet], { cwd: place.path });
    expect(total()).toBe('28.966');
    const none = run(['record', 'brondt', 'BB', 'void', ...meet], { cwd: place.path });
    expect(none.code).toBe(2);
    expect(none.err).toContain('no row');
  });

  it('a withdrawal takes her out of everything to come', () => {
    const done = answer<{ rows: { apparatus: string }[] }>(
      ['record', 'costeira', 'all', 'dns', ...meet],
      { cwd: place.path },
    );
    expect(done.rows.map((r) => r.apparatus)).toEqual(['BB', 'FX']);
    const out = run(['needs', 'costeira', ...meet], { cwd: place.path });
    expect(out.code).toBe(1);
    expect(out.err).toContain('DNS on BB');
  });
});

describe('the dual meet in the ten system', () => {
  const ten = ['--meet', 'docs/examples/mill-lane.yaml'];

  it('four are up and three count', () => {
    const board = answer<Board>(['standings', ...ten]);
    expect(board.contest).toBe('team');
    // By hand, vault: 9.850 + 9.800 + 9.775, the 9.700 dropped.
    expect(byId(board, 'MIL').scores).toMatchObject({ VT: '29.425', FX: null });
    expect(byId(board, 'COP').toCome).toEqual(['FX', 'FX', 'BB', 'BB', 'BB', 'BB']);
  });

  it('naming a team asks for its next up; naming a gymnast for her routine', () => {
    expect(answer<Sheet>(['needs', 'MIL', ...ten])).toMatchObject({
      contender: 'MIL',
      gymnast: 'abaru',
      apparatus: 'BB',
    });
    expect(answer<Sheet>(['needs', 'gantry', ...ten])).toMatchObject({
      contender: 'COP',
      gymnast: 'gantry',
    });
  });

  it('a team that drops a score splits what it needs over the scores that count', () => {
    const win = answer<Sheet>(['needs', 'MIL', '--for', 'win', ...ten]).needs[0];
    expect(win?.remainingTotal).toBe('29.826');
    // By hand: beam 9.750 + 9.675 + 9.650 for 9.750 + 9.650 + 9.150 is 0.525 more, floor the best three
    // of four 9.775, 29.325: 29.850. One step down, 9.650 on beam, is 29.825, a tie.
    const scores = win?.split?.scores.map((s) => `${s.gymnast} ${s.apparatus} ${s.score}`);
    expect(scores).toEqual([
      'abaru BB 9.675',
      'eblingson FX 9.775',
      'bellamine FX 9.775',
      'corriedale FX 9.775',
      'abaru FX 9.775',
    ]);
  });

  it('a row of the board tells the scores of a team that count from the one that is dropped', () => {
    const board = answer<Board>(['standings', ...ten]);
    expect(byId(board, 'MIL').counting?.VT).toEqual([
      { gymnast: 'abaru', score: '9.850', counts: true },
      { gymnast: 'drayford', score: '9.800', counts: true },
      { gymnast: 'corriedale', score: '9.775', counts: true },
      { gymnast: 'bellamine', score: '9.700', counts: false },
    ]);
    expect(answer<Board>(['standings', ...ten, '--contest', 'BB']).rows[0]?.counting).toBeNull();
  });
});
