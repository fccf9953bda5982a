/** What is said unasked: the place after a score, and what the next up need. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { printReport } from '../../bin/render/print.js';
import { recordBetween } from '../../lib/files/score-log.js';
import { awaited, chances, nextUp, reports } from '../../lib/index.js';
import { nextLine } from '../../lib/report/next.js';
import { answer, folder, run } from '../support/cli.js';
import { logFrom, meetFrom } from '../support/meet.js';

/** Of everyone on every apparatus: her own, since what is usual says nothing of her best. */
const RANGES = `ranges: { ${['VT', 'UB', 'BB', 'FX']
  .map((code) => `${code}: { low: 9.0, likely: 9.5, high: 9.8 }`)
  .join(', ')} }`;

/** Three who are on beam and floor at the end; grid 0.025, limit 10.000, ties stand. */
const MEET = `
title: Quay Cup
discipline: wag
scoring: ten
medals: 2
contests: [{ kind: apparatus, on: BB }, all-around, { kind: team, up: 2, count: 2 }]
teams: [{ id: NQY, name: North Quay }, { id: HBR, name: Harbour Row }]
gymnasts:
  - { id: ada, name: Ada Quill, team: NQY, ${RANGES} }
  - { id: bea, name: Bea Harrow, team: HBR, ${RANGES} }
  - { id: cleo, name: Cleo Marsh, team: NQY, ${RANGES} }
rotations: [${['VT', 'UB', 'BB', 'FX'].map((code) => `{ ${code}: [ada, bea, cleo] }`).join(', ')}]
`;

/** The first two rotations: 18.000 for each. */
const HALF = ['VT', 'UB'].flatMap((on) => ['ada', 'bea', 'cleo'].map((id) => `${id},${on},9.000`));

const meetAfter = (...rows: string[]) => meetFrom(MEET, logFrom(...HALF, ...rows));

/** What is said of the first of the next up, once so much is scored on beam and floor. */
function said(contest: string, ...rows: string[]): string {
  const meet = meetAfter(...rows);
  const [next] = [...nextUp(meet), ...awaited(meet)];
  if (next === undefined) throw new Error('nobody is next');
  return nextLine(meet, next, contest);
}

describe('what the next up need', () => {
  it('now, and at the end if the others score as expected', () => {
    // 9.600 is beaten by 9.625; second of 9.600 and the 9.500 that is likely of Cleo takes 9.525.
    expect(said('BB', 'ada,BB,9.600')).toBe(
      'Next on beam, Bea Harrow: 9.625 to lead (9.600 shares it); if the others score as expected, 9.625 to win (9.600 shares it) and 9.525 for a medal (9.500 shares it).',
    );
  });

  it('nothing is assumed where nothing else is to come', () => {
    expect(said('BB', 'ada,BB,9.600', 'bea,BB,9.700')).toBe(
      'Next on beam, Cleo Marsh: 9.725 to win (9.700 shares it) and 9.625 for a medal (9.600 shares it).',
    );
    expect(said('BB', 'ada,BB,9.600', 'bea,BB,9.900')).toBe(
      'Next on beam, Cleo Marsh: 9.625 for a medal (9.600 shares it), and 9.925 to win (9.900 shares it), above her realistic best.',
    );
  });

  it('above her realistic best of 9.800', () => {
    expect(said('BB', 'ada,BB,9.900')).toBe(
      'Next on beam, Bea Harrow: 9.925 to lead (9.900 shares it), above her realistic best; if the others score as expected, 9.525 for a medal (9.500 shares it), and 9.925 to win (9.900 shares it), above her realistic best.',
    );
  });

  it('a tie within her best, or within the limit, is not above it', () => {
    for (const score of ['9.800', '10.000']) {
      expect(said('BB', `ada,BB,${score}`)).toBe(
        `Next on beam, Bea Harrow: ${score} at best shares the lead; if the others score as expected, 9.525 for a medal (9.500 shares it), and ${score} at best shares first place.`,
      );
    }
  });

  it('with more to come it is said of this routine, and of what is assumed of the others', () => {
    const rows = ['ada,BB,9.900', 'bea,BB,9.000', 'cleo,BB,9.900', 'ada,FX,9.900'];
    // Ada has 19.800, Cleo likely 19.400: 10.800 and 10.400 on floor.
    expect(said('all-around', ...rows)).toBe(
      'Next on floor, Bea Harrow: she cannot take the lead here; if the others score as expected, a medal is out of reach.',
    );
    const before = rows.slice(0, 1);
    // Ada likely has 19.400, Cleo 19.000: 9.900 and 9.525 with 9.500 on floor.
    expect(said('all-around', ...before)).toBe(
      'Next on beam, Bea Harrow: 9.925 to lead (9.900 shares it), above her realistic best; if all else goes as expected, 9.525 for a medal (9.500 shares it), and 9.925 to win (9.900 shares it), above her realistic best.',
    );
    // So it is no fact about her: she may still win.
    const { contenders } = chances(meetAfter(...before), null, { contest: 'all-around' });
    expect(contenders.find((c) => c.id === 'bea')?.win).toBeGreaterThan(0.01);
  });

  it('only her own other routines are assumed once all others are done', () => {
    const rows = ['cleo,BB,9.500', 'cleo,FX,9.500', 'ada,BB,9.500', 'ada,FX,9.500'];
    // 19.000 less the 9.500 that is likely on floor; one beam does not make up for two routines.
    expect(said('all-around', ...rows)).toBe(
      'Awaited on beam, Bea Harrow: if all else goes as expected, 9.525 to win and for a medal (9.500 shares it).',
    );
  });

  it('any score: who wins has a medal', () => {
    expect(said('BB', 'ada,BB,DNS')).toBe(
      'Next on beam, Bea Harrow: any score leads; if the others score as expected, any score brings a medal, and 9.525 to win (9.500 shares it).',
    );
    expect(said('BB', 'ada,BB,DNS', 'bea,BB,DNS')).toBe(
      'Next on beam, Cleo Marsh: any score wins.',
    );
  });

  it('in the words of the discipline', () => {
    const own = ['VT', 'UB', 'BB', 'FX'].map((code) => `{ code: ${code}, name: ${code} }`);
    const text = MEET.replace('discipline: wag', `discipline: [${own.join(', ')}]`);
    const meet = meetFrom(text, logFrom(...HALF, 'ada,BB,9.600'));
    const [next] = [...nextUp(meet), ...awaited(meet)];
    expect(next && nextLine(meet, next, 'BB')).toContain(
      ': 9.625 to lead (9.600 shares it); if the others score as expected, ',
    );
  });

  it('her team needs it where the contest is for teams', () => {
    // 45.600 so far of North Quay, 18.000 of Harbour Row, with one gymnast against two.
    expect(said('team', 'ada,BB,9.600')).toBe(
      'Next on beam, Bea Harrow for Harbour Row: it cannot take the lead here; if all else goes as expected, this routine alone is not enough for the title.',
    );
  });

  it('her name alone where the contest asks nothing of her', () => {
    expect(said('BB', 'ada,BB,9.6', 'bea,BB,9.6', 'cleo,BB,9.6')).toBe('Next on floor: Ada Quill.');
  });
});

