/** Every answer that a page can ask for, from the text of a meet and of its log. */
import type * as Door from '../../lib/index.js';

export interface Texts {
  readonly meet: string;
  readonly log: string;
  /** A results history. */
  readonly history: string;
}

/** By name, each as it is returned. */
export function answersOf(door: typeof Door, texts: Texts): Record<string, unknown> {
  const read = door.readMeet({
    meet: { file: 'meet.yaml', text: texts.meet },
    log: { file: 'meet.scores.csv', text: texts.log },
  });
  const { meet } = read;
  if (meet === null) throw new Error(JSON.stringify(read.problems));
  const history = door.readHistory({ file: 'history.csv', text: texts.history });
  const { gymnast = '', apparatus = '' } = door.needsOfAll(meet).gymnasts[0] ?? {};
  return {
    check: door.check(read),
    standings: door.standings(meet),
    needs: door.needs(meet, gymnast, { chance: 0.5 }),
    needsOfAll: door.needsOfAll(meet),
    outcomes: door.outcomes(meet, gymnast),
    chances: door.chances(meet, gymnast),
    sampled: door.chances(meet, gymnast, { sample: 4096 }),
    suppose: door.suppose(meet, [{ gymnast, apparatus, score: 'likely' }]),
    claim: door.claim(meet, gymnast),
    story: door.story(meet, { file: 'meet.scores.csv', text: texts.log }),
    graphics: door.graphics(meet),
    ranges: door.ranges(history),
    backtest: door.backtest(history),
  };
}
