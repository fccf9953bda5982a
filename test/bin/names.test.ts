/** Names and words at the command: an id that may be somebody else is asked back, and apparatus have names. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { answer, folder, run } from '../support/cli.js';

let place: ReturnType<typeof folder>;
let meet: string[];
beforeEach(() => {
  place = folder();
  const file = join(place.path, 'meet.yaml');
  writeFileSync(
    file,
    `discipline: wag
scoring: open
gymnasts: [{ id: rokafor, name: Ruth Okafor }, { id: lund, name: Liv Lund }, { id: okafor, name: Mina Okafor }]
`,
  );
  meet = ['--meet', file];
});
afterEach(() => place.clean());

const asksBack = `lastrotation: "okafor" could be either of two
  say which: rokafor (Ruth Okafor), id:okafor (Mina Okafor)
`;

describe('two of a name', () => {
  it.each([
    [['needs', 'okafor']],
    [['record', 'okafor', 'VT', '13.2']],
    [['outcomes', 'okafor']],
    [['chances', 'okafor']],
    [['claim', 'okafor']],
    [['graphics', 'okafor']],
    [['suppose', 'okafor', 'VT', '13.2']],
    [['needs', 'lund', '--for', 'beat:okafor']],
    [['claim', 'lund', '--to', 'beat:okafor']],
  ])('%j', (words) => {
    expect(run([...words, ...meet])).toEqual({ code: 1, out: '', err: asksBack });
    expect(openMeet(meet[1] ?? '').results.every((r) => r === null)).toBe(true);
  });

  it('each can be named', () => {
    expect(answer(['needs', 'id:okafor', ...meet])).toMatchObject({ gymnast: 'okafor' });
    expect(answer(['needs', 'mina', ...meet])).toMatchObject({ gymnast: 'okafor' });
    expect(answer(['needs', 'rokafor', ...meet])).toMatchObject({ gymnast: 'rokafor' });
    expect(answer(['record', 'Mina Okafor', 'VT', '13.2', ...meet])).toMatchObject({
      row: { gymnast: 'okafor', apparatus: 'VT' },
      warnings: ['Mina Okafor is up on vault after Ruth Okafor and Lund'],
    });
  });
});

describe('the words the tool prints', () => {
  it('apparatus by name', () => {
    const record = (where: string) => answer(['record', 'lund', where, '13.2', ...meet]);
    expect(record('Vault')).toMatchObject({ row: { apparatus: 'VT' } });
    expect(record('uneven bars')).toMatchObject({ row: { apparatus: 'UB' } });
    expect(answer(['needs', 'lund', '--on', 'beam', ...meet])).toMatchObject({ apparatus: 'BB' });
    expect(answer(['needs', 'lund', 'floor', ...meet])).toMatchObject({ apparatus: 'FX' });
    expect(answer(['outcomes', 'lund', '--on', 'floor', ...meet])).toMatchObject({
      apparatus: 'FX',
    });
    expect(answer(['suppose', 'lund', 'floor', '13.2', ...meet])).toMatchObject({
      supposed: [{ gymnast: 'lund', apparatus: 'FX', score: '13.200' }],
    });
    expect(answer(['standings', '--contest', 'floor', ...meet])).toMatchObject({ contest: 'FX' });
  });

  it('targets by name, in the contract’s words as JSON', () => {
    const target = (...words: string[]) =>
      answer<{ needs: { target: string }[] }>(['needs', 'lund', ...words, ...meet]).needs.map(
        (n) => n.target,
      );
    expect(target('--for', 'gold')).toEqual(['win']);
    expect(target('--for', 'Silver')).toEqual(['place:2']);
    expect(target('bronze')).toEqual(['place:3']);
    expect(target('--for', 'top 8')).toEqual(['place:8']);
    expect(target('floor', 'top', '8')).toEqual(['place:8']);
    expect(run(['needs', 'lund', 'gold', '--for', 'win', ...meet])).toMatchObject({ code: 2 });
  });
});
