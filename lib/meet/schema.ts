/** The shape of a meet file, key by key. */
import * as v from 'valibot';
import { DISCIPLINES, type DisciplineCode, FOLLOW_UP_CODES } from '../apparatus.js';
import { type Decimals, quote, type Units, unitsPerPoint } from '../score.js';
import { SCORING_SYSTEMS } from '../scoring.js';
import type { ContestReader, KnownRules } from './known-rules.js';
import {
  apparatusCode,
  bib,
  byApparatus,
  complaint,
  country,
  id,
  list,
  mapping,
  oneOf,
  printable,
  probability,
  scoreText,
  step,
  text,
  whole,
  wrongKind,
} from './values.js';

function ranges(decimals: Decimals) {
  const score = scoreText(decimals);
  return byApparatus(
    mapping(
      {
        low: v.optional(score),
        likely: v.optional(score),
        high: v.optional(score),
        falls: v.optional(probability),
        d: v.optional(score),
        within: v.optional(score),
      },
      'low, likely, high and falls',
    ),
    'a mapping from apparatus to range',
    'VT: { low: …, likely: …, high: …, falls: … }',
  );
}

/** The schema of one gymnast's ranges, in a file of their own as in the meet file. */
export const rangesSchema = ranges;

export type RangeParts = NonNullable<v.InferOutput<ReturnType<typeof ranges>>[string]>;

/** A contest as it is written: its kind, what every contest may have, and the keys of its kind. */
export interface ContestDocument {
  readonly kind: string;
  readonly id?: string | undefined;
  readonly ties?: readonly (string | null)[] | undefined;
  readonly medals?: number | undefined;
  readonly carried?: string | undefined;
  readonly advance?: v.InferOutput<typeof advance> | undefined;
  readonly [key: string]: unknown;
}

/** Who goes on from a contest to the next. */
const advance = mapping(
  {
    places: whole(1, 999),
    perTeam: v.optional(whole(1, 99)),
    reserves: v.optional(whole(0, 99)),
    ties: v.optional(oneOf(['rules', 'all'])),
  },
  '{ places: 24, perTeam: 2, reserves: 4 }',
);

type ContestSchema = v.GenericSchema<unknown, ContestDocument>;

function tiesOf({ ties }: KnownRules) {
  return list(oneOf(ties), '[] or [best-scores, execution, difficulty]');
}

function contestOfKind({ name, keys, example }: ContestReader, rules: KnownRules): ContestSchema {
  const shared = {
    id: v.optional(id),
    ties: v.optional(tiesOf(rules)),
    medals: v.optional(whole(1, 99)),
    advance: v.optional(advance),
    carried: v.optional(printable('the file of an earlier day')),
  };
  return mapping({ kind: v.literal(name), ...keys, ...shared }, example) as ContestSchema;
}

/** One contest: a mapping with its kind, or the kind alone where it has no keys that must be there. */
function contestSchema(rules: KnownRules): ContestSchema {
  const kinds = rules.contests.map((kind) => [kind.name, contestOfKind(kind, rules)] as const);
  const schemaOf = new Map(kinds);
  const unknownKind = v.looseObject(
    { kind: oneOf(rules.contests.map((kind) => kind.name)) },
    wrongKind('a kind of contest', listed(rules.contests.map((kind) => kind.example))),
  ) as unknown as ContestSchema;
  return v.lazy((input) => {
    const alone = typeof input === 'string' ? schemaOf.get(input) : undefined;
    if (alone !== undefined && v.safeParse(alone, { kind: input }).success) {
      return v.pipe(
        v.unknown(),
        v.transform((kind) => ({ kind: String(kind) })),
      );
    }
    const kind =
      input !== null && typeof input === 'object' ? Reflect.get(input, 'kind') : undefined;
    return schemaOf.get(kind) ?? unknownKind;
  });
}

