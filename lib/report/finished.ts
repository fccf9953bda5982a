/** Who has finished: chances, who can still catch her and with what, and what she needed in the end. */
import { findContest } from '../contest/contest.js';
import { contenderFor } from '../contest/who.js';
import { gymnastOf, type Meet } from '../meet/meet.js';
import { beforeLastScore, type Catcher, type FinishedSheet } from '../needs/finished.js';
import type { Need } from '../needs/need.js';
import type { Needed } from '../needs/needed.js';
import { isOnGrid } from '../scoring.js';
import { caution, settledInWords, unsettled } from './chance-words.js';
import { countedSection } from './counted-scores.js';
import { goalsAsked } from './goals.js';
import { againstRangeInWords, neededInWords, toComeIn } from './in-place.js';
import { openSection } from './open.js';
import { detail, type Report, reportOf, type Section, sentence, title } from './report.js';
import { areEven, boardNow, namingOf, standingInWords } from './standing.js';
import { type ColumnOf, tableOf } from './table.js';
import {
  apparatusName,
  capital,
  contestInWords,
  listed,
  nameOf,
  ordinal,
  ruleInWords,
  shower,
  toComeInWords,
  wordsFor,
} from './words.js';

export function finishedReport(meet: Meet, sheet: FinishedSheet): Report {
  const { isFinal, chances, catchers } = sheet.finished;
  const { her } = wordsFor(meet, sheet.contender);
  const board = boardNow(meet, sheet.contest);
  const row = board.of.get(sheet.contender)?.row;
  return reportOf(
    [
      title(`${sheet.name} has finished (${contestInWords(meet, sheet.contest)})`),
      detail(standingInWords(board, sheet.contender, namingOf(meet))),
      ...lastLines(meet, sheet).map((line) => detail(line)),
    ],
    isFinal
      ? [sentence('Everyone has finished: the place is final.')]
      : chancesSection(meet, sheet),
    isFinal ? [] : catchersSection(meet, sheet),
    row === undefined ? [] : countedSection(meet, { contest: sheet.contest, rows: [row] }, false),
    [
      ...openSection(meet, sheet),
      ...(isFinal ? [] : sheet.settled).map((s) =>
        sentence(
          `For certain: ${settledInWords(findContest(meet, sheet.contest), s, sheet.hold?.place ?? null)}.`,
        ),
      ),
      ...(chances === null && !isFinal
        ? [sentence(`For ${her} chances: lastrotation chances`, 'quiet')]
        : []),
      ...(!isFinal && (chances !== null || catchers.length > 0) ? [caution()] : []),
    ],
  );
}

/** "14.200 on floor, the last score, is 0.166 below what was expected, …"; what she needed then. */
function lastLines(meet: Meet, sheet: FinishedSheet): string[] {
  const { last } = sheet.finished;
  if (last === null) return [];
  const contest = findContest(meet, sheet.contest);
  const gymnast = meet.gymnasts.find((g) => g.id === last.gymnast);
  const contender = gymnast && contenderFor(contest, gymnast);
  const before = contender && beforeLastScore(meet, contender);
  if (before == null) return [];
  const { open } = before;
  const then = toComeIn(open, findContest(open, sheet.contest), sheet.contender);
  // The routine itself was to come.
  const words = {
    contender: sheet.contender,
    others: then.others,
    own: false,
    beyond: true,
    isPast: true,
  };
  const who = sheet.gymnast === null ? ` of ${nameOf(meet, last.gymnast)}` : '';
  const good = againstRangeInWords(meet, last);
  const score = `The last score${who}, ${shower(meet)(last.score)} on ${apparatusName(meet, last.apparatus)}`;
  const { contest: id, contender: whose } = sheet;
  const isFair = ({ mark }: Needed) =>
    areEven(meet, { contest: id, contender: whose, rival: mark?.id ?? null }, 0);
  const needed = neededInWords(meet, last.needed, { ...words, isFair });
  return [
    ...(good === '' ? [`${score}.`] : [`${score}, is ${good}.`]),
    ...(needed === '' ? [] : [needed]),
  ];
}

/** So many who would need more than their ranges reach are named. */
const MOST_NAMED = 4;

/** Places with a smaller chance are not read out. */
const LEAST = 0.005;

