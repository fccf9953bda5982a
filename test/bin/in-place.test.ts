/** A score in its place, what is safe, and who has finished, as the command gives them. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { answer, COMMAND, folder, run } from '../support/cli.js';

let place: ReturnType<typeof folder>;
let meet: readonly string[];
beforeEach(() => {
  place = folder('harbour.yaml', 'harbour.scores.csv');
  meet = ['--meet', join(place.path, 'harbour.yaml')];
});
afterEach(() => place.clean());

interface Recorded {
  inPlace: null | {
    total: string;
    place: number;
    expected: string;
    needed: { target: string; onGrid: string; got: string }[];
    worth: { win: number } | null;
    tonight: { place: number; behind: string | null };
  };
}

describe('record', () => {
  it('has a score in its place, and nothing for a row that is none', () => {
    const { inPlace } = answer<Recorded>(['record', 'brondt', 'BB', '14.2', ...meet]);
    // 14.600 + 14.366 + 14.200; Tanakura has 43.566, so 14.600 ties and 14.633 leads; she is best on beam.
    expect(inPlace).toMatchObject({
      total: '43.166',
      place: 2,
      tonight: { place: 1, behind: null },
    });
    expect(inPlace?.needed[0]).toMatchObject({ target: 'lead', onGrid: '14.633', got: 'short' });
    expect(inPlace?.worth?.win).toBeLessThan(0);
    expect(answer<Recorded>(['record', 'brondt', 'BB', 'inquiry', ...meet]).inPlace).toBeNull();
    expect(answer<Recorded>(['record', 'silvane', 'all', 'DNS', ...meet]).inPlace).toBeNull();
  });

  it('says since when she has not been as good, where past results are named', () => {
    const past = join(place.path, 'past.csv');
    const rows = ['2026-03-01,Spring Cup,final,BB,14.3', '2026-04-12,Quay Cup,final,BB,13.9'];
    const lines = rows.map((row) => `Ida Brondt,wag,${row}`);
    writeFileSync(
      past,
      `gymnast,discipline,date,competition,round,apparatus,score\n${lines.join('\n')}\n`,
    );
    const asked = (score: string) => ['record', 'brondt', 'BB', score, '--history', past, ...meet];
    expect(run(asked('14.2')).out).toContain('her best since 1 March 2026');
    expect(JSON.parse(run([...asked('14.1'), '--json']).out)).toMatchObject({
      pastBest: { since: '2026-03-01', beats: 1, of: 2 },
    });
  });

  it('says it in sentences, and the feed in its JSON', () => {
    const { out } = run(['record', 'brondt', 'BB', '14.2', ...meet]);
    expect(out).toContain(
      'She needed 14.633 to lead: not enough; if all else goes as expected, 14.700 to win: not enough,',
    );
    const fed = spawnSync(process.execPath, [COMMAND, 'live', ...meet], {
      input: 'gymnast,apparatus,score\nsilva,VT,13.9\nsilva,UB,DNS\n',
      encoding: 'utf8',
    });
    const [score, none] = fed.stdout
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as Recorded);
    expect(score?.inPlace).toMatchObject({
      gymnast: 'silvane',
      score: '13.900',
      expected: '13.896',
    });
    expect(none?.inPlace).toBeNull();
  });
});

describe('needs', () => {
  it('--safe says from which score on nobody can pass her', () => {
    const sheet = answer<{ safe: { by: string; status: string; score: string }[] }>([
      'needs',
      'tanakura',
      '--safe',
      ...meet,
    ]);
    // Adeyemi can have 29.400 + 14.366 on beam + 14.933 on floor = 58.699, by the grid of her ranges: 15.133.
    expect(sheet.safe).toMatchObject([
      { by: 'limit', status: 'impossible', score: null },
      {
        by: 'ranges',
        status: 'beyond',
        score: '15.133',
        threat: { id: 'adeyemi', total: '58.699' },
      },
    ]);
    expect(answer<{ safe: null }>(['needs', 'tanakura', ...meet]).safe).toBeNull();
    const two = run(['needs', 'tanakura', '--safe', '--for', 'win', ...meet]);
    expect([two.code, two.err]).toEqual([
      2,
      'lastrotation: --safe and --for are two questions\n  ask one\n',
    ]);
    expect(run(['needs', '--safe', ...meet]).code).toBe(2);
  });

  it('answers for who has finished, and refuses who is out', () => {
    const done = run(['needs', 'tanakura', '--contest', 'BB', ...meet]);
    expect([done.code, done.err]).toEqual([0, '']);
    expect(done.out).toContain('Suzu Tanakura has finished (beam)');
    expect(done.out).toContain('Who can still pass Suzu Tanakura, and with what:');
    expect(answer(['needs', 'tanakura', '--contest', 'BB', ...meet])).toMatchObject({
      apparatus: null,
      needs: [],
      place: 1,
      finished: {
        last: { score: '14.133' },
        catchers: [{ id: 'brondt' }, {}, {}, {}, {}, {}, {}, {}, {}],
      },
    });
    expect(run(['needs', 'morelund', ...meet]).code).toBe(1);
    expect(run(['needs', 'tanakura', '--on', 'BB', ...meet]).code).toBe(1);
  });
});
