/** Kinds of meet: the contests and rules that are usual for each, as far as the field allows. */
import type { KnownRules } from './known-rules.js';
import type { ContestRules, Meet } from './meet.js';

/**
 * What `--kind` of `new` takes.
 * @example
 * MEET_KINDS.includes('qualification') // → true
 */
export const MEET_KINDS = [
  'all-around',
  'qualification',
  'team',
  'team-final',
  'dual',
  'finals',
  'day-two',
] as const;

/** What sort of meet a start list is of. */
export type MeetKind = (typeof MEET_KINDS)[number];

/** What of a field its contests depend on. */
export interface FieldFacts {
  /** How many do every apparatus. */
  readonly allAround: number;
  readonly apparatus: readonly {
    readonly code: string;
    readonly competing: number;
    /** How many of them do a second one. */
    readonly twice: number;
  }[];
  readonly teams: number;
  /** How many of a team go up on an apparatus, at most. */
  readonly mostUp: number;
  readonly hasLineUps: boolean;
  /** The first day, and the name of its file. */
  readonly earlier: { readonly file: string; readonly meet: Meet | null } | null;
}

/** Lines of a meet file under `contests:`, comments among them. */
type Lines = readonly string[];

const CONTESTS: Readonly<Record<MeetKind, (field: FieldFacts, rules: KnownRules) => Lines>> = {
  'all-around': () => ['  - all-around'],
  qualification,
  team: (field) => teamLines(field, 4, 3),
  'team-final': (field) => teamLines(field, 3, 3),
  dual: (field) => [
    ...teamLines(field, 6, 5),
    ...(field.allAround > 1 ? ['  - all-around'] : []),
    ...apparatusLines(field, null),
  ],
  finals: (field) => apparatusLines(field, null),
  'day-two': dayTwo,
};

/** The lines for the contests of a kind of meet. */
export function contestLines(kind: MeetKind, field: FieldFacts, rules: KnownRules): Lines {
  return CONTESTS[kind](field, rules);
}

interface Through {
  readonly places: number;
  readonly reserves: number;
}

/** To the all-around final, to a final on an apparatus, and to the team final. */
const ALL_AROUND: Through = { places: 24, reserves: 4 };
const APPARATUS: Through = { places: 8, reserves: 3 };
const TEAMS: Through = { places: 8, reserves: 0 };

/** So many of one team go through to a final. */
const PER_TEAM = 2;

function qualification(field: FieldFacts): Lines {
  const quota = field.teams > 0 ? `, at most ${PER_TEAM} of one team` : '';
  return [
    `  # Who goes through${quota}; then the reserves, who step in in that order.`,
    ...withAdvance('kind: all-around', 'the all-around', field.allAround, ALL_AROUND, field),
    ...apparatusLines(field, APPARATUS),
    ...(field.teams > 0 ? teamLines(field, 4, 3, TEAMS) : []),
  ];
}

/** A contest with who goes through from it; where everyone would, without. */
function withAdvance(
  contest: string,
  name: string,
  competing: number,
  { places, reserves }: Through,
  field: FieldFacts | null,
): Lines {
  const perTeam = field !== null && field.teams > 0 ? `, perTeam: ${PER_TEAM}` : '';
  const waiting = Math.min(reserves, Math.max(competing - places, 0));
  const rest = waiting > 0 ? `, reserves: ${waiting}` : '';
  const advance = `advance: { places: ${places}${perTeam}${rest} }`;
  if (competing > places) return [`  - { ${contest}, ${advance} }`];
  const why = `As a rule ${places} go through from ${name}, and only ${competing} compete here.`;
  return [`  # ${why} Where fewer go through: advance: { places: … }`, `  - { ${contest} }`];
}

/** The apparatus contests, each where somebody is on it. */
function apparatusLines(field: FieldFacts, through: Through | null): Lines {
  return field.apparatus.flatMap(({ code, competing, twice }) => {
    if (competing === 0) return [];
    const hasTwo = code === 'VT' && twice > 0;
    const contest = `kind: apparatus, on: ${code}${hasTwo ? ', vaults: 2' : ''}`;
    if (through === null) return [`  - { ${contest} }`];
    return withAdvance(contest, code, hasTwo ? twice : competing, through, field);
  });
}

/** A team contest with as many up and counting as usual, or as this field has. */
function teamLines(field: FieldFacts, up: number, count: number, through: Through | null = null) {
  const most = Math.max(field.mostUp, 1);
  const counting =
    most > up && field.hasLineUps ? most - (up - count) : Math.min(count, Math.max(most, 1));
  const contest = `kind: team, up: ${most}, count: ${counting}`;
  const comment =
    most > up && !field.hasLineUps
      ? `  # As a rule ${up} go up and ${count} count. Here ${most} of a team are on an apparatus: say who goes up with lineup: or on:`
      : `  # Up to ${most} of a team go up on an apparatus, and the best ${counting} count.`;
  if (through === null) return [comment, `  - { ${contest} }`];
  return [comment, ...withAdvance(contest, 'the teams', field.teams, through, null)];
}

/** The contests of the first day, each with what was done in it. */
function dayTwo({ earlier, teams }: FieldFacts, rules: KnownRules): Lines {
  const carried = JSON.stringify(earlier?.file ?? '');
  const before: readonly Pick<ContestRules, 'id' | 'kind' | 'settings'>[] = earlier?.meet
    ?.contests ?? [{ id: 'all-around', kind: 'all-around', settings: {} }];
  return [
    '  # The totals of the first day are brought in; the contests have the ids they had there.',
    ...before.flatMap(({ id, kind, settings }) => {
      const reader = rules.contests.find((c) => c.name === kind);
      if (reader === undefined || (reader.ranks === 'teams' && teams === 0)) return [];
      const named = reader.idByDefault(settings) === id ? '' : `, id: ${JSON.stringify(id)}`;
      const keys = Object.entries(settings).map(([key, value]) => `, ${key}: ${value}`);
      return [`  - { kind: ${kind}${keys.join('')}${named}, carried: ${carried} }`];
    }),
  ];
}
