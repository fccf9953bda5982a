/** What of a score log counts as lost, and what is only written otherwise. */
import { describe, expect, it } from 'vitest';
import { lossOf } from '../../lib/files/lost-rows.js';
import { LOG_HEADER } from '../../lib/meet/log.js';

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
    const own = `${LOG_HEADER}\nann,VT,13.500,,,,,,${at}\nbea,VT,13.400,,,,,,${at}\n`;
    const cut = lossOf('log', source(own), source(own.slice(0, -20)));
    expect(cut).toMatchObject({ lost: 1, isMend: false });
    const whole = `${LOG_HEADER}\nann,VT,13.500,,,,,,${at}\n`;
    expect(lossOf('log', source(own), source(whole))).toMatchObject({ lost: 1, isMend: true });
  });

  it('nothing is lost of one that was not there', () => {
    expect(lossOf('log', null, source(before))).toBeNull();
    expect(lossOf('log', source(''), null)).toBeNull();
    expect(lossOf('log', source(HEADER), null)).toBeNull();
  });
});
