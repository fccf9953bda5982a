/** The schemas that are shipped: whole, closed, and true of what the command prints. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import * as door from '../../lib/index.js';
import { answersOf } from '../support/answers.js';
import { COVE_FILES, folder, run } from '../support/cli.js';
import { SCHEMAS, type SchemaName, wrongIn } from '../support/schemas.js';
import { pack } from './stranger.js';

/** Every name there is; the compiler finds one that is missing. */
const NAMES: Readonly<Record<SchemaName, true>> = {
  advancing: true,
  backtest: true,
  chances: true,
  check: true,
  claim: true,
  error: true,
  event: true,
  feed: true,
  graphics: true,
  graphicsChanges: true,
  needs: true,
  needsOfAll: true,
  new: true,
  note: true,
  outcomes: true,
  page: true,
  ranges: true,
  record: true,
  standings: true,
  story: true,
  suppose: true,
};

type Schema = Readonly<Record<string, unknown>>;

/** Every schema within a schema, each with where it stands. */
function partsOf(schema: Schema, at = '', found: [string, Schema][] = []): [string, Schema][] {
  found.push([at, schema]);
  for (const key of ['properties', '$defs']) {
    for (const [name, part] of Object.entries(schema[key] ?? {})) {
      partsOf(part as Schema, `${at}/${name}`, found);
    }
  }
  for (const key of ['anyOf', 'allOf', 'prefixItems']) {
    for (const part of (schema[key] as Schema[] | undefined) ?? []) partsOf(part, at, found);
  }
  for (const key of ['items', 'additionalProperties']) {
    const part = schema[key];
    if (typeof part === 'object') partsOf(part as Schema, `${at}/${key}`, found);
  }
  return found;
}

/** Its keys and its named parts, each with where it stands. */
function keysOf(at: string, { properties = {}, $defs = {} }: Schema): [string, Schema][] {
  return Object.entries({ ...(properties as Schema), ...($defs as Schema) }).map(([key, of]) => [
    `${at}/${key}`,
    of as Schema,
  ]);
}

describe.each([...SCHEMAS])('the schema of %s', (name, schema) => {
  const parts = partsOf(schema);
  const where = (is: (part: Schema) => boolean) => parts.filter(([, p]) => is(p)).map(([at]) => at);

  it('is one, and refuses what is no answer', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(wrongIn(name as SchemaName, null)).not.toEqual([]);
    expect(wrongIn(name as SchemaName, {})).not.toEqual([]);
  });

  it('says what it is, and what every key is', () => {
    expect([schema.title, typeof schema.description]).toEqual([name, 'string']);
    const keys = parts.flatMap(([at, part]) => keysOf(at, part));
    const silent = keys.filter(([, { description }]) => description === undefined);
    // Where keys are themselves values, such as forecasters, the words are those of the whole.
    const isListed = (at: string) => /^\/(ByForecaster|Smoothings?)\//.test(at);
    expect(silent.map(([at]) => at).filter((at) => !isListed(at))).toEqual([]);
    expect(keys.length).toBeGreaterThan(1);
  });

  it('leaves nothing open', () => {
    const isOpen = (part: Schema) =>
      !['type', '$ref', 'anyOf', 'const', 'enum'].some((key) => key in part);
    expect(where(isOpen)).toEqual([]);
    const takesMore = (part: Schema) =>
      part.type === 'object' &&
      part.additionalProperties !== false &&
      typeof part.additionalProperties !== 'object';
    expect(where(takesMore)).toEqual([]);
    expect(where((part) => part.type === 'array' && !('items' in part))).toEqual([]);
  });

  it('has no number but whole ones, chances and measures', () => {
    const fractions = where((part) => [part.type].flat().includes('number'));
    expect(
      fractions.filter((at) => !/^\/(Chance|ChanceChange|Measure|MeasureChange)$/.test(at)),
    ).toEqual([]);
  });
});

it('there is a schema for everything that is printed, and no other', () => {
  expect([...SCHEMAS.keys()].sort()).toEqual(Object.keys(NAMES).sort());
});

it('a program finds a schema by its name in the package', async () => {
  const { path } = await pack();
  const requireThere = createRequire(join(path, '../../program.js'));
  expect(requireThere('lastrotation/schemas/standings.json')).toEqual(SCHEMAS.get('standings'));
});

