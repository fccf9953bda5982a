/** Scores from a pipe: what one machine sends, and what another reads of it. */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { COMMAND, folder, run } from '../support/cli.js';
import { killFeeds } from '../support/feed-kills.js';
import { feedGarbage } from '../support/garbage.js';

let place: ReturnType<typeof folder>;
afterEach(() => place.clean());

const YAML = `discipline: wag
scoring: open
gymnasts: [{ id: ann, name: Ann Ashdown }, { id: bea, name: Bea Birkwell }, { id: cleo }]
`;

interface Answer {
  readonly row: unknown;
  readonly line?: number;
  readonly error?: { readonly code: string; readonly message: string };
}

function newMeet(): { meet: string; log: string } {
  place = folder();
  const meet = join(place.path, 'meet.yaml');
  writeFileSync(meet, YAML);
  return { meet, log: join(place.path, 'meet.scores.csv') };
}

function feed(input: string, meet = newMeet().meet): Answer[] {
  const { code, out, err } = run(['live', '--meet', meet], { input });
  const answers = out
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line) as Answer);
  const refused = answers.filter((a) => a.error !== undefined).length;
  expect([code, err]).toEqual(refused === 0 ? [0, ''] : [2, saidOf(refused, answers.length)]);
  return answers;
}

/** What a feed says at its end of lines that were refused. */
function saidOf(refused: number, of: number): string {
  const lines = `${refused} of ${of} ${of === 1 ? 'line' : 'lines'}`;
  const rest = refused === of ? 'nothing is recorded' : 'the others are recorded';
  return `lastrotation: ${lines} ${refused === 1 ? 'was' : 'were'} refused; ${rest}\n`;
}

/** Each answer in one line: the row as written, or the error. */
function short(answers: readonly Answer[]): string[] {
  return answers.map(({ row, line, error }) => {
    if (error !== undefined) return `line ${line}: ${error.code}`;
    const r = row as Record<string, string | null>;
    const { gymnast, apparatus, score, d, e, nd, note } = r;
    return [gymnast, apparatus, score, d, e, nd, note].map((v) => v ?? '-').join(' ');
  });
}

describe('a line as it is typed', () => {
  it('is hers who is next up, or where it says', () => {
    const input =
      'ann 13.5\nbea vault 13,4 d5.6 # late, by hand\nCleo Uneven Bars 13.1\ncleo vt dns\n';
    expect(short(feed(input))).toEqual([
      'ann VT 13.500 - - - -',
      'bea VT 13.400 5.600 - - late, by hand',
      'cleo UB 13.100 - - - -',
      'cleo VT DNS - - - -',
    ]);
  });

  it('names somebody by an exact id, or by any part that fits one', () => {
    const meet = newMeet().meet;
    const pair =
      'gymnasts: [{ id: okafor, name: Mina Okafor }, { id: rokafor, name: Ruth Okafor }, { id: lund }]';
    writeFileSync(meet, YAML.replace(/gymnasts: .*/, pair));
    expect(short(feed('okaf 13.5\nokafor 13.5\nruth 13.4\nlu 13.3\nnobody 13.2\n', meet))).toEqual([
      // Mina is next up: at the prompt hers, in a feed a guess.
      'line 1: ambiguous-gymnast',
      'okafor VT 13.500 - - - -',
      'rokafor VT 13.400 - - - -',
      'lund VT 13.300 - - - -',
      'line 5: unknown-gymnast',
    ]);
  });

  it('takes no score for a new one that may correct the last, and none out of turn', () => {
    const input =
      'ann 13.5\nann 13.6\nann vault 13.6\ncleo 13.1\nbea 13.4\ncleo 13.3 inquiry\ncleo vault 13.3\n';
    expect(short(feed(input))).toEqual([
      'ann VT 13.500 - - - -',
      'line 2: no-apparatus',
      'ann VT 13.600 - - - -',
      'line 4: no-apparatus',
      'bea VT 13.400 - - - -',
      'cleo VT 13.300 - - - inquiry',
      'cleo VT 13.300 - - - -',
    ]);
    const [, second] = feed('ann 13.5\nann 13.6\n');
    expect(second?.error).toMatchObject({
      message: 'it may correct the score Ashdown has on vault',
      mend: 'name the apparatus: ann vault 13.6',
    });
  });

  it('an inquiry, its end and what is taken back speak of the score she has', () => {
    const input = 'ann 13.5\nann inquiry\nann 13.6 inquiry\nann confirmed\nann void\n';
    const rows = feed(input).map(({ row }) => row as Record<string, string>);
    expect(rows.map((r) => [r.apparatus, r.score, r.status, r.note])).toEqual([
      ['VT', '13.500', null, null],
      ['VT', '13.500', 'inquiry', null],
      ['VT', '13.600', null, 'inquiry'],
      ['VT', '13.600', null, null],
      ['VT', 'void', null, null],
    ]);
  });

  it('a misspelt apparatus, a question and a line of two scores are refused', () => {
    expect(short(feed('ann bems 13.5\nneeds ann\nann 13.5 13.6\n'))).toEqual([
      'line 1: unknown-apparatus',
      'line 2: wrong-line',
      'line 3: wrong-score',
    ]);
  });

  it('is none where values are parted, and where a header says what they are', () => {
    const input = 'gymnast,score\nann,13\n';
    expect(short(feed(input))).toEqual(['ann VT 13.000 - - - -']);
    expect(short(feed('ann, VT, 13.5\nbea\tVT\t13.4\n'))).toEqual([
      'ann VT 13.500 - - - -',
      'bea VT 13.400 - - - -',
    ]);
  });
});

