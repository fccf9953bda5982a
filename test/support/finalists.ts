/**
 * Who went on from the qualifications of the open data, by the library: a meet file and a log from the
 * rows of a competition, read and asked as anybody would; and who appears in its finals.
 */
import { type Meet, type StandingsRow, standings } from '../../lib/index.js';
import { meetFrom } from './meet.js';
import { groupedBy, logRow, meetOf, once, type Row, routines } from './open-data.js';

export type Kind = 'world cup' | 'championships' | 'games' | 'national';

/**
 * The kind of a competition, which says the rules; null where what is called qualification chooses no
 * finalists like that: day one and day two of the same field, a team challenge with finals of six.
 */
function kindOf(competition: string): Kind | null {
  if (/U\.S\.|Team Challenge/.test(competition)) return null;
  if (/British/.test(competition)) return 'national';
  if (/World (Challenge )?Cup/.test(competition)) return 'world cup';
  if (/Championships/.test(competition)) return 'championships';
  return /Games/.test(competition) ? 'games' : null;
}

/** Places on an apparatus and of teams; all-around finals differ in size, so many as were held. */
const PLACES = 8;
const APPARATUS: Readonly<Record<string, readonly string[]>> = {
  wag: ['VT', 'UB', 'BB', 'FX'],
  mag: ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'],
};
const QUALIFICATIONS = ['qual', 'AAqual', 'TeamQual'];

interface Entrant {
  readonly id: string;
  readonly noc: string;
  readonly done: readonly { readonly on: string; readonly row: Row }[];
}

export interface Qualification {
  readonly where: string;
  readonly kind: Kind;
  readonly discipline: string;
  readonly field: readonly Entrant[];
  readonly finals: readonly Final[];
}

export interface Finalist {
  readonly id: string;
  readonly noc: string;
  /** On the apparatus; null in an all-around and a team final. */
  readonly place: number | null;
}

export interface Final {
  /** The id of the contest from which they come. */
  readonly contest: string;
  readonly places: number;
  readonly finalists: readonly Finalist[];
}

/** A gymnast by her code; with the country where one code has several at a competition. */
function idsOf(rows: readonly Row[]): (row: Row) => string {
  const several = groupedBy(rows, (r) => r.gymnast)
    .filter((hers) => new Set(hers.map((r) => r.noc)).size > 1)
    .map((hers) => hers[0]?.gymnast);
  return (r) => (several.includes(r.gymnast) ? `${r.gymnast}-${r.noc}` : r.gymnast);
}

/** One gymnast's qualification, each apparatus once; a second vault without the first is left out. */
function entrant(id: string, hers: readonly Row[]): Entrant {
  const second = hers.find((r) => r.apparatus === 'VT2');
  const codes = [...new Set(hers.map((r) => r.apparatus))];
  return {
    id,
    noc: hers[0]?.noc ?? '',
    done: codes
      .filter((code) => code !== 'VT2' || codes.includes('VT'))
      .flatMap((on) => {
        const all = hers.filter((r) => r.apparatus === on);
        // Whoever does two is on two sheets; that of the two vaults has the place of their average.
        const row = all.find((r) => on === 'VT' && r.place === second?.place) ?? all[0];
        return row === undefined ? [] : [{ on, row }];
      }),
  };
}

/** All who have rows, each with her routines. */
export function entrants(rows: readonly Row[], idOf = idsOf(rows)): Entrant[] {
  return groupedBy(rows, idOf).map((hers) => entrant(idOf(hers[0] as Row), hers));
}

