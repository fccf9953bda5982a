/** What the next up need: to lead right after the routine; to win, for a medal, to hold the place. */
import { progressAfter } from '../../contest/like-for-like.js';
import { isToCome, type Meet, type Routine, routineOf } from '../../meet/meet.js';
import { isBeyond, type Need, reachOfEnough } from '../../needs/need.js';
import { type NeedsSheet, needsOfRoutines } from '../../needs/sheet.js';
import { type Figure, figureOf, tieOfFigure } from '../../report/figure.js';
import { isAskedIn } from '../../report/goals.js';
import { sharedInWords } from '../../report/need-words.js';
import { ruleInWords } from '../../report/words.js';
import type { Contender } from '../../rules/contender.js';
import { asScore } from '../../score.js';
import type { Context } from '../context.js';
import {
  aboutRoutine,
  asIs,
  type Fact,
  type LineValues,
  NO_VALUES,
  OF,
  ofMark,
  placeWords,
  scoreIn,
  WHO_FIELDS,
  whoFields,
} from '../fact.js';
import { always, lineKind } from '../line-kind.js';
import { soFarAfter } from '../place.js';
import { chanceText } from '../words.js';

const TEMPLATES = `
  - text: "Any score from {name} on {apparatus} puts {team} in the lead{soFar}{unequal}."
    when: { of: team, target: lead, status: secured }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}; {tie}."
    when: { of: team, target: lead, status: needs }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}."
    when: { of: team, target: lead, status: needs }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best; {tie}."
    when: { of: team, target: lead, status: beyond }
  - text: "{team} needs {score} from {name} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best."
    when: { of: team, target: lead, status: beyond }
  - text: "{team} can share the lead{soFar} with {level} from {name} on {apparatus}, no more{unequal}."
    when: { of: team, target: lead, status: level-only, tie: shared }
  - text: "At best {team} ties for the lead{soFar} with {level} from {name} on {apparatus}{unequal}; the tie is open."
    when: { of: team, target: lead, status: level-only }
  - text: "{team} cannot take the lead with {name} on {apparatus}."
    when: { of: team, target: lead, status: impossible }
  - text: "Any score on {apparatus} puts {name} in the lead{soFar}{unequal}."
    when: { target: lead, status: secured }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}; {tie}."
    when: { target: lead, status: needs }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}."
    when: { target: lead, status: needs }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best; {tie}."
    when: { target: lead, status: beyond }
  - text: "{name} needs {score} on {apparatus} to lead{soFar}{unequal}, above {her} realistic best."
    when: { target: lead, status: beyond }
  - text: "{name} can share the lead{soFar} with {level} on {apparatus}, no more{unequal}."
    when: { target: lead, status: level-only, tie: shared }
  - text: "At best {name} ties for the lead{soFar} with {level} on {apparatus}{unequal}; the tie is open."
    when: { target: lead, status: level-only }
  - text: "{name} cannot take the lead on {apparatus}."
    when: { target: lead, status: impossible }
  - text: "{given}{team} wins with any score from {name} on {apparatus}."
    when: { of: team, target: win, status: secured }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to win; {tie}."
    when: { of: team, target: win, status: needs }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to win."
    when: { of: team, target: win, status: needs }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to win, above {her} realistic best; {tie}."
    when: { of: team, target: win, status: beyond }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to win, above {her} realistic best."
    when: { of: team, target: win, status: beyond }
  - text: "{given}{team} can share first place with {level} from {name} on {apparatus}, no more."
    when: { of: team, target: win, status: level-only, tie: shared }
  - text: "{given}{name} wins with any score on {apparatus}."
    when: { of: gymnast, target: win, status: secured }
  - text: "{given}{name} needs {score} on {apparatus} to win; {tie}."
    when: { of: gymnast, target: win, status: needs }
  - text: "{given}{name} needs {score} on {apparatus} to win."
    when: { of: gymnast, target: win, status: needs }
  - text: "{given}{name} needs {score} on {apparatus} to win, above {her} realistic best; {tie}."
    when: { of: gymnast, target: win, status: beyond }
  - text: "{given}{name} needs {score} on {apparatus} to win, above {her} realistic best."
    when: { of: gymnast, target: win, status: beyond }
  - text: "{given}{name} can share first place with {level} on {apparatus}, no more."
    when: { of: gymnast, target: win, status: level-only, tie: shared }
  - text: "{given}{team} has a medal with any score from {name} on {apparatus}."
    when: { of: team, target: medal, status: secured }
  - text: "{given}{team} needs {score} from {name} on {apparatus} for a medal; {tie}."
    when: { of: team, target: medal, status: needs }
  - text: "{given}{team} needs {score} from {name} on {apparatus} for a medal."
    when: { of: team, target: medal, status: needs }
  - text: "{given}{team} needs {score} from {name} on {apparatus} for a medal, above {her} realistic best; {tie}."
    when: { of: team, target: medal, status: beyond }
  - text: "{given}{team} needs {score} from {name} on {apparatus} for a medal, above {her} realistic best."
    when: { of: team, target: medal, status: beyond }
  - text: "{given}{team} goes through with any score from {name} on {apparatus}."
    when: { of: team, target: advance, status: secured }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to go through; {tie}."
    when: { of: team, target: advance, status: needs }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to go through."
    when: { of: team, target: advance, status: needs }
  - text: "{given}{team} needs {score} from {name} on {apparatus} to go through, above {her} realistic best."
    when: { of: team, target: advance, status: beyond }
  - text: "{given}{name} goes through with any score on {apparatus}."
    when: { of: gymnast, target: advance, status: secured }
  - text: "{given}{name} needs {score} on {apparatus} to go through; {tie}."
    when: { of: gymnast, target: advance, status: needs }
  - text: "{given}{name} needs {score} on {apparatus} to go through."
    when: { of: gymnast, target: advance, status: needs }
  - text: "{given}{name} needs {score} on {apparatus} to go through, above {her} realistic best; {tie}."
    when: { of: gymnast, target: advance, status: beyond }
  - text: "{given}{name} needs {score} on {apparatus} to go through, above {her} realistic best."
    when: { of: gymnast, target: advance, status: beyond }
  - text: "{given}{name} has a medal with any score on {apparatus}."
    when: { of: gymnast, target: medal, status: secured }
  - text: "{given}{name} needs {score} on {apparatus} for a medal; {tie}."
    when: { of: gymnast, target: medal, status: needs }
  - text: "{given}{name} needs {score} on {apparatus} for a medal."
    when: { of: gymnast, target: medal, status: needs }
  - text: "{given}{name} needs {score} on {apparatus} for a medal, above {her} realistic best; {tie}."
    when: { of: gymnast, target: medal, status: beyond }
  - text: "{given}{name} needs {score} on {apparatus} for a medal, above {her} realistic best."
    when: { of: gymnast, target: medal, status: beyond }
`;

