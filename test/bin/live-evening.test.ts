/** The final of six from its first score to its last, through the prompt of a real terminal. */
import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import type { Meet } from '../../lib/index.js';
import { rangeAt } from '../../lib/meet/meet.js';
import { answer, COVE_FILES, folder, run } from '../support/cli.js';
import { HAS_TERMINAL, openTerminal } from '../support/terminal.js';

const FILES = COVE_FILES;
const title = `an evening${HAS_TERMINAL ? '' : ' (skipped: a terminal takes python3 with pty)'}`;

/** As an editor saves: whole, so that no desk sees a file with nothing in it. */
function save(file: string, text: string): void {
  writeFileSync(`${file}.new`, text);
  renameSync(`${file}.new`, file);
}

/** The scores there are, then for what is to come her likely score. */
function scoresOf(meet: Meet, log: string): string[][] {
  const rows = log
    .trimEnd()
    .split('\n')
    .slice(1)
    .map((row) => row.split(',').slice(0, 3));
  const rest = meet.routines
    .filter((r) => meet.results[r.index] === null)
    .sort((a, b) => a.rotation - b.rotation)
    .map((r) => {
      const score = ((rangeAt(meet, r.index).likely ?? 0) / 1000).toFixed(3);
      return [r.gymnast, r.apparatus, score];
    });
  return [...rows, ...rest];
}

