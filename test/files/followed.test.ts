/** A meet that is followed: what stays, what is taken, and what is said of it. */
import {
  appendFileSync,
  existsSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  type FileNews,
  type Followed,
  fileNews,
  followMeet,
  openBoard,
  recordBetween,
} from '../../lib/files/index.js';
import { GRACE_MS, MEND_MS } from '../../lib/files/kept.js';
import { standings } from '../../lib/index.js';
import { folder } from '../support/cli.js';

const HEADER = 'gymnast,apparatus,score,d,e,nd,note\n';

const MEET = `discipline: wag
scoring: open
ranges: meet.ranges.yaml
gymnasts: [{ id: ann, name: Ann Ashdown }, { id: bea, name: Bea Birkwell }]
`;
const ROWS = ['ann,VT', 'bea,VT', 'ann,UB', 'bea,UB', 'ann,BB', 'bea,BB'].map(
  (row, i) => `${row},13.${i}00,,,,\n`,
);
const LOG = `${HEADER}${ROWS.join('')}`;

describe('a meet', () => {
  let place: ReturnType<typeof folder>;
  let at: number;
  let meet: string;
  let log: string;
  let last: Followed<string>;
  let following: ReturnType<typeof follow>;
  const follow = () =>
    followMeet(meet, {
      make: ({ meet: sound }) =>
        standings(sound)
          .rows.map((r) => `${r.id} ${r.total}`)
          .join(', '),
      now: () => at,
    });
  const GOOD = 'bea 39900, ann 39600';

  beforeEach(() => {
    place = folder();
    meet = join(place.path, 'meet.yaml');
    log = join(place.path, 'meet.scores.csv');
    writeFileSync(meet, MEET);
    writeFileSync(join(place.path, 'meet.ranges.yaml'), 'ann: {}\n');
    writeFileSync(log, LOG);
    at = Date.parse('2026-05-16T14:00:00.000Z');
    following = follow();
    last = following.look();
    expect(last).toEqual({ value: GOOD, stale: null, wrong: null, taken: null });
  });
  afterEach(() => place.clean());

  /** Looks after so many milliseconds; what there is then, and what is said of it. */
  function later(ms: number): { now: Followed<string>; said: string[] } {
    at += ms;
    const now = following.look();
    const said = fileNews(last, now).map(inWords);
    last = now;
    return { now, said };
  }
  const inWords = (news: FileNews) => ('wrong' in news ? news.wrong.message : news.message);

  it.each<[what: string, harm: () => void, message: string]>([
    ['the log is taken away', () => renameSync(log, `${log}.away`), 'the log is gone, and 6 rows'],
    ['the log is emptied', () => writeFileSync(log, ''), 'the log is empty, and 6 rows'],
    ['the log is cut', () => writeFileSync(log, LOG.slice(0, 75)), '4 rows that stood are gone'],
    [
      'the log has a bad row',
      () => appendFileSync(log, 'nobody,VT,13,,,,\n'),
      'no gymnast "nobody"',
    ],
    ['the log is a folder', () => swap(log), 'is a folder'],
    [
      'the meet file is taken away',
      () => renameSync(meet, `${meet}.away`),
      'there is no such file',
    ],
    ['the meet file is unsound', () => writeFileSync(meet, `${MEET}nonsense: 1\n`), 'nonsense'],
    ['the ranges file is taken away', () => rmSync(ranges()), 'the ranges file meet.ranges.yaml'],
    [
      'the ranges file is unsound',
      () => writeFileSync(ranges(), 'ann: 3\n'),
      'should be a mapping',
    ],
  ])(
    '%s: the last good stays, and it is said once, and once that it is well',
    (_, harm, message) => {
      harm();
      const since = new Date(at).toISOString();
      expect(later(0)).toMatchObject({ now: { value: GOOD, stale: null }, said: [] });
      const { now, said } = later(GRACE_MS);
      expect(now).toMatchObject({ value: GOOD, stale: since });
      expect(said).toEqual([expect.stringContaining(message)]);
      expect(later(MEND_MS * 10)).toMatchObject({ now: { value: GOOD, stale: since }, said: [] });
      rmSync(log, { recursive: true, force: true });
      writeFileSync(meet, MEET);
      writeFileSync(ranges(), 'ann: {}\n');
      writeFileSync(log, `${LOG}ann,FX,13.700,,,,\n`);
      expect(later(1)).toMatchObject({
        now: { value: 'ann 53300, bea 39900', stale: null, wrong: null },
        said: ['is in order again'],
      });
    },
  );

  const ranges = () => join(place.path, 'meet.ranges.yaml');
  function swap(file: string): void {
    rmSync(file);
    renameSync(folder().path, file);
  }

  it('a row that was mended wrongly is said with what is wrong with it', () => {
    writeFileSync(log, LOG.replace('bea,UB', 'beaa,UB'));
    later(0);
    const { said } = later(GRACE_MS);
    expect(said).toEqual(['there is no gymnast "beaa" in this meet']);
    expect(later(MEND_MS).now.value).toBe(GOOD);
  });

  it('another ranges file is followed from when the meet file names it', () => {
    const other = join(place.path, 'other.yaml');
    writeFileSync(other, 'ann: {}\n');
    writeFileSync(meet, MEET.replace('meet.ranges.yaml', 'other.yaml'));
    expect(later(0).now.wrong).toBeNull();
    rmSync(ranges());
    expect(later(0).now.wrong).toBeNull();
    rmSync(other);
    expect(later(0).now.wrong?.message).toContain('other.yaml');
  });

  it('an editor that empties a file before it writes it is not noticed', () => {
    for (const text of ['', HEADER, LOG.slice(0, 100)]) {
      writeFileSync(log, text);
      expect(later(GRACE_MS / 4)).toMatchObject({ now: { value: GOOD, stale: null }, said: [] });
    }
    writeFileSync(log, LOG);
    expect(later(GRACE_MS / 4)).toEqual({
      now: { value: GOOD, stale: null, wrong: null, taken: null },
      said: [],
    });
  });

  it('what was mended by hand is taken once it has stood for ten seconds', () => {
    const mended = LOG.replace('bea,UB,13.300', 'bea,UB,12.300').replace(ROWS[5] ?? '', '');
    writeFileSync(log, mended);
    later(0);
    expect(later(GRACE_MS).said).toEqual([
      '2 rows that stood are gone from the log: bea UB 13.300, bea BB 13.500',
    ]);
    // Another row meanwhile neither hastens nor hinders it.
    appendFileSync(log, 'ann,FX,13.000,,,,\n');
    expect(later(MEND_MS - GRACE_MS - 1).now.value).toBe(GOOD);
    const { now, said } = later(1);
    expect(now).toMatchObject({ value: 'ann 52600, bea 25400', stale: null, wrong: null });
    expect(said).toEqual([
      'taken as it is; 2 rows that stood are gone from the log: bea UB 13.300, bea BB 13.500',
    ]);
    // From then on that is the log, and the old one has lost a row.
    writeFileSync(log, LOG);
    later(0);
    expect(later(GRACE_MS).said[0]).toContain('bea UB 12.300');
  });

  it('the ten seconds begin again with another loss', () => {
    writeFileSync(log, LOG.replace(ROWS[5] ?? '', ''));
    later(0);
    later(MEND_MS - 1);
    writeFileSync(log, LOG.replace(ROWS[4] ?? '', ''));
    expect(later(0).now.value).toBe(GOOD);
    expect(later(GRACE_MS).said).toEqual(['a row that stood is gone from the log: ann BB 13.400']);
    expect(later(MEND_MS - GRACE_MS - 1).now.value).toBe(GOOD);
    expect(later(1).now.value).toBe('bea 39900, ann 26200');
  });

  it('more than a mend is taken only by a word', () => {
    expect(() => following.accept()).toThrow('nothing is wrong');
    writeFileSync(log, `${HEADER}${ROWS[0]}`);
    expect(() => following.acceptMend()).toThrow('5 rows');
    expect(later(MEND_MS * 2).now.value).toBe(GOOD);
    following.accept();
    expect(later(0)).toMatchObject({
      now: { value: 'ann 13000, bea 0', stale: null },
      said: [expect.stringContaining('taken as it is; 5 rows')],
    });
    rmSync(log);
    following.accept();
    expect(later(0).now.value).toBe('ann 0, bea 0');
    rmSync(meet);
    expect(() => following.accept()).toThrow('no such file');
    expect(later(GRACE_MS).now.value).toBe('ann 0, bea 0');
  });

  it('one trouble after another is said, and since when it has been stale stays', () => {
    const since = new Date(at).toISOString();
    rmSync(log);
    later(0);
    later(GRACE_MS);
    writeFileSync(log, `${HEADER}${ROWS[0]}`);
    expect(later(5000)).toMatchObject({ now: { stale: since }, said: [] });
    // Nor is what is only there while it is saved again.
    writeFileSync(log, '');
    expect(later(GRACE_MS - 1).said).toEqual([]);
    writeFileSync(log, `${HEADER}${ROWS[0]}`);
    expect(later(0).said).toEqual([]);
    expect(later(GRACE_MS)).toMatchObject({
      now: { stale: since },
      said: [expect.stringContaining('5 rows that stood')],
    });
  });

  it('the meet file may change, and is read again', () => {
    writeFileSync(meet, MEET.replace('{ id: bea,', '{ id: bea, carried: 20.000,'));
    expect(later(0)).toMatchObject({ now: { value: 'bea 59900, ann 39600' }, said: [] });
    rmSync(ranges());
    writeFileSync(meet, MEET.replace('ranges: meet.ranges.yaml\n', ''));
    expect(later(0).now.value).toBe(GOOD);
  });

  it('what cannot be made of the files any more is wrong with them', () => {
    const own = followMeet(meet, {
      make: ({ meet: sound }) => standings(sound, { contest: 'VT' }).contest,
      now: () => at,
    });
    writeFileSync(
      meet,
      MEET.replace('wag', '[{ code: HP, name: hoop, limit: 20 }]').replace(
        'ranges: meet.ranges.yaml\n',
        '',
      ),
    );
    writeFileSync(log, HEADER);
    own.look();
    at += GRACE_MS;
    expect(own.look()).toMatchObject({ value: 'VT', stale: expect.any(String) });
  });

  it('whoever waits is told once it is well, or stale', async () => {
    const real = followMeet(meet, { make: ({ log: read }) => read?.text.length });
    expect((await real.settled()).wrong).toBeNull();
    rmSync(log);
    expect(real.look().stale).toBeNull();
    expect((await real.settled()).stale).not.toBeNull();
    writeFileSync(log, LOG);
    expect((await real.settled()).wrong).toBeNull();
  });

  it('watching tells of all of it, whoever looks meanwhile, until it is closed', async () => {
    const real = followMeet(meet, { make: ({ meet: sound }) => standings(sound).rows[0]?.total });
    const seen: string[] = [];
    let end = () => {};
    const told = new Promise<void>((done) => {
      end = real.watch(({ value, stale }) => {
        seen.push(`${value} ${stale === null ? 'fresh' : 'stale'}`);
        if (seen.at(-1) === '53300 fresh') done();
        if (stale !== null) writeFileSync(log, `${LOG}ann,FX,13.700,,,,\n`);
      });
    });
    rmSync(log);
    real.look();
    await told;
    end();
    expect(seen).toContain('39900 stale');
    expect(seen.at(-1)).toBe('53300 fresh');
    // Said once more would be said to nobody.
    appendFileSync(log, 'bea,FX,13.800,,,,\n');
    expect(real.look().value).toBe(53700);
    expect(seen.at(-1)).toBe('53300 fresh');
  });
});