function finalsOf(rows: readonly Row[], idOf: (row: Row) => string): Final[] {
  const final = (contest: string, places: number | null, its: readonly Row[]): Final[] => {
    const finalists = groupedBy(its, idOf).map((hers) => ({
      id: idOf(hers[0] as Row),
      noc: hers[0]?.noc ?? '',
      place: places === null ? null : (hers[0]?.place ?? null),
    }));
    return its.length === 0 ? [] : [{ contest, places: places ?? finalists.length, finalists }];
  };
  const inRound = (round: string) => rows.filter((r) => r.round === round);
  return [
    ...(APPARATUS[rows[0]?.discipline ?? ''] ?? []).flatMap((on) =>
      final(
        on,
        PLACES,
        inRound('final').filter((r) => r.apparatus.slice(0, 2) === on),
      ),
    ),
    ...final('all-around', null, inRound('AAfinal')),
  ];
}

function qualificationOf(rows: readonly Row[]): Qualification[] {
  const [first] = rows;
  const kind = kindOf(first?.competition ?? '');
  const qualifying = rows.filter((r) => QUALIFICATIONS.includes(r.round));
  if (first === undefined || kind === null || qualifying.length === 0) return [];
  const idOf = idsOf(rows);
  return [
    {
      where: meetOf(first),
      kind,
      discipline: first.discipline,
      field: entrants(qualifying, idOf),
      finals: finalsOf(rows, idOf),
    },
  ];
}

export const qualifications = once(() => groupedBy(routines(), meetOf).flatMap(qualificationOf));

/** Two a country, except where all are of one [practice]. */
export const quotaOf = ({ kind }: Qualification): number | null => (kind === 'national' ? null : 2);

/** The contest from which a final takes its finalists, as a meet file has it. */
function contestOf({ contest, places }: Final, perTeam: number | null): string {
  const quota = perTeam === null ? '' : `perTeam: ${perTeam}, `;
  const advance = `advance: { places: ${places}, ${quota}reserves: 3 }`;
  if (contest === 'all-around') return `{ kind: all-around, ${advance} }`;
  return `{ kind: apparatus, on: ${contest}, ${contest === 'VT' ? 'vaults: 2, ' : ''}${advance} }`;
}

/** A meet of these entrants, all done; whoever has withdrawn since is recorded as DNS. */
export function meetWith(
  { discipline, field }: Pick<Qualification, 'discipline' | 'field'>,
  contests: readonly string[],
  withdrawn: ReadonlySet<string> = new Set(),
): Meet {
  const gymnasts = field.map(
    ({ id, noc, done }) => `  - { id: ${id}, team: ${noc}, on: [${done.map((d) => d.on)}] }`,
  );
  const scores = field.flatMap(({ id, done }) => done.map(({ on, row }) => logRow(row, id, on)));
  const later = field
    .filter(({ id }) => withdrawn.has(id))
    .flatMap(({ id, done }) => done.map(({ on }) => `${id},${on},DNS,,,`));
  return meetFrom(
    `
discipline: ${discipline}
scoring: open
contests:
${contests.map((c) => `  - ${c}`).join('\n')}
gymnasts:
${gymnasts.join('\n')}
`,
    `gymnast,apparatus,score,d,e,nd\n${[...scores, ...later].join('\n')}\n`,
  );
}

/** The boards of the contests of all finals, in one meet. */
export function boardsOf(
  q: Qualification,
  perTeam: number | null,
): { readonly final: Final; readonly rows: readonly StandingsRow[] }[] {
  if (q.finals.length === 0) return [];
  const meet = meetWith(
    q,
    q.finals.map((f) => contestOf(f, perTeam)),
  );
  return q.finals.map((final) => ({
    final,
    rows: standings(meet, { contest: final.contest }).rows,
  }));
}

/** The board of one final's contest alone when some have withdrawn from it. */
export function boardWithout(
  q: Qualification,
  final: Final,
  withdrawn: ReadonlySet<string>,
): readonly StandingsRow[] {
  const counts = (on: string) =>
    final.contest === 'all-around' ? on !== 'VT2' : on.slice(0, 2) === final.contest;
  const field = q.field
    .map((e) => ({ ...e, done: e.done.filter(({ on }) => counts(on)) }))
    .filter((e) => e.done.length > 0);
  return standings(meetWith({ ...q, field }, [contestOf(final, quotaOf(q))], withdrawn)).rows;
}