/** "a, b or c" */
function listed(words: readonly string[]): string {
  const last = words.at(-1) ?? '';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} or ${last}`;
}

const disciplineCode = oneOf(Object.keys(DISCIPLINES) as DisciplineCode[]);

type Discipline = DisciplineCode | v.InferOutput<ReturnType<typeof apparatusList>>;

/** Codes with a meaning of their own. */
const TAKEN_CODES = [...FOLLOW_UP_CODES, 'ALL'];

const apparatusList = (decimals: Decimals) =>
  v.pipe(
    list(
      mapping(
        {
          code: v.pipe(
            apparatusCode,
            v.check(
              (s) => /^[\p{L}\p{N}]{1,8}$/u.test(s) && !TAKEN_CODES.includes(s),
              (issue) =>
                complaint(
                  'wrong-value',
                  `{key} cannot be ${quote(String(issue.input))}`,
                  `up to eight letters and digits, but not ${listed(TAKEN_CODES)}`,
                ),
            ),
          ),
          name: v.optional(printable('the name of the apparatus')),
          limit: v.optional(scoreText(decimals)),
        },
        '{ code: HP, name: hoop, limit: 20.000 }',
      ),
      'a list of { code, name, limit }',
    ),
    v.minLength(
      1,
      complaint('wrong-value', '{key} is an empty list', 'name at least one apparatus'),
    ),
  );

export const decimalsSchema = v.pipe(
  v.optional(oneOf(['3', '4']), '3'),
  v.transform((s): Decimals => (s === '4' ? 4 : 3)),
);

/** A ceiling may be anything from 0 to this, in points. */
const HIGHEST_CEILING = 99;

const ceilingText = (decimals: Decimals) =>
  v.pipe(
    scoreText(decimals),
    v.check(
      (s) => s <= HIGHEST_CEILING * unitsPerPoint(decimals),
      complaint(
        'wrong-value',
        `{key} is above ${HIGHEST_CEILING}`,
        `the highest score there can be, up to ${HIGHEST_CEILING}: 17.000 when nothing is said`,
      ),
    ),
  );

const ids = list(id, 'a list of gymnasts’ ids');

const ordersByApparatus = byApparatus(
  ids,
  'a mapping from apparatus to gymnasts',
  '{ UB: [adeyemi, …] }',
);

/** Where a group is in a rotation, when it is on no apparatus. */
export const BYE = 'BYE';

const stop = v.pipe(
  text('an apparatus code, or bye'),
  v.transform((s) => s.trim().toUpperCase()),
);

const MOST_SESSIONS = 99;

/** More than this a group has not. */
const MOST_UNNAMED = 200;

const GROUP_EXAMPLE = '{ start: VT, order: [adeyemi, …] }';

const isMissing = complaint('missing-key', '{key} is missing', GROUP_EXAMPLE);

/** Where a group begins, or its route, and who is in it. */
const groupSchema = v.pipe(
  mapping(
    {
      session: v.optional(whole(1, MOST_SESSIONS)),
      start: v.optional(stop),
      route: v.optional(list(stop, '[UB, BB, bye, …]')),
      order: v.optional(ids),
      unnamed: v.optional(whole(0, MOST_UNNAMED)),
    },
    GROUP_EXAMPLE,
  ),
  v.forward(
    v.check((g) => g.start !== undefined || g.route !== undefined, isMissing),
    ['start'],
  ),
  v.forward(
    v.check((g) => g.order !== undefined || g.unnamed !== undefined, isMissing),
    ['order'],
  ),
);

/** The meet file. `decimals` is read first, since every score in the file depends on it. */
export function meetSchema(decimals: Decimals, rules: KnownRules) {
  const contest = contestSchema(rules);
  const ties = tiesOf(rules);
  const score = scoreText(decimals);
  return mapping(
    {
      title: v.optional(printable('the name of the meet')),
      discipline: v.lazy((input) =>
        Array.isArray(input) ? apparatusList(decimals) : disciplineCode,
      ) as v.GenericSchema<unknown, Discipline>,
      scoring: oneOf(Object.keys(SCORING_SYSTEMS) as (keyof typeof SCORING_SYSTEMS)[]),
      panel: v.optional(mapping({ counting: whole(1, 20), step }, '{ counting: 3, step: 0.1 }')),
      // Read before all else.
      decimals: v.optional(v.unknown()),
      fall: v.optional(score),
      ceiling: v.optional(ceilingText(decimals)),
      contests: v.optional(list(contest, '[all-around]')),
      ties: v.optional(ties),
      medals: v.optional(whole(1, 99)),
      startOrder: v.optional(oneOf(['rotate', 'fixed'])),
      teams: v.optional(
        list(
          mapping(
            {
              id,
              name: v.optional(printable('the name of the team')),
              carried: v.optional(score),
              lineup: v.optional(ordersByApparatus),
            },
            '{ id: NQY, name: North Quay }',
          ),
          'a list of { id, name, carried, lineup }',
        ),
      ),
      ranges: v.optional(printable('the name of a ranges file')),
      usual: v.optional(ranges(decimals)),
      gymnasts: list(
        mapping(
          {
            id,
            name: v.optional(printable('the name of the gymnast')),
            family: v.optional(printable('her family name')),
            short: v.optional(printable('what a board has room for')),
            say: v.optional(printable('how her name is spoken')),
            country: v.optional(country),
            bib: v.optional(bib),
            team: v.optional(id),
            on: v.optional(list(apparatusCode, '[VT, FX]')),
            carried: v.optional(score),
            ranges: v.optional(ranges(decimals)),
          },
          '{ id: adeyemi, name: Wren Adeyemi, team: NQY }',
        ),
        'a list of gymnasts, each with an id',
      ),
      groups: v.optional(list(groupSchema, 'a list of { start, order }')),
      rotations: v.optional(list(ordersByApparatus, 'a list of { UB: [adeyemi, …] }')),
    },
    'a meet needs discipline: wag, scoring: open and gymnasts: [{ id: … }, …]',
  );
}

export type MeetDocument = v.InferOutput<ReturnType<typeof meetSchema>>;

export type GroupDocument = NonNullable<NonNullable<MeetDocument['groups']>[number]>;

/** What a fall costs when the file does not say, in units. */
export function fallCost(system: keyof typeof SCORING_SYSTEMS, decimals: Decimals): Units {
  return (SCORING_SYSTEMS[system].fallThousandths * unitsPerPoint(decimals)) / 1000;
}
