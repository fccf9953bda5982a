/** What there is to say: answers of the other rooms, one fact a line, with the words it may be said in. */
import { chances } from '../chances/chances.js';
import { fieldExtremes, settledIn } from '../chances/settled.js';
import { rank } from '../contest/board.js';
import { progressAfter } from '../contest/like-for-like.js';
import { recordedPerformances } from '../contest/recorded.js';
import { limitAt, type Meet, routineOf } from '../meet/meet.js';
import { ifRangesAre } from '../needs/likely.js';
import { type PreparedBand, preparedBands } from '../needs/outcomes.js';
import { needsOfRoutines } from '../needs/sheet.js';
import { figureOf, sharedInWords, tieOfFigure } from '../report/figure.js';
import { ordinal, percent, ruleInWords } from '../report/words.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { formatScore, type Units } from '../score.js';
import { changeFacts, soFarAfter, standingFacts } from './board-facts.js';
import type { Context } from './context.js';
import {
  aboutRoutine,
  asIs,
  type Fact,
  NO_BAND,
  namesIn,
  ofMark,
  placeMark,
  placeWords,
  scoreIn,
  whoFields,
  yesNo,
} from './fact.js';
import type { LineKind } from './kinds.js';
import type { Words } from './words.js';

/** By kind: everything there is to say of it now. */
export const FACTS: Readonly<Record<LineKind, (context: Context) => Fact[]>> = {
  change: changeFacts,
  settled: settledFacts,
  standing: standingFacts,
  need: needFacts,
  outcome: outcomeFacts,
  medals: medalFacts,
};

function settledFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  const senses = (['limit', 'ranges'] as const).map((by) => fieldExtremes(meet, contest, by));
  const targets = [
    { target: 'win', place: 1 },
    { target: 'medal', place: contest.medals },
  ];
  return inOrder(context).flatMap((contender) =>
    settledIn(senses, contest, contender, targets).map(
      ({ target, status, by }): Fact => ({
        ...NO_BAND,
        kind: 'settled',
        about: [contender.id],
        apparatus: null,
        marks: { ...ofMark(contest), target, status, by },
        fields: whoFields(context, contender, contender.id),
      }),
    ),
  );
}

/** Contenders as the board has them. */
function inOrder({ meet, contest }: Context): Contender[] {
  return rank(contest, recordedPerformances(meet)).rows.map((r) => r.entry.contender);
}

/** What the next up need to lead, to win and for a medal, and to hold the place they have. */
function needFacts(context: Context): Fact[] {
  const { meet, contest, names, routines } = context;
  const now = needsOfRoutines(meet, contest, routines, { for: 'lead' });
  const atEnd = needsOfRoutines(meet, contest, routines, { when: 'end', rivals: 'likely' });
  return now.flatMap((sheet, i) => {
    const contender = contest.contenders.find((c) => c.id === sheet.contender);
    const routine = routineOf(meet, sheet.gymnast, sheet.apparatus);
    if (contender === undefined || routine === undefined) return [];
    const progress = progressAfter(meet, contest, (r) => r === routine);
    const soFar = soFarAfter(context, progress, routine);
    return [...sheet.needs, ...(atEnd[i]?.needs ?? [])].flatMap((need): Fact[] => {
      const figure = figureOf(meet, need);
      if (figure === null) return [];
      const { way, score, tie } = figure;
      const fact: Fact = {
        ...NO_BAND,
        kind: 'need',
        about: aboutRoutine(contender, sheet.gymnast),
        apparatus: sheet.apparatus,
        marks: {
          ...ofMark(contest),
          target: need.target,
          // Only real scores are said: where none does it, it is a tie or nothing.
          status:
            { any: 'secured', score: need.status, tie: 'level-only', none: 'impossible' }[way] ??
            '',
          tie: tie?.goesTo ?? 'none',
          by: sheet.hold?.by ?? 'board',
        },
        fields: {
          ...whoFields(context, contender, sheet.gymnast),
          apparatus: names.apparatus(sheet.apparatus),
          score: scoreIn(meet, score),
          tie: tie === null ? null : asIs(tieOfFigure(meet, tie, sharedInWords(need.target))),
          ahead: scoreIn(meet, need.ahead),
          level: scoreIn(meet, tie?.score ?? null),
          rule: need.tieBy === null ? null : asIs(ruleInWords(need.tieBy)),
          e: scoreIn(meet, need.e),
          reach: need.reach === null || need.reach === 0 ? null : asIs(chanceText(need.reach)),
          rival: need.mark?.id == null ? null : names.of(need.mark.id),
          total: scoreIn(meet, sheet.total),
          place: placeWords(need.target === 'hold' ? (sheet.hold?.place ?? null) : sheet.place),
          // To lead is of the board right after the routine; all else of the end.
          ...(need.target === 'lead' ? soFar : { soFar: asIs(''), unequal: asIs('') }),
        },
      };
      return [fact];
    });
  });
}

