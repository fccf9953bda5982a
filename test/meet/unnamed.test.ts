/** Gymnasts of a later session who are not known yet: of the field, on no board until they do something. */
import { describe, expect, it } from 'vitest';
import {
  chances,
  check,
  LastRotationError,
  type Meet,
  namedGymnast,
  needs,
  needsOfAll,
  nextUp,
  record,
  reports,
  standings,
} from '../../lib/index.js';
import { logFrom, meetFrom, problemsOf, readAll } from '../support/meet.js';
import { refusal } from '../support/refusal.js';

const MEET = `discipline: [{ code: HP, name: hoop }, { code: BL, name: ball }]
scoring: ten
contests: [all-around]
usual:
  HP: { low: 9, likely: 9.5, high: 9.9, falls: 0 }
  BL: { low: 8, likely: 9, high: 9.9, falls: 0 }
gymnasts:
  - { id: ann, name: Ann Bell }
  - { id: bea, name: Bea Till }
  - { id: cat, name: Cat Nam, on: [] }
groups:
  - { start: HP, order: [ann] }
  - { start: BL, order: [bea] }
  - { session: 2, start: HP, unnamed: 2 }
  - { session: 2, start: BL, unnamed: 1 }
`;

const unnamedOf = (meet: Pick<Meet, 'gymnasts'>) => meet.gymnasts.filter((g) => g.unnamed);

/** Everything a report says, as one text. */
const said = (report: unknown) => JSON.stringify(report);

describe('those still to be named', () => {
  const meet = meetFrom(MEET);

  it('are gymnasts of the meet, of no team, with ids of their group and a name to be said', () => {
    expect(unnamedOf(meet)).toMatchObject([
      {
        id: 'unnamed-3-1',
        name: 'one still to be named (session 2)',
        team: null,
        on: ['HP', 'BL'],
      },
      { id: 'unnamed-3-2' },
      { id: 'unnamed-4-1' },
    ]);
    expect(meet.rotations.slice(2).map((r) => r.stations.map((s) => s.order))).toEqual([
      [['unnamed-3-1', 'unnamed-3-2'], ['unnamed-4-1']],
      [['unnamed-4-1'], ['unnamed-3-2', 'unnamed-3-1']],
    ]);
    expect(problemsOf(MEET)).toEqual([]);
  });

  it('come after those of the order, and in a meet of one session have no number of it', () => {
    const one = meetFrom(
      MEET.replace('order: [ann]', 'order: [ann], unnamed: 1').replaceAll(/.*session: 2.*\n/g, ''),
    );
    expect(one.rotations[0]?.stations[0]?.order).toEqual(['ann', 'unnamed-1-1']);
    expect(unnamedOf(one)[0]?.name).toBe('one still to be named');
  });

  it('never take an id of the file, whatever its case', () => {
    const taken = meetFrom(MEET.replace('id: cat', 'id: Unnamed-3-1'));
    expect(unnamedOf(taken).map((g) => g.id)).toEqual([
      'unnamed-3-2',
      'unnamed-3-3',
      'unnamed-4-1',
    ]);
  });

  it('have the usual range, and lack it together, said once', () => {
    const first = meet.routines.find((r) => r.gymnast === 'unnamed-3-1' && r.apparatus === 'HP');
    expect(meet.ranges[first?.index ?? -1]).toMatchObject({
      low: 9000,
      likely: 9500,
      from: 'usual',
    });
    const bare = MEET.replace('  BL: { low: 8, likely: 9, high: 9.9, falls: 0 }\n', '');
    const lacking = problemsOf(bare).filter((p) => p.code === 'missing-range');
    expect(lacking.map((p) => p.message)).toEqual([
      'nobody who is still to be named has a range on BL',
      'bea has no range on BL',
      'ann has no range on BL',
    ]);
  });

  it('count in chances: three unknown ones of five like any other', () => {
    const { contenders } = chances(meet);
    expect(contenders).toHaveLength(5);
    // Ties are shared, so that together they win a little more than once.
    for (const c of contenders) expect(c.win).toBeCloseTo(contenders[0]?.win ?? 0, 9);
    expect(contenders[0]?.win).toBeGreaterThan(0.2);
    expect(contenders[0]?.win).toBeLessThan(0.21);
  });

  it('are nobody whom a part of a name means, or a slip', () => {
    // "till" and "nam" are in "still to be named", "una" in their ids.
    expect(namedGymnast(meet, 'till')).toBe('bea');
    expect(namedGymnast(meet, 'nam')).toBe('cat');
    expect(refusal(() => namedGymnast(meet, 'una')).code).toBe('unknown-gymnast');
    expect(namedGymnast(meet, 'unnamed-3-2')).toBe('unnamed-3-2');
    const wrong = refusal(() => needs(meet, 'unnamed-3-9'));
    expect(wrong).toBeInstanceOf(LastRotationError);
    expect(wrong.mend).toBe('see who competes: lastrotation check');
    expect(problemsOf(MEET, logFrom('unnamed-3-9,HP,9.5'))[0]?.mend).toBe(
      'write her id as in the meet file: ann, bea, cat',
    );
  });

  it('a ranges file may have others, and nobody is taken for one of them', () => {
    const ranges = 'unnamed-3-9:\n  HP: { low: 9, likely: 9.5, high: 9.9, falls: 0 }\n';
    const yaml = `${MEET}ranges: some.yaml\n`;
    expect(readAll(yaml, '', ranges).problems).toEqual([]);
  });

  it('somebody real steps in for one of them', () => {
    const log = logFrom('ann,HP,9', 'bea,BL,9', 'ann,BL,9', 'bea,HP,9', 'cat,all,for:unnamed-3-1');
    const later = meetFrom(MEET, log);
    expect(nextUp(later).map((r) => r.gymnast)).toEqual(['cat', 'unnamed-4-1']);
    expect(
      standings(later)
        .rows.filter((r) => r.toCome.length > 0)
        .map((r) => r.id),
    ).toEqual(['cat', 'unnamed-4-1', 'unnamed-3-2']);
  });
});

