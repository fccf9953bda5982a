/** Kills of a feed at random moments while it writes, and what must be left afterwards. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { openMeet, readMeetFiles } from '../../lib/files/index.js';
import { check } from '../../lib/index.js';
import { LOG_HEADER, SET_ASIDE } from '../../lib/meet/log.js';
import { openFeed } from './feed.js';

const CODES = ['VT', 'UB', 'BB', 'FX'];
const IDS = Array.from({ length: 40 }, (_, i) => `g${i}`);
const MEET = `discipline: wag\nscoring: open\ngymnasts: [${IDS.map((id) => `{ id: ${id} }`).join(', ')}]\n`;

/** Every kill is another feed on the same log; its rows have a number of their own in the note. */
export async function killFeeds(folder: string, kills: number): Promise<number> {
  const meet = join(folder, 'meet.yaml');
  const log = join(folder, 'meet.scores.csv');
  writeFileSync(meet, MEET);
  const sent = new Map<string, string>();
  const acknowledged = new Set<string>();
  // A log that grows without end would measure reading it, not killing.
  const logs: string[] = [];
  for (let kill = 0; kill < kills; kill++) {
    if (kill % 50 === 0 && existsSync(log)) {
      logs.push(readFileSync(log, 'utf8'));
      writeFileSync(log, `${LOG_HEADER}\n`);
    }
    const feed = openFeed(meet);
    for (let i = 0; i < 40; i++) {
      const note = `n${kill}.${i}`;
      const score = `1${(kill + i) % 5}.${String((kill * 40 + i) % 1000).padStart(3, '0')}`;
      sent.set(note, `${IDS[i]},${CODES[kill % 4]},${score}`);
      feed.write(`${sent.get(note)},,,,${note}\n`);
    }
    // Half of them by their answers, and half by the clock, so that every moment has its turn.
    const answers = kill % 2 === 0 ? 1 + Math.floor(Math.random() * 8) : Number.POSITIVE_INFINITY;
    const until = Date.now() + (kill % 2 === 0 ? 20_000 : 60 + Math.random() * 200);
    while (feed.answers().length < answers && Date.now() < until) {
      await new Promise((resolve) => setTimeout(resolve, Math.random() * 4));
    }
    feed.kill();
    await feed.ended;
    for (const line of feed.answers()) {
      const { row, error } = JSON.parse(line) as { row: { note: string }; error?: unknown };
      expect(error, line).toBeUndefined();
      acknowledged.add(row.note);
    }
  }
  logs.push(readFileSync(log, 'utf8'));
  const rows = logs.flatMap((text) => text.trimEnd().split('\n').slice(1));
  const whole = rows.filter((row) => !row.endsWith(SET_ASIDE)).map((row) => row.split(','));
  const notes = whole.map((row) => row[7] ?? '');
  expect(new Set(notes).size).toBe(notes.length);
  for (const note of acknowledged) expect(notes, note).toContain(note);
  for (const row of whole) expect(row.slice(0, 3).join()).toBe(sent.get(row[7] ?? ''));

  expect(check(readMeetFiles(meet)).sound).toBe(true);
  const board = openMeet(meet);
  const last = logs.at(-1)?.trimEnd().split('\n').slice(1) ?? [];
  const replayed = new Map<string, string>();
  for (const row of last.filter((r) => !r.endsWith(SET_ASIDE))) {
    const [gymnast, apparatus, score] = row.split(',');
    replayed.set(`${gymnast} ${apparatus}`, score ?? '');
  }
  for (const { index, gymnast, apparatus } of board.routines) {
    const result = board.results[index] ?? null;
    const score = result === null || typeof result === 'string' ? undefined : result.score;
    const told = replayed.get(`${gymnast} ${apparatus}`);
    expect(score).toBe(told === undefined ? undefined : Number(told.replace('.', '')));
  }
  return acknowledged.size;
}