export const need = lineKind({
  name: 'need',
  fields: [
    ...WHO_FIELDS,
    ...['apparatus', 'given', 'score', 'tie', 'ahead', 'level', 'e', 'reach', 'rival'],
    ...['rule', 'total', 'place', 'soFar', 'unequal'],
  ],
  when: {
    of: OF,
    target: ['lead', 'win', 'medal', 'advance', 'hold'],
    status: ['secured', 'impossible', 'level-only', 'beyond', 'needs'],
    tie: ['none', 'shared', 'rival', 'open'],
    by: ['board', 'projection'],
  },
  isOfOne: false,
  isUnasked: always,
  facts: needFacts,
  templates: TEMPLATES,
});

function needFacts(context: Context): Fact[] {
  const { meet, contest, routines } = context;
  const isAsked = isAskedIn(contest);
  const now = needsOfRoutines(meet, contest, routines, { for: 'lead' });
  const atEnd = needsOfRoutines(meet, contest, routines, { when: 'end', rivals: 'likely' });
  return now.flatMap((sheet, i) => {
    const contender = contest.contenders.find((c) => c.id === sheet.contender);
    const routine = routineOf(meet, sheet.gymnast, sheet.apparatus);
    if (contender === undefined || routine === undefined) return [];
    const all = [...sheet.needs, ...(atEnd[i]?.needs ?? [])].filter(
      ({ target }) => isAsked(target) && (contest.givesMedals || target !== 'win'),
    );
    return all.flatMap((asked): Fact[] => {
      const figure = figureOf(meet, asked);
      return figure === null ? [] : [factOf(context, { sheet, contender, routine, asked, figure })];
    });
  });
}