describe('what is printed', () => {
  const meet = meetFrom(MEET);
  const line = '3 more to come in session 2, not named yet.';

  it('the board has a line for all of them, JSON has everyone', () => {
    const board = standings(meet);
    expect(board.rows).toHaveLength(5);
    const text = said(reports.standings(meet, board));
    expect(text).toContain(line);
    expect(text).not.toContain('one still to be named');
  });

  it('who has done something is on it, and the line counts the others', () => {
    const { meet: later } = record(meet, { gymnast: 'unnamed-3-1', apparatus: 'HP', score: '9.5' });
    const text = said(reports.standings(later, standings(later)));
    expect(text).toContain('one still to be named (session 2)');
    expect(text).toContain('2 more to come in session 2');
    const up = meetFrom(MEET, logFrom('unnamed-4-1,BL,up'));
    expect(said(reports.standings(up, standings(up)))).toContain('2 more to come in session 2');
  });

  it('the needs of all and the chances of all too', () => {
    const all = needsOfAll(meet);
    expect(all.gymnasts).toHaveLength(5);
    const needsText = said(reports.needsOfAll(meet, all));
    expect(needsText).toContain(line);
    expect(needsText).not.toContain('one still to be named');
    expect(said(reports.chances(meet, chances(meet)))).toContain(line);
  });

  it('check counts them where they are in the order', () => {
    const read = readAll(
      MEET.replace('start: HP, order: [ann]', 'start: HP, order: [ann], unnamed: 2'),
    );
    const text = said(reports.check(read.plan, check(read)));
    expect(text).toContain('["Bell","2 to be named"]');
    expect(text).toContain('["1 to be named"]');
  });
});

describe('who is certain of anything while some are still to be named', () => {
  // Two vaults in a meet with an all-around: nobody knows who of those to come does two.
  const yaml = (unnamed: string) => `discipline: wag
scoring: open
contests: [all-around, { kind: apparatus, on: VT, vaults: 2, advance: { places: 1 } }]
gymnasts:
  - { id: ann, name: Ann Bell, on: [VT, VT2] }
  - { id: bea, name: Bea Till, on: [VT, VT2] }
groups:
  - { session: 1, start: VT, order: [ann, bea] }
${unnamed}`;
  const log = logFrom('ann,VT,14.0', 'ann,VT2,14.0', 'bea,VT,13.0', 'bea,VT2,13.0');
  const settledIn = (text: string) =>
    chances(meetFrom(text, log), null, { contest: 'VT' }).contenders.map((c) => [
      c.id,
      ...c.settled.filter((s) => s.target === 'advance').map((s) => `${s.status} ${s.by}`),
    ]);

  it('nobody is sure of it whatever is scored; who is out stays out', () => {
    expect(settledIn(yaml(''))).toEqual([
      ['ann', 'secured limit'],
      ['bea', 'out-of-reach limit'],
    ]);
    expect(settledIn(yaml('  - { session: 2, start: VT, unnamed: 1 }\n'))).toEqual([
      ['ann', 'secured ranges'],
      ['bea', 'out-of-reach limit'],
    ]);
  });
});

describe('one somebody has stepped in for', () => {
  it('is on no board and in no field any more', () => {
    const meet = meetFrom(MEET, 'gymnast,apparatus,score\ncat,all,for:unnamed-3-1\n');
    const ids = standings(meet).rows.map((r) => r.id);
    expect(ids).toContain('cat');
    expect(ids).not.toContain('unnamed-3-1');
    expect(ids).toContain('unnamed-3-2');
    expect(chances(meet).contenders.map((c) => c.id)).not.toContain('unnamed-3-1');
  });
});
