/** The shape of a meet file, key by key, with the words for what is wrong in it. */
import * as v from 'valibot';
import { DISCIPLINES, type DisciplineCode, SECOND_VAULT } from '../apparatus.js';
import { type Decimals, parseScore, quote, type Score, unitsPerPoint } from '../score.js';
import { SCORING_SYSTEMS, TIE_RULES } from '../scoring.js';

/**
 * A complaint carries its code, its message and its mend in one text, since the checker passes a
 * single one along.
 */
export function complaint(code: string, message: string, mend: string): string {
  return JSON.stringify([code, message, mend]);
}

export function complaintParts(text: string): { code: string; message: string; mend: string } {
  const [code = '', message = '', mend = ''] = JSON.parse(text) as string[];
  return { code, message, mend };
}

const shown = (input: unknown) =>
  typeof input === 'string' ? quote(input) : Array.isArray(input) ? 'a list' : 'a mapping';

const wrongKind = (expected: string, mend: string) => (issue: { input: unknown }) =>
  issue.input === undefined
    ? complaint('missing-key', `{key} is missing`, mend)
    : complaint('wrong-value', `{key} should be ${expected}, not ${shown(issue.input)}`, mend);

const text = (mend: string) => v.string(wrongKind('a text', mend));

/** A mapping with these keys and no others. */
export function mapping<T extends v.ObjectEntries>(entries: T, mend: string) {
  const known = Object.keys(entries).join(', ');
  return v.objectWithRest(
    entries,
    v.never(() => complaint('unknown-key', '{key} is not a known key', known)),
    wrongKind('a mapping', mend),
    // Without the index signature that the check against further keys adds to the type.
  ) as unknown as v.GenericSchema<unknown, v.InferOutput<v.ObjectSchema<T, undefined>>>;
}

/** One of a few words. */
export function oneOf<const T extends readonly string[]>(words: T) {
  return v.picklist(words, (issue: { input: unknown }) =>
    issue.input === undefined
      ? complaint('missing-key', '{key} is missing', `one of: ${words.join(', ')}`)
      : complaint('wrong-value', `{key} is ${shown(issue.input)}`, `one of: ${words.join(', ')}`),
  );
}

function scoreText(decimals: Decimals) {
  return v.pipe(
    text(`a score such as ${decimals === 3 ? '13.900' : '9.9250'}`),
    v.rawTransform<string, Score>(({ dataset, addIssue, NEVER }) => {
      const parsed = parseScore(dataset.value, decimals);
      if ('value' in parsed) return parsed.value;
      addIssue({ message: complaint('wrong-score', `{key}: ${parsed.wrong}`, parsed.mend) });
      return NEVER;
    }),
  );
}

export function whole(low: number, high: number) {
  return v.pipe(
    text(`a whole number from ${low} to ${high}`),
    v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
      const value = /^\d{1,6}$/.test(dataset.value) ? Number(dataset.value) : Number.NaN;
      if (value >= low && value <= high) return value;
      addIssue({
        message: complaint(
          'wrong-value',
          `{key} is ${quote(dataset.value)}`,
          `a whole number from ${low} to ${high}`,
        ),
      });
      return NEVER;
    }),
  );
}

const probability = v.pipe(
  text('a chance from 0 to 1, such as 0.05'),
  v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
    const written = dataset.value.replace(',', '.');
    const value = /^\d*\.?\d+$/.test(written) ? Number(written) : Number.NaN;
    if (value >= 0 && value <= 1) return value;
    addIssue({
      message: complaint(
        'wrong-value',
        `{key} is ${quote(dataset.value)}`,
        'a chance from 0 to 1, such as 0.05 for one in twenty',
      ),
    });
    return NEVER;
  }),
);

/** The judges' step, in millionths of a point. */
const step = v.pipe(
  text('the step of a judge’s score, such as 0.1'),
  v.rawTransform<string, number>(({ dataset, addIssue, NEVER }) => {
    const match = /^(\d)(?:[.,](\d{1,6}))?$/.exec(dataset.value);
    const value = match ? Number(match[1] + (match[2] ?? '').padEnd(6, '0')) : 0;
    if (value > 0 && value <= 1_000_000) return value;
    addIssue({
      message: complaint(
        'wrong-value',
        `{key} is ${quote(dataset.value)}`,
        'a step above 0 and up to 1, such as 0.1 or 0.05',
      ),
    });
    return NEVER;
  }),
);

/** A list; an entry that did not pass the check is null, so that the others keep their places. */
export const list = <T extends v.GenericSchema>(item: T, mend: string) =>
  v.array(v.nullable(item), wrongKind('a list', mend));

/** The entries of a checked list with their places in it. */
export function entriesOf<T>(list: readonly (T | null)[] | undefined): [number, T][] {
  return (list ?? []).flatMap((entry, i): [number, T][] => (entry === null ? [] : [[i, entry]]));
}

/** Ids and names: any text that prints, so that it can be shown and written to a CSV line. */
export function printable(what: string) {
  return v.pipe(
    text(what),
    v.check(
      (s) => s.trim() !== '' && !/\p{Cc}/u.test(s),
      (issue) =>
        complaint(
          'wrong-value',
          `{key} is ${quote(String(issue.input))}`,
          'use visible characters only, on one line',
        ),
    ),
    v.transform((s) => s.trim()),
  );
}

const id = printable('a short id, such as adeyemi');

const apparatusCode = v.pipe(
  text('an apparatus code, such as VT'),
  v.transform((s) => s.trim().toUpperCase()),
);