function chancesSection(meet: Meet, { contender, contest, finished }: FinishedSheet): Section {
  const { chances, error } = finished;
  if (chances === null || error === null) return [];
  const said = (chance: number) =>
    chance === 0 || chance === 1 ? `${chance * 100}%` : unsettled(chance, error);
  const places = chances.places.flatMap((chance, i) =>
    chance >= LEAST ? [`${ordinal(i + 1)} ${said(chance)}`] : [],
  );
  const { her } = wordsFor(meet, contender);
  const goals = goalsAsked(meet, contest).map(
    ({ of, target }) => `${of} ${said(chances[target] ?? 0)}`,
  );
  return [
    sentence(
      `${[`${capital(her)} chances: ${goals.join(', ')}`, ...(places.length > 1 ? [places.join(', ')] : [])].join('; ')}.`,
      'strong',
    ),
  ];
}

function catchersSection(meet: Meet, sheet: FinishedSheet): Section {
  const { catchers } = sheet.finished;
  if (catchers.length === 0) {
    return [sentence(`Nobody with more to come can still pass ${sheet.name}.`)];
  }
  const isUnnamed = (c: Catcher) => gymnastOf(meet, c.id)?.unnamed === true;
  const unnamed = catchers.filter(isUnnamed).length;
  const known = catchers.filter((c) => !isUnnamed(c));
  const within = known.filter((c) => c.within === 'ranges');
  const beyond = known.filter((c) => c.within === 'limit').map((c) => nameOf(meet, c.id));
  const named = beyond.slice(0, MOST_NAMED);
  const more = beyond.length - named.length;
  const who = listed(more > 0 ? [...named, `${more} more`] : named);
  return [
    ...(within.length === 0
      ? []
      : [
          sentence(`Who can still pass ${sheet.name}, and with what:`),
          tableOf(columnsOf(meet), within, { under: (c) => underLine(meet, c) }),
        ]),
    ...(beyond.length === 0
      ? []
      : [
          sentence(`${who} could still pass ${sheet.name}, but only with scores above the ranges.`),
        ]),
    ...(unnamed === 0
      ? []
      : [sentence(`${unnamed} who are still to be named could pass ${sheet.name} too.`)]),
  ];
}

function columnsOf(meet: Meet): ColumnOf<Catcher>[] {
  const show = shower(meet);
  return [
    { head: '', cell: (c) => nameOf(meet, c.id), isFlexible: true, tone: () => 'strong' },
    { head: 'to come', cell: (c) => toComeInWords(c.toCome), spare: 1 },
    { head: 'total', cell: (c) => show(c.total), align: 'right', spare: 2 },
    {
      head: 'next',
      cell: (c) => apparatusName(meet, c.apparatus),
    },
    {
      head: 'needs there',
      cell: ({ need }) => scoreOf(need, show),
      align: 'right',
      tone: () => 'strong',
    },
    {
      head: 'needs in all',
      cell: ({ need }) => (need.remainingTotal === null ? '' : show(need.remainingTotal)),
      align: 'right',
    },
    {
      head: 'chance to pass',
      cell: ({ chance }) => (chance === null ? '' : unsettled(chance, 0)),
      align: 'right',
    },
  ];
}

function scoreOf(need: Need, show: (score: number) => string): string {
  if (need.status === 'secured') return 'any';
  return need.onGrid === null ? '–' : show(need.onGrid);
}

function underLine(meet: Meet, { need, toCome }: Catcher): string[] {
  const show = shower(meet);
  const others =
    toCome.length > 1 && need.status !== null
      ? ['the score there if the other routines score as expected']
      : [];
  const by = need.tieBy === null ? '' : ` on ${ruleInWords(need.tieBy)}`;
  const { level, ahead } = need;
  const isReal =
    level !== null &&
    ahead !== null &&
    level < ahead &&
    level <= meet.scoring.ceiling &&
    isOnGrid(level, meet.scoring.grid);
  const tie =
    isReal && need.status !== 'secured'
      ? need.tieGoesTo === 'rival'
        ? [`${show(level)} ties, and loses the tie${by}`]
        : need.tieGoesTo === 'shared'
          ? [`${show(level)} shares the place`]
          : []
      : [];
  const words = [...others, ...tie].join('; ');
  return words === '' ? [] : [words];
}
