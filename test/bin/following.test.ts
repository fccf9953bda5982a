/** What happens on air when the files are not what they should be: the last good lines stay, marked. */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { COMMAND, COVE_FILES, folder } from '../support/cli.js';
import { smallDisk } from '../support/disk.js';
import { openFeed } from '../support/feed.js';
import { wrongIn } from '../support/schemas.js';
import { until } from '../support/until.js';

interface Answer {
  readonly stale: string | null;
  readonly lines: readonly { readonly text: string | null }[];
}

let place: ReturnType<typeof folder>;
let meet: string;
let log: string;
const running: ChildProcess[] = [];
beforeEach(() => {
  place = folder(...COVE_FILES);
  meet = join(place.path, 'cove.yaml');
  log = join(place.path, 'cove.scores.csv');
});
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
  place.clean();
});

/** `graphics --follow` into a file, and what it says beside it. */
async function following(out: string, ...args: string[]) {
  const all = [COMMAND, 'graphics', '--meet', meet, '--follow', '--out', out, ...args];
  const child = spawn(process.execPath, all, { stdio: ['ignore', 'ignore', 'pipe'] });
  running.push(child);
  let err = '';
  child.stderr?.on('data', (data: Buffer) => {
    err += String(data);
  });
  await until(
    () => existsSync(out),
    () => `${out}; ${err}`,
  );
  const text = () => (existsSync(out) ? readFileSync(out, 'utf8') : '');
  return {
    text,
    answer: () => JSON.parse(text()) as Answer,
    /** Waits for words on standard error, and gives all that was said since the last time. */
    says: async (words: string) => {
      await until(
        () => err.includes(words),
        () => `${words}; ${err}`,
      );
      const said = err;
      err = '';
      return said;
    },
    holds: (test: (text: string) => boolean) =>
      until(
        () => test(text()),
        () => `${text()}; ${err}`,
      ),
    silent: () => expect(err).toBe(''),
  };
}

/** A score that is in no line of the demo, so that a line with it is a new one. */
const SCORE = '12.345';
const score = (value: string) =>
  appendFileSync(log, `brondt,BB,${value},,,,,,${new Date().toISOString()}\n`);

