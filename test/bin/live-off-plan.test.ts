/** An evening that leaves its plan, typed in a real terminal; the board is right at every moment. */
import { renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { graphics, type Meet, standings } from '../../lib/index.js';
import { folder } from '../support/cli.js';
import { smallDisk } from '../support/disk.js';
import { HAS_TERMINAL, openTerminal } from '../support/terminal.js';

const MEET = `title: Quay Invitational
discipline: wag
scoring: open
startOrder: fixed
contests: [all-around, { kind: team, up: 3, count: 2 }]
usual:
  VT: { low: 12.500, likely: 13.200, high: 14.000, falls: 0.05 }
  UB: { low: 12.500, likely: 13.200, high: 14.000, falls: 0.05 }
  BB: { low: 12.500, likely: 13.200, high: 14.000, falls: 0.05 }
  FX: { low: 12.500, likely: 13.200, high: 14.000, falls: 0.05 }
gymnasts:
  - { id: rokafor, name: Ruth Okafor, team: NQY }
  - { id: lund, name: Kari Lund, team: NQY }
  - { id: fitch, name: Nia Fitch, team: NQY }
  - { id: mokafor, name: Mina Okafor, team: HBR }
  - { id: quill, name: Ada Quill, team: HBR }
  - { id: marsh, name: Bea Marsh, team: HBR }
  - { id: velde, name: Lena Velde, team: NQY, on: [] }
groups:
  - { start: VT, order: [rokafor, lund, fitch] }
  - { start: UB, order: [mokafor, quill, marsh] }
`;
const FIELD = ['rokafor', 'lund', 'fitch', 'mokafor', 'quill', 'marsh'];
const TEAMS = { NQY: ['rokafor', 'lund', 'fitch', 'velde'], HBR: ['mokafor', 'quill', 'marsh'] };
const CODES = ['VT', 'UB', 'BB', 'FX'];

/** What the evening has come to, kept beside the tool: scores in thousandths, and who is out. */
interface Kept {
  readonly scores: Map<string, number>;
  readonly out: Set<string>;
}

function totalOf({ scores }: Kept, id: string, also: Map<string, number> = scores): number {
  return CODES.reduce((sum, code) => sum + (also.get(`${id} ${code}`) ?? 0), 0);
}

/** Level totals of two who have done all are broken by their best three scores, then two, then one. */
function isBetter(scores: Map<string, number>, one: string, other: string): boolean {
  const [a = [], b = []] = [one, other].map((id) =>
    CODES.flatMap((code) => scores.get(`${id} ${code}`) ?? []).sort((x, y) => y - x),
  );
  if (a.length < CODES.length || b.length < CODES.length) return false;
  for (let n = CODES.length - 1; n > 0; n--) {
    const [best, theirs] = [a, b].map((all) => all.slice(0, n).reduce((x, y) => x + y, 0));
    if (best !== theirs) return (best ?? 0) > (theirs ?? 0);
  }
  return false;
}

/** Places by total so far; level totals share while anybody has a routine to come. */
function placeIn(kept: Kept, id: string, also: Map<string, number> = kept.scores): number | null {
  const hers = totalOf(kept, id, also);
  const placed = FIELD.filter((g) => totalOf(kept, g, also) > 0);
  if (!placed.includes(id)) return null;
  const isOut = kept.out.has(id);
  const ahead = placed.filter((g) => {
    if (kept.out.has(g) !== isOut) return isOut;
    const theirs = totalOf(kept, g, also);
    return theirs > hers || (theirs === hers && isBetter(also, g, id));
  });
  return ahead.length + 1;
}

const thousandths = (text: string) => Math.round(Number(text) * 1000);

function checkBoard(meet: Meet, kept: Kept): void {
  const { rows } = standings(meet);
  const is = rows.map((r) => [r.id, r.place, r.total] as const);
  const should = FIELD.map((id) => [id, placeIn(kept, id), totalOf(kept, id)] as const);
  expect(new Set(is.map((r) => r.join(' ')))).toEqual(new Set(should.map((r) => r.join(' '))));
  const teams = standings(meet, { contest: 'team' }).rows.map((r) => [r.id, r.total] as const);
  for (const [id, total] of teams) {
    const members = TEAMS[id as keyof typeof TEAMS];
    const best = CODES.map((code) => {
      const scores = members.map((g) => kept.scores.get(`${g} ${code}`) ?? 0);
      return scores
        .sort((a, b) => b - a)
        .slice(0, 2)
        .reduce((a, b) => a + b, 0);
    });
    expect(total, id).toBe(best.reduce((a, b) => a + b, 0));
  }
}

/** Every line for a score of the next up says the place that this score brings. */
function checkLines(meet: Meet, kept: Kept): number {
  const { lines: all } = graphics(meet, { kinds: ['outcome'] });
  let checked = 0;
  for (const { about, apparatus, from, to, place: said, worst, text } of all) {
    const id = about[0]?.id ?? '';
    if (from === null || to === null || text === null) throw new Error(`no band: ${text}`);
    for (const score of [from, to, Math.floor((from + to) / 2)]) {
      const also = new Map(kept.scores).set(`${id} ${apparatus}`, score);
      // 0.000 is a score, and brings a place.
      const place = score === 0 && totalOf(kept, id) === 0 ? null : placeIn(kept, id, also);
      if (place === null) continue;
      expect(place, `${text} for ${score}`).toBeGreaterThanOrEqual(Number(said));
      expect(place, `${text} for ${score}`).toBeLessThanOrEqual(Number(worst));
      checked++;
    }
  }
  return checked;
}

const title = `off the plan${HAS_TERMINAL ? '' : ' (skipped: a terminal takes python3 with pty)'}`;

it.runIf(HAS_TERMINAL)(title, async () => {
  const place = folder();
  const disk = smallDisk(place.path);
  const meetPath = join(disk?.path ?? place.path, 'meet.yaml');
  const log = join(disk?.path ?? place.path, 'meet.scores.csv');
  writeFileSync(meetPath, MEET);
  const desk = await openTerminal(['live', '--meet', meetPath], place.path);
  const kept: Kept = { scores: new Map(), out: new Set() };
  let lines = 0;
  const check = () => {
    const meet = openMeet(meetPath);
    checkBoard(meet, kept);
    lines += checkLines(meet, kept);
    return meet;
  };
  /** Types a score that is taken without a question, and gives what was said. */
  const score = async (line: string, id: string, code: string, text: string) => {
    const said = await desk.type(line);
    expect(said, said).not.toContain('(y/n)');
    kept.scores.set(`${id} ${code}`, thousandths(text));
    check();
    return said;
  };
  try {
    // Two of one name, both next up: nothing is recorded until it is clear who is meant.
    expect(await desk.type('okafor 13.4')).toContain('could be either of two');
    check();
    expect(await score('okafor vault 13.4', 'rokafor', 'VT', '13.4')).toContain('Ruth Okafor');
    await score('mokafor 13.133', 'mokafor', 'UB', '13.133');

    // A score that is late: the apparatus moves on, and so does the next rotation.
    const up = await desk.type('lund up');
    expect(up).toContain('Kari Lund has performed on vault');
    expect(up).toContain('Awaited on vault, Kari Lund: 13.433 to lead');
    check();
    // What was said of her is not said after every score; it can be asked for.
    expect(await score('fitch 13.6', 'fitch', 'VT', '13.6')).not.toContain('Kari Lund');
    expect(await desk.type('next')).toContain('Awaited on vault, Kari Lund: 13.633 to lead');
    await score('quill 12.9', 'quill', 'UB', '12.9');
    await score('marsh 13.033', 'marsh', 'UB', '13.033');
    const over = await desk.type('next');
    expect(over).toContain('Next on bars, Ruth Okafor');
    expect(over).toContain('Next on beam, Mina Okafor');
    expect(over).toContain('Awaited on vault, Kari Lund:');
    await score('rokafor 13.3', 'rokafor', 'UB', '13.3');
    const late = await score('lund vault 13.2', 'lund', 'VT', '13.2');
    expect(late).not.toContain('Awaited');

    // An inquiry that raises a score, one that lowers it, one that is not granted.
    const opened = await desk.type('quill bars inquiry');
    expect(opened).toContain('Ada Quill, bars 12.900 is under inquiry');
    expect(opened).toContain('Under inquiry, and may change: Ada Quill, 12.900 on bars.');
    check();
    expect(await desk.type('quill bars 13.1')).toContain(
      "Correct Quill's bars from 12.900 to 13.100? (y/n)",
    );
    expect(await desk.type('y')).toContain('bars 13.100 after an inquiry, was 12.900');
    kept.scores.set('quill UB', 13100);
    check();
    await desk.type('marsh inquiry');
    await desk.type('marsh bars 12.833');
    expect(await desk.type('y')).toContain('12.833 after an inquiry, was 13.033');
    kept.scores.set('marsh UB', 12833);
    check();
    await desk.type('fitch inquiry');
    expect(await desk.type('fitch confirmed')).toContain('Nia Fitch, vault 13.600 confirmed');
    check();

    // A withdrawal, and a reserve who steps in.
    expect(await desk.type('fitch all dns')).toContain('Withdraw Fitch');
    await desk.type('y');
    kept.out.add('fitch');
    check();
    expect(await desk.type('velde for fitch')).toContain(
      'Velde steps in for Fitch on everything from here on?',
    );
    expect(await desk.type('y')).toContain('Lena Velde steps in for Nia Fitch from here on');
    check();
    await score('lund bars 13.266', 'lund', 'UB', '13.266');
    expect(await desk.type('next')).toContain('Next on bars: Lena Velde.');
    await score('velde 12.733', 'velde', 'UB', '12.733');

    // Who goes up when is corrected, taken back, and corrected again.
    expect(await desk.type('quill after marsh')).toContain('Ada Quill goes up after Bea Marsh');
    await score('mokafor 13.033', 'mokafor', 'BB', '13.033');
    expect(await desk.type('next')).toContain('Next on beam, Bea Marsh');
    expect(await desk.type('quill beam void')).toContain('(y/n)');
    expect(await desk.type('y')).toContain('Ada Quill goes up as planned again on beam');
    expect(await desk.type('next')).toContain('Next on beam, Ada Quill');
    await desk.type('quill after marsh on beam');
    check();
    await score('marsh 12.7', 'marsh', 'BB', '12.7');

    // The log is taken away, and brought back.
    renameSync(log, `${log}.away`);
    expect(await desk.shows('put it back')).toContain('the log is gone');
    expect(await desk.type('quill 13.333')).toContain('Not recorded: Ada Quill');
    renameSync(`${log}.away`, log);
    await desk.shows('is in order again');
    check();
    expect(await desk.type('again')).toContain('Ada Quill, beam 13.333');
    kept.scores.set('quill BB', 13333);
    check();

    // The disk is full, and is not any more.
    if (disk !== null) {
      disk.fill();
      // What is left of the last block of the file may still take a row or two.
      let said = '';
      const rest: [id: string, code: string, text: string][] = [
        ['rokafor', 'BB', '13.533'],
        ['lund', 'BB', '12.966'],
        ['velde', 'BB', '13.1'],
      ];
      for (const [id, code, text] of rest) {
        said = await desk.type(`${id} ${code.toLowerCase()} ${text} # ${'x'.repeat(1500)}`);
        if (said.includes('Not recorded')) break;
        kept.scores.set(`${id} ${code}`, thousandths(text));
        check();
      }
      expect(said).toContain('the disk is full');
      check();
      disk.free();
      const again = await desk.type('again');
      expect(again).not.toContain('Not recorded');
      const [id = '', code = '', text = ''] =
        rest.find(([g, c]) => !kept.scores.has(`${g} ${c}`)) ?? [];
      kept.scores.set(`${id} ${code}`, thousandths(text));
      check();
    }

    // To the end, in the order of the evening.
    for (let meet = openMeet(meetPath), i = 0; ; meet = openMeet(meetPath), i++) {
      const next = meet.routines.find((r) => meet.results[r.index] === null);
      if (next === undefined) break;
      const { gymnast, apparatus } = next;
      const text =
        ['13.466', '12.633', '13.7', '13.066', '12.566', '13.233', '12.866'][i % 7] ?? '';
      await score(`${gymnast} ${apparatus.toLowerCase()} ${text}`, gymnast, apparatus, text);
    }
    expect(await desk.type('next')).toContain('Final: 1 Ruth Okafor 53.466');
    expect(lines).toBeGreaterThan(500);
    desk.keys('quit\r');
    expect(await desk.ended).toBe(0);
  } finally {
    desk.keys('\u0003');
    await desk.ended;
    disk?.unmount();
    place.clean();
  }
});
