/** What there is to say: answers of the other rooms, one fact a line, with the words it may be said in. */
import { chances } from '../chances/chances.js';
import { fieldExtremes, settledIn } from '../chances/settled.js';
import { rank } from '../contest/board.js';
import type { Contest } from '../contest/contest.js';
import { recordedPerformances } from '../contest/recorded.js';
import { standings } from '../contest/standings.js';
import { isScored, isToCome, limitAt, type Meet, type Routine } from '../meet/meet.js';
import { ifRangesAre } from '../needs/likely.js';
import { preparedBands } from '../needs/outcomes.js';
import { needsOfRoutines } from '../needs/sheet.js';
import { figureOf, sharedInWords, tieOfFigure } from '../report/figure.js';
import { listed, ordinal, percent } from '../report/words.js';
import type { Contender } from '../rules/contender.js';
import { entryOf } from '../rules/entry.js';
import { formatScore, type Score, type Units } from '../score.js';
import type { Context } from './context.js';
import type { CaptionKind } from './kinds.js';
import type { Words } from './words.js';

/** Something to say. */
export interface Fact {
  readonly kind: CaptionKind;
  /** Ids, whoever it is said of first. */
  readonly about: readonly string[];
  readonly apparatus: string | null;
  /** The score band of an outcome; null elsewhere. */
  readonly from: Score | null;
  readonly to: Score | null;
  readonly chance: number | null;
  /** What the conditions of a template are compared with. */
  readonly marks: Readonly<Record<string, string>>;
  /** By field; null where there is nothing to say. */
  readonly fields: Readonly<Record<string, Words | null>>;
}

const asIs =
  (text: string): Words =>
  () =>
    text;

const scoreIn = (meet: Meet, score: Units | null | undefined): Words | null =>
  score == null ? null : asIs(formatScore(score, meet.scoring.decimals));

const placeWords = (place: number | null): Words | null =>
  place === null ? null : asIs(ordinal(place));

/** The fields that every kind about somebody has. */
function whoFields({ meet, contest, names, words }: Context, contender: Contender, id: string) {
  const isGymnast = meet.gymnasts.some((g) => g.id === id);
  const { she, her } = isGymnast ? words : { she: 'it', her: 'its' };
  const team = contest.kind.ranks === 'teams' ? contender.id : contender.team;
  return {
    name: names.of(id),
    team: team === null ? null : names.of(team),
    contest: asIs(contest.id),
    she: asIs(she),
    her: asIs(her),
    She: asIs(capital(she)),
    Her: asIs(capital(her)),
  };
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}

/** In a team contest a routine is the gymnast's and the team's. */
function aboutRoutine(contender: Contender, gymnast: string): string[] {
  return contender.id === gymnast ? [gymnast] : [gymnast, contender.id];
}

function placeMark(contest: Contest, place: number): string {
  if (place === 1) return 'first';
  return place <= contest.medals ? 'medal' : 'other';
}

const ofMark = ({ kind }: Contest) => ({ of: kind.ranks === 'teams' ? 'team' : 'gymnast' });

const yesNo = (holds: boolean) => (holds ? 'yes' : 'no');

const NO_BAND = { from: null, to: null, chance: null } as const;

/** By kind: everything there is to say of it now. */
export const FACTS: Readonly<Record<CaptionKind, (context: Context) => Fact[]>> = {
  change: changeFacts,
  settled: settledFacts,
  standing: standingFacts,
  need: needFacts,
  outcome: outcomeFacts,
  medals: medalFacts,
};

/** What the routines that were scored since did: to those who did them, then to the others. */
function changeFacts(context: Context): Fact[] {
  const { meet, before, contest, names } = context;
  const rowsOf = (m: Meet) => rank(contest, recordedPerformances(m)).rows;
  const placesIn = (rows: ReturnType<typeof rowsOf>) =>
    new Map(rows.map((r) => [r.entry.contender.id, r.place]));
  const rows = rowsOf(meet);
  const [was, is] = [placesIn(rowsOf(before)), placesIn(rows)];
  const tied = new Set(rows.filter((r) => r.tied).map((r) => r.entry.contender.id));
  const changed = meet.routines.filter(
    ({ index }) => JSON.stringify(meet.results[index]) !== JSON.stringify(before.results[index]),
  );
  const latest = changed.length <= MOST_AT_ONCE ? changed : [];
  const told = new Set<string>();
  const factFor = (contender: Contender, routine: Routine | null): Fact => {
    const [from, to] = [was.get(contender.id) ?? null, is.get(contender.id) ?? null];
    const result = routine === null ? null : meet.results[routine.index];
    told.add(contender.id);
    const gymnast = routine?.gymnast ?? contender.id;
    return {
      ...NO_BAND,
      kind: 'change',
      about: aboutRoutine(contender, gymnast),
      apparatus: routine?.apparatus ?? null,
      marks: {
        ...ofMark(contest),
        what: routine === null ? 'moved' : isScored(result) ? 'score' : 'withdrawn',
        ...wayMark(from, to),
        tied: yesNo(tied.has(contender.id)),
      },
      fields: {
        ...whoFields(context, contender, gymnast),
        apparatus: routine === null ? null : names.apparatus(routine.apparatus),
        score: isScored(result) ? scoreIn(meet, result.score) : null,
        total: scoreIn(meet, entryOf(contender, recordedPerformances(meet)).total),
        place: placeWords(to),
        was: placeWords(from),
      },
    };
  };
  const own = latest.flatMap((routine) => {
    const contender = contest.contenders.find((c) => c.routines.includes(routine.index));
    // A row that was taken back leaves nothing to say but the places that moved.
    if (contender === undefined || meet.results[routine.index] === null) return [];
    return [factFor(contender, routine)];
  });
  const moved = contest.contenders
    .filter(({ id }) => !told.has(id) && (was.get(id) ?? null) !== (is.get(id) ?? null))
    .sort((a, b) => (is.get(a.id) ?? Infinity) - (is.get(b.id) ?? Infinity));
  return [...own, ...moved.map((c) => factFor(c, null))];
}