const place = folder(...COVE_FILES, 'mill-lane.yaml');
afterAll(() => place.clean());
const MEET = ['--meet', join(place.path, 'cove.yaml')];
const MEN = ['--meet', join(place.path, 'mill-lane.yaml')];
const HISTORY = join(place.path, 'results.csv');
writeFileSync(
  HISTORY,
  [
    'gymnast,discipline,date,competition,round,apparatus,score',
    ...['2024-05-01', '2024-06-01', '2024-07-01'].flatMap((date) =>
      ['ann', 'bea', 'cleo', 'dot'].flatMap((who, i) =>
        ['VT', 'UB', 'BB', 'FX'].map(
          (on) => `${who},wag,${date},Quay Cup,all-around final,${on},1${3 - (i >> 1)}.${i}`,
        ),
      ),
    ),
    'eve,wag,2024-05-01,Quay Cup,all-around final,VT,none',
  ].join('\n'),
);
const START_LIST = join(place.path, 'start-list.csv');
writeFileSync(START_LIST, 'name,group\nAnn Ashdown,1\nBea Birkwell,1\n');

const PRINTED: readonly (readonly [SchemaName, ...(readonly string[])])[] = [
  ['new', 'new', START_LIST, '--meet', join(place.path, 'new.yaml')],
  ['check', 'check', ...MEET],
  ['standings', 'standings', ...MEET],
  ['standings', 'standings', '--after', '1', '--contest', 'FX', ...MEET],
  ['standings', 'standings', ...MEN],
  ['needs', 'needs', 'brondt', '--why', ...MEET],
  ['needs', 'needs', 'brondt', '--for', 'gold', '--chance', '0.5', ...MEET],
  ['needsOfAll', 'needs', ...MEET],
  ['needsOfAll', 'needs', ...MEN],
  ['outcomes', 'outcomes', 'brondt', '--when', 'end', ...MEET],
  ['chances', 'chances', ...MEET],
  ['chances', 'chances', 'brondt', ...MEET],
  ['chances', 'chances', '--sample', '500', '--seed', '1', ...MEET],
  ['suppose', 'suppose', 'brondt', 'BB', '14.9', ...MEET],
  ['suppose', 'suppose', 'brondt', 'BB', 'DNS', ...MEET],
  ['graphics', 'graphics', ...MEET],
  ['graphics', 'graphics', '--when', 'end', ...MEN],
  ['graphicsChanges', 'graphics', '--since', '9', ...MEET],
  ['story', 'story', ...MEET],
  ['story', 'story', '--contest', 'UB', '--history', HISTORY, ...MEET],
  ['story', 'story', ...MEN],
  ['claim', 'claim', 'brondt', '--phrase', 'almost impossible', '--history', HISTORY, ...MEET],
  ['claim', 'claim', '--behind', '0.8', '--remaining', '1'],
  ['ranges', 'ranges', HISTORY],
  ['backtest', 'backtest', HISTORY],
  ['record', 'record', 'brondt', 'BB', '14.100', '--note', 'steady', ...MEET],
  ['record', 'record', 'brondt', 'BB', 'inquiry', ...MEET],
  ['record', 'record', 'brondt', 'BB', 'void', ...MEET],
];

const REFUSED: readonly (readonly string[])[] = [
  ['needs', 'nobody', ...MEET],
  ['standings', '--contest', 'nowhere', ...MEET],
  ['needs', '--nonsense', ...MEET],
  ['check', '--meet', join(place.path, 'missing.yaml')],
  ['record', 'brondt', 'BB', '135.66', ...MEET],
];

const titleOf = (args: readonly string[]) => args.join(' ').replaceAll(`${place.path}/`, '');

