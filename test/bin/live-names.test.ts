/** Whose row it is, typed in a real terminal: two of one name, a turn that has not come, an inquiry. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { folder, run } from '../support/cli.js';
import { HAS_TERMINAL, openTerminal, type Terminal } from '../support/terminal.js';

const skipped = HAS_TERMINAL ? '' : ' (skipped: a terminal takes python3 with pty)';

let place: ReturnType<typeof folder>;
let desk: Terminal;
afterEach(async () => {
  desk.keys('quit\r');
  await desk.ended;
  place.clean();
});

/** A desk on a meet of this text, or of this start list. */
async function deskOn(files: { readonly yaml?: string; readonly list?: string }): Promise<void> {
  place = folder();
  const path = join(place.path, 'meet.yaml');
  if (files.yaml !== undefined) writeFileSync(path, files.yaml);
  if (files.list !== undefined) {
    writeFileSync(join(place.path, 'list.csv'), files.list);
    expect(run(['new', 'list.csv'], { cwd: place.path }).code).toBe(0);
  }
  desk = await openTerminal(['live'], place.path);
}

/** The rows of the log, without the time. */
function rows(): string[] {
  const log = readFileSync(join(place.path, 'meet.scores.csv'), 'utf8').trimEnd().split('\n');
  return log.slice(1).map((row) => row.split(',').slice(0, 3).join(' '));
}

const LIST = `name,group
Ada Aber,VT
Bea Birk,VT
Rosa Whit,VT
Ruth Okafor,UB
Liv Lund,UB
Mina Okafor,UB
`;

describe.runIf(HAS_TERMINAL)(`the right row, or none${skipped}`, () => {
  it('of two Okafors the one who is next up; the other is asked back', async () => {
    await deskOn({ list: LIST });
    expect(await desk.type('okafor 13.2')).toContain('Ruth Okafor, bars 13.200');
    expect(await desk.type('mokafor bars 13.4')).toContain(
      'Mina Okafor is up on bars after Lund. Record 13.400 for her now? (y/n)',
    );
    expect(await desk.type('n')).toContain('Nothing was recorded.');
    expect(await desk.type('okafor beam 13.4')).toContain('could be either of two');
    await desk.type('lund bars 13.1');
    expect(await desk.type('okafor bars 13.4')).toContain('Mina Okafor, bars 13.400');
    expect(rows()).toEqual(['rokafor UB 13.200', 'lund UB 13.100', 'mokafor UB 13.400']);
  });

  it('Reed, who is fifth in the line-up', async () => {
    const marsh = ['Ida', 'Jo', 'Kit', 'Lea'].map((n, i) => `{ id: g${i}, name: ${n} Marsh }`);
    await deskOn({
      yaml: `discipline: wag
scoring: ten
gymnasts: [${marsh.join(', ')}, { id: reed, name: Tess Reed }, { id: nreed, name: Nell Reed }]
rotations: [{ VT: [g0, g1, g2, g3, reed], UB: [nreed] }, { VT: [nreed], UB: [g0, g1, g2, g3, reed] }]
`,
    });
    const text = await desk.type('tess 9.7');
    expect(text.replaceAll('\n', ' ')).toContain(
      'Tess Reed is up on vault after Ida Marsh, Jo Marsh and 2 more. Record 9.700 for her now? (y/n)',
    );
    // As wide as the terminal at most.
    expect(text.split('\n').filter((line) => line.length > 80)).toEqual([]);
    await desk.type('n');
    expect(await desk.type('reed 9.7')).toContain('Nell Reed, bars 9.700');
    expect(rows()).toEqual(['nreed UB 9.700']);
  });

  it('an inquiry goes where the score is', async () => {
    await deskOn({ list: LIST });
    for (const line of ['aber 13.1', 'birk 13.2', 'whit 13.9 d5.7']) {
      expect(await desk.type(line)).not.toContain('(y/n)');
    }
    // Once a row on bars, her next apparatus.
    expect(await desk.type('whit 14.1 d5.9 # inquiry accepted')).toContain(
      "Correct Whit's vault from 13.900 to 14.100? (y/n)",
    );
    expect(await desk.type('y')).toContain('Rosa Whit, vault 14.100');
    expect(await desk.type('whit 14.2')).toContain("Correct Whit's vault from 14.100 to 14.200?");
    expect(await desk.type('n')).toContain('Nothing was recorded. For bars, write: whit bars 14.2');
    expect(rows()).toEqual([
      'aber VT 13.100',
      'birk VT 13.200',
      'whit VT 13.900',
      'whit VT 14.100',
    ]);
  });

  it('the words it prints are words it takes', async () => {
    await deskOn({ list: LIST });
    expect(await desk.type('aber vault 13.1')).toContain('Ada Aber, vault 13.100');
    expect(await desk.type('who can still win')).toMatch(/can still win/);
    expect(await desk.type('needs aber win')).toContain('to win');
    const inBrief = await desk.type('aber');
    expect(inBrief).toContain('Ada Aber on bars');
    expect(inBrief).toMatch(/Gold: .*her chance of it[\s\S]*A medal: [\s\S]*A fall, about/);
    expect(inBrief).not.toContain('to lead now');
    expect(await desk.type('')).toContain('to lead now');
    expect(await desk.type('aber fx')).toContain('Ada Aber on floor');
    expect(await desk.type('needs aber floor gold')).toContain('Ada Aber on floor');
    expect(await desk.type('aber silver')).toContain('for 2nd or better');
    expect(await desk.type('aber bronze')).toContain('for 3rd or better');
    expect(await desk.type('aber top 4')).toContain('for 4th or better');
    expect(await desk.type('gold')).toContain('What each needs from the next routine');
    // Ruth is next up; a question is asked of her too.
    expect(await desk.type('okafor')).toContain('Ruth Okafor on bars');
    expect(await desk.type('outcomes okafor')).toContain('Ruth Okafor on bars');
    expect(await desk.type('suppose okafor bars 13.9')).toContain('Ruth Okafor');
    expect(await desk.type('needs id:mokafor')).toContain('Mina Okafor on bars');
    expect(await desk.type('abber')).toContain('did you mean `aber`?');
    expect(await desk.type('y')).toContain('"y" is neither a score nor a question');
    expect(await desk.type('floor')).toContain('is neither a score nor a question');
    expect(await desk.type('chances aber gold')).toContain('chances has no use for "gold"');
    expect(rows()).toEqual(['aber VT 13.100']);
  });
});
