/** Questions in the words the tool prints: whom, where, for what. */
import { describe, expect, it } from 'vitest';
import { type AskedTarget, namedTarget, needs, readAsked, readSupposed } from '../../lib/index.js';
import { meetFrom } from '../support/meet.js';
import { refusal } from '../support/refusal.js';

const RANGE = '{ low: 13.000, likely: 13.500, high: 14.000, falls: 0.1 }';
const YAML = `discipline: wag
scoring: open
usual: { VT: ${RANGE}, UB: ${RANGE}, BB: ${RANGE}, FX: ${RANGE} }
gymnasts:
  - { id: aber, name: Ada Aber }
  - { id: gold, name: Ada Gold }
  - { id: rokafor, name: Ruth Okafor }
  - { id: mokafor, name: Mina Okafor }
`;
const MEET = meetFrom(YAML);

function asked(line: string, nextUpFirst = false): string {
  const { who, on, for: target } = readAsked(MEET, line.split(' '), { nextUpFirst });
  return [who, on, target].map((part) => part ?? '-').join(' ');
}

describe('what she needs', () => {
  it.each([
    ['aber', 'aber - -'],
    ['aber win', 'aber - win'],
    ['aber fx', 'aber FX -'],
    ['aber floor gold', 'aber FX gold'],
    ['aber gold floor', 'aber FX gold'],
    ['Ada Aber on the floor for gold', 'aber FX gold'],
    ['aber to win', 'aber - win'],
    ['aber Top 8', 'aber - top 8'],
    ['aber top8 uneven bars', 'aber UB top 8'],
    ['aber 3rd', 'aber - place:3'],
    ['aber place 3', 'aber - place:3'],
    ['aber place:3', 'aber - place:3'],
    ['aber podium', 'aber - medal'],
    ['aber HOLD', 'aber - hold'],
    ['aber total 57.000', 'aber - total:57.000'],
    ['aber beam beat ruth okafor', 'aber BB beat:rokafor'],
    ['aber beat:ruth', 'aber - beat:rokafor'],
    ['silver', '- - silver'],
    // A target is no name, unless it is somebody's.
    ['gold', 'gold - -'],
    ['ada gold', 'gold - -'],
    ['ada gold gold', 'gold - gold'],
    ['gold win', 'gold - win'],
  ])('%s', (line, read) => {
    expect(asked(line)).toBe(read);
  });

  it('two of a name are asked back, or whoever is next up where that is wanted', () => {
    expect(refusal(() => asked('okafor gold')).code).toBe('ambiguous-gymnast');
    expect(refusal(() => asked('aber beat okafor')).code).toBe('ambiguous-gymnast');
    const groups =
      'groups: [{ start: VT, order: [aber, gold] }, { start: UB, order: [mokafor, rokafor] }]';
    const meet = meetFrom(`${YAML}${groups}\n`);
    expect(readAsked(meet, ['okafor', 'gold'], { nextUpFirst: true }).who).toBe('mokafor');
  });

  it('two targets, two apparatus and words that are nothing are refused', () => {
    expect(refusal(() => asked('aber gold silver')).message).toBe(
      'gold and silver are two targets',
    );
    expect(refusal(() => asked('aber fx beam')).message).toBe('fx and beam are two apparatus');
    expect(refusal(() => asked('aber fxx'))).toMatchObject({
      code: 'unknown-apparatus',
      message: '"fxx" is no apparatus of this meet',
      mend: 'did you mean `FX`?',
    });
  });
});

describe('medals by their names', () => {
  const target = (text: AskedTarget, yaml = YAML) =>
    needs(meetFrom(yaml), 'aber', { for: text }).needs[0]?.target;

  it('are places, in the words of the contract', () => {
    expect(target('gold')).toBe('win');
    expect(target('silver')).toBe('place:2');
    expect(target('bronze')).toBe('place:3');
    expect(target('top 8')).toBe('place:8');
    expect(namedTarget(MEET, 'Bronze')).toBe('bronze');
  });

  it('are refused where they are not given', () => {
    const two = `${YAML}medals: 2\n`;
    expect(target('silver', two)).toBe('place:2');
    const error = refusal(() => target('bronze', two));
    expect(error.code).toBe('wrong-target');
    expect(error.message).toBe('there is no bronze in all-around: only gold and silver');
    expect(refusal(() => target('silver', `${YAML}medals: 1\n`)).message).toContain('only gold');
  });

  it('what is no target is refused as one', () => {
    expect(refusal(() => target('top 0')).code).toBe('wrong-target');
    expect(refusal(() => target(namedTarget(MEET, 'victory'))).code).toBe('wrong-target');
  });
});

describe('what is supposed', () => {
  const supposed = (line: string, meet = MEET) =>
    readSupposed(meet, line.split(' ')).map((s) => `${s.gymnast} ${s.apparatus} ${s.score}`);

  it('is a gymnast, an apparatus and a score, once or more, in the words of a line', () => {
    expect(supposed('aber FX 13.5')).toEqual(['aber FX 13.5']);
    expect(supposed('aber uneven bars 13,5 ada gold floor HIGH')).toEqual([
      'aber UB 13,5',
      'gold FX HIGH',
    ]);
    expect(supposed('ruth okafor beam dns')).toEqual(['rokafor BB dns']);
  });

  it('is her next routine where no apparatus is said', () => {
    expect(supposed('aber 13.5')).toEqual(['aber VT 13.5']);
  });

  it('the high bar is no high score', () => {
    const men = meetFrom(YAML.replace('wag', 'mag').replace(/^usual.*\n/m, ''));
    expect(supposed('aber high bar 13.5', men)).toEqual(['aber HB 13.5']);
    expect(supposed('aber hb high', men)).toEqual(['aber HB high']);
    expect(supposed('aber floor high', men)).toEqual(['aber FX high']);
  });

  it('without a score, or with a word in its place, is refused', () => {
    expect(refusal(() => supposed('aber FX')).code).toBe('bad-usage');
    expect(refusal(() => supposed('aber FX 13.5 gold')).message).toContain('"gold"');
    expect(supposed('aber FX good')).toEqual(['aber FX good']);
  });
});
