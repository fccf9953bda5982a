/** Damaged files through the command, and `new`: exit codes, words, and nothing written over. */
import { existsSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { randomFrom } from '../properties/asking.js';
import { EXAMPLES, folder, run } from '../support/cli.js';

let place: ReturnType<typeof folder>;
beforeEach(() => {
  place = folder('harbour.yaml', 'harbour.scores.csv');
});
afterEach(() => place.clean());

/** Bytes turned, lost, doubled or put in; lines lost or swapped; the end lost. */
function damaged(bytes: Buffer, random: (below: number) => number): Buffer {
  const at = random(bytes.length);
  const some = 1 + random(5);
  const put = (middle: Buffer, skip: number) =>
    Buffer.concat([bytes.subarray(0, at), middle, bytes.subarray(at + skip)]);
  const lines = bytes.toString('latin1').split('\n');
  const from = random(lines.length);
  switch (random(8)) {
    case 0:
      return put(Buffer.from([(bytes[at] ?? 0) ^ (1 << random(8))]), 1);
    case 1:
      return put(Buffer.alloc(0), some);
    case 2:
      return put(bytes.subarray(at, at + some), 0);
    case 3:
      return put(Buffer.from(Array.from({ length: some }, () => random(256))), some);
    case 4:
      lines.splice(from, some);
      return Buffer.from(lines.join('\n'), 'latin1');
    case 5:
      lines.splice(random(lines.length), 0, ...lines.splice(from, 1));
      return Buffer.from(lines.join('\n'), 'latin1');
    case 6:
      return bytes.subarray(0, at);
    default:
      return Buffer.from(
        lines.join('\n').replace(/\d+\.\d+/g, (n) => (random(60) === 0 ? 'x' : n)),
        'latin1',
      );
  }
}

describe('damaged files through the command', () => {
  it('are answered or refused in words, 12 times', () => {
    const meet = join(place.path, 'harbour.yaml');
    const log = join(place.path, 'harbour.scores.csv');
    const whole = [meet, log].map((f) => readFileSync(f));
    const codes: Record<string, number> = {};
    for (let i = 0; i < 12; i++) {
      const random = randomFrom(20260516 + i * 977);
      const [m, l] = whole as [Buffer, Buffer];
      writeFileSync(meet, i % 2 === 0 ? damaged(m, random) : m);
      writeFileSync(log, i % 2 === 1 ? damaged(l, random) : l);
      const command = [['standings'], ['needs', 'brondt'], ['check']][i % 3] as string[];
      const json = i % 4 < 2;
      const { code, out, err } = run([...command, '--meet', meet, ...(json ? ['--json'] : [])]);
      const what = `${i} ${command.join(' ')}: ${err}`;
      codes[String(code)] = (codes[String(code)] ?? 0) + 1;
      expect([0, 2], what).toContain(code);
      expect(out + err, what).not.toMatch(/ {4}at |undefined|NaN|\[object/);
      expect(err, what).not.toContain('something went wrong');
      if (command[0] === 'check') {
        expect(err).toBe('');
        if (json) expect(JSON.parse(out)).toMatchObject({ sound: code === 0 });
      } else if (code === 0) {
        // All that may be said beside an answer is that a row was lost half written.
        if (json) expect(err).toBe('');
        else expect(err.replace(/^.* is half written.*\n/gm, '')).toBe('');
        if (json) JSON.parse(out);
      } else {
        expect(out).toBe('');
        if (!json) expect(err.trimEnd().split('\n').length, what).toBeLessThanOrEqual(2);
        else {
          const { error } = JSON.parse(err) as { error: Record<string, unknown> };
          expect(Object.keys(error).sort()).toEqual(['code', 'file', 'line', 'mend', 'message']);
          expect([meet, log]).toContain(error.file);
          expect(error.message).not.toBe('');
          expect(error.mend).not.toBe('');
        }
      }
    }
    expect(Object.keys(codes).sort(), JSON.stringify(codes)).toEqual(['0', '2']);
  });
});

describe('record', () => {
  it('wants --yes for a score more than three points from everything in her range', () => {
    const meet = ['--meet', join(place.path, 'harbour.yaml')];
    const log = () => readFileSync(join(place.path, 'harbour.scores.csv'), 'utf8');
    const before = log();
    const asked = ['record', 'brondt', 'BB', '1.433'];
    const { code, out, err } = run([...asked, ...meet]);
    expect([code, out, err.split('\n')]).toEqual([
      2,
      '',
      [
        'lastrotation: 1.433 is more than three points below her low of 13.766',
        '  check the decimal point; if it is right, say --yes',
        '',
      ],
    ]);
    expect(run([...asked, '--json', ...meet]).err).toContain('"code":"far-from-range"');
    expect(log()).toBe(before);
    const done = run([...asked, '--yes', ...meet]);
    expect([done.code, done.err]).toEqual([0, '']);
    expect(done.out).toContain('note: 1.433 is more than three points below her low of 13.766');
    expect(log()).toContain('brondt,BB,1.433');
    // It is no leave to write what cannot be.
    expect(run(['record', 'costeira', 'BB', '17.001', '--yes', ...meet]).code).toBe(2);
  });
});

describe('new', () => {
  it('a meet file made from a start list passes check, and can be recorded to', () => {
    const list = join(place.path, 'start.csv');
    const meet = join(place.path, 'made.yaml');
    writeFileSync(
      list,
      'name;team;group\nAda "Ace" Bell;A: one;VT\nZoë Null;#2;UB\nBea O’Neil;A: one;VT\n',
    );
    const made = run(['new', list, '--title', "Harbour: women's", '--meet', meet]);
    expect(made).toMatchObject({ code: 0, err: '' });
    expect(made.out).toContain('3 gymnasts');
    const checked = run(['check', '--json', '--meet', meet]);
    expect(JSON.parse(checked.out)).toMatchObject({ sound: true });
    for (const who of ['Ada', 'Zoë', 'neil']) {
      expect(run(['record', who, 'VT', '13.000', '--meet', meet]), who).toMatchObject({
        code: 0,
        err: '',
      });
    }
  });

  it.each([
    ['wag', 'open'],
    ['wag', 'ten'],
    ['mag', 'open'],
    ['mag', 'ten'],
  ])('an empty one passes check: %s, %s', (discipline, scoring) => {
    const meet = join(place.path, 'empty.yaml');
    expect(
      run(['new', '--discipline', discipline, '--scoring', scoring, '--meet', meet]).code,
    ).toBe(0);
    expect(run(['check', '--meet', meet]).code).toBe(0);
  });

  it('never writes over anything, whatever is asked', () => {
    const meet = join(place.path, 'harbour.yaml');
    const before = readFileSync(meet, 'utf8');
    const list = join(place.path, 'start.csv');
    writeFileSync(list, 'name\nAda\n');
    const link = join(place.path, 'link.yaml');
    symlinkSync(join(place.path, 'nowhere.yaml'), link);
    for (const target of [meet, link, place.path]) {
      for (const args of [[list], []]) {
        const { code, err, out } = run(['new', ...args, '--meet', target]);
        expect(code, target).toBe(2);
        expect(err).toContain('never overwritten');
        expect(out).toBe('');
      }
    }
    expect(readFileSync(meet, 'utf8')).toBe(before);
    expect(existsSync(join(place.path, 'nowhere.yaml'))).toBe(false);
    expect(before).toBe(readFileSync(join(EXAMPLES, 'harbour.yaml'), 'utf8'));
  });

  it('a start list that cannot be used writes nothing', () => {
    const list = join(place.path, 'start.csv');
    const meet = join(place.path, 'made.yaml');
    for (const text of [
      '',
      'name,group\nAda,XX\n',
      'nme\nAda\n',
      'name,on\nAda,XX\n',
      'name,carried\nAda,abc\n',
    ]) {
      writeFileSync(list, text);
      const { code, err } = run(['new', list, '--meet', meet]);
      expect(code, text).toBe(2);
      expect(err).toContain('start.csv');
      expect(existsSync(meet)).toBe(false);
    }
    expect(run(['new', join(place.path, 'none.csv'), '--meet', meet]).code).toBe(2);
    expect(run(['new', '--meet', join(place.path, 'no', 'folder.yaml')]).code).toBe(3);
  });
});
