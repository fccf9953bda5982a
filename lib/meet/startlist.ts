/** `new`: a meet file from a start list, or an empty one with comments. */
import { DISCIPLINES, type DisciplineCode } from '../apparatus.js';
import { badUsage, LastRotationError } from '../error.js';
import { withIds } from './ids.js';
import type { KnownRules } from './known-rules.js';
import type { Meet } from './meet.js';
import { isSound, type Problem, type ProblemList, plain, report } from './problems.js';
import { type MeetSources, readMeetBy, type Source } from './read.js';
import { factsOf, fieldOf } from './start-field.js';
import { contestLines, type FieldFacts, type MeetKind } from './start-kinds.js';
import { type Entrant, readStartList } from './start-rows.js';
import { meetText } from './start-text.js';

/** What is known of a meet before its file is written. */
export interface NewMeetOptions {
  /** What the meet is called. */
  readonly title?: string | null;
  /** Which apparatus there are; `wag` where it is not said. */
  readonly discipline?: DisciplineCode;
  /** `ten` for a dual meet, `open` for all else, where it is not said. */
  readonly scoring?: 'open' | 'ten' | null;
  /** Whose contests and rules it gets; found in the start list where it is not said. */
  readonly kind?: MeetKind | null;
  /** 2: everyone on vault does two; else those whom the list has for a second. */
  readonly vaults?: 1 | 2;
  /** The meet file of the first day, as the meet file is to name it. */
  readonly carried?: string | null;
  /** Brings the files of that day; null when there is none. */
  readonly earlier?: (name: string) => MeetSources | null;
}

/** A meet file that was made, and what was understood of the start list. */
export interface NewMeet {
  /** The text of the meet file; null when the start list cannot be used. */
  readonly text: string | null;
  /** Null where its contests are left open. */
  readonly kind: MeetKind | null;
  /** Ids of its contests. */
  readonly contests: readonly string[];
  /** How many gymnasts there are. */
  readonly gymnasts: number;
  /** How many groups they start in. */
  readonly groups: number;
  /** What was wrong with the start list or is worth knowing of it. */
  readonly problems: readonly Problem[];
}

/**
 * A meet file's text. The start list is a CSV with a column `name`, and if wanted `id`, `team`, `session`,
 * `group` (the apparatus it starts on, its number, bye, or a route), columns by the name of an apparatus
 * (the position in which she goes up there), `on`, `carried` and what a gymnast is called (`family`, `short`,
 * `say`, `country`, `bib`); its rows are in start order. Without one the file has an example to write over.
 */
export function newMeetBy(
  rules: KnownRules,
  startList: Source | null,
  options: NewMeetOptions = {},
): NewMeet {
  const problems: Problem[] = [];
  const list: ProblemList = { file: startList?.file ?? '', problems };
  requireList(startList, options);
  const discipline = options.discipline ?? 'wag';
  const apparatus = DISCIPLINES[discipline].apparatus.map(([code, name]) => ({ code, name }));
  const codes: string[] = apparatus.map((a) => a.code);
  const earlier = earlierDay(rules, options);
  const rows = startList === null ? EXAMPLE : readStartList(startList.text, apparatus, list);
  const named = withIds(withEarlierIds(rows, earlier?.meet ?? null));
  const field = fieldOf(named, codes, { ...options, earlier: earlier?.meet ?? null }, list);
  const { kind } = field;
  const contests = kind && contestLines(kind, { ...factsOf(field), earlier }, rules);
  const scoring = options.scoring ?? (kind === 'dual' ? 'ten' : 'open');
  const title = options.title ?? null;
  const text = meetText({ ...field, title, discipline, scoring, contests });
  const ids: string[] = [];
  // Whatever a start list may hold: a meet file that is not sound is not written.
  if (isSound(problems)) {
    const sources = { meet: { file: list.file, text }, earlier: options.earlier ?? (() => null) };
    const read = readMeetBy(rules, sources);
    ids.push(...(read.meet?.contests.map((c) => c.id) ?? []));
    for (const { severity, code, message, mend } of read.problems) {
      // A note of the file is said by `check`, whose file it is, and that ranges are missing is no news.
      if (severity === 'note' || code === 'missing-range') continue;
      report(list, severity, code, null, message, mend);
    }
  }
  problems.sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  return {
    text: isSound(problems) ? text : null,
    kind,
    contests: ids,
    gymnasts: named.length,
    groups: field.groups.filter((g) => g.order.length > 0).length,
    problems,
  };
}

/** What the options ask for that cannot be had without a list, or without a first day. */
function requireList(startList: Source | null, { kind, carried }: NewMeetOptions): void {
  if (kind === 'day-two' && (carried ?? null) === null) {
    throw badUsage(
      'bad-usage',
      'a second day brings in the totals of the first',
      'name its meet file: --carried day-one.yaml',
    );
  }
  if (carried != null && kind != null && kind !== 'day-two') {
    const message = `totals of a first day are brought into a day-two, not into: ${kind}`;
    throw badUsage('bad-usage', message, 'take one of the two away');
  }
  if (startList !== null || ((kind ?? 'all-around') === 'all-around' && carried == null)) return;
  throw badUsage(
    'bad-usage',
    `${kind ?? 'day-two'} is made from a start list`,
    'name it: lastrotation new start-list.csv --kind …',
  );
}

const EXAMPLE: readonly Entrant[] = ['first', 'second'].map((id, i) => ({
  id,
  name: `${i === 0 ? 'First' : 'Second'} Gymnast`,
  family: null,
  ...{ short: '', say: '', country: '', bib: '', team: '', group: '', on: '', carried: '' },
  session: null,
  positions: {},
  vaultsTwice: false,
  line: 0,
}));

/** The first day that is to be brought in; null where there is none. Throws where it is not sound. */
function earlierDay(
  rules: KnownRules,
  { carried, earlier }: NewMeetOptions,
): FieldFacts['earlier'] {
  if (carried == null) return null;
  const sources = earlier?.(carried) ?? null;
  if (sources === null) return { file: carried, meet: null };
  const { meet, problems } = readMeetBy(rules, sources);
  const first = problems.find((p) => p.severity === 'error');
  if (meet === null && first !== undefined)
    throw new LastRotationError(first.message, { ...first, kind: 'file' });
  return { file: carried, meet };
}

/** Who has no id of her own has the one of the first day. */
function withEarlierIds(rows: readonly Entrant[], meet: Meet | null): readonly Entrant[] {
  if (meet === null) return rows;
  return rows.map((row) => {
    const isHers = ({ name }: { readonly name: string }) => plain(name) === plain(row.name);
    const [before, ...others] = meet.gymnasts.filter(isHers);
    const isAlone = others.length === 0 && rows.filter(isHers).length === 1;
    return row.id === '' && isAlone && before !== undefined ? { ...row, id: before.id } : row;
  });
}
