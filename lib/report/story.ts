/** The evening in retrospect: where it turned, how close it came, and everyone's chances as they went. */
import { type Contest, findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { type Course, coursesOf } from '../story/contention.js';
import type { StoryPoint } from '../story/point.js';
import type { Story } from '../story/story.js';
import { caution, skippedInChances, WORTH_SAYING, whereFrom } from './chance-words.js';
import { type GoalName, goalWords } from './goals.js';
import { chancesInWords, percentOf } from './in-place.js';
import { nameColumn } from './name-columns.js';
import { openSection } from './open.js';
import { type Cell, type Report, reportOf, type Section, sentence, title } from './report.js';
import { beganInWords, closeInWords, endedInWords, unlikelyInWords } from './story-words.js';
import { type ColumnOf, tableOf } from './table.js';
import { restsOnUsual } from './usual.js';
import {
  capital,
  nameOf,
  numberInWords,
  shower,
  titleOf,
  whereInWords,
  wordsFor,
} from './words.js';

/** How much of a story is told. */
export interface StoryReportOptions {
  /** False where it is no use to say how every score is asked for. */
  readonly hint?: boolean;
  /** Every score, and not only those where it turned. */
  readonly all?: boolean;
}

/**
 * The story of a contest. `meet`: the meet as it stands.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `story` gave it.
 * @param options - `all`: every score, and not only those where it turned; `hint`: false leaves out how to
 *   ask for them.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const log = { file: 'scores.csv', text: 'gymnast,apparatus,score\nbrondt,BB,14.9' };
 * const answer = story(meet, log, { contest: 'BB' });
 * reports.story(meet, answer).flat().flatMap((b) => (b.kind === 'title' ? [b.text] : []))[0] // → "Harbour Invitational, women's all-around final: beam, the story so far"
 */
export function storyReport(
  meet: Meet,
  answer: Story,
  { all = false, hint = true }: StoryReportOptions = {},
): Report {
  const contest = findContest(meet, answer.contest);
  const heading = title(
    `${titleOf(meet, contest.id)}, ${answer.isOver ? 'the story' : 'the story so far'}`,
  );
  if (answer.points.length === 0) {
    return reportOf([heading, sentence('Nothing has been scored yet.')]);
  }
  return reportOf(
    [
      heading,
      ...endedInWords(meet, answer).map((text) => sentence(text, 'strong')),
      ...beganInWords(meet, contest, answer).map((text) => sentence(text)),
    ],
    coursesSection(meet, contest, answer, all),
    turningSection(meet, contest, answer),
    linesUnder('How close it came', closeInWords(meet, contest, answer)),
    linesUnder('What was unlikely', unlikelyInWords(meet, answer)),
    all ? scoresSection(meet, contest, answer) : [],
    basisSection(meet, answer, all || !hint),
  );
}

function linesUnder(heading: string, lines: readonly string[]): Section {
  return lines.length === 0 ? [] : [title(heading), ...lines.map((line) => sentence(line))];
}

/** So many are shown unless all are asked for. */
const MOST_SHOWN = 8;

/** Everyone in contention: how the chances went. */
function coursesSection(meet: Meet, contest: Contest, answer: Story, all: boolean): Section {
  const { about, error, isOver } = answer;
  const goal = goalWords(contest, about);
  const courses = coursesOf(answer, about);
  if (courses.length === 0) return [];
  const shown = all ? courses : courses.slice(0, MOST_SHOWN);
  const more = courses.length - shown.length;
  const percents = (
    head: string,
    chance: (c: Course) => number,
    spare: number | null,
    within = error,
  ) => ({
    head,
    cell: (c: Course) => percentOf(chance(c), within),
    align: 'right' as const,
    spare,
  });
  const wins = courses.reduce((sum, c) => sum + c.start, 0);
  const notes =
    about === 'win' && wins > 1 + WORTH_SAYING + error * courses.length
      ? ['a first place that is shared counts for all who share it']
      : [];
  const columns: ColumnOf<Course>[] = [
    nameColumn(meet, (c: Course) => c.id),
    percents('at first', (c) => c.start, null, answer.start.error),
    percents('lowest', (c) => c.lowest, 2),
    percents('highest', (c) => c.highest, 1),
    percents(isOver ? 'in the end' : 'now', (c) => c.end, null, answer.points.at(-1)?.error),
    { head: 'over the evening', cell: (c): Cell => ({ text: '', spark: c.chances }), spare: 3 },
  ];
  return [
    title(
      `${capital(`chance ${goal?.of ?? ''}`)}, from before the first score to ${isOver ? 'the last' : 'now'}`,
    ),
    tableOf(columns, shown, { notes }),
    ...(more > 0
      ? [
          sentence(
            `${capital(numberInWords(more))} more ${more === 1 ? 'was' : 'were'} in contention.`,
          ),
        ]
      : []),
  ];
}

/** The chances before and after a point, as a score in its place has them. */
function changesAt({ start, points }: Story, point: StoryPoint) {
  const at = points.indexOf(point);
  const was = points[at - 1] ?? start;
  const before = new Map(was.chances.map((c) => [c.id, c]));
  const change = (id: string, target: GoalName, after: number) => ({
    before: before.get(id)?.[target] ?? 0,
    after,
  });
  return {
    error: Math.max(was.error, point.error),
    chances: point.chances.map(({ id, win, medal, advance }) => ({
      id,
      win: change(id, 'win', win),
      medal: change(id, 'medal', medal),
      advance: advance === null ? null : change(id, 'advance', advance),
    })),
  };
}

function turningSection(meet: Meet, contest: Contest, answer: Story): Section {
  const turned = answer.points.filter((p) => answer.turningPoints.includes(p.row));
  const what = goalWords(contest, answer.about)?.what ?? '';
  if (turned.length === 0) {
    const of = answer.about === 'advance' ? 'a place' : what;
    return [sentence(`No single score moved a tenth of ${of}.`)];
  }
  return [
    title(turned.length === 1 ? 'Where it turned' : 'Where it turned, in order'),
    ...turned.map((point) => sentence(pointInWords(meet, answer, point))),
  ];
}

/** "Brondt on beam, rotation 3: 14.266, 0.100 above her average. Chance to win: Brondt up from 15% to 31%." */
function pointInWords(meet: Meet, answer: Story, point: StoryPoint): string {
  const { contest } = answer;
  const changes = { contest, contender: point.contender ?? '', ...changesAt(answer, point) };
  const moved = chancesInWords(meet, changes);
  return `${happenedInWords(meet, point)}. ${moved}`.trim();
}

/** What a row told, and how far it was from what was expected. */
function happenedInWords(meet: Meet, point: StoryPoint): string {
  const { gymnast, apparatus, kind, score, was, now, expected } = point;
  const show = shower(meet);
  const said = (s: StoryPoint['was']) => (typeof s === 'number' ? show(s) : (s ?? ''));
  const name = nameOf(meet, gymnast);
  const where = apparatus === null ? '' : `, ${whereInWords(meet, { gymnast, apparatus })}`;
  if (kind === 'steps-in') return `${name} steps in${where}`;
  if (kind === 'withdrawn')
    return `${name}${where}: ${now ?? 'withdrawn'}${was === null ? '' : `, was ${said(was)}`}`;
  if (kind === 'taken-back') {
    const back = was === null ? 'taken back' : `${said(was)} taken back`;
    return `${name}${where}: ${back}${now === null ? '' : `, ${said(now)} counts again`}`;
  }
  const shown = `${name}${where}: ${said(score)}`;
  if (kind === 'changed') return `${shown} after an inquiry, was ${said(was)}`;
  if (was !== null) return `${shown}, corrected from ${said(was)}`;
  if (score === null || expected === null) return shown;
  const off = score - expected;
  const { her } = wordsFor(meet, gymnast);
  if (off === 0) return `${shown}, ${her} average`;
  return `${shown}, ${show(Math.abs(off))} ${off > 0 ? 'above' : 'below'} ${her} average`;
}

/** Every score, one a row. */
function scoresSection(meet: Meet, contest: Contest, answer: Story): Section {
  const show = shower(meet);
  const { about, error } = answer;
  const goal = goalWords(contest, about);
  const isTeams = contest.kind.ranks === 'teams';
  const chanceAt = (point: StoryPoint) => {
    const hers = changesAt(answer, point).chances.find((c) => c.id === point.contender);
    const change = hers?.[about] ?? null;
    if (change === null || Math.max(change.before, change.after) < WORTH_SAYING) return '';
    return `${percentOf(change.before, error)} → ${percentOf(change.after, error)}`;
  };
  const result = ({ score, now, was }: StoryPoint) =>
    score === null
      ? now === null
        ? was === null
          ? ''
          : 'taken back'
        : String(now)
      : show(score);
  const columns: ColumnOf<StoryPoint>[] = [
    { head: 'row', cell: (p) => String(p.row), align: 'right', spare: 2 },
    nameColumn(meet, (p: StoryPoint) => p.gymnast),
    { head: '', cell: (p) => p.apparatus ?? '' },
    { head: 'score', cell: result, align: 'right' },
    {
      head: 'against average',
      cell: (p) =>
        p.score === null || p.expected === null ? '' : signed(p.score - p.expected, show),
      align: 'right',
      spare: 1,
    },
    {
      head: 'better than',
      cell: (p) =>
        p.percentile === null ? '' : `${Math.min(Math.round(p.percentile), 99)} of 100`,
      align: 'right',
      spare: 3,
    },
    {
      head: `${isTeams ? 'the team’s ' : ''}chance ${goal?.of ?? ''}`,
      cell: chanceAt,
      align: 'right',
    },
  ];
  return [title('Every score'), tableOf(columns, answer.points)];
}

function signed(units: number, show: (units: number) => string): string {
  return units > 0 ? `+${show(units)}` : show(units);
}

function basisSection(meet: Meet, answer: Story, all: boolean): Section {
  const { error, method, skipped, turningPoints } = answer;
  return [
    sentence(
      `${whereFrom({ method, error })} Each rests on what was known at that moment only.`,
      'quiet',
    ),
    ...openSection(meet, answer),
    ...(skipped.length > 0 ? [sentence(skippedInChances(skipped), 'quiet')] : []),
    ...restsOnUsual(meet),
    ...(all || turningPoints.length === answer.points.length
      ? []
      : [sentence('Every score: lastrotation story --all', 'quiet')]),
    caution(),
  ];
}