describe('a shared place after a score', () => {
  let place: ReturnType<typeof folder>;
  let meet: string;
  beforeEach(() => {
    place = folder();
    meet = join(place.path, 'meet.yaml');
    writeFileSync(meet, MEET);
    writeFileSync(join(place.path, 'meet.scores.csv'), logFrom(...HALF));
  });
  afterEach(() => place.clean());

  /** As the prompt says it. */
  async function live(gymnast: string, score: string, contest?: string): Promise<string> {
    const done = await recordBetween(meet, { gymnast, apparatus: 'BB', score }, { contest });
    let text = '';
    const write = vi.spyOn(process.stdout, 'write').mockImplementation((some) => {
      text += String(some);
      return true;
    });
    try {
      printReport(reports.said(done.after, done.recorded));
    } finally {
      write.mockRestore();
    }
    return text;
  }
  const record = (gymnast: string, score: string, ...more: string[]) =>
    run(['record', gymnast, 'BB', score, '--meet', meet, ...more]).out;

  it('`record` says that it is shared, as `standings` shows it', () => {
    expect(record('ada', '9.300')).toContain('\n  9.300 on beam, 1st so far\n');
    expect(record('bea', '9.300')).toContain(
      '\n  9.300 on beam, shares 1st so far with Ada Quill\n',
    );
    const { rows } = answer<{ rows: { place: number; tied: boolean }[] }>([
      'standings',
      '--meet',
      meet,
    ]);
    expect(rows.slice(0, 2).map((r) => [r.place, r.tied])).toEqual([
      [1, true],
      [1, true],
    ]);
  });

  it('`record` says whose place came to be shared, and whose no longer is', () => {
    record('ada', '9.300');
    record('bea', '9.300');
    expect(record('cleo', '9.400')).toContain(`
  9.400 on beam, 1st
  Ada Quill: shared 1st → shared 2nd
  Bea Harrow: shared 1st → shared 2nd
`);
    expect(record('ada', '9.350')).toContain('  Bea Harrow: shared 2nd → 3rd\n');
  });

  it('`live` says so too', async () => {
    expect(await live('ada', '9.300')).toBe(
      'Ada Quill, beam 9.300: 9.300, 1st so far\n' +
        'In the other contests: all-around 27.300 after 3 routines, 3rd by projection; North Quay 45.300\n' +
        'after 5 routines, 1st by projection.\n',
    );
    expect(await live('bea', '9.300')).toContain(
      'Bea Harrow, beam 9.300: 9.300, shares 1st so far with Ada Quill\n',
    );
    expect(await live('cleo', '9.400')).toContain(
      '\nAda Quill down to share 2nd, Bea Harrow down to share 2nd.\n',
    );
    const again = await live('ada', '9.400');
    expect(again).toContain(
      'Ada Quill, beam 9.400, corrected from 9.300: 9.400, shares 1st with Cleo Marsh\n',
    );
    expect(again).toContain('\nBea Harrow down to 3rd.\n');
    expect(await live('bea', '9.400')).toContain(
      'Bea Harrow, beam 9.400, corrected from 9.300: 9.400, shares 1st with Ada Quill and Cleo Marsh\n',
    );
    expect(await live('ada', '9.300')).toContain(
      'Ada Quill, beam 9.300, corrected from 9.400: 9.300, 3rd\n',
    );
  });

  it('in a team contest it is the team’s', async () => {
    await live('ada', '9.300', 'team');
    expect(await live('bea', '9.300', 'team')).toContain(
      'Bea Harrow, beam 9.300: Harbour Row 27.300 after 3 routines, 2nd by projection\n',
    );
    expect(record('bea', '9.200', '--contest', 'team')).toContain(
      '\n  Harbour Row: 27.200 after 3 routines in team, 2nd by projection\n',
    );
  });

  it('its JSON has the same keys as ever', () => {
    record('ada', '9.300');
    const done = answer(['record', 'bea', 'BB', '9.300', '--meet', meet]);
    expect(Object.keys(done)).toEqual([
      'row',
      'rows',
      'accepted',
      'kind',
      'took',
      'was',
      'now',
      'contest',
      'warnings',
      'total',
      'place',
      'changes',
      'settled',
      'unsettled',
      'inPlace',
    ]);
  });
});
