/** A history too long to be held as a whole says the same as one that is. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readHistoryFile } from '../../lib/files/index.js';
import { type History, readHistory } from '../../lib/index.js';
import { folder } from '../support/cli.js';

const CODES = ['VT', 'UB', 'BB', 'FX'];

describe('a history of some megabytes', () => {
  let place: ReturnType<typeof folder>;
  let path = '';
  let text = '';
  let whole: History;
  beforeAll(() => {
    place = folder();
    const rows = Array.from({ length: 70_000 }, (_, i) => {
      const day = String((i % 28) + 1).padStart(2, '0');
      const score = (11 + ((i * 7919) % 3000) / 1000).toFixed(3);
      return `Gymnast Nümber ${i % 900},wag,2026-03-${day},Invented Cup ${i % 500},qualification,${CODES[i % 4]},${score}`;
    });
    path = join(place.path, 'history.csv');
    text = ['gymnast,discipline,date,competition,round,apparatus,score', ...rows].join('\n');
    whole = readHistory({ file: path, text });
  });
  afterAll(() => place.clean());

  it.each(['utf8', 'latin1', 'utf16le'] as const)('in %s', (encoding) => {
    writeFileSync(path, encoding === 'utf16le' ? `\uFEFF${text}` : text, encoding);
    const told: number[] = [];
    const read = readHistoryFile(path, (done, of) => told.push(done / of));
    expect(read).toEqual(whole);
    expect(told.length).toBeGreaterThan(20);
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(told.at(-1)).toBe(1);
  });
});
