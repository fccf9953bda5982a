/** Errors: two lines, the right exit code, and the same for programs. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COVE, ROOT, run } from '../support/cli.js';

const MEET = ['--meet', COVE];

describe('what cannot be answered, and what was asked wrongly', () => {
  it.each<[string, string[], number, string]>([
    ['an unknown gymnast', ['needs', 'adeyami', ...MEET], 1, 'did you mean `adeyemi`?'],
    ['an ambiguous part of a name', ['needs', 'sa', ...MEET], 1, 'say which'],
    ['somebody who is out', ['needs', 'morelund', ...MEET], 1, 'DNS'],
    ['an apparatus already done', ['needs', 'tanakura', '--on', 'UB', ...MEET], 1, 'to come: FX'],
    ['an unknown apparatus', ['needs', 'tanakura', '--on', 'PH', ...MEET], 2, 'hers'],
    ['an unknown contest', ['standings', '--contest', 'podium', ...MEET], 2, 'choose from'],
    ['an unknown rotation', ['standings', '--after', '5', ...MEET], 2, '1 to 4'],
    ['a rotation that is no number', ['standings', '--after', 'two', ...MEET], 2, '1 to 4'],
    ['an unknown target', ['needs', 'tanakura', '--for', 'glory', ...MEET], 2, 'one of'],
    [
      'a win on the board of now',
      ['needs', 'tanakura', '--for', 'win', '--when', 'now', ...MEET],
      2,
      'end',
    ],
    [
      'rivals who score on the board of now',
      ['needs', 'tanakura', '--for', 'medal', '--when', 'now', '--rivals', 'high', ...MEET],
      2,
      'completes nothing',
    ],
    [
      'as-is at the end',
      ['needs', 'tanakura', '--for', 'medal', '--when', 'end', '--rivals', 'as-is', ...MEET],
      2,
      'board of now',
    ],
    ['an unknown command', ['neds', ...MEET], 2, 'needs'],
    ['an unknown option', ['needs', '--fro', 'win', ...MEET], 2, '--for'],
    ['a missing argument', ['outcomes', ...MEET], 2, 'who'],
    ['a meet file that is not there', ['standings', '--meet', 'nowhere.yaml'], 2, 'new'],
    ['a refused score', ['record', 'brondt', 'BB', '13.5667', ...MEET], 2, 'decimals'],
    [
      'a sum that is off',
      ['record', 'brondt', 'BB', '13.566', '--d', '6', '--e', '7.5', ...MEET],
      2,
      '13.500',
    ],
    [
      'a score over its own D + 10',
      ['record', 'brondt', 'BB', '16.2', '--d', '6.1', ...MEET],
      2,
      '16.200 is over 16.100, the most there is with a D of 6.100',
    ],
    [
      'a score over the ceiling',
      ['record', 'brondt', 'BB', '17.001', ...MEET],
      2,
      '17.001 is over the limit of 17.000',
    ],
    [
      'a score more than three points from everything in her range',
      ['record', 'brondt', 'BB', '1.433', ...MEET],
      2,
      '1.433 is more than three points below her low of',
    ],
    [
      'a supposition with a word too few',
      ['suppose', 'brondt', 'BB', ...MEET],
      2,
      'gymnast, apparatus',
    ],
    [
      'a supposed score that is none',
      ['suppose', 'brondt', 'BB', 'good', ...MEET],
      2,
      'not a score',
    ],
  ])('%s', (_, args, code, said) => {
    const ran = run(args);
    expect(ran.code).toBe(code);
    expect(ran.out).toBe('');
    expect(ran.err).toContain(said);
    expect(ran.err.trimEnd().split('\n').length).toBeLessThanOrEqual(2);
  });

  // An error of each kind, one of the words of the command, and one with a file.
  it.each([
    [['needs', 'adeyami', ...MEET]],
    [['needs', 'tanakura', '--for', 'glory', ...MEET]],
    [['neds', ...MEET]],
    [['outcomes', ...MEET]],
    [['standings', '--meet', 'nowhere.yaml']],
    [['record', 'brondt', 'BB', '13.5667', ...MEET]],
  ])('the same for programs: %j', (args) => {
    const ran = run(args);
    const json = run([...args, '--json']);
    expect([json.code, json.out]).toEqual([ran.code, '']);
    const { error } = JSON.parse(json.err) as { error: Record<string, unknown> };
    expect(Object.keys(error).sort()).toEqual(['code', 'file', 'line', 'mend', 'message']);
    expect(ran.err).toContain(`${error.message}\n  ${error.mend}\n`);
  });

  it('nothing was written by any refused score', () => {
    const log = join(ROOT, COVE.replace('.yaml', '.scores.csv'));
    const before = readFileSync(log);
    run(['record', 'brondt', 'BB', '16.2', '--d', '6.1', ...MEET]);
    run(['record', 'brondt', 'BB', '14.2', '--contest', 'nothing', ...MEET]);
    expect(readFileSync(log)).toEqual(before);
  });
});

describe('help', () => {
  it('groups the commands by the time of day', () => {
    const { out, code } = run([]);
    expect(code).toBe(0);
    expect(out).toMatch(/Before the meet:[\s\S]*check[\s\S]*During the meet:[\s\S]*needs/);
  });

  it.each(['new', 'check', 'record', 'standings', 'needs', 'outcomes', 'suppose', 'story'])(
    '%s --help has examples',
    (name) => {
      const { out, code } = run([name, '--help']);
      expect(code).toBe(0);
      expect(out).toContain('Examples:');
    },
  );

  it('--version says the version of the package', () => {
    expect(run(['--version']).out.trim()).toMatch(/^\d+\.\d+\.\d+$/);
  });
});