/** A need, and whose it is. */
interface Asked {
  readonly sheet: NeedsSheet;
  readonly contender: Contender;
  readonly routine: Routine;
  readonly asked: Need;
  readonly figure: Figure;
}

function factOf(context: Context, all: Asked): Fact {
  const { meet, contest, names } = context;
  const { sheet, contender, routine, asked, figure } = all;
  const { target } = asked;
  const { score, tie } = figure;
  const values = valuesOf(context, all);
  return {
    about: aboutRoutine(contender, sheet.gymnast),
    key: [sheet.apparatus, target],
    values,
    marks: {
      ...ofMark(contest),
      target,
      status: values.status ?? '',
      tie: tie?.goesTo ?? 'none',
      by: sheet.hold?.by ?? 'board',
    },
    fields: {
      ...whoFields(context, contender, sheet.gymnast),
      apparatus: names.apparatus(sheet.apparatus),
      given: asIs(givenWords(context, contender, routine)),
      score: scoreIn(meet, score),
      tie: tie === null ? null : asIs(tieOfFigure(meet, tie, sharedInWords(target))),
      ahead: scoreIn(meet, asked.ahead),
      level: scoreIn(meet, tie?.score ?? null),
      rule: asked.tieBy === null ? null : asIs(ruleInWords(asked.tieBy)),
      e: scoreIn(meet, asked.e),
      reach: values.chance === null || values.chance === 0 ? null : asIs(chanceText(values.chance)),
      rival: asked.mark?.id == null ? null : names.of(asked.mark.id),
      total: scoreIn(meet, sheet.total),
      place: placeWords(target === 'hold' ? values.place : sheet.place),
      ...soFarWords(context, all),
    },
  };
}

function valuesOf(
  { meet, contest: { medals } }: Context,
  { sheet, routine, asked, figure }: Asked,
): LineValues {
  const { target, when, status, mark } = asked;
  const { way, score, tie } = figure;
  const places: Readonly<Record<string, number | null>> = {
    lead: 1,
    win: 1,
    medal: medals,
    hold: sheet.hold?.place ?? null,
  };
  return {
    ...NO_VALUES,
    target,
    // Only real scores are said: where none does it, it is a tie or nothing.
    status: {
      any: 'secured' as const,
      score: status === 'beyond' && !isBeyond(asked, sheet.range) ? 'needs' : status,
      tie: 'level-only' as const,
      none: 'impossible' as const,
    }[way],
    by: when,
    apparatus: sheet.apparatus,
    session: routine.session,
    rotation: routine.rotation,
    done: sheet.done,
    from: tie?.score ?? null,
    to: tie?.score ?? null,
    place: places[target] ?? null,
    tied: tie === null || tie.goesTo === 'open' ? null : tie.goesTo === 'shared',
    tieBy: tie?.by ?? null,
    levelWith: tie === null || mark?.id == null ? null : [mark.id],
    score,
    total: sheet.total,
    gap: mark == null ? null : asScore(mark.total - sheet.total),
    chance: reachOfEnough(meet, asked, sheet.range),
  };
}

/** To lead is of the board right after the routine; all else of the end. */
function soFarWords(context: Context, { asked, routine }: Asked) {
  if (asked.target !== 'lead') return { soFar: asIs(''), unequal: asIs('') };
  const progress = progressAfter(context.meet, context.contest, (r) => r === routine);
  return soFarAfter(context, progress, routine);
}

/** What is taken of the scores to come, as the beginning of a sentence; nothing where none of them matters. */
function givenWords({ meet, contest }: Context, contender: Contender, { index }: Routine): string {
  const isOpen = (routines: readonly number[]) => routines.some((i) => isOthers(meet, i, index));
  if (isOpen(contender.routines)) return 'If all else goes as expected, ';
  const others = contest.contenders.filter((c) => c !== contender);
  return others.some((c) => isOpen(c.routines)) ? 'If the others score as expected, ' : '';
}

function isOthers(meet: Meet, routine: number, hers: number): boolean {
  return routine !== hers && isToCome(meet, routine);
}