describe('a score', () => {
  let place: ReturnType<typeof folder>;
  let meet: string;
  let log: string;
  const told = { gymnast: 'ann', apparatus: 'FX', score: '13.700' };
  beforeEach(() => {
    place = folder();
    meet = join(place.path, 'meet.yaml');
    log = join(place.path, 'meet.scores.csv');
    writeFileSync(meet, MEET.replace('ranges: meet.ranges.yaml\n', ''));
    writeFileSync(log, LOG);
  });
  afterEach(() => place.clean());

  it('is not written into a log that has lost rows since it was last seen', async () => {
    const seen = { file: log, text: LOG };
    rmSync(log);
    await expect(recordBetween(meet, told, { seen })).rejects.toThrow('the log is gone');
    expect(existsSync(log)).toBe(false);
    writeFileSync(log, `${HEADER}${ROWS[0]}`);
    await expect(recordBetween(meet, told, { seen })).rejects.toThrow('5 rows that stood');
    expect(readFileSync(log, 'utf8')).toBe(`${HEADER}${ROWS[0]}`);
    writeFileSync(log, `${LOG}bea,FX,13.600,,,,\n`);
    expect((await recordBetween(meet, told, { seen })).recorded.total).toBe(53300);
  });

  it('waits for an editor that is just saving the log', async () => {
    const board = openBoard(meet);
    writeFileSync(log, '');
    const recording = board.record(told);
    await new Promise((resolve) => setTimeout(resolve, 60));
    expect(readFileSync(log, 'utf8')).toBe('');
    writeFileSync(log, LOG);
    expect((await recording).recorded.total).toBe(53300);
    expect(readFileSync(log, 'utf8').slice(0, LOG.length)).toBe(LOG);
  });

  it('takes a log that was mended by hand, and none that has lost more', async () => {
    const board = openBoard(meet);
    const mended = LOG.replace('13.500', '13.533');
    writeFileSync(log, mended);
    expect((await board.record(told)).recorded.total).toBe(53300);
    expect(board.look()).toMatchObject({ stale: null, taken: { code: 'log-shrunk' } });
    const cut = `${HEADER}${ROWS[0]}`;
    writeFileSync(log, cut);
    await expect(board.record({ ...told, score: '13.8' })).rejects.toThrow('rows that stood');
    expect(readFileSync(log, 'utf8')).toBe(cut);
    expect(board.lastRow()).toMatchObject({ score: '13.700' });
    board.accept();
    expect(board.lastRow()).toMatchObject({ gymnast: 'ann', apparatus: 'VT' });
    expect((await board.record({ ...told, score: '13.8' })).recorded.total).toBe(26800);
  });
});
