/** The command takes the words it prints, wherever an apparatus or a contest is asked for. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readMeetFiles } from '../../lib/files/index.js';
import { check } from '../../lib/index.js';
import { answer, COVE, COVE_FILES, folder, run } from '../support/cli.js';

let place: ReturnType<typeof folder>;
beforeAll(() => {
  place = folder(...COVE_FILES);
});
afterAll(() => place.clean());

const HERE = ['--meet', COVE];
const first = (args: readonly string[]) => run(args).out.split('\n')[0];

describe('an apparatus by its name', () => {
  const pairs: readonly (readonly [readonly string[], readonly string[]])[] = [
    [
      ['needs', 'brondt', '--on', 'Floor Exercise'],
      ['needs', 'brondt', '--on', 'FX'],
    ],
    [
      ['needs', 'brondt', 'floor'],
      ['needs', 'brondt', '--on', 'FX'],
    ],
    [
      ['outcomes', 'brondt', 'floor'],
      ['outcomes', 'brondt', '--on', 'FX'],
    ],
    [
      ['suppose', 'brondt', 'floor', '14.5'],
      ['suppose', 'brondt', 'FX', '14.5'],
    ],
    [
      ['claim', 'brondt', 'medal', '--contest', 'BB'],
      ['claim', 'brondt', '--to', 'medal', '--contest', 'BB'],
    ],
    ...['standings', 'needs', 'chances', 'graphics', 'story'].map(
      (command) =>
        [
          [command, '--contest', 'beam'],
          [command, '--contest', 'BB'],
        ] as const,
    ),
  ];
  it.each(pairs)('%j is %j', (words, codes) => {
    const [said, coded] = [words, codes].map((args) => answer([...args, ...HERE]));
    expect(said).toEqual(coded);
    // Without the words it is another answer.
    const bare = words.filter(
      (w) => !/^(floor|beam|medal|--on|Floor Exercise|--contest|BB)$/.test(w),
    );
    if (bare.length > 1 && words[0] !== 'suppose')
      expect(said).not.toEqual(answer([...bare, ...HERE]));
  });

  it.each([
    [['record', 'brondt', 'bems', '13.0'], 'apparatus "bems" is no part of this meet'],
    [['needs', 'brondt', '--on', 'bems'], 'Ida Brondt has no routine on "bems" in all-around'],
    [['needs', 'brondt', 'bems'], '"bems" is no apparatus of this meet'],
    [['outcomes', 'brondt', 'bems'], '"bems" is no apparatus of this meet'],
    [['suppose', 'brondt', 'bems', '13.0'], '"bems" is no apparatus of this meet'],
    [['standings', '--contest', 'bems'], 'there is no contest "bems"'],
  ])('misspelt: %j', (words, message) => {
    const said = `lastrotation: ${message}\n  did you mean \`bars\` or \`beam\`?\n`;
    const meet = ['--meet', join(place.path, 'cove.yaml')];
    expect(run([...words, ...meet])).toEqual({ code: 2, out: '', err: said });
  });

  it('bars on a men’s programme are asked back everywhere', () => {
    const file = join(place.path, 'men.yaml');
    writeFileSync(file, 'discipline: mag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n');
    for (const words of [
      ['record', 'ann', 'bars', '13.0'],
      ['needs', 'ann', '--on', 'bars'],
      ['needs', 'ann', 'bars'],
      ['suppose', 'ann', 'bars', '13.0'],
    ]) {
      expect(run([...words, '--meet', file])).toEqual({
        code: 2,
        out: '',
        err: 'lastrotation: "bars" could be parallel bars or high bar\n  say which: PB or HB\n',
      });
    }
    expect(run(['standings', '--contest', 'bars', '--meet', file]).err).toBe(
      'lastrotation: there is no contest "bars"\n  say which: PB or HB\n',
    );
  });
});

describe('a contest', () => {
  it.each(['bb', 'BB', 'beam', 'Balance Beam'])('%s is titled beam', (word) => {
    expect(first(['standings', '--contest', word, ...HERE])).toBe(
      "Cove Trophy, women's all-around final: beam, as it stands",
    );
  });

  it.each(['ALL-AROUND', 'all around', 'AllAround'])('%s is the all-around', (word) => {
    expect(answer(['standings', '--contest', word, ...HERE])).toMatchObject({
      contest: 'all-around',
    });
  });

  it('is called by its name in what each needs', () => {
    const finals = ['--meet', 'docs/examples/finals.yaml'];
    expect(first(['needs', '--contest', 'VT', ...finals])).not.toMatch(/\bVT\b/);
    expect(first(['outcomes', 'brondt', '--contest', 'BB', ...HERE])).toMatch(/\(beam\)$/);
    expect(first(['chances', '--contest', 'BB', ...HERE])).toContain(': beam, chances');
    expect(first(['needs', 'brondt', '--contest', 'BB', ...HERE])).toMatch(/\(beam\)$/);
  });
});

describe('a start list', () => {
  it.each([
    ['name,group\nAnn,vault\nBea,uneven bars\n', ['VT', 'UB']],
    ['Nombre;Equipo;Grupo\nAnn;NQY;salto\nBea;HBR;barra de equilibrio\n', ['VT', 'BB']],
    ['Gymnaste;Pays;Groupe\nAnn;FRA;Sol\nBea;FRA;Poutre\n', ['FX', 'BB']],
    ['Name;Riege\nAnn;Boden\nBea;Stufenbarren\n', ['FX', 'UB']],
  ])('%j', (text, starts) => {
    const at = folder();
    writeFileSync(join(at.path, 'list.csv'), text);
    expect(run(['new', 'list.csv'], { cwd: at.path })).toMatchObject({ code: 0, err: '' });
    const { rotations } = check(readMeetFiles(join(at.path, 'meet.yaml')));
    const stations = rotations?.[0]?.stations.map((s) => s.apparatus) ?? [];
    expect([...stations].sort()).toEqual([...starts].sort());
    at.clean();
  });
});

describe('options that would change nothing', () => {
  it.each([
    [['chances', '--seed', '4'], '--seed', 'add --sample 100000, or leave it out'],
    [['chances', 'brondt', '--day-form', '0', '--seed', '4'], '--seed', 'add --sample 100000'],
    [['outcomes', 'brondt', '--rest', 'low'], '--rest', 'leave it out, or ask with --when end'],
    [['needs', 'brondt', '--for', 'lead', '--rest', 'low'], '--rest', 'leave it out'],
    [['graphics', '--kind', 'need', '--from', '13'], '--from', 'add --kind outcome'],
    [['graphics', '--shipped', '--out', 'x.yaml'], '--out', 'leave one out'],
    [['record', 'brondt', 'BB', 'DNS', '--d', '5'], '--d', 'leave it out'],
    [
      ['claim', '--behind', '1', '--remaining', '2', '--contest', 'BB'],
      '--contest',
      'name somebody',
    ],
  ])('%j', (words, option, mend) => {
    const meet = ['--meet', join(place.path, 'cove.yaml')];
    const { code, out, err } = run([...words, ...meet]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(`lastrotation: ${option} changes nothing here: `);
    expect(err).toContain(mend);
  });

  it('--through goes with nothing that is drawn, with no name and no picture', () => {
    for (const more of [['--seed', '1'], ['--sample', '9'], ['--svg', 'x.svg'], ['brondt']]) {
      const { code, err } = run(['chances', '--through', ...more, ...HERE]);
      expect([code, /--through/.test(err)]).toEqual([2, true]);
    }
  });

  it('a seed counts where meets are drawn', () => {
    const drawn = ['chances', '--sample', '200', '--seed', '4', ...HERE];
    expect(answer(drawn)).toMatchObject({ method: 'sampled' });
    expect(answer(['needs', 'brondt', '--for', 'win', '--rest', 'low', ...HERE])).toBeTruthy();
  });
});

describe('a word that is no command', () => {
  it.each([
    ['needz', '`needs`'],
    ['stand', '`standings`'],
    ['standing', '`standings`'],
    ['STANDINGS', '`standings`'],
    ['ch', '`check` or `chances`'],
    ['outcoms', '`outcomes`'],
  ])('%s: did you mean %s?', (word, names) => {
    expect(run([word])).toEqual({
      code: 2,
      out: '',
      err: `lastrotation: unknown command '${word}'\n  did you mean ${names}?\n`,
    });
  });

  it('like nothing', () => {
    expect(run(['xyzzy']).err).toContain('see: lastrotation help');
    expect(JSON.parse(run(['needz', '--json']).err)).toMatchObject({
      error: { code: 'bad-usage' },
    });
  });
});
