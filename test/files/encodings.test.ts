/** Files in the encodings people have: read, continued in their own, and torn at any byte. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openMeet, readMeetFiles, record } from '../../lib/files/index.js';
import { standings } from '../../lib/index.js';
import { folder, run } from '../support/cli.js';

const MEET = `discipline: wag
scoring: open
contests: [{ kind: apparatus, on: FX }]
gymnasts:
  - { id: ann, name: Ann Ashdown }
  - { id: zoë, name: Zoë Brückenø }
  - { id: bea, name: Bea Birkwell }
`;
const LOG = 'gymnast,apparatus,score,note\nann,FX,13.500,\nzoë,FX,13.600,fällt\n';

const ENCODINGS = {
  'UTF-8': (text: string) => Buffer.from(text, 'utf8'),
  'UTF-8 with a mark': (text: string) => Buffer.from(`\uFEFF${text}`, 'utf8'),
  'UTF-16, small end first': (text: string) => Buffer.from(`\uFEFF${text}`, 'utf16le'),
  'UTF-16, big end first': (text: string) => Buffer.from(`\uFEFF${text}`, 'utf16le').swap16(),
  'an old Western code page': (text: string) => Buffer.from(text, 'latin1'),
} as const;
type Encoding = keyof typeof ENCODINGS;
const ALL = Object.keys(ENCODINGS) as Encoding[];

let place: ReturnType<typeof folder>;
afterEach(() => place.clean());

function placeWith(
  meetText: Buffer | string,
  logText: Buffer | string,
): { meet: string; log: string } {
  place = folder();
  const meet = join(place.path, 'meet.yaml');
  const log = join(place.path, 'meet.scores.csv');
  writeFileSync(meet, meetText);
  writeFileSync(log, logText);
  return { meet, log };
}

/** Scores by gymnast. */
function board(meet: string): Record<string, number> {
  const { rows } = standings(openMeet(meet));
  return Object.fromEntries(rows.filter((r) => r.done > 0).map((r) => [r.id, r.total]));
}

describe.each(ALL)('%s', (encoding) => {
  const encode = ENCODINGS[encoding];

  it('a meet file and a log are read', () => {
    const { meet } = placeWith(encode(MEET), encode(LOG));
    expect(board(meet)).toEqual({ ann: 13500, zoë: 13600 });
    expect(openMeet(meet).gymnasts[1]?.name).toBe('Zoë Brückenø');
    const said = readMeetFiles(meet).problems.filter((p) => p.code === 'not-utf-8');
    expect(said).toHaveLength(encoding === 'an old Western code page' ? 2 : 0);
  });

  it('a mistake is reported on its line', () => {
    const { meet } = placeWith(
      encode(MEET.replace('bea,', 'zoë,')),
      encode(`${LOG}zoraë,FX,13.000\n`),
    );
    const errors = readMeetFiles(meet).problems.filter((p) => p.severity === 'error');
    expect(errors.map((p) => [p.code, p.line])).toEqual([
      ['gymnast-twice', 7],
      ['unknown-gymnast', 4],
    ]);
  });

  // Once wrong (UTF-16, Western): rows are added in UTF-8 whatever the log is in; the row is lost, the
  // whole log is unsound from then on, and the command fails after it has written.
  it('a log in it is continued so that the rows count, or is refused and left as it was', async () => {
    const { meet, log } = placeWith(MEET, encode(LOG));
    for (const [gymnast, score, note] of [
      ['bea', '13.700', ''],
      ['zoë', '13.800', 'Überprüfung'],
      ['ann', '13.900', 'plain'],
    ] as const) {
      const before = readFileSync(log);
      let refused = false;
      await record(meet, { gymnast, apparatus: 'FX', score, note }).catch(() => {
        refused = true;
      });
      if (refused) expect(readFileSync(log).equals(before), 'refused, but written to').toBe(true);
      else expect(board(meet)[gymnast]).toBe(Number(score) * 1000);
    }
    // Either way what was there is there.
    expect(board(meet)).toMatchObject({ ann: expect.any(Number), zoë: expect.any(Number) });
  });
});

