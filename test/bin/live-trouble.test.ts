/** The prompt while the files are not what they should be: nothing is lost, and nothing said that is not so. */
import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openMeet } from '../../lib/files/index.js';
import { folder } from '../support/cli.js';
import { smallDisk } from '../support/disk.js';
import { logFrom } from '../support/meet.js';
import { HAS_TERMINAL, openTerminal, type Terminal } from '../support/terminal.js';

const MEET = `
discipline: wag
scoring: ten
contests: [{ kind: apparatus, on: VT }]
ranges: own.yaml
gymnasts:
  - { id: ada, name: Ada Quill }
  - { id: bea, name: Bea Harrow }
  - { id: cleo, name: Cleo Marsh }
  - { id: dita, name: Dita Vale }
`;

let place: ReturnType<typeof folder>;
let desk: Terminal;
beforeEach(() => {
  place = folder();
});
afterEach(async () => {
  desk.keys('\u0003');
  await desk.ended;
  place.clean();
});

function newMeet(path: string): { meet: string; log: string } {
  const meet = join(path, 'meet.yaml');
  writeFileSync(meet, MEET);
  writeFileSync(join(path, 'own.yaml'), 'ada: {}\n');
  return { meet, log: join(path, 'meet.scores.csv') };
}

const scores = (meet: string) =>
  openMeet(meet).results.map((r) => (r === null || typeof r === 'string' ? r : r.score));

describe.runIf(HAS_TERMINAL)('at the prompt', () => {
  it('a score that a full disk does not take is not acknowledged, and one word records it', async (context) => {
    const disk = smallDisk(place.path);
    const { meet, log } = newMeet(disk?.path ?? place.path);
    const head = logFrom('ada,VT,9.500');
    writeFileSync(log, `${head}${'\n'.repeat(4096 - head.length)}`);
    desk = await openTerminal(['live', '--meet', meet], place.path);
    if (disk === null) return context.skip('only root can make a small disk');
    try {
      disk.fill();
      const said = await desk.type('bea 9.400');
      expect(said).toContain('nothing was recorded: the disk is full');
      expect(said).toContain('Not recorded: Bea Harrow, VT 9.400. To try it again: again');
      expect(said).not.toContain('1st');
      expect(await desk.type('dita 9.700 # late')).toContain('Record 9.700 for her now?');
      expect(await desk.type('y')).toContain('Not recorded: Dita Vale');
      // Said again as often as it fails.
      expect(await desk.type('again')).toContain('Not recorded: Bea Harrow');
      // The board and the next up are those without it.
      expect(await desk.type('next')).toContain('Next on vault, Bea Harrow');
      expect(scores(meet)).toEqual([9500, null, null, null]);
      disk.free();
      const again = await desk.type('again');
      expect(again).toContain('Bea Harrow, vault 9.400: 9.400, 2nd');
      expect(again).toContain('Dita Vale, vault 9.700: 9.700, 1st');
      expect(scores(meet)).toEqual([9500, 9400, null, 9700]);
      expect(readFileSync(log, 'utf8')).toMatch(/dita,VT,9\.700,[^\n]*late\n$/);
      expect(await desk.type('again')).toContain('Nothing is waiting to be recorded');
    } finally {
      desk.keys('\u0003');
      await desk.ended;
      disk.unmount();
    }
  });

  it('what another desk has recorded meanwhile is not recorded over unasked', async () => {
    const { meet, log } = newMeet(place.path);
    writeFileSync(log, logFrom('ada,VT,9.500'));
    desk = await openTerminal(['live', '--meet', meet], place.path);
    renameSync(log, `${log}.away`);
    await desk.shows('put it back');
    expect(await desk.type('bea 9.400')).toContain('Not recorded: Bea Harrow');
    writeFileSync(log, logFrom('ada,VT,9.500', 'bea,VT,9.450'));
    await desk.shows('is in order again');
    expect(await desk.type('again')).toContain(
      'Bea Harrow has been given another result on VT meanwhile',
    );
    await desk.type('n');
    expect(scores(meet)).toEqual([9500, 9450, null, null]);
    expect(await desk.type('again')).toContain('Nothing is waiting to be recorded');
  });

  it('a log that lost rows is taken by a word, and what it lost is said', async () => {
    const { meet, log } = newMeet(place.path);
    const rows = [
      'ada,VT,9.500',
      'bea,VT,9.400',
      'cleo,VT,9.300',
      'dita,VT,9.100',
      'dita,VT,9.200',
    ];
    writeFileSync(log, logFrom(...rows));
    desk = await openTerminal(['live', '--meet', meet], place.path);
    expect(await desk.type('accept')).toContain('nothing is wrong with the log');
    writeFileSync(log, logFrom(rows[0] ?? ''));
    const said = await desk.shows('as it is now: accept');
    expect(said).toContain(
      '4 rows that stood are gone from the log: bea VT 9.400, cleo VT 9.300, dita VT 9.100 and 1 more',
    );
    // The last board stays, in every answer.
    const board = await desk.type('standings');
    expect(board).toMatch(/Not up to date since \d\d:\d\d:\d\d: 4 rows/);
    expect(board).toMatch(/4 +Dita Vale +9\.200/);
    expect(await desk.type('captions --kind standing')).toContain('it is called graphics');
    const lines = await desk.type('graphics --kind standing --json');
    expect(lines).toMatch(/"stale":"20[\d-]+T[\d:.]+Z"/);
    expect(lines).toContain('Dita Vale is 4th');
    expect(await desk.type('bea vt 9.600')).toContain('Correct ');
    expect(await desk.type('y')).toContain('Not recorded');
    expect(scores(meet)).toEqual([9500, null, null, null]);
    const taken = await desk.type('accept');
    expect(taken).toContain('taken as it is; 4 rows that stood are gone');
    expect(taken).toContain('From another desk: Dita Vale, VT 9.200 taken back');
    expect(await desk.type('graphics --kind standing --json')).toContain('"stale":null');
    await desk.type('again');
    expect(await desk.type('y')).toContain('Bea Harrow, vault 9.600: 9.600, 1st');
    expect(scores(meet)).toEqual([9500, 9600, null, null]);
  });

  it('files that cannot be read are said, and the meet file may change', async () => {
    const { meet, log } = newMeet(place.path);
    writeFileSync(log, logFrom('ada,VT,9.500'));
    desk = await openTerminal(['live', '--meet', meet], place.path);
    const ranges = join(place.path, 'own.yaml');
    renameSync(ranges, `${ranges}.away`);
    expect(await desk.shows('put it beside the meet file')).not.toContain('accept');
    expect(await desk.type('standings')).toContain('Not up to date since');
    expect(await desk.type('accept')).toContain('the ranges file own.yaml is not there');
    renameSync(`${ranges}.away`, ranges);
    await desk.shows('is in order again');
    writeFileSync(meet, MEET.replace('id: bea', 'id: amy, name: Amy Stone }\n  - { id: bea'));
    await desk.shows('The meet file has changed.');
    expect(await desk.type('amy 9.9')).toContain('Amy Stone, vault 9.900: 9.900, 1st');
    expect(await desk.type('standings')).toMatch(/2 +Ada Quill +9\.500/);
  });
});