describe('lines that are followed', () => {
  it('a log taken away and brought back', async () => {
    const { answer, says, holds } = await following(join(place.path, 'lines.json'), '--json');
    const before = answer();
    expect(before.stale).toBeNull();
    const since = Date.now();
    renameSync(log, `${log}.away`);
    const said = await says('put it back');
    const { error } = JSON.parse(said) as {
      error: { code: string; message: string; file: string };
    };
    expect(error).toMatchObject({ code: 'log-gone', file: log });
    expect(error.message).toMatch(/^the log is gone, and \d+ rows with it$/);
    await holds((text) => !text.includes('"stale":null'));
    expect(answer()).toEqual({ ...before, stale: expect.any(String) });
    expect(Date.parse(answer().stale ?? '')).toBeGreaterThanOrEqual(since - 1);

    renameSync(`${log}.away`, log);
    const note: unknown = JSON.parse(await says('well-again'));
    expect(note).toEqual({
      note: { what: 'well-again', message: 'is in order again', file: log },
    });
    expect(wrongIn('note', note)).toEqual([]);
    await holds((text) => text.includes('"stale":null'));
    expect(answer()).toEqual(before);
    score(SCORE);
    await holds((text) => text.includes(SCORE));
  });

  it('a log that shrinks, whatever its size, and one that grows again', async () => {
    const { text, says, holds } = await following(join(place.path, 'lines.txt'));
    const whole = readFileSync(log, 'utf8');
    const before = text();
    truncateSync(log, 600);
    const said = await says('start again');
    expect(said.split('\n')[0]).toMatch(
      /cove\.scores\.csv: \d+ rows that stood are gone from the log: .* and \d+ more$/,
    );
    expect(said.trimEnd().split('\n')).toHaveLength(2);
    await holds((now) => /^NOT UPDATED SINCE \S+Z\n\n/.test(now));
    expect(text().replace(/^NOT .*\n\n/, '')).toBe(before);
    // As long as it was, with other rows.
    const rows = whole.split('\n');
    const filler = `brondt,BB,${SCORE},,,,${'x'.repeat(300)},2026-05-16T14:02:52.280Z\n`;
    writeFileSync(log, `${rows.slice(0, 8).join('\n')}\n${filler.repeat(20)}`);
    await says('rows that stood are gone');
    expect(text().replace(/^NOT .*\n\n/, '')).toBe(before);
    writeFileSync(log, whole);
    expect(await says('again')).toBe(`${log}: is in order again\n`);
    await holds((now) => now === before);
  });

  it('a log that an editor empties and writes again flickers nowhere', async () => {
    const { answer, text, holds, silent } = await following(
      join(place.path, 'lines.json'),
      '--json',
    );
    const before = text();
    const whole = readFileSync(log, 'utf8');
    for (let i = 0; i < 20; i++) {
      writeFileSync(log, '');
      writeFileSync(log, whole);
      await new Promise((resolve) => setTimeout(resolve, 2 * i));
      expect(answer()).toEqual(JSON.parse(before));
    }
    score(SCORE);
    await holds((now) => now.includes(SCORE));
    expect(answer().stale).toBeNull();
    silent();
  });

  it.each<[what: string, harm: () => void, words: string]>([
    ['a meet file that is gone', () => renameSync(meet, `${meet}.away`), 'there is no such file'],
    ['a meet file with a mistake', () => appendFileSync(meet, 'nonsense: 1\n'), 'nonsense'],
    ['templates with a mistake', () => writeFileSync(own(), 'standing: 3\n'), 'should be a list'],
    ['a contest that is none any more', () => renameContest('finals'), 'no contest'],
  ])('%s', async (_, harm, words) => {
    writeFileSync(own(), TEMPLATES);
    renameContest('night');
    const good = readFileSync(meet, 'utf8');
    const args = ['--templates', own(), '--kind', 'standing', '--contest', 'night'];
    const out = join(place.path, 'lines.csv');
    const { text, says, holds } = await following(out, ...args, '--format', 'csv');
    const before = text();
    expect(before.split('\n')[1]).toMatch(/,$/);
    harm();
    expect(await says(words)).not.toContain('well');
    await holds((now) => /,20[\d-]+T[\d:.]+Z$/.test(now.split('\n')[1] ?? ''));
    expect(text().replace(/,20[\d-]+T[\d:.]+Z$/gm, ',')).toBe(before);
    writeFileSync(meet, good);
    writeFileSync(own(), TEMPLATES);
    await says('is in order again');
    await holds((now) => now === before);
  });

  const own = () => join(place.path, 'own.yaml');
  const renameContest = (id: string) => {
    const text = readFileSync(meet, 'utf8');
    writeFileSync(
      meet,
      text.replace(/^ {2}- .*all-around.*$/m, `  - { kind: all-around, id: ${id} }`),
    );
  };
});

const TEMPLATES = 'standing: [{ text: "{place} {name}" }]\n';

describe('a file that cannot be written', () => {
  it('is said once, tried with the newest lines until it succeeds, and said to be well', async () => {
    const sub = join(place.path, 'air');
    mkdirSync(sub);
    const { says, holds, silent } = await following(join(sub, 'lines.txt'));
    rmSync(sub, { recursive: true });
    score('12.111');
    expect((await says('tried again')).trimEnd().split('\n')).toEqual([
      `${join(sub, 'lines.txt')}: could not be written: its folder is gone`,
      '  bring it back, or name a file you may write; until then it is tried again and again',
    ]);
    score(SCORE);
    // Tried more than once, and not said again.
    await new Promise((resolve) => setTimeout(resolve, 1300));
    silent();
    mkdirSync(sub);
    // No further score is needed.
    await holds((text) => text.includes(SCORE) && !text.includes('12.111 on'));
    expect(await says('written again')).toBe(`${join(sub, 'lines.txt')}: is written again\n`);
  });

  it('because the disk is full, too', async (context) => {
    const disk = smallDisk(place.path);
    if (disk === null) return context.skip('only root can make a small disk');
    try {
      const { text, says, holds } = await following(join(disk.path, 'lines.txt'));
      const before = text();
      disk.fill();
      score(SCORE);
      expect(await says('tried again')).toContain('could not be written: the disk is full');
      // What was there is there whole.
      expect(text()).toBe(before);
      disk.free();
      await holds((now) => now.includes(SCORE));
      await says('is written again');
    } finally {
      disk.unmount();
    }
  });
});

