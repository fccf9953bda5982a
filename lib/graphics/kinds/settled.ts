/** What the last row of the log settled: the title, a medal or going through, secured or out of reach. */

import { rank } from '../../contest/board.js';
import { type Contest, findContest, hasMedalsToWin } from '../../contest/contest.js';
import { goalsOf } from '../../contest/goal.js';
import { bothSenses, type Settled, settledIn } from '../../contest/settled.js';
import type { Meet } from '../../meet/meet.js';
import { recordedPerformances } from '../../rules/recorded.js';
import type { Context } from '../context.js';
import { type Fact, NO_VALUES, OF, ofMark, WHO_FIELDS, whoFields } from '../fact.js';
import { lineKind } from '../line-kind.js';

const TEMPLATES = `
  - text: "{name} is sure of first place, whatever is still scored."
    when: { target: win, status: secured, by: limit }
  - text: "{name} is sure of first place if every score stays within its range."
    when: { target: win, status: secured, by: ranges }
  - text: "{name} is sure of a medal, whatever is still scored."
    when: { target: medal, status: secured, by: limit }
  - text: "{name} is sure of a medal if every score stays within its range."
    when: { target: medal, status: secured, by: ranges }
  - text: "{name} is through, whatever is still scored."
    when: { target: advance, status: secured, by: limit }
  - text: "{name} is through if every score stays within its range."
    when: { target: advance, status: secured, by: ranges }
  - text: "{name} can no longer go through."
    when: { target: advance, status: out-of-reach, by: limit }
  - text: "{name} can no longer go through if every score stays within its range."
    when: { target: advance, status: out-of-reach, by: ranges }
  - text: "{name} can no longer win."
    when: { target: win, status: out-of-reach, by: limit }
  - text: "{name} can no longer win if every score stays within its range."
    when: { target: win, status: out-of-reach, by: ranges }
  - text: "{name} can no longer reach a medal."
    when: { target: medal, status: out-of-reach, by: limit }
  - text: "{name} can no longer reach a medal if every score stays within its range."
    when: { target: medal, status: out-of-reach, by: ranges }
`;

export const settled = lineKind({
  name: 'settled',
  fields: WHO_FIELDS,
  when: {
    of: OF,
    target: ['win', 'medal', 'advance'],
    status: ['secured', 'out-of-reach'],
    by: ['limit', 'ranges'],
  },
  isOfOne: true,
  // At the end everything is, and the final board says so.
  isUnasked: ({ isOver }) => !isOver,
  facts: settledFacts,
  templates: TEMPLATES,
});

function settledFacts(context: Context): Fact[] {
  const { meet, before, contest } = context;
  const was = allSettled(before, findContest(before, contest.id));
  const isNew = (id: string, { target, status, by }: Settled) =>
    !was.get(id)?.some((s) => s.target === target && s.status === status && s.by === by);
  const is = allSettled(meet, contest);
  const inOrder = rank(contest, recordedPerformances(meet)).rows.map((r) => r.entry.contender);
  return inOrder.flatMap((contender) =>
    (is.get(contender.id) ?? [])
      .filter((s) => isNew(contender.id, s))
      .map(
        ({ target, status, by }): Fact => ({
          about: [contender.id],
          key: [target],
          values: { ...NO_VALUES, target, status, by },
          marks: { ...ofMark(contest), target, status, by },
          fields: whoFields(context, contender, contender.id),
        }),
      ),
  );
}

/** By contender. */
function allSettled(meet: Meet, contest: Contest): ReadonlyMap<string, readonly Settled[]> {
  const senses = bothSenses(meet, contest);
  // Where it is about going through, first place is for the board.
  const targets = goalsOf(contest).filter(
    ({ target }) =>
      target === 'advance' || (target === 'win' ? contest.givesMedals : hasMedalsToWin(contest)),
  );
  return new Map(
    contest.contenders.map((c) => [c.id, settledIn(senses, contest, c, targets)] as const),
  );
}