describe('what the command prints is what the schema says', () => {
  it.each(PRINTED.map(([name, ...args]) => [titleOf(args), name, args] as const))(
    '%s',
    (_, name, args) => {
      const { out, err } = run([...args, '--json']);
      expect(err).toBe('');
      expect(wrongIn(name, JSON.parse(out))).toEqual([]);
    },
  );

  it.each(REFUSED.map((args) => [titleOf(args), args] as const))('refused: %s', (_, args) => {
    const { out, err } = run([...args, '--json']);
    expect(out).toBe('');
    expect(wrongIn('error', JSON.parse(err))).toEqual([]);
  });

  it('a feed, line by line: recorded, refused, understood or not', () => {
    const path = mkdtempSync(join(tmpdir(), 'lastrotation-'));
    const meet = join(path, 'meet.yaml');
    writeFileSync(meet, 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]\n');
    const input = [
      'ann,VT,13.566,5.600,8.066,0.100,fall',
      'ann,VT,13.666',
      'ann,VT,inquiry',
      'bea,VT,up',
      '{"gymnast": "bea", "apparatus": "VT", "score": 13.5}',
      'bea,all,DNS',
      'nobody,VT,13.566',
      'ann,VT,135.66',
      '{"gymnast": ',
      '"',
    ].join('\n');
    const { out } = run(['live', '--meet', meet], { input });
    rmSync(path, { recursive: true });
    const lines = out.trimEnd().split('\n');
    const answers = lines.map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(answers.map((a) => ('error' in a ? 'refused' : a.kind))).toEqual([
      ...['score', 'corrected', 'inquiry', 'up', 'score', 'withdrawn'],
      ...['refused', 'refused', 'refused', 'refused'],
    ]);
    expect(answers.flatMap((answer) => wrongIn('feed', answer))).toEqual([]);
  });
});

/** A value with one thing wrong, each with where it is. */
function* wronged(value: unknown, at = ''): Generator<readonly [where: string, unknown]> {
  if (Array.isArray(value)) {
    yield [`${at} no list`, { 0: value[0] }];
    const [first, ...rest] = value;
    if (value.length > 0) for (const [w, v] of wronged(first, `${at}/0`)) yield [w, [v, ...rest]];
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, child] of Object.entries(value)) {
      const { [key]: _, ...others } = value as Record<string, unknown>;
      yield [`${at}/${key} renamed`, { ...others, [`${key}s`]: child }];
      for (const [w, v] of wronged(child, `${at}/${key}`)) yield [w, { ...value, [key]: v }];
    }
  } else {
    yield [`${at} no ${value === null ? 'null' : typeof value}`, {}];
    if (typeof value === 'string') yield [`${at} no text`, Number(value) || 0];
    // Neither a place, nor a count, nor a chance.
    if (typeof value === 'number') yield [`${at} 1.2`, 1.2];
    if (typeof value === 'string' && /^\d+\.\d{3}$/.test(value)) yield [`${at} 13.5`, '13.5'];
  }
}

describe('an answer with one thing wrong is refused', () => {
  const text = (name: string) => readFileSync(join(place.path, name), 'utf8');
  const texts = { meet: text('cove.yaml'), log: text('cove.scores.csv') };
  const {
    check,
    sampled: _,
    ...answers
  } = answersOf(door, { ...texts, history: text('results.csv') });
  const meet = door.readMeet({ meet: { file: 'meet.yaml', text: texts.meet } }).meet as door.Meet;
  const { recorded } = door.record(meet, { gymnast: 'brondt', apparatus: 'BB', score: '14.100' });
  const all = Object.entries({ ...answers, record: recorded }).map(
    ([name, answer]) => [name, door.written(name as door.AnswerName, answer as never, 3)] as const,
  );
  /**
   * Keys that are apparatus, or none of them, and the values of a row of the log, which may be any texts.
   */
  const FREE =
    /\/(scores|ranges)\/[A-Z0-9]+ renamed$|\/rows\/0\/counting no null$|\/rows?(\/0)?\/(score|d|e|nd) 13\.5$/;
  /** Means of logarithms and the like: 1.2 is one. */
  const MEASURE =
    /(Log|Brier|Entropy|percentile|(win|medal)Log\/[a-z-]+|routines\/(ranges|baseline|ratio|width)) 1\.2$/;

  it.each([...all, ['check', check] as const])('%s', (name, answer) => {
    const value: unknown = JSON.parse(JSON.stringify(answer));
    expect(wrongIn(name as SchemaName, value)).toEqual([]);
    const tried = [...wronged(value)];
    expect(tried.length).toBeGreaterThan(10);
    const taken = tried.filter(([, wrong]) => wrongIn(name as SchemaName, wrong).length === 0);
    expect(taken.map(([where]) => where).filter((w) => !FREE.test(w) && !MEASURE.test(w))).toEqual(
      [],
    );
  });
});