describe('a feed', () => {
  it('answers an error while the log is gone or has lost rows, and goes on when it is back', async () => {
    const feed = openFeed(meet);
    const answers = () =>
      feed.answers().map((line) => JSON.parse(line) as { error?: { code: string; mend: string } });
    const told = async (row: string) => {
      const count = answers().length;
      feed.write(`${row}\n`);
      await until(
        () => answers().length > count,
        () => `${row}; ${feed.errors()}`,
      );
      return answers().at(-1)?.error?.code ?? 'recorded';
    };
    expect(await told('brondt,BB,12.300')).toBe('recorded');
    const whole = readFileSync(log, 'utf8');
    renameSync(log, `${log}.away`);
    expect(await told('brondt,BB,12.400')).toBe('log-gone');
    expect(existsSync(log)).toBe(false);
    await until(() => feed.errors().includes('put it back'), feed.errors);

    const cut = `${whole.split('\n').slice(0, 8).join('\n')}\n`;
    writeFileSync(log, cut);
    expect(await told('brondt,BB,12.500')).toBe('log-shrunk');
    expect(readFileSync(log, 'utf8')).toBe(cut);
    renameSync(`${log}.away`, log);
    expect(await told('brondt,BB,12.600')).toBe('recorded');
    await until(() => feed.errors().includes('is in order again'), feed.errors);
    expect(readFileSync(log, 'utf8').slice(0, whole.length)).toBe(whole);

    // A row that was mended by hand holds up no score.
    const mended = readFileSync(log, 'utf8').replace('brondt,BB,12.300', 'brondt,BB,12.333');
    writeFileSync(log, mended);
    expect(await told('brondt,BB,12.700')).toBe('recorded');
    expect(readFileSync(log, 'utf8').slice(0, mended.length)).toBe(mended);
    await until(() => feed.errors().includes('taken as it is'), feed.errors);
    feed.end();
    expect(await feed.ended).toBe(2);
    expect(feed.errors()).toContain('2 of 5 lines were refused; the others are recorded');
  });

  it('answers an error for what a full disk does not take, and records it when it is sent again', async (context) => {
    const disk = smallDisk(place.path);
    if (disk === null) return context.skip('only root can make a small disk');
    try {
      const own = join(disk.path, 'cove.yaml');
      const ownLog = join(disk.path, 'cove.scores.csv');
      writeFileSync(own, readFileSync(meet));
      // Its last row ends where a page ends, so that the next byte needs a page that is not there.
      const text = readFileSync(log, 'utf8');
      const room = 4096 - (Buffer.byteLength(text) % 4096);
      writeFileSync(ownLog, `${text}${'\n'.repeat(room)}`);
      const before = readFileSync(ownLog, 'utf8');
      const feed = openFeed(own);
      disk.fill();
      feed.write('brondt,BB,12.300\n');
      await until(() => feed.answers().length === 1, feed.errors);
      expect(JSON.parse(feed.answers()[0] ?? '').error).toMatchObject({
        code: 'not-written',
        message: 'nothing was recorded: the disk is full',
        mend: 'free some space and record the score again',
      });
      expect(readFileSync(ownLog, 'utf8')).toBe(before);
      disk.free();
      feed.write('brondt,BB,12.300\n');
      feed.end();
      expect(await feed.ended).toBe(3);
      expect(feed.errors()).toContain('1 of 2 lines was refused; the others are recorded');
      expect(JSON.parse(feed.answers()[1] ?? '')).toMatchObject({ accepted: true });
      expect(readFileSync(ownLog, 'utf8')).toMatch(/\nbrondt,BB,12\.300,[^\n]*\n$/);
    } finally {
      disk.unmount();
    }
  });
});
