/** A meet that is followed: what counts as lost, what stays, what is taken, and what is said of it. */
import { appendFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type FileNews, type Followed, fileNews, followMeet } from '../../lib/files/index.js';
import { GRACE_MS, MEND_MS } from '../../lib/files/kept.js';
import { lossOf } from '../../lib/files/lost-rows.js';
import { standings } from '../../lib/index.js';
import { LOG_HEADER } from '../../lib/meet/log.js';
import { folder } from '../support/cli.js';

const HEADER = 'gymnast,apparatus,score,d,e,nd,note\n';
const source = (text: string) => ({ file: 'meet.scores.csv', text });

describe('of a log', () => {
  const before = `${HEADER}ann,VT,13.500,5.0,8.5,0,clean\nbea,VT,13.400,,,,\nann,UB,12.000,,,,\n`;
  const loss = (now: string | null) =>
    lossOf('meet.scores.csv', source(before), now === null ? null : source(now));

  it.each([
    ['more rows', `${before}bea,UB,DNS,,,,\n`],
    [
      'the same rows in another order',
      `${HEADER}ann,UB,12.000\nbea,VT,13.400\nann,VT,13.5,5,8.5\n`,
    ],
    [
      'as a spreadsheet saves it again',
      '\uFEFFscore;apparatus;gymnast;d;e;nd\r\n13,5;vt;ANN;5,00;8,50;0,000\r\n13,4;VT;bea;;;\r\n12;UB;ann;;;\r\n',
    ],
    [
      'other notes, and empty lines',
      before.replace('clean', '"stepped\nout"').replace('bea', '\nbea'),
    ],
    ['times of writing', before.replace('note', 'at').replace('clean', '2026-05-16T14:02:52.280Z')],
  ])('%s lose nothing', (_, now) => {
    expect(loss(now)).toBeNull();
  });

  it.each([
    ['gone', null, 'the log is gone, and 3 rows with it'],
    ['empty', '', 'the log is empty, and 3 rows with it'],
    ['nothing but its first line', HEADER, 'the log is empty, and 3 rows with it'],
  ])('one that is %s has lost everything, and nobody meant it', (_, now, message) => {
    expect(loss(now)).toMatchObject({
      lost: 3,
      isMend: false,
      error: { code: 'log-gone', message },
    });
  });

  it('one that is longer and lacks a row has lost it', () => {
    const longer = `${before.replace('bea,VT,13.400,,,,\n', '')}${'bea,BB,12.5,,,,a long note\n'.repeat(5)}`;
    expect(longer.length).toBeGreaterThan(before.length);
    expect(loss(longer)).toMatchObject({
      lost: 1,
      isMend: true,
      error: {
        code: 'log-shrunk',
        message: 'a row that stood is gone from the log: bea VT 13.400',
        mend: 'put it back; a log that stands so for ten seconds is taken as it is',
      },
    });
  });

  it('a row that was changed in its place is one that is gone', () => {
    expect(loss(before.replace('13.400', '13.433'))?.error.message).toContain('bea VT 13.400');
    expect(loss(before.replace('13.400', 'DNS'))?.lost).toBe(1);
  });

  it('of a row that stood twice one is gone', () => {
    const twice = `${before}ann,UB,12.000,,,,\n`;
    expect(lossOf('log', source(twice), source(before))?.lost).toBe(1);
    expect(lossOf('log', source(before), source(twice))).toBeNull();
  });

  it('more rows than a hand mends are lost, and the first of them are named', () => {
    const rows = ['ann,VT,1', 'bea,VT,2', 'ann,UB,3', 'bea,UB,4', 'ann,BB,5', 'bea,BB,6'];
    const log = (from: number) => source(`${HEADER}${rows.slice(from).join('\n')}\n`);
    expect(lossOf('log', log(0), log(3))).toMatchObject({ lost: 3, isMend: true });
    expect(lossOf('log', log(0), log(4))).toMatchObject({
      lost: 4,
      isMend: false,
      error: {
        message: '4 rows that stood are gone from the log: ann VT 1, bea VT 2, ann UB 3 and 1 more',
        mend: 'put them back; to go on without them, start again',
      },
    });
  });

  it('a row that is being written has lost nothing when it is whole', () => {
    const half = source(`${HEADER}ann,VT,13.5`);
    expect(lossOf('log', half, source(`${HEADER}ann,VT,13.566,,,,\n`))).toBeNull();
    const own = `${LOG_HEADER}\nann,VT,13.500,,,,,2026-05-16T14:02:52.280Z\n`;
    expect(lossOf('log', source(`${own}bea,VT,13.4`), source(own))).toBeNull();
  });

  it('one that ends in half a row was cut off, and nobody meant it', () => {
    const at = '2026-05-16T14:02:52.280Z';
    const own = `${LOG_HEADER}\nann,VT,13.500,,,,,${at}\nbea,VT,13.400,,,,,${at}\n`;
    const cut = lossOf('log', source(own), source(own.slice(0, -20)));
    expect(cut).toMatchObject({ lost: 1, isMend: false });
    const whole = `${LOG_HEADER}\nann,VT,13.500,,,,,${at}\n`;
    expect(lossOf('log', source(own), source(whole))).toMatchObject({ lost: 1, isMend: true });
  });

  it('nothing is lost of one that was not there', () => {
    expect(lossOf('log', null, source(before))).toBeNull();
    expect(lossOf('log', source(''), null)).toBeNull();
    expect(lossOf('log', source(HEADER), null)).toBeNull();
  });
});

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
    ['the log has a bad row', () => appendFileSync(log, 'nobody,VT,13,,,,\n'), '"nobody" is not'],
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
        said: ['is well again'],
      });
    },
  );

  const ranges = () => join(place.path, 'meet.ranges.yaml');
  function swap(file: string): void {
    rmSync(file);
    renameSync(folder().path, file);
  }

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