/** Every score the next up can get, each in exactly one band. */
function outcomeFacts(context: Context): Fact[] {
  const { meet, contest, names, routines } = context;
  const recorded = recordedPerformances(meet);
  return routines.flatMap((routine) => {
    const contender = contest.contenders.find((c) => c.routines.includes(routine.index));
    if (contender === undefined || entryOf(contender, recorded).out) return [];
    const progress = progressAfter(meet, contest, (r) => r === routine);
    const soFar = soFarAfter(context, progress, routine);
    return preparedBands(meet, contest, contender, routine).map(
      (band): Fact => ({
        kind: 'outcome',
        about: aboutRoutine(contender, routine.gymnast),
        apparatus: routine.apparatus,
        from: band.from,
        to: band.to,
        chance: band.chance,
        marks: {
          ...ofMark(contest),
          place: placeMark(contest, band.place),
          tie: band.open ? 'open' : band.tied ? 'shared' : 'none',
          board: progress.footing,
        },
        fields: {
          ...whoFields(context, contender, routine.gymnast),
          apparatus: names.apparatus(routine.apparatus),
          scores: asIs(scoresInWords(meet, band, limitAt(meet, routine.index))),
          from: scoreIn(meet, band.from),
          to: scoreIn(meet, band.to),
          place: placeWords(band.place),
          worst: placeWords(band.worst),
          ...soFar,
          levelWith: namesIn(context, band.levelWith),
          rule: band.tieBy === null ? null : asIs(ruleInWords(band.tieBy)),
          // Outside her range is not impossible.
          chance: band.chance === null || band.chance === 0 ? null : asIs(chanceText(band.chance)),
        },
      }),
    );
  });
}

/** Nothing that is still to be scored is said to be sure. */
function chanceText(chance: number): string {
  return percent(Math.min(chance, 1 - Number.EPSILON));
}

function scoresInWords(meet: Meet, { from, to }: PreparedBand, limit: Units): string {
  const show = (score: Units) => formatScore(score, meet.scoring.decimals);
  if (to === limit) return from === 0 ? 'any score' : `${show(from)} or better`;
  if (from === to) return show(from);
  return from === 0 ? `${show(to)} or less` : `${show(from)} to ${show(to)}`;
}

/** So many medal outcomes are prepared, the likeliest. */
const MOST_MEDALS = 12;

/** The medals in order, the likeliest first, where the ranges allow to say so. */
function medalFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  const answer = ifRangesAre(() => chances(meet, null, { contest: contest.id }));
  return (answer?.podiums ?? []).slice(0, MOST_MEDALS).map(({ places, chance }): Fact => {
    const onPlace = (i: number): Words | null => namesIn(context, places[i] ?? []);
    const all: Words = (short) =>
      places
        .flatMap((_, i) => {
          const there = onPlace(i);
          return there === null ? [] : [`${ordinal(i + 1)} ${there(short)}`];
        })
        .join(', ');
    return {
      kind: 'medals',
      about: places.flat(),
      apparatus: null,
      from: null,
      to: null,
      chance,
      marks: { tied: yesNo(places.some((ids) => ids.length > 1)) },
      fields: {
        contest: asIs(contest.id),
        medals: all,
        first: onPlace(0),
        second: onPlace(1),
        third: onPlace(2),
        chance: asIs(chanceText(chance)),
      },
    };
  });
}
