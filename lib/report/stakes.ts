/** What the routines to come do to the title. */
import type { Stake } from '../chances/stakes.js';
import type { Meet, Routine } from '../meet/meet.js';
import { nextUp } from '../meet/now.js';
import { chanceInWords, WORTH_SAYING } from './chance-words.js';
import { nameColumn } from './name-columns.js';
import { type Section, title } from './report.js';
import { rotationColumns } from './rotation-columns.js';
import { type ColumnOf, tableOf } from './table.js';
import { shortName } from './words.js';

/** Of the routines after the next ones, those with the most at stake. */
const LATER_SHOWN = 3;

type TitleChances = Stake['title'][number];

/** What one routine does to the title. */
interface StakeRow {
  readonly stake: Stake;
  readonly routine: Routine;
  /** To the chances of its own gymnast, or team. */
  readonly own: TitleChances | null;
  /** Of all the others, the one whose chances it moves most. */
  readonly other: TitleChances | null;
}

/** The next up at each station, and what is most at stake after them. */
export function stakesSection(meet: Meet, stakes: readonly Stake[], error: number): Section {
  const next = new Set(nextUp(meet).map((r) => r.index));
  const rows = stakeRows(meet, stakes);
  const now = rows.filter((r) => next.has(r.routine.index));
  const later = rows
    .filter((r) => !now.includes(r) && swing(r) >= WORTH_SAYING)
    .sort((a, b) => swing(b) - swing(a))
    .slice(0, LATER_SHOWN);
  const rest = rows.length - now.length - later.length;
  const more = rest > 0 ? [`${rest} more routine${rest === 1 ? ' is' : 's are'} to come`] : [];
  return [
    title('What the next routines do to the title'),
    tableOf(
      [
        { head: '', cell: (r) => (now.includes(r) ? 'next up' : 'later') },
        ...columnsOf(meet, error),
      ],
      [...now, ...later],
      {
        notes: [
          'one routine in ten is worse than the bad one, one in ten better than the good one',
          ...more,
        ],
      },
    ),
  ];
}

function columnsOf(meet: Meet, error: number): ColumnOf<StakeRow>[] {
  const change = ({ low, high }: TitleChances) =>
    `${chanceInWords(low, error)} → ${chanceInWords(high, error)}`;
  return [
    ...rotationColumns<StakeRow>(meet, (r) => r.routine, 1),
    { head: 'on', cell: (r) => r.stake.apparatus },
    nameColumn(meet, (r) => r.stake.gymnast),
    {
      head: 'wins: bad → good',
      cell: (r) => {
        if (swing(r) < WORTH_SAYING) return 'changes nothing';
        return r.own === null ? chanceInWords(0, error) : change(r.own);
      },
    },
    {
      head: 'and for whom it matters most',
      cell: (r) =>
        r.other === null || moved(r.other) < WORTH_SAYING
          ? ''
          : `${shortName(meet, r.other.id)} ${change(r.other)}`,
    },
  ];
}

function stakeRows(meet: Meet, stakes: readonly Stake[]): StakeRow[] {
  return stakes.flatMap((stake): StakeRow[] => {
    const routine = meet.routines.find(
      (r) => r.gymnast === stake.gymnast && r.apparatus === stake.apparatus,
    );
    if (routine === undefined) return [];
    const { team } = meet.gymnasts.find((g) => g.id === stake.gymnast) ?? { team: null };
    const isHers = ({ id }: TitleChances) => id === stake.gymnast || id === team;
    const others = stake.title.filter((t) => !isHers(t)).sort((a, b) => moved(b) - moved(a));
    const own = stake.title.find(isHers) ?? null;
    return [{ stake, routine, own, other: others[0] ?? null }];
  });
}

/** By how much a routine moves the chances it moves most. */
function swing({ own, other }: StakeRow): number {
  return Math.max(moved(own), moved(other));
}

function moved(title: TitleChances | null): number {
  return title === null ? 0 : Math.abs(title.high - title.low);
}