describe('a line of the feed', () => {
  it('far from everything in her range is taken, with a warning', () => {
    const { meet, log } = newMeet();
    const [answer] = feed('ann,VT,1.433\n', meet) as unknown as { warnings: string[] }[];
    expect(answer?.warnings.join()).toContain('1.433 is more than three points below');
    expect(readFileSync(log, 'utf8')).toContain('ann,VT,1.433');
  });

  it('is CSV in the order of the log, and short at will', () => {
    const input = 'ann,VT,13.566,5.600,8.066,0.100,fall\nbea,VT,13.4\ncleo,VT,dns\n';
    expect(short(feed(input))).toEqual([
      'ann VT 13.566 5.600 8.066 0.100 fall',
      'bea VT 13.400 - - - -',
      'cleo VT DNS - - - -',
    ]);
  });

  it('follows a header, and a later header again', () => {
    const input =
      'Score,who,Gymnast,apparatus,D\n13.5,x,ann,VT,5.5\ngymnast,note,score\nbea,"a, b",13.4\n';
    expect(short(feed(input))).toEqual(['ann VT 13.500 5.500 - - -', 'bea VT 13.400 - - - a, b']);
  });

  it('may be JSON, texts or numbers, between others', () => {
    const input =
      '{"gymnast":"ann","apparatus":"VT","score":"13.566","D":5.6}\nbea,VT,13.4\n{"gymnast":"cleo","score":13.5,"note":null}\n';
    expect(short(feed(input))).toEqual([
      'ann VT 13.566 5.600 - - -',
      'bea VT 13.400 - - - -',
      'cleo VT 13.500 - - - -',
    ]);
  });

  it('may be divided by semicolons or tabs, with decimal commas', () => {
    const input = 'ann;VT;13,5\nbea\tVT\t13,4\n"cleo",VT,"13,3"\nann;UB;13,566;5,6;8,066;0,1\n';
    expect(short(feed(input))).toEqual([
      'ann VT 13.500 - - - -',
      'bea VT 13.400 - - - -',
      'cleo VT 13.300 - - - -',
      'ann UB 13.566 5.600 8.066 0.100 -',
    ]);
  });

  it('may begin with a byte order mark, end as on other systems, and be empty or the last', () => {
    const input = '\uFEFF{"gymnast":"ann","score":13.5}\r\n\r\n  \nbea,VT,13.4\r\n\ncleo,VT,13.3';
    expect(short(feed(input))).toEqual([
      'ann VT 13.500 - - - -',
      'bea VT 13.400 - - - -',
      'cleo VT 13.300 - - - -',
    ]);
    expect(short(feed('\uFEFFscore,gymnast\n13.5,ann\n'))).toEqual(['ann VT 13.500 - - - -']);
  });

  it('without an apparatus is hers who is next up, and no guess about anybody else', () => {
    const next = 'ann,,13.5\nbea,,13.4\ncleo,,13.3\nann,,13.2\ncleo,,13.1\nbea,,13.1\n';
    expect(short(feed(next))).toEqual([
      'ann VT 13.500 - - - -',
      'bea VT 13.400 - - - -',
      'cleo VT 13.300 - - - -',
      'ann UB 13.200 - - - -',
      'line 5: no-apparatus',
      'bea UB 13.100 - - - -',
    ]);
    const done = ['VT', 'UB', 'BB', 'FX'].map((code) => `ann,${code},13.5\n`).join('');
    expect(short(feed(`${done}ann,,13.1\n`)).at(-1)).toBe('line 5: nothing-to-come');
  });

  it('with its apparatus comes in any order, by code or by name, with a note', () => {
    const answers = feed('ann,VT,13.5\ncleo,vault,13.4\nbea,VT,13.3\ncleo,Balance Beam,13.2\n');
    expect(short(answers)).toEqual([
      'ann VT 13.500 - - - -',
      'cleo VT 13.400 - - - -',
      'bea VT 13.300 - - - -',
      'cleo BB 13.200 - - - -',
    ]);
    const warnings = answers.map((a) => (a as { warnings?: string[] }).warnings?.join() ?? '');
    expect(warnings[0]).not.toContain('is up on');
    expect(warnings[1]).toContain('cleo is up on vault after Birkwell');
    // Passed over a moment ago, and awaited since.
    expect(warnings[2]).not.toContain('is up on');
    expect(warnings[3]).toContain('cleo is up on beam after Ashdown and Birkwell');
  });

  it('that fits several is refused', () => {
    expect(short(feed('e,VT,13.5\na,VT,13.5\n'))).toEqual([
      'line 1: ambiguous-gymnast',
      'line 2: ambiguous-gymnast',
    ]);
  });

  it('that is bad is answered with its number, costs nothing else and leaves no row', () => {
    const { meet, log } = newMeet();
    const input = [
      'ann,VT,13.5',
      'hello',
      'dora,VT,13.5',
      'bea,XX,13.5',
      'bea,VT,13.5555',
      'bea,VT,14,233',
      'bea,VT,13.5,5.5,9.0',
      'bea,VT,13.5,,,,,,more',
      '{"gymnast":"bea"}',
      '{"gymnast":"bea","score":[13]}',
      '{"gymnast":',
      '[]',
      'bea,VT,void',
      '\u0000\u001b[2J',
      'bea,VT,13.4',
    ].join('\n');
    const answers = feed(`${input}\n`, meet);
    expect(answers).toHaveLength(15);
    expect(answers.filter((a) => a.error === undefined)).toHaveLength(2);
    expect(short(answers).at(-1)).toBe('bea VT 13.400 - - - -');
    expect(answers.slice(1, -1).map((a) => a.line)).toEqual(
      [...Array(13).keys()].map((i) => i + 2),
    );
    for (const a of answers.slice(1, -1)) expect(Object.keys(a)).toEqual(['row', 'line', 'error']);
    expect(readFileSync(log, 'utf8').trimEnd().split('\n')).toHaveLength(3);
  });

  it('of bad lines alone makes no log, and is no failure', () => {
    const { meet, log } = newMeet();
    expect(feed('nobody,VT,13\n\n\n', meet)).toHaveLength(1);
    expect(feed('', meet)).toEqual([]);
    expect(existsSync(log)).toBe(false);
  });

  it('is answered as `record --json` answers the same row, but for the time', () => {
    const { meet, log } = newMeet();
    const rows = ['ann,VT,13.5', 'bea,VT,13.6', 'ann,VT,13.7', 'cleo,VT,DNS'];
    const answers = feed(`${rows.join('\n')}\n`, meet);
    writeFileSync(log, '');
    const without = (value: unknown) =>
      JSON.parse(JSON.stringify(value, (key, v: unknown) => (key === 'at' ? 'now' : v)));
    for (const [i, row] of rows.entries()) {
      const { out } = run(['record', ...row.split(','), '--json', '--meet', meet]);
      expect(without(answers[i])).toEqual(without(JSON.parse(out)));
    }
  });
});