describe('a row torn at any byte', () => {
  async function logged(): Promise<{ meet: string; log: string; whole: Buffer; head: number }> {
    const { meet, log } = placeWith(MEET, '');
    await record(meet, { gymnast: 'ann', apparatus: 'FX', score: '13.500', note: 'süß' });
    await record(meet, { gymnast: 'zoë', apparatus: 'FX', score: '13.600' });
    const head = readFileSync(log).length;
    await record(meet, {
      gymnast: 'zoë',
      apparatus: 'FX',
      score: '13.700',
      note: 'Überprüfung 😀',
    });
    return { meet, log, whole: readFileSync(log), head };
  }

  // Once wrong: torn within a character that is more than one byte, the log is no UTF-8; all of it is
  // then read in another code page, and her name in earlier rows is nobody's.
  it('leaves the other rows standing', async () => {
    const { meet, log, whole, head } = await logged();
    const wrong: string[] = [];
    for (let cut = head + 1; cut < whole.length - 1; cut++) {
      writeFileSync(log, whole.subarray(0, cut));
      const { problems } = readMeetFiles(meet);
      const errors = problems.filter((p) => p.severity === 'error').map((p) => p.message);
      if (errors.length > 0) wrong.push(`cut at ${cut - head}: ${errors.join('; ')}`);
      else if (board(meet).zoë !== 13600) wrong.push(`cut at ${cut - head}: ${board(meet).zoë}`);
      else if (!problems.some((p) => p.code === 'half-written'))
        wrong.push(`cut at ${cut}: unsaid`);
    }
    expect(wrong).toEqual([]);
  });

  // Once wrong: as above.
  it('does not keep the next score from being recorded, and never counts later', async () => {
    const { meet, log, whole, head } = await logged();
    const wrong: string[] = [];
    for (let cut = head + 1; cut < whole.length - 1; cut++) {
      writeFileSync(log, whole.subarray(0, cut));
      try {
        await record(meet, { gymnast: 'bea', apparatus: 'FX', score: '13.800' });
        await record(meet, { gymnast: 'ann', apparatus: 'FX', score: '13.900' });
        expect(board(meet)).toEqual({ ann: 13900, bea: 13800, zoë: 13600 });
      } catch (error) {
        wrong.push(`cut at ${cut - head}: ${error instanceof Error ? error.message : error}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('a header torn at any byte is begun anew', async () => {
    const { meet, log, whole } = await logged();
    const header = whole.indexOf('\n');
    for (let cut = 0; cut <= header; cut++) {
      writeFileSync(log, whole.subarray(0, cut));
      await record(meet, { gymnast: 'bea', apparatus: 'FX', score: '13.800' });
      await record(meet, { gymnast: 'zoë', apparatus: 'FX', score: '13.900' });
      expect(board(meet), `cut at ${cut}`).toEqual({ bea: 13800, zoë: 13900 });
    }
  });
});

describe('what was set aside is said where the board is looked at', () => {
  async function torn(): Promise<string> {
    const { meet, log } = placeWith(MEET, '');
    await record(meet, { gymnast: 'ann', apparatus: 'FX', score: '13.500' });
    writeFileSync(log, `${readFileSync(log, 'utf8')}bea,FX,13.`);
    return meet;
  }

  it('check says it', async () => {
    const { out, code } = run(['check', '--meet', await torn()]);
    expect(code).toBe(0);
    expect(out).toContain('half written');
  });

  // Once wrong: only `check` says it; whoever lost a score in a crash sees a board as if all were well.
  it.each([['standings'], ['needs', 'zoë'], ['record', 'zoë', 'FX', '13.000']])(
    '%s says it',
    async (...args) => {
      const { out, err } = run([...args, '--meet', await torn()]);
      expect(out + err).toMatch(/half written|set aside/);
    },
  );
});
