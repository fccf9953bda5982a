/** Which scores of a team count: on the screen, at the prompt and in JSON. */
import { describe, expect, it } from 'vitest';
import { answer, folder, run } from '../support/cli.js';
import { HAS_TERMINAL, openTerminal } from '../support/terminal.js';

const MEET = ['--meet', 'docs/examples/mill-lane.yaml'];

/** Beam by the log: 9.650, 9.150 with a fall, 9.750, and Abaru to come, expected on 9.700. */
const ABARU = [
  'Three of four scores count on beam: so far 9.750 Bellamine, 9.650 Drayford, 9.150 Eblingson; she is the last.',
  'and pushes out Eblingson’s 9.150; up to 9.150 nothing changes.',
  'A fall from her expected 9.700 costs the team the whole 0.500: 9.200 still counts.',
];

const joined = (text: string) => text.replace(/\s+/g, ' ');

describe('the scores that count', () => {
  it('in the sheet of the next up, within 80 columns', () => {
    const { out } = run(['needs', 'abaru', ...MEET], { env: { COLUMNS: '80' } });
    for (const words of ABARU) expect(joined(out)).toContain(words);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('on the board, of each team where it was last, within 80 columns', () => {
    const { out } = run(['standings', ...MEET], { env: { COLUMNS: '80' } });
    expect(joined(out)).toContain(
      'Mill Lane beam 9.750 Bellamine, 9.650 Drayford, 9.150 Eblingson',
    );
    expect(joined(out)).toContain('Copper Hill floor 9.800 Hollistone, 9.725 Imriefield');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('after a rotation the one that is dropped is told', () => {
    const { out } = run(['standings', '--after', '1', ...MEET]);
    expect(joined(out)).toContain(
      '9.850 Abaru, 9.800 Drayford, 9.775 Corriedale, (9.700 Bellamine dropped)',
    );
  });

  it('as JSON, scores written out, and null where nothing is dropped', () => {
    const { counting } = answer<{ counting: unknown }>(['needs', 'abaru', ...MEET]);
    expect(counting).toMatchObject({
      count: 3,
      of: 4,
      toCome: [],
      now: { from: '9.151', onGrid: '9.175', over: { gymnast: 'eblingson', score: '9.150' } },
      fall: { score: '9.200', now: { costs: '0.500', instead: null }, expected: null },
    });
    const alone = answer<{ counting: unknown }>(['needs', 'abaru', '--contest', 'BB', ...MEET]);
    expect(alone.counting).toBeNull();
  });

  it.runIf(HAS_TERMINAL)('in brief at the prompt', async () => {
    const place = folder('mill-lane.yaml', 'mill-lane.scores.csv');
    const desk = await openTerminal(['live', '--meet', 'mill-lane.yaml'], place.path);
    const said = joined(await desk.type('abaru'));
    desk.kill();
    await desk.ended;
    place.clean();
    expect(said).toContain('Hers counts from 9.175');
    expect(said).toContain('A fall costs the team the whole 0.500: 9.200 still counts.');
  });
});