describe('what a feed must endure', () => {
  it('a reader that closes early', async () => {
    const { meet } = newMeet();
    const child = spawn(process.execPath, [COMMAND, 'live', '--meet', meet]);
    child.stdin.on('error', () => undefined);
    child.stdout.once('data', () => child.stdout.destroy());
    child.stdin.write('ann,VT,13.5\n');
    const more = setInterval(() => child.stdin.write('nobody,VT,13\n'.repeat(1000)), 10);
    let err = '';
    child.stderr.on('data', (data) => {
      err += String(data);
    });
    const code = await new Promise((resolve) => child.on('close', resolve));
    clearInterval(more);
    expect([code, err]).toEqual([0, '']);
    expect(openMeet(meet).results.filter((r) => r !== null)).toHaveLength(1);
  });

  it('a note with a line break in it, which is no score of its own', () => {
    const answers = feed('ann,VT,13.5,,,,"she said:\nbea 13.1\nno more"\nbea vault 13.2\n');
    expect(short(answers)).toEqual([
      'line 1: open-quote',
      'line 2: open-quote',
      'line 3: wrong-line',
      'bea VT 13.200 - - - -',
    ]);
  });

  it('a megabyte without an end of line', () => {
    const answers = feed(`${'x'.repeat(1_000_000)}\nann,VT,13.5\n{${'y'.repeat(1_000_000)}`);
    expect(short(answers)).toEqual([
      'line 1: line-too-long',
      'ann VT 13.500 - - - -',
      'line 3: line-too-long',
    ]);
    expect(JSON.stringify(answers).length).toBeLessThan(5000);
  });

  it('40,000 lines of garbage, every one answered, the good ones kept, in bounded memory', async () => {
    const { meet } = newMeet();
    const { bad, good, rise } = await feedGarbage(meet, 40_000);
    expect([bad, good]).toEqual([40_000, 3]);
    // All of it would be several times as much.
    expect(rise).toBeLessThan(100);
    expect(openMeet(meet).results.filter((r) => r !== null)).toHaveLength(3);
  });

  it('kills at any moment: every acknowledged row is there, none twice', async () => {
    newMeet();
    // Every second one is killed after an answer at least.
    expect(await killFeeds(place.path, 6)).toBeGreaterThanOrEqual(3);
  });
});