/** More routines than this are a rotation, of which the places tell. */
const MOST_AT_ONCE = 6;

function wayMark(from: number | null, to: number | null): { way?: string } {
  if (to === null) return {};
  if (from === null) return { way: 'new' };
  return { way: to < from ? 'up' : to > from ? 'down' : 'same' };
}

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

function standingFacts(context: Context): Fact[] {
  const { meet, contest } = context;
  const { rows } = standings(meet, { contest: contest.id });
  const over = contest.contenders.every((c) => c.routines.every((i) => !isToCome(meet, i)));
  return rows.flatMap((row, i): Fact[] => {
    const contender = contest.contenders.find((c) => c.id === row.id);
    if (row.place === null || contender === undefined) return [];
    const next = rows[i + 1];
    const lead = row.place === 1 && next != null && next.place !== null ? next.behind : null;
    return [
      {
        ...NO_BAND,
        kind: 'standing',
        about: [row.id],
        apparatus: null,
        marks: {
          ...ofMark(contest),
          place: placeMark(contest, row.place),
          tied: yesNo(row.tied),
          over: yesNo(over),
        },
        fields: {
          ...whoFields(context, contender, row.id),
          place: placeWords(row.place),
          total: scoreIn(meet, row.total),
          // Behind by nothing is a tie that a rule decided; by less than nothing, somebody is out.
          behind: row.behind !== null && row.behind > 0 ? scoreIn(meet, row.behind) : null,
          lead: lead !== null && lead > 0 ? scoreIn(meet, lead) : null,
          done: asIs(routinesInWords(row.done)),
          left: asIs(routinesInWords(row.toCome.length)),
        },
      },
    ];
  });
}

function routinesInWords(count: number): string {
  return count === 1 ? '1 routine' : `${count} routines`;
}

/** What the next up need to lead, to win and for a medal, and to hold the place they have. */
function needFacts(context: Context): Fact[] {
  const { meet, contest, names, routines } = context;
  const now = needsOfRoutines(meet, contest, routines, { for: 'lead' });
  const atEnd = needsOfRoutines(meet, contest, routines, { when: 'end', rivals: 'likely' });
  return now.flatMap((sheet, i) => {
    const contender = contest.contenders.find((c) => c.id === sheet.contender);
    if (contender === undefined) return [];
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
        },
        fields: {
          ...whoFields(context, contender, sheet.gymnast),
          apparatus: names.apparatus(sheet.apparatus),
          score: scoreIn(meet, score),
          tie: tie === null ? null : asIs(tieOfFigure(meet, tie, sharedInWords(need.target))),
          ahead: scoreIn(meet, need.ahead),
          level: scoreIn(meet, need.level),
          e: scoreIn(meet, need.e),
          reach: need.reach === null || need.reach === 0 ? null : asIs(chanceText(need.reach)),
          rival: need.mark?.id == null ? null : names.of(need.mark.id),
          total: scoreIn(meet, sheet.total),
          place: placeWords(sheet.place),
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
        },
        fields: {
          ...whoFields(context, contender, routine.gymnast),
          apparatus: names.apparatus(routine.apparatus),
          scores: asIs(scoresInWords(meet, band.from, band.to, limitAt(meet, routine.index))),
          from: scoreIn(meet, band.from),
          to: scoreIn(meet, band.to),
          place: placeWords(band.place),
          worst: placeWords(band.worst),
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

function scoresInWords(meet: Meet, from: Units, to: Units | null, limit: Units | null): string {
  const show = (score: Units) => formatScore(score, meet.scoring.decimals);
  if (to === null || to === limit) return from === 0 ? 'any score' : `${show(from)} or better`;
  if (from === to) return show(from);
  return from === 0 ? `${show(to)} or less` : `${show(from)} to ${show(to)}`;
}

/** So many medal outcomes are prepared, the likeliest. */
const MOST_MEDALS = 12;

/** The medals in order, the likeliest first, where the ranges allow to say so. */
function medalFacts({ meet, contest, names }: Context): Fact[] {
  const answer = ifRangesAre(() => chances(meet, null, { contest: contest.id }));
  return (answer?.podiums ?? []).slice(0, MOST_MEDALS).map(({ places, chance }): Fact => {
    const onPlace = (i: number): Words | null => {
      const ids = places[i] ?? [];
      return ids.length === 0 ? null : (short) => listed(ids.map((id) => names.of(id)(short)));
    };
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