it.runIf(HAS_TERMINAL)(title, async () => {
  const place = folder(...FILES);
  const again = folder(...FILES);
  let endDesk = () => {};
  try {
    const meetPath = join(place.path, 'cove.yaml');
    const log = join(place.path, 'cove.scores.csv');
    const six = openMeet(meetPath);
    const scores = scoresOf(six, readFileSync(log, 'utf8'));
    rmSync(log);
    const args = ['live', '--meet', meetPath];
    const inLog = () => readFileSync(log, 'utf8').trimEnd().split('\n').length - 1;
    let desk = await openTerminal(args, place.path);
    endDesk = () => desk.kill();
    const said: string[] = [];
    const type = async (line: string) => {
      const text = await desk.type(line);
      said.push(text);
      return text;
    };
    const final = new Map<string, string>();

    for (const [i, [gymnast = '', apparatus = '', score = '']] of scores.entries()) {
      const { name } = six.gymnasts.find((g) => g.id === gymnast) ?? { name: '' };
      const has = final.get(`${gymnast} ${apparatus}`);
      if (score === 'DNS') {
        // One line withdraws her from all three.
        if (has === 'DNS') continue;
        expect(await type(`${gymnast} all dns # ankle`)).toContain('Withdraw');
        expect(await type('y')).toContain(name);
        // One word takes all of that line back, and nothing before it.
        const left = () => openMeet(meetPath).results.filter((result) => result === null).length;
        const withdrawn = left();
        expect(await type('undo')).toContain('taken back');
        expect(left()).toBe(withdrawn + 3);
        await type(`${gymnast} all dns # ankle`);
        expect(await type('y')).toContain(name);
        expect(left()).toBe(withdrawn);
        for (const { code } of six.apparatus) {
          if (!final.has(`${gymnast} ${code}`)) final.set(`${gymnast} ${code}`, 'DNS');
        }
        continue;
      }
      if (i === 5) {
        const before = inLog();
        expect(await type('morelond 13.300')).toContain('did you mean `morelund`?');
        expect(await type('morelund 41.300')).toContain('over the limit of 17.000');
        expect(await type('morelund 1.433')).toContain('more than three points below');
        expect(await type('n')).toContain('Nothing was recorded.');
        expect(await type('morelund 13.300 13.400')).toContain('two scores');
        expect(await type('marhcetti')).toContain('neither a score nor a question');
        expect(inLog()).toBe(before);
      }
      if (i === 13) {
        // A second desk writes while this one waits.
        expect(run(['record', gymnast, apparatus, score, '--meet', meetPath]).code).toBe(0);
        said.push(await desk.shows(`From another desk: ${name}, ${apparatus} ${score}`));
        final.set(`${gymnast} ${apparatus}`, score);
        continue;
      }
      if (i === 14) {
        // Killed while it may or may not have written.
        desk.keys(`${gymnast} ${score}\r`);
        await new Promise((resolve) => setTimeout(resolve, 8));
        desk.kill();
        await desk.ended;
        desk = await openTerminal(args, place.path);
        const stands = openMeet(meetPath);
        const routine = stands.routines.find(
          (r) => r.gymnast === gymnast && r.apparatus === apparatus,
        );
        if (stands.results[routine?.index ?? -1] === null) await type(`${gymnast} ${score}`);
        final.set(`${gymnast} ${apparatus}`, score);
        continue;
      }
      if (i === 15) {
        // The wrong gymnast's score, and taken back.
        expect(await type(`${gymnast} 13.133`)).toContain('13.133');
        expect(await type('undo')).toContain('taken back');
      }
      if (has !== undefined) {
        expect(await type(`${gymnast} ${apparatus.toLowerCase()} ${score}`)).toContain('Correct');
        expect(await type('y')).toContain('corrected from');
      } else {
        // The last of her group who is the first of it now could correct her last score: it says where.
        const where = i === 16 ? ` ${apparatus.toLowerCase()}` : '';
        const text = await type(`${gymnast}${where} ${score}`);
        expect(text, text).toContain(`${name}, `);
      }
      final.set(`${gymnast} ${apparatus}`, score);
      if (i === 17) {
        expect(await type('standings')).toContain('Adeyemi');
        expect(await type(`needs ${gymnast} --for nonsense`)).toContain('nonsense');
      }
      if (i === 19) {
        // The log is edited by hand, badly: everything says so, and `check` says all of it.
        const good = readFileSync(log, 'utf8');
        const second = await openTerminal(args, place.path);
        save(log, `${good}nobody,VT,13.000,,,,,,\nbrondt,XX,13.000,,,,,,\n`);
        expect(await second.type('standings')).toContain('nobody');
        expect(await second.type('check')).toContain('XX');
        second.kill();
        await second.ended;
        save(log, good);
        expect(await type('standings')).not.toContain('nobody');
      }
      if (i === 20) {
        // The log vanishes: the last board stays, marked as old; no score is taken to be recorded, and no
        // other log is begun. Once it is back, one word records it.
        const board = (await type('standings')).split('\n').slice(1);
        renameSync(log, `${log}.away`);
        expect(await desk.shows('put it back')).toContain('the log is gone');
        const old = (await type('standings')).split('\n').slice(1);
        expect(old[0]).toMatch(/^Not up to date since \d\d:\d\d:\d\d: the log is gone/);
        expect(old.slice(-board.length)).toEqual(board);
        expect(await type(`${gymnast} ${apparatus} 13.966`)).toContain('Correct ');
        expect(await type('y')).toContain(`Not recorded: ${name}, ${apparatus} 13.966`);
        expect(await type('quit')).toContain('Not recorded');
        await type('n');
        expect(existsSync(log)).toBe(false);
        renameSync(`${log}.away`, log);
        expect(await desk.shows('is in order again')).not.toContain('13.966');
        expect(await type('again')).toContain('corrected from');
        expect(await type('undo')).toContain('taken back');
        expect(await type('again')).toContain('Nothing is waiting to be recorded');
        expect(await type('standings')).toContain(board.slice(0, -1).join('\n'));
      }
    }
    expect(said.at(-1)).toContain('Final: 1 Wren Adeyemi');
    desk.keys('quit\r');
    expect(await desk.ended).toBe(0);

    // Nothing was wider than the terminal, but for what was typed and where a file is.
    const lines = said
      .flatMap((text) => text.split('\n').slice(1))
      .filter((line) => !line.startsWith(place.path));
    expect(lines.filter((line) => [...line].length > 80)).toEqual([]);

    // Every routine has its score, and the totals are their sums.
    expect(final.size).toBe(24);
    const board = answer<{ rows: { id: string; total: string }[] }>([
      'standings',
      '--meet',
      meetPath,
    ]);
    for (const { id, total } of board.rows) {
      const hers = [...final].filter(([key, score]) => key.startsWith(`${id} `) && score !== 'DNS');
      const sum = hers.reduce((units, [, score]) => units + Number(score.replace('.', '')), 0);
      expect(Number(total.replace('.', '')), id).toBe(sum);
    }

    // The log, sent row by row to a meet without one, makes the same board.
    const copy = join(again.path, 'cove.yaml');
    rmSync(join(again.path, 'cove.scores.csv'));
    const replay = run(['live', '--meet', copy], { input: readFileSync(log, 'utf8') });
    expect(replay.out).not.toContain('"error":{');
    expect(answer(['standings', '--meet', copy])).toEqual(board);
  } finally {
    // One that has quit is gone.
    try {
      endDesk();
    } catch {}
    place.clean();
    again.clean();
  }
});
