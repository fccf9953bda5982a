/** The place that every score of the next up brings, each in exactly one line. */
import { progressAfter } from '../../contest/like-for-like.js';
import { limitAt, type Meet, type Routine } from '../../meet/meet.js';
import { ifRangesAre } from '../../needs/likely.js';
import { outcomes, type PreparedBand, preparedBands } from '../../needs/outcomes.js';
import { ruleInWords } from '../../report/words.js';
import type { Contender } from '../../rules/contender.js';
import { entryOf } from '../../rules/entry.js';
import { recordedPerformances } from '../../rules/recorded.js';
import { formatScore, type Units } from '../../score.js';
import type { Context } from '../context.js';
import {
  aboutRoutine,
  asIs,
  type Fact,
  NO_VALUES,
  namesIn,
  OF,
  ofMark,
  PLACE,
  placeMark,
  placeWords,
  scoreIn,
  WHO_FIELDS,
  whoFields,
} from '../fact.js';
import { always, lineKind } from '../line-kind.js';
import { BOARD, soFarAfter } from '../place.js';
import { chanceText } from '../words.js';

const TEMPLATES = `
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}, level with {levelWith}, decided on {rule}{unequal}. Chance {chance}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}, level with {levelWith}, decided on {rule}{unequal}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}{unequal}. Chance {chance}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} {place}{soFar}{unequal}."
    when: { of: team, tie: none }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar} with {levelWith}{unequal}. Chance {chance}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar} with {levelWith}{unequal}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar}{unequal}. Chance {chance}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {team} shares {place}{soFar}{unequal}."
    when: { of: team, tie: shared }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}, level with {levelWith}, decided on {rule}{unequal}. Chance {chance}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}, level with {levelWith}, decided on {rule}{unequal}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}{unequal}. Chance {chance}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: {place} place{soFar}{unequal}."
    when: { tie: none }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar} with {levelWith}{unequal}. Chance {chance}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar} with {levelWith}{unequal}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar}{unequal}. Chance {chance}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: shares {place} place{soFar}{unequal}."
    when: { tie: shared }
  - text: "{name} on {apparatus}, {scores}: level with {levelWith}, {place} to {worst}{soFar}, decided on {rule}{unequal}. Chance {chance}."
    when: { tie: open }
  - text: "{name} on {apparatus}, {scores}: level with {levelWith}, {place} to {worst}{soFar}, decided on {rule}{unequal}."
    when: { tie: open }
  - text: "{name} on {apparatus}, {scores}: level, {place} to {worst}{soFar} by the tie rules{unequal}. Chance {chance}."
    when: { tie: open }
  - text: "{name} on {apparatus}, {scores}: level, {place} to {worst}{soFar} by the tie rules{unequal}."
    when: { tie: open }
`;

export const outcome = lineKind({
  name: 'outcome',
  fields: [
    ...WHO_FIELDS,
    ...['apparatus', 'scores', 'from', 'to', 'place', 'worst', 'soFar', 'unequal'],
    ...['levelWith', 'rule', 'chance'],
  ],
  when: {
    of: OF,
    place: PLACE,
    tie: ['none', 'shared', 'open'],
    board: BOARD,
    when: ['now', 'rotation', 'end'],
  },
  isOfOne: false,
  isUnasked: always,
  facts: outcomeFacts,
  templates: TEMPLATES,
});

function outcomeFacts(context: Context): Fact[] {
  const { meet, contest, routines } = context;
  const recorded = recordedPerformances(meet);
  return routines.flatMap((routine) => {
    const contender = contest.contenders.find((c) => c.routines.includes(routine.index));
    if (contender === undefined || entryOf(contender, recorded).out) return [];
    const bands = bandsOf(context, contender, routine);
    const board = boardOf(context, routine);
    const shared = {
      ...whoFields(context, contender, routine.gymnast),
      apparatus: context.names.apparatus(routine.apparatus),
      ...board.fields,
    };
    const names = new Map<string, number>();
    return bands.map((band): Fact => {
      const name = [band.place, band.open ? 'open' : band.tied ? 'shared' : ''].join('-');
      const count = (names.get(name) ?? 0) + 1;
      names.set(name, count);
      const key = [routine.apparatus, context.when, name, String(count)];
      return factOf(context, { contender, routine, band, key, board: board.mark, shared });
    });
  });
}

