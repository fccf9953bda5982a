/** Only a sound meet is handed out, and only one that was handed out is answered about. */
import { describe, expect, it } from 'vitest';
import * as library from '../../lib/index.js';
import {
  check,
  LastRotationError,
  type Meet,
  type Problem,
  readMeet,
  standings,
} from '../../lib/index.js';
import { logFrom, meetFrom, readAll } from '../support/meet.js';

const WAG = `discipline: wag
scoring: open
gymnasts:
  - { id: ann, name: Ann Ashdown }
  - { id: bea, name: Bea Birkwell }
`;
const TWICE = `${WAG}  - { id: ann, name: Anna Archer }\n`;

const HISTORY = library.readHistory({
  file: 'h',
  text: 'gymnast,discipline,date,competition,round,apparatus,score\nann,wag,2026-03-01,Cup,final,VT,13.5',
});

const ASSETS = { head: '', headHash: '', script: '', scriptHash: '', style: '', styleHash: '' };

const FINAL = WAG.replace(
  'open\n',
  'open\ncontests: [{ kind: apparatus, on: FX, advance: { places: 1 } }]\n',
);

const errorsOf = (problems: readonly Problem[]) => problems.filter((p) => p.severity === 'error');

describe('a meet is read', () => {
  it('only when it is sound', () => {
    const { meet, problems } = readAll(TWICE);
    expect(errorsOf(problems)).toMatchObject([{ code: 'gymnast-twice', line: 6 }]);
    expect(meet).toBeNull();
  });

  it('only when its log is sound', () => {
    const { meet, problems } = readAll(WAG, logFrom('ann,VT,13.000', 'nobody,VT,13.000'));
    expect(errorsOf(problems)).toMatchObject([{ code: 'unknown-gymnast', line: 3 }]);
    expect(meet).toBeNull();
  });

  it('with warnings and notes', () => {
    const { meet, problems } = readAll(WAG, logFrom('ann,VT,13.001'));
    expect(problems.map((p) => p.severity)).toEqual(['note', 'note']);
    expect(meet).not.toBeNull();
  });

  it('and its rotations are shown even when it is not', () => {
    const checked = check(readAll(TWICE));
    expect(checked.sound).toBe(false);
    expect(checked.rotations?.map((r) => r.stations[0]?.apparatus)).toEqual([
      'VT',
      'UB',
      'BB',
      'FX',
    ]);
    expect(check(readAll('gymnasts: [')).rotations).toBeNull();
  });

  it('as something nobody can change afterwards', () => {
    const meet = meetFrom(WAG, logFrom('ann,VT,13.000'));
    const results = meet.results as unknown as { score: number }[];
    expect(() => Object.assign(meet, { results: [] })).toThrow(TypeError);
    expect(() => {
      results[1] = { score: 14.0 };
    }).toThrow(TypeError);
    expect(() => Object.assign(results[0] ?? {}, { score: 14.0 })).toThrow(TypeError);
  });
});

describe('a meet put together by hand', () => {
  const meet = meetFrom(FINAL, logFrom('bea,FX,13.000'));
  const copies: readonly (readonly [what: string, meet: Meet])[] = [
    ['a copy', { ...meet }],
    ['a copy of its text', JSON.parse(JSON.stringify(meet)) as Meet],
    [
      'a score of 14.0 set by hand',
      { ...meet, results: meet.results.map(() => ({ score: 14.0, nd: 0 })) } as unknown as Meet,
    ],
    ['a gymnast twice', { ...meet, gymnasts: [...meet.gymnasts, ...meet.gymnasts.slice(0, 1)] }],
  ];
  const answers: Readonly<Record<string, (meet: Meet) => unknown>> = {
    advancing: (m) => library.advancing(m),
    contestUnderWay: (m) => library.contestUnderWay(m),
    isAboutAdvancing: (m) => library.isAboutAdvancing(m, null),
    atRow: (m) => library.atRow(m, null),
    beforeLastEntry: (m) => library.beforeLastEntry(m, null),
    graphics: (m) => library.graphics(m),
    'graphics before': (m) => library.graphics(meet, { before: m }),
    chances: (m) => library.chances(m),
    claim: (m) => library.claim(m, 'ann'),
    distributionOf: (m) => library.distributionOf(m, meet.ranges[0] as library.Range),
    isToCome: (m) => library.isToCome(m, 0),
    pastBest: (m) =>
      library.pastBest(m, HISTORY, {
        gymnast: 'ann',
        apparatus: 'VT',
        score: library.score('13.0'),
      }),
    brief: (m) => library.brief(m, 'ann'),
    needChances: (m) => library.needChances(m, library.needs(meet, 'ann')),
    namedContender: (m) => library.namedContender(m, 'ann'),
    namedGymnast: (m) => library.namedGymnast(m, 'ann'),
    namedTarget: (m) => library.namedTarget(m, 'gold'),
    needs: (m) => library.needs(m, 'ann'),
    needsOfAll: (m) => library.needsOfAll(m),
    nextUp: (m) => library.nextUp(m),
    secondUp: (m) => library.secondUp(m),
    awaited: (m) => library.awaited(m),
    readMove: (m) => library.readMove(m, 'ann after bea'),
    underInquiry: (m) => library.underInquiry(m),
    outcomes: (m) => library.outcomes(m, 'ann'),
    readAsked: (m) => library.readAsked(m, ['ann']),
    readPlain: (m) => library.readPlain(m, 'ann 13.000'),
    readSupposed: (m) => library.readSupposed(m, ['ann', '13.000']),
    readTyped: (m) => library.readTyped(m, 'ann 13.000'),
    typedAgain: (m) => library.typedAgain(m, { gymnast: 'ann', apparatus: 'VT' }),
    'reports.standings': (m) => library.reports.standings(m, standings(meet)),
    record: (m) => library.record(m, { gymnast: 'ann', apparatus: 'FX', score: '13.000' }),
    standings: (m) => standings(m),
    story: (m) => library.story(m, null),
    page: (m) => library.page(m, { assets: ASSETS }),
    routinePicture: (m) => library.routinePicture(m, 'ann'),
    chancesPicture: (m) => library.chancesPicture(m, library.chances(meet)),
    storyPicture: (m) => library.storyPicture(m, library.story(meet, null)),
    suppose: (m) => library.suppose(m, []),
    withApparatus: (m) =>
      library.withApparatus(m, { gymnast: 'ann', apparatus: 'FX', score: '13.000' }),
  };

  it.each(copies)('is refused by every function: %s', (_, copy) => {
    for (const [name, answer] of Object.entries(answers)) {
      expect(
        refusal(() => answer(copy)),
        name,
      ).toMatchObject({
        code: 'unsound-meet',
        kind: 'usage',
        mend: expect.stringContaining('readMeet'),
      });
    }
  });

  it('is all that is refused', () => {
    for (const answer of Object.values(answers)) expect(() => answer(meet)).not.toThrow();
    const { meet: again } = readMeet({ meet: { file: 'meet.yaml', text: WAG } });
    expect(standings(again as Meet).rows).toHaveLength(2);
  });

  it('is refused by all that takes a meet', () => {
    const taking = Object.entries(library)
      .filter(
        ([, value]) => typeof value === 'function' && /^function \w+\(meet\b/.test(`${value}`),
      )
      .map(([name]) => name);
    expect(taking.length).toBeGreaterThan(10);
    expect(taking.filter((name) => !(name in answers))).toEqual([]);
  });
});

function refusal(ask: () => unknown): LastRotationError | null {
  try {
    ask();
  } catch (error) {
    if (error instanceof LastRotationError) return error;
    throw error;
  }
  return null;
}
