/** What is said of a file that is wrong, to the last word: whom it may mean, which line, and what to do. */
import { describe, expect, it } from 'vitest';
import { LastRotationError, needs, standings } from '../../lib/index.js';
import { logFrom, meetFrom, problemsOf, readAll } from '../support/meet.js';

/** All that is wrong, as it is read out: line, message, mend. Nobody has a range here, which is only noted. */
const told = (yaml: string, log = '') =>
  problemsOf(yaml, log)
    .filter((p) => p.code !== 'missing-range')
    .map(({ line, message, mend }) => `${line}: ${message}; ${mend}`);

/** What a refusal says, with what to do. */
function refusal(ask: () => unknown): string {
  try {
    ask();
  } catch (error) {
    if (error instanceof LastRotationError) return `${error.message}; ${error.mend}`;
    throw error;
  }
  return 'no refusal';
}

const HEAD = 'discipline: wag\nscoring: open\n';

describe('two ids that differ in case alone', () => {
  const yaml = `${HEAD}contests: [{ kind: apparatus, on: FX }]
gymnasts:
  - { id: ann, name: Ann Weller }
  - { id: Ann, name: Ann Harbeck }
`;

  it('are two gymnasts in a log, each by her own', () => {
    const meet = meetFrom(yaml, logFrom('ann,FX,12.500', 'Ann,FX,13.000'));
    expect(standings(meet).rows.map((r) => [r.place, r.id, r.total])).toEqual([
      [1, 'Ann', 13_000],
      [2, 'ann', 12_500],
    ]);
  });

  it('in the other order of rows too', () => {
    const meet = meetFrom(yaml, logFrom('Ann,FX,13.000', 'ann,FX,12.500'));
    expect(standings(meet).rows.map((r) => [r.id, r.total])).toEqual([
      ['Ann', 13_000],
      ['ann', 12_500],
    ]);
  });

  it('and a third way of writing them is neither', () => {
    expect(told(yaml, logFrom('ANN,FX,13.000'))).toEqual([
      '2: there is no gymnast "ANN" in this meet; did you mean `ann`?',
    ]);
  });

  it('while one alone is found whatever the case', () => {
    const alone = `${HEAD}contests: [{ kind: apparatus, on: FX }]\ngymnasts: [{ id: ann }]\n`;
    const meet = meetFrom(alone, logFrom('ANN,FX,13.000'));
    expect(standings(meet).rows.map((r) => r.total)).toEqual([13_000]);
  });
});

describe('groups', () => {
  it('of which one cannot be read say that, and nothing that follows from it', () => {
    // Cleo and dana may stand in the second group, and nobody starts on the other apparatus.
    const yaml = `${HEAD}gymnasts: [{ id: ada }, { id: bea }, { id: cleo }, { id: dana }]
groups:
  - { start: VT, order: [ada, bea] }
  - start: UB
  - { start: BB, order: [ada, baa] }
  - { start: VT, order: [] }
`;
    expect(told(yaml)).toEqual([
      '6: `order` is missing; { start: VT, order: [adeyemi, …] }',
      '7: gymnast `baa` in group 3 is not in the list; did you mean `bea`?',
      '7: gymnast `ada` is in group 1 and in group 3; keep her in one place',
      '8: two groups start on VT; let each group start elsewhere',
    ]);
  });

  it('that can all be read say who is in none', () => {
    const yaml = `${HEAD}gymnasts: [{ id: ada }, { id: bea }, { id: cleo, on: [] }]
groups:
  - { start: VT, order: [ada] }
`;
    expect(told(yaml)).toEqual([
      '3: gymnast `bea` is in no group; add her to the order of a group; a reserve has on: []',
    ]);
  });

  it('tell the line where somebody stands again, and where a start comes again', () => {
    const yaml = `${HEAD}gymnasts: [{ id: ada }, { id: bea }]
groups:
  - start: VT
    order:
      - ada
      - bea
      - ada
  - start: UB
    order:
      - bea
  - start: VT
    order: []
`;
    expect(told(yaml)).toEqual([
      '9: gymnast `ada` is twice in group 1; keep her in one place',
      '12: gymnast `bea` is in group 1 and in group 2; keep her in one place',
      '13: two groups start on VT; let each group start elsewhere',
    ]);
  });
});

