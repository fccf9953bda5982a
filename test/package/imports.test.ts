/** The house has one way through: no circle of imports, no step back, and two doors. */
import { describe, expect, it } from 'vitest';
import {
  circlesIn,
  importsOf,
  packagesIn,
  pastTheDoorsIn,
  sourcesIn,
  wrongWaysIn,
} from '../support/imports.js';

const house = importsOf(sourcesIn('lib', 'bin'));

describe('the house', () => {
  it('is looked at whole', () => {
    expect(house.size).toBeGreaterThan(150);
    expect(house.get('bin/lastrotation.ts')).toContain('bin/program.ts');
    expect(house.get('bin/commands/live.ts')).toContain('bin/live/prompt.ts');
    expect(house.get('lib/needs/sheet.ts')).toContain('lib/meet/meet.ts');
    const modules = new Set(house.keys());
    const missing = [...house.values()]
      .flat()
      .filter((path) => /^(lib|bin)\//.test(path) && !modules.has(path));
    expect(missing).toEqual([]);
  });

  it('has no circle of imports, not of types either', () => {
    expect(circlesIn(house)).toEqual([]);
  });

  it('has no import from a later room', () => {
    expect(wrongWaysIn(house)).toEqual([]);
  });

  it('is entered by the two doors only', () => {
    expect(pastTheDoorsIn(house)).toEqual([]);
  });

  it('has reports that know nothing but the rooms before them', () => {
    expect(packagesIn(house, 'lib/report/')).toEqual([]);
  });
});

describe('what is forbidden is found', () => {
  /** A house as small as can be, with all in order. */
  const SMALL = {
    'lib/score.ts': '',
    'lib/scoring.ts': "import type { Score } from './score.js';",
    'lib/contest/board.ts': "import type { Score } from '../score.js';",
    'lib/report/board.ts': "import type { Board } from '../contest/board.js';",
    'lib/index.ts': "export { board } from './report/board.js';",
    'bin/program.ts': "import { addLive } from './commands/live.js';",
    'bin/commands/live.ts': "const { open } = await import('../live/session.js');",
    'bin/live/session.ts': "import { board } from '../../lib/index.js';",
  };
  const importing = (path: string, ...lines: readonly string[]) =>
    importsOf(new Map(Object.entries({ ...SMALL, [path]: lines.join('\n') })));

  it('and nothing where all is in order', () => {
    const small = importsOf(new Map(Object.entries(SMALL)));
    expect([...circlesIn(small), ...wrongWaysIn(small), ...pastTheDoorsIn(small)]).toEqual([]);
  });

  it.each([
    ["import { needs } from './needs.js';"],
    ["import type { Need } from './needs.js';"],
    ["import {\n  type Need,\n  needs,\n} from './needs.js';"],
    ["import './needs.js';"],
    ["export { needs } from './needs.js';"],
    ["export * as all from './needs.js';"],
    ["export type { Need } from './needs.js';"],
    ["const { needs } = await import('./needs.js');"],
    ["let need: import('./needs.js').Need;"],
  ])('an import, however it is written: %s', (line) => {
    expect(importsOf(new Map([['lib/a.ts', line]])).get('lib/a.ts')).toEqual(['lib/needs.ts']);
  });

  it('a circle of two, by a type alone', () => {
    const broken = importing('lib/score.ts', "import type { Scoring } from './scoring.js';");
    expect(circlesIn(broken)).toEqual(['lib/score.ts → lib/scoring.ts → lib/score.ts']);
  });

  it('a circle over several commands', () => {
    const broken = importing('bin/live/session.ts', "import { makeProgram } from '../program.js';");
    expect(circlesIn(broken)).toEqual([
      'bin/program.ts → bin/commands/live.ts → bin/live/session.ts → bin/program.ts',
    ]);
  });

  it('a step back', () => {
    const line = "import { placesOf } from '../report/words.js';";
    expect(wrongWaysIn(importing('lib/contest/board.ts', line))).toEqual([
      'lib/contest/board.ts → lib/report/words.ts',
    ]);
  });

  it('a report that reads a line for graphics, a file or the command', () => {
    const broken = importing(
      'lib/report/board.ts',
      "import { namesOf } from '../graphics/words.js';",
      "import { openMeet } from '../files/meet-file.js';",
      "import { colour } from '../../bin/terminal.js';",
      "import Table from 'cli-table3';",
    );
    expect(wrongWaysIn(broken)).toEqual([
      'lib/report/board.ts → lib/graphics/words.ts',
      'lib/report/board.ts → lib/files/meet-file.ts',
      'lib/report/board.ts → bin/terminal.ts',
    ]);
    expect(packagesIn(broken, 'lib/report/')).toEqual(['lib/report/board.ts → cli-table3']);
  });

  it('a room that is in no list', () => {
    const broken = importing('lib/score.ts', "import { colour } from './colours/colour.js';");
    expect(wrongWaysIn(broken)).toEqual(['lib/score.ts → lib/colours/colour.ts']);
  });

  it('a command that passes by the doors, to any depth', () => {
    const broken = importing(
      'bin/render/table.ts',
      "import { reports } from '../../lib/index.js';",
      "import { record } from '../../lib/files/index.js';",
      "import type { Report } from '../../lib/report/report.js';",
      "const { record } = await import('../../lib/files/score-log.js');",
    );
    expect(pastTheDoorsIn(broken)).toEqual([
      'bin/render/table.ts → lib/report/report.ts',
      'bin/render/table.ts → lib/files/score-log.ts',
    ]);
  });
});
