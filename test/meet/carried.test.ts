/** Points of an earlier day that a contest brings in, from the files of that day. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openMeet, readMeetFiles } from '../../lib/files/index.js';
import { needs, standings } from '../../lib/index.js';

let folder: string;
const at = (name: string) => join(folder, name);
const write = (name: string, text: string) => writeFileSync(at(name), text);

const FIELD = 'gymnasts: [{ id: ann, team: A }, { id: bea, team: A }, { id: cleo, team: B }]';
const DAY = (contests: string, field = FIELD) =>
  `discipline: wag\nscoring: ten\ncontests: [${contests}]\n${field}\n`;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'carried-'));
  write('day-one.yaml', DAY('all-around, { kind: team, up: 2, count: 1 }'));
  // Ann has 19.500, Bea 9.650; of the team the best on each apparatus counts: 9.800 and 9.700.
  write('day-one.scores.csv', 'gymnast,apparatus,score\nann,VT,9.8\nann,UB,9.7\nbea,VT,9.65\n');
});
afterEach(() => rmSync(folder, { recursive: true }));

const boardOf = (contest: string) =>
  standings(openMeet(at('day-two.yaml')), { contest }).rows.map((r) => [r.id, r.place, r.total]);
const problemsOf = (name = 'day-two.yaml') =>
  readMeetFiles(at(name)).problems.map((p) => `${p.severity} ${p.code}: ${p.message}`);

describe('day two', () => {
  it('begins with the totals of the contest of the same id, whoever they are of', () => {
    write(
      'day-two.yaml',
      DAY(
        '{ kind: all-around, carried: day-one.yaml }, { kind: team, up: 2, count: 1, carried: day-one.yaml }',
      ),
    );
    expect(boardOf('all-around')).toEqual([
      ['ann', 1, 19_500],
      ['bea', 2, 9_650],
      ['cleo', null, 0],
    ]);
    expect(boardOf('team')).toEqual([
      ['A', 1, 19_500],
      ['B', null, 0],
    ]);
  });

  it('takes the scores for the meet they belong to, and adds what is scored now', () => {
    write('day-two.yaml', DAY('{ kind: all-around, carried: day-one.scores.csv }'));
    write('day-two.scores.csv', 'gymnast,apparatus,score\nbea,VT,9.9\n');
    expect(boardOf('all-around').slice(0, 2)).toEqual([
      ['bea', 1, 19_550],
      ['ann', 2, 19_500],
    ]);
  });

  it('is added to what a gymnast brings in by herself, and counts in what she needs', () => {
    const field = 'gymnasts: [{ id: ann, on: [FX] }, { id: bea, on: [FX], carried: 10.000 }]';
    write('day-two.yaml', DAY('{ kind: all-around, carried: day-one.yaml }', field));
    expect(boardOf('all-around')).toEqual([
      ['bea', 1, 19_650],
      ['ann', 2, 19_500],
    ]);
    // Behind by 0.150 before floor, on which Bea has 9.700.
    write('day-two.scores.csv', 'gymnast,apparatus,score\nbea,FX,9.7\n');
    const [need] = needs(openMeet(at('day-two.yaml')), 'ann', { for: 'win' }).needs;
    expect([need?.level, need?.ahead]).toEqual([9_850, 9_851]);
  });

  it('counts in a final on one apparatus as well', () => {
    write('day-one.yaml', DAY('{ kind: apparatus, on: VT }, { kind: apparatus, on: UB }'));
    write('day-two.yaml', DAY('{ kind: apparatus, on: VT, carried: day-one.yaml }'));
    write('day-two.scores.csv', 'gymnast,apparatus,score\nbea,VT,9.9\n');
    expect(boardOf('VT').slice(0, 2)).toEqual([
      ['bea', 1, 19_550],
      ['ann', 2, 9_800],
    ]);
  });

  it('is brought up to date when a score of day one is changed', () => {
    write('day-two.yaml', DAY('{ kind: all-around, carried: day-one.yaml }'));
    expect(boardOf('all-around')[0]).toEqual(['ann', 1, 19_500]);
    write('day-one.scores.csv', 'gymnast,apparatus,score\nann,VT,9.9\nann,UB,9.7\n');
    expect(boardOf('all-around')[0]).toEqual(['ann', 1, 19_600]);
    expect(readMeetFiles(at('day-two.yaml')).sources).toEqual(
      ['day-two.yaml', 'day-two.scores.csv', 'day-one.yaml', 'day-one.scores.csv'].map(at),
    );
  });

  it('carries on over three days', () => {
    write('day-two.yaml', DAY('{ kind: all-around, carried: day-one.yaml }'));
    write('day-two.scores.csv', 'gymnast,apparatus,score\nann,VT,9\n');
    write('day-three.yaml', DAY('{ kind: all-around, carried: day-two.scores.csv }'));
    const { rows } = standings(openMeet(at('day-three.yaml')));
    expect(rows.map((r) => [r.id, r.total])).toEqual([
      ['ann', 28_500],
      ['bea', 9_650],
      ['cleo', 0],
    ]);
  });
});

describe('what is wrong with it is said', () => {
  const told = (contest: string, field?: string) => {
    write('day-two.yaml', DAY(contest, field));
    return problemsOf().filter((p) => !p.startsWith('note'));
  };

  it('a file that is not there, one that is the meet itself', () => {
    expect(told('{ kind: all-around, carried: day-0.yaml }')).toEqual([
      'error file-missing: the meet of the earlier day, day-0.yaml, is not there, or leads back to this one',
    ]);
    expect(told('{ kind: all-around, carried: day-two.yaml }')[0]).toMatch(/^error file-missing/);
  });

  it('a contest that the earlier day did not have', () => {
    expect(told('{ kind: all-around, id: final, carried: day-one.yaml }')).toEqual([
      'error wrong-value: day-one.yaml has no contest final',
    ]);
  });

  it('an earlier day that cannot be used', () => {
    write('day-one.yaml', 'discipline: wag\nscoring: ten\ngymnasts: [{ id: ann }, { id: ann }]\n');
    expect(told('{ kind: all-around, carried: day-one.yaml }')).toEqual([
      'error wrong-value: day-one.yaml cannot be used: gymnast `ann` is listed twice',
    ]);
  });

  it('an earlier day without a score, as a log that has been emptied leaves it', () => {
    write('day-one.scores.csv', 'gymnast,apparatus,score\n');
    expect(told('{ kind: all-around, carried: day-one.yaml }')).toEqual([
      'error wrong-value: nobody has a score in the contest `all-around` of day-one.yaml',
    ]);
  });

  it('other decimals', () => {
    write('day-one.scores.csv', 'gymnast,apparatus,score\nann,VT,9.8\n');
    write('day-one.yaml', `decimals: 4\n${DAY('all-around')}`);
    expect(told('{ kind: all-around, carried: day-one.yaml }')).toEqual([
      'error wrong-value: day-one.yaml has 4 decimals, and this meet 3',
    ]);
  });

  it('somebody who was not there', () => {
    const field = 'gymnasts: [{ id: ann }, { id: dot }]';
    expect(told('{ kind: all-around, carried: day-one.yaml }', field)).toEqual([
      'warning nothing-carried: dot had no total in the contest `all-around` of the earlier day',
    ]);
  });
});
