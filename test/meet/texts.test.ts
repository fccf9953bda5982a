/** A program without types that gives a text in another way is told so, and never answered as if it had given none. */
import { describe, expect, it } from 'vitest';
import { chances, LastRotationError, needs, readMeet } from '../../lib/index.js';
import type { MeetSources } from '../../lib/meet/read.js';

const text = [
  'discipline: wag',
  'scoring: open',
  'gymnasts: [{ id: ann }, { id: bea }]',
  'usual: { VT: &r { low: 12, likely: 13, high: 14 }, UB: *r, BB: *r, FX: *r }',
].join('\n');
const log = 'gymnast,apparatus,score\nann,VT,13.000\n';

function refusal(work: () => unknown): [string, string | null] {
  try {
    work();
  } catch (error) {
    if (error instanceof LastRotationError) return [error.message, error.mend];
    throw error;
  }
  return ['', null];
}

describe('texts', () => {
  it.each([
    [text, 'meet file', 'meet: { file, text }'],
    [{ meet: text }, 'meet file', 'meet: { file, text }'],
    [{ meet: { text } }, 'meet file', 'meet: { file, text }'],
    [undefined, 'meet file', 'meet: { file, text }'],
    [{ meet: { file: 'm', text }, log }, 'score log', 'log: { file, text }'],
  ])('%j is refused', (sources, what, how) => {
    const [message, mend] = refusal(() => readMeet(sources as unknown as MeetSources));
    expect(message).toBe(`the text of the ${what} is missing`);
    expect(mend).toBe(`give ${how}`);
  });

  it('are read with a log and without', () => {
    const whole = { meet: { file: 'm', text }, log: { file: 'l', text: log } };
    expect(readMeet(whole).meet?.results.filter((r) => r !== null)).toHaveLength(1);
    for (const none of [{ meet: whole.meet }, { meet: whole.meet, log: null }]) {
      expect(readMeet(none).meet?.results.filter((r) => r !== null)).toHaveLength(0);
    }
  });
});

it('options where a name should be are refused', () => {
  const { meet } = readMeet({ meet: { file: 'm', text } });
  if (meet === null) throw new Error('no meet');
  for (const ask of [chances, needs] as ((meet: unknown, who: unknown) => unknown)[]) {
    expect(refusal(() => ask(meet, { who: 'ann' }))[0]).toBe('a name is a text');
  }
});