/** Right after the routine true whatever D and E come with it; later, if all else goes as expected. */
function bandsOf(
  { meet, contest, when }: Context,
  contender: Contender,
  routine: Routine,
): PreparedBand[] {
  if (when === 'now') return preparedBands(meet, contest, contender, routine);
  const asked = { contest: contest.id, when, rivals: 'likely', chances: false } as const;
  const answer = ifRangesAre(() =>
    outcomes(meet, routine.gymnast, { ...asked, on: routine.apparatus }),
  );
  if (answer?.contender !== contender.id) return [];
  return answer.bands.map((band) => ({
    ...band,
    worst: band.place + (band.open ? band.levelWith.length : 0),
  }));
}

/** The board that the places are of, and what is said of it. */
function boardOf(context: Context, routine: Routine) {
  const { meet, contest, when } = context;
  const isOver = (r: Routine) => (when === 'now' ? r === routine : r.at <= routine.at);
  const progress = progressAfter(meet, contest, isOver);
  if (when === 'now') {
    return { mark: progress.footing, fields: soFarAfter(context, progress, routine) };
  }
  const until = when === 'end' ? ' at the end' : ' after this rotation';
  return {
    mark: when === 'end' ? 'even' : progress.footing,
    fields: { soFar: asIs(until), unequal: asIs(', if all else goes as expected') },
  };
}

interface Prepared {
  readonly contender: Contender;
  readonly routine: Routine;
  readonly band: PreparedBand;
  readonly key: readonly string[];
  readonly board: string;
  /** The fields that all bands of a routine have alike. */
  readonly shared: Fact['fields'];
}

function factOf(context: Context, prepared: Prepared): Fact {
  const { meet, contest, when } = context;
  const { contender, routine, band, key, board, shared } = prepared;
  const { from, to, place, worst, open, tieBy, levelWith, chance } = band;
  const limit = limitAt(meet, routine.index);
  return {
    about: aboutRoutine(contender, routine.gymnast),
    key,
    values: {
      ...NO_VALUES,
      by: when,
      apparatus: routine.apparatus,
      session: routine.session,
      rotation: routine.rotation,
      from,
      to,
      place,
      worst,
      tied: open ? null : band.tied,
      tieBy,
      levelWith,
      chance,
    },
    marks: {
      ...ofMark(contest),
      place: placeMark(contest, place),
      tie: open ? 'open' : band.tied ? 'shared' : 'none',
      board,
      when,
    },
    fields: {
      ...shared,
      scores: asIs(scoresInWords(meet, band, limit)),
      from: scoreIn(meet, from),
      to: scoreIn(meet, to),
      place: placeWords(place),
      worst: placeWords(worst),
      levelWith: namesIn(context, levelWith),
      rule: tieBy === null ? null : asIs(ruleInWords(tieBy)),
      chance: chance === null || !isTelling(band, limit) ? null : asIs(chanceText(chance)),
    },
  };
}

/** Outside her range is not impossible; and that she has one score or another need not be said. */
function isTelling({ from, to, chance }: PreparedBand, limit: Units): boolean {
  return chance !== 0 && !(from === 0 && to === limit);
}

function scoresInWords(meet: Meet, { from, to }: PreparedBand, limit: Units): string {
  const show = (score: Units) => formatScore(score, meet.scoring.decimals);
  if (to === limit && from < to) return from === 0 ? 'any score' : `${show(from)} or better`;
  if (from === to) return show(from);
  return from === 0 ? `${show(to)} or less` : `${show(from)} to ${show(to)}`;
}