describe('whom a name may mean', () => {
  const named = (names: readonly string[]) =>
    meetFrom(
      `${HEAD}contests: [{ kind: apparatus, on: FX }]\ngymnasts:\n${names
        .map((name, i) => `  - { id: x${i}, name: ${name} }\n`)
        .join('')}  - { id: reserve, name: Rosa Quill, on: [] }\n`,
    );
  const ask = (names: readonly string[], who: string) => refusal(() => needs(named(names), who));

  it('is suggested by a part of a name that is nearly right', () => {
    const names = ['Wren Adeyemi', 'Oriane Brondt'];
    expect(ask(names, 'adeyami')).toBe('nobody here is called "adeyami"; did you mean `Adeyemi`?');
    expect(ask(names, 'orianne')).toBe('nobody here is called "orianne"; did you mean `Oriane`?');
    expect(ask(names, 'wren adeyami')).toBe(
      'nobody here is called "wren adeyami"; did you mean `Wren Adeyemi`?',
    );
  });

  it('is not suggested where none is near', () => {
    expect(ask(['Wren Adeyemi'], 'zzzzzz')).toBe(
      'nobody here is called "zzzzzz"; see who competes: lastrotation check',
    );
  });

  const SIX = ['Ann Ash', 'Bea Ash', 'Cleo Ash', 'Dana Ash', 'Eva Ash', 'Fay Ash'];

  it('is listed where it fits six, and of seven the first six with a sign that there are more', () => {
    const six =
      'x0 (Ann Ash), x1 (Bea Ash), x2 (Cleo Ash), x3 (Dana Ash), x4 (Eva Ash), x5 (Fay Ash)';
    expect(ask(SIX, 'ash')).toBe(`"ash" could be any of 6; say which: ${six}`);
    expect(ask([...SIX, 'Gia Ash'], 'ash')).toBe(`"ash" could be any of 7; say which: ${six}, …`);
  });

  it('and a reserve is no contender, since she has no routines', () => {
    expect(ask(SIX, 'quill')).toBe(
      'Rosa Quill does not compete in FX; a reserve competes in nothing yet',
    );
  });

  it('but who competes elsewhere is told what is hers', () => {
    const meet = meetFrom(
      `${HEAD}contests: [{ kind: apparatus, on: FX }, { kind: apparatus, on: UB }]
gymnasts: [{ id: ada, name: Ada Penn, on: [UB] }, { id: bea, on: [FX] }]
`,
    );
    expect(refusal(() => needs(meet, 'penn', { contest: 'FX' }))).toBe(
      'Ada Penn does not compete in FX; competes on: UB',
    );
  });
});

describe('a sum that is refused is shown with all its parts', () => {
  const yaml = `${HEAD}contests: [{ kind: apparatus, on: FX }]\ngymnasts: [{ id: ada }]\n`;

  it.each([
    [
      '13.100,5.000,8.000,',
      'D 5.000 + E 8.000 - ND 0.000 is 13.000, not 13.100; correct whichever of the four was misheard',
    ],
    [
      '13.100,5.300,8.000,0.100',
      'D 5.300 + E 8.000 - ND 0.100 is 13.200, not 13.100; correct whichever of the four was misheard',
    ],
    ['4.900,5.000,,', 'D 5.000 alone is more than the score 4.900; correct the score or D'],
    ['4.900,,5.000,', 'E 5.000 alone is more than the score 4.900; correct the score or E'],
  ])('%s', (score, said) => {
    expect(told(yaml, logFrom(`ada,FX,${score},`))).toEqual([`2: ${said}`]);
  });

  it('and a sum below 0.000 is 0.000', () => {
    const { meet, problems } = readAll(yaml, logFrom('ada,FX,0.000,1.000,0.500,2.000,'));
    expect(problems.filter((p) => p.severity !== 'note')).toEqual([]);
    expect(meet?.results[0]).toMatchObject({ score: 0, d: 1000, e: 500, nd: 2000 });
  });
});