/** A mapping by apparatus; codes are read whatever their case. */
function byApparatus<V>(
  value: v.GenericSchema<unknown, V>,
  kind: string,
  mend: string,
): v.GenericSchema<unknown, Record<string, V>> {
  return v.pipe(
    v.record(v.string(), value, wrongKind(kind, mend)),
    v.rawTransform<Record<string, V>, Record<string, V>>(({ dataset, addIssue, NEVER }) => {
      const entries = Object.entries(dataset.value).map(
        ([code, child]) => [code.trim().toUpperCase(), child] as const,
      );
      const codes = entries.map(([code]) => code);
      const twice = codes.find((code, i) => codes.indexOf(code) !== i);
      if (twice === undefined) return Object.fromEntries(entries);
      const message = `{key} has ${twice} twice`;
      addIssue({ message: complaint('apparatus-twice', message, 'keep one of the two') });
      return NEVER;
    }),
  );
}

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

const ties = list(oneOf(TIE_RULES), '[] or [best-scores, execution, difficulty]');

const contestRest = {
  id: v.optional(id),
  ties: v.optional(ties),
  medals: v.optional(whole(1, 99)),
};

const allAround = mapping({ kind: v.literal('all-around'), ...contestRest }, 'all-around');
const bareAllAround = v.pipe(
  v.unknown(),
  v.transform(() => ({ kind: 'all-around' as const })),
);

const team = mapping(
  { kind: v.literal('team'), up: whole(1, 99), count: whole(1, 99), ...contestRest },
  '{ kind: team, up: 4, count: 3 }',
);

const apparatusContest = mapping(
  {
    kind: v.literal('apparatus'),
    on: apparatusCode,
    vaults: v.optional(whole(1, 2)),
    ...contestRest,
  },
  '{ kind: apparatus, on: UB }',
);

const unknownContest = v.looseObject(
  { kind: oneOf(['all-around', 'team', 'apparatus']) },
  wrongKind(
    'a kind of contest',
    'all-around, { kind: apparatus, on: UB } or { kind: team, up: 4, count: 3 }',
  ),
) as unknown as typeof allAround;

export type ContestDocument =
  | v.InferOutput<typeof allAround>
  | v.InferOutput<typeof team>
  | v.InferOutput<typeof apparatusContest>;

const contest = v.lazy((input): v.GenericSchema<unknown, ContestDocument> => {
  if (input === 'all-around') return bareAllAround;
  const kind = input !== null && typeof input === 'object' ? Reflect.get(input, 'kind') : undefined;
  if (kind === 'all-around') return allAround;
  if (kind === 'team') return team;
  return kind === 'apparatus' ? apparatusContest : unknownContest;
});

const disciplineCode = oneOf(Object.keys(DISCIPLINES) as DisciplineCode[]);

type Discipline = DisciplineCode | v.InferOutput<ReturnType<typeof apparatusList>>;

const apparatusList = (decimals: Decimals) =>
  v.pipe(
    list(
      mapping(
        {
          code: v.pipe(
            apparatusCode,
            v.check(
              (s) => /^[\p{L}\p{N}]{1,8}$/u.test(s) && s !== SECOND_VAULT && s !== 'ALL',
              (issue) =>
                complaint(
                  'wrong-value',
                  `{key} is ${quote(String(issue.input))}`,
                  'up to eight letters and digits, neither VT2 nor ALL',
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

/** The meet file. `decimals` is read first, since every score in the file depends on it. */
export function meetSchema(decimals: Decimals) {
  const score = scoreText(decimals);
  const startOf = v.pipe(
    text('an apparatus code, or bye'),
    v.transform((s) => (s.trim().toLowerCase() === 'bye' ? null : s.trim().toUpperCase())),
  );
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
      contests: v.optional(list(contest, '[all-around]')),
      ties: v.optional(ties),
      medals: v.optional(whole(1, 99)),
      startOrder: v.optional(oneOf(['rotate', 'fixed'])),
      teams: v.optional(
        list(
          mapping(
            { id, name: v.optional(printable('the name of the team')), carried: v.optional(score) },
            '{ id: NQY, name: North Quay }',
          ),
          'a list of { id, name, carried }',
        ),
      ),
      ranges: v.optional(printable('the name of a ranges file')),
      usual: v.optional(ranges(decimals)),
      gymnasts: list(
        mapping(
          {
            id,
            name: v.optional(printable('the name of the gymnast')),
            team: v.optional(id),
            on: v.optional(list(apparatusCode, '[VT, FX]')),
            carried: v.optional(score),
            ranges: v.optional(ranges(decimals)),
          },
          '{ id: adeyemi, name: Wren Adeyemi, team: NQY }',
        ),
        'a list of gymnasts, each with an id',
      ),
      groups: v.optional(
        list(
          mapping(
            { start: startOf, order: list(id, 'a list of gymnasts’ ids') },
            '{ start: VT, order: [adeyemi, …] }',
          ),
          'a list of { start, order }',
        ),
      ),
      rotations: v.optional(
        list(
          byApparatus(
            list(id, 'a list of gymnasts’ ids'),
            'a mapping from apparatus to gymnasts',
            '{ UB: [adeyemi, …] }',
          ),
          'a list of { UB: [adeyemi, …] }',
        ),
      ),
    },
    'a meet needs discipline: wag, scoring: open and gymnasts: [{ id: … }, …]',
  );
}

export type MeetDocument = v.InferOutput<ReturnType<typeof meetSchema>>;

/** What a fall costs when the file does not say, in units. */
export function fallCost(system: keyof typeof SCORING_SYSTEMS, decimals: Decimals): Score {
  return (SCORING_SYSTEMS[system].fallThousandths * unitsPerPoint(decimals)) / 1000;
}
