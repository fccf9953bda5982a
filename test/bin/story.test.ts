/** The command `story`: a report, the same for programs, and a file for a spreadsheet. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { sparkline } from '../../bin/render/bar.js';
import { openMeet } from '../../lib/files/index.js';
import { type Story, story, type Written, written } from '../../lib/index.js';
import { answer, EXAMPLES, run } from '../support/cli.js';

const FINALS = ['--meet', 'docs/examples/finals.yaml'];
const place = mkdtempSync(join(tmpdir(), 'lastrotation-'));
afterAll(() => rmSync(place, { recursive: true }));

/** Two gymnasts who score 9.000 unless they fall, or whatever else is their range; its option of the command. */
function small(name: string, log: string, ...ranges: readonly string[]): readonly string[] {
  const [ann = 'low: 9, likely: 9, high: 9, falls: 0.5', bea = ann] = ranges;
  const path = join(place, name);
  const yaml = `discipline: wag
scoring: open
fall: 1
ceiling: 10
panel: { counting: 1, step: 0.5 }
contests: [{ kind: apparatus, on: VT, ties: [], medals: 1 }]
gymnasts:
  - { id: ann, name: Ann Ashdown, ranges: { VT: { ${ann} } } }
  - { id: bea, name: Bea Birkwell, ranges: { VT: { ${bea} } } }
`;
  writeFileSync(`${path}.yaml`, yaml);
  writeFileSync(`${path}.scores.csv`, `gymnast,apparatus,score\n${log}`);
  return ['--meet', `${path}.yaml`];
}

describe('story', () => {
  it('prints where it turned, and every score only with --all', () => {
    const { out, code, err } = run(['story', ...FINALS]);
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('Kilbran Games, apparatus finals: vault, the story\n');
    expect(out).toMatch(/^Erika Söderhamre .* ▆/m);
    expect(out).toContain('Every score: lastrotation story --all');
    expect(out).not.toContain('Every score\n');
    const all = run(['story', '--all', '--contest', 'UB', ...FINALS]).out;
    expect(all).toContain('Every score\n');
    expect(all.match(/\d of 100/g)?.length).toBe(4);
  });

  it('gives programs what the library gives', () => {
    const meet = openMeet(join(EXAMPLES, 'finals.yaml'));
    const text = readFileSync(join(EXAMPLES, 'finals.scores.csv'), 'utf8');
    const told = story(meet, { file: 'finals.scores.csv', text }, { contest: 'UB' });
    const said = answer<Written<Story>>(['story', '--contest', 'UB', ...FINALS]);
    expect(said).toEqual(JSON.parse(JSON.stringify(written('story', told, 3))));
  });

  it('writes a row for every moment and contender, scores as texts', () => {
    const meet = small('csv', 'ann,VT,8\nbea,VT,DNS\n');
    const { out } = run(['story', '--csv', ...meet]);
    expect(
      out
        .trimEnd()
        .split('\n')
        .map((line) => line.replace(/,[^,]*$/, '')),
    ).toEqual([
      'contest,row,kind,gymnast,apparatus,session,rotation,score,was,expected,percentile,id,win,medal,advance',
      'VT,0,,,,,,,,,,ann,0.6875,0.6875,',
      'VT,0,,,,,,,,,,bea,0.6875,0.6875,',
      'VT,1,score,ann,VT,1,1,8.000,,8.250,25,ann,0.5,0.5,',
      'VT,1,score,ann,VT,1,1,8.000,,8.250,25,bea,0.75,0.75,',
      'VT,2,withdrawn,bea,VT,1,1,DNS,,,,ann,1,1,',
      'VT,2,withdrawn,bea,VT,1,1,DNS,,,,bea,0,0,',
    ]);
    expect(run(['story', '--csv', '--json', ...meet]).code).toBe(2);
  });

  it('leaves out whoever was never in contention', () => {
    const certain = (score: number) => `low: ${score}, likely: ${score}, high: ${score}, falls: 0`;
    const meet = small('apart', 'ann,VT,9\n', certain(9), certain(7));
    const ids = run(['story', '--csv', ...meet])
      .out.trimEnd()
      .split('\n')
      .slice(1);
    expect(ids.map((line) => line.split(',')[11])).toEqual(['ann', 'ann']);
  });

  it('takes a history, and says what is wrong with what it is asked', () => {
    const meet = small('history', 'ann,VT,9\nbea,VT,9.5\n');
    const path = join(place, 'results.csv');
    const columns = 'gymnast,discipline,date,competition,round,apparatus,score';
    writeFileSync(path, `${columns}\nBea Birkwell,wag,2024-05-01,Cup,final,VT,9.2\n`);
    expect(run(['story', '--history', path, ...meet]).out).toContain('her best of 2 known');
    expect(run(['story', '--contest', 'nowhere', ...meet]).code).toBe(2);
    const bare = join(place, 'bare.yaml');
    writeFileSync(
      bare,
      'discipline: [{ code: HP, name: hoop, limit: 10 }]\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n',
    );
    const missing = run(['story', '--meet', bare]);
    expect([missing.code, missing.out]).toEqual([1, '']);
    expect(missing.err).toContain('ann on HP');
  });
});

describe('a line of heights', () => {
  it('has an eighth a step', () => {
    expect(sparkline([0, 0.124, 0.125, 0.5, 0.874, 0.875, 1])).toBe('▁▁▂▅▇██');
    expect(sparkline([])).toBe('');
  });

  it('where there are too many, each stands for neighbours and shows the last of them', () => {
    const chances = Array.from({ length: 48 }, (_, i) => (i % 2 === 0 ? 0 : 1));
    expect(sparkline(chances)).toBe('█'.repeat(24));
    expect(sparkline([...chances.slice(0, 47), 0])).toBe(`${'█'.repeat(23)}▁`);
    const last = [...Array.from({ length: 30 }, () => 0), 1];
    expect(sparkline(last)).toBe(`${'▁'.repeat(23)}█`);
  });
});
