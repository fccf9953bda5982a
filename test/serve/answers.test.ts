/** What is answered over HTTP is what the command prints, but for the last digits of chances. */
import { appendFileSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Serving } from '../../bin/serve/server.js';
import { COVE_FILES, folder, run } from '../support/cli.js';
import { wrongIn } from '../support/schemas.js';
import { ask, servedHere } from '../support/serving.js';
import { until } from '../support/until.js';

const place = folder(...COVE_FILES);
const COVE = join(place.path, 'cove.yaml');

let cove: Serving;
beforeAll(async () => {
  cove = await servedHere(COVE);
});
afterAll(async () => {
  await cove.close();
  place.clean();
});

const SAME: readonly (readonly [path: string, ...args: string[]])[] = [
  ['/check', 'check'],
  ['/standings', 'standings'],
  ['/standings?after=2&contest=UB', 'standings', '--after', '2', '--contest', 'UB'],
  ['/standings?session=1', 'standings', '--session', '1'],
  ['/needs', 'needs'],
  ['/needs?when=end&rivals=high', 'needs', '--when', 'end', '--rivals', 'high'],
  ['/needs/brondt', 'needs', 'brondt'],
  ['/needs/brondt?for=medal', 'needs', 'brondt', '--for', 'medal'],
  ['/needs/brondt?for=top%208&on=FX&d=5.6', 'needs', 'brondt', '--for=top 8', '--on=FX', '--d=5.6'],
  ['/needs/ida%20brondt?why', 'needs', 'ida brondt', '--why'],
  ['/needs/brondt?safe=', 'needs', 'brondt', '--safe'],
  ['/needs/brondt?chance', 'needs', 'brondt', '--chance'],
  ['/needs/brondt?chance=30%25&rest=low', 'needs', 'brondt', '--chance=30%', '--rest=low'],
  [
    '/needs/brondt?for=beat:tanakura&margin=0.5',
    'needs',
    'brondt',
    '--for=beat:tanakura',
    '--margin=0.5',
  ],
  ['/outcomes/brondt', 'outcomes', 'brondt'],
  ['/outcomes/brondt?when=end', 'outcomes', 'brondt', '--when', 'end'],
  ['/chances', 'chances'],
  ['/chances/brondt', 'chances', 'brondt'],
  [
    '/chances?contest=BB&day-form=0.06&seed=7',
    'chances',
    '--contest=BB',
    '--day-form=0.06',
    '--seed=7',
  ],
  ['/suppose?score=brondt:BB:14.2', 'suppose', 'brondt', 'BB', '14.2'],
  [
    '/suppose?score=brondt:BB:high&score=tanakura:fall',
    'suppose',
    'brondt',
    'BB',
    'high',
    'tanakura',
    'fall',
  ],
  ['/suppose/brondt?score=14.2', 'suppose', 'brondt', '14.2'],
  ['/graphics', 'graphics'],
  ['/graphics/brondt?kind=outcome&from=13', 'graphics', 'brondt', '--kind=outcome', '--from=13'],
  [
    '/graphics?kind=need&kind=medals&contest=all',
    'graphics',
    '--kind',
    'need',
    'medals',
    '--contest=all',
  ],
  ['/graphics?since=9&with-chance', 'graphics', '--since', '9', '--with-chance'],
  [
    '/claim/brondt?contest=BB&phrase=almost%20impossible&to=medal',
    'claim',
    'brondt',
    '--contest=BB',
    '--phrase=almost impossible',
    '--to=medal',
  ],
  [
    '/claim?behind=0.8&remaining=1&scoring=ten&discipline=mag',
    'claim',
    '--behind=0.8',
    '--remaining=1',
    '--scoring=ten',
    '--discipline=mag',
  ],
];

const OF_TEAMS: typeof SAME = [
  ['/standings', 'standings'],
  ['/needs?contest=team', 'needs', '--contest', 'team'],
  ['/chances?contest=all-around', 'chances', '--contest', 'all-around'],
  ['/graphics?contest=all', 'graphics', '--contest', 'all'],
  ['/needs/mill%20lane?contest=team', 'needs', 'mill lane', '--contest=team'],
];

/** In all of them something is wrong; the status says what kind of thing. */
const REFUSED: readonly (readonly [status: number, path: string, message: string])[] = [
  [404, '/needs/nobody', 'nobody here is called "nobody"'],
  [404, '/outcomes/nobody', 'nobody here is called "nobody"'],
  [404, '/chances/nobody', 'nobody here is called "nobody"'],
  [404, '/graphics/nobody', 'nobody here is called "nobody"'],
  [404, '/claim/nobody', 'nobody here is called "nobody"'],
  [404, '/suppose?score=nobody:BB:14.2', 'nobody here is called "nobody"'],
  [404, '/standings?contest=nowhere', 'there is no contest "nowhere"'],
  [404, '/standings?after=x', 'there is no rotation "x"'],
  [404, '/needs/brondt?on=HB', 'Ida Brondt has no routine on "HB" in all-around'],
  [400, '/needs/brondt?four=medal', "unknown option '--four'"],
  [400, '/needs?for=gold&on=FX', '--on goes with the name of a gymnast'],
  [
    400,
    '/needs/brondt?when=never',
    "option '--when <when>' argument 'never' is invalid. Allowed choices are now, rotation, end.",
  ],
  [400, '/needs/brondt?for=glory', '"glory" is not a target'],
  [400, '/needs/brondt?margin=much', '--margin: "much" is not a score'],
  [400, '/outcomes', "missing required argument 'who'"],
  [400, '/suppose', "missing required argument 'what'"],
  [400, '/suppose?score=brondt:BB', 'there is no score at the end of "brondt BB"'],
  [400, '/standings/brondt', "too many arguments for 'standings'. Expected 0 arguments but got 1."],
  [400, '/check?contest=UB', "unknown option '--contest'"],
  [400, '/graphics?kind=nonsense', '"nonsense" is no kind of line'],
  [400, '/graphics?since=9999', '9999 is no number of rows of the log'],
  [400, '/claim', 'a claim needs a name, or two equals'],
  [400, '/claim/brondt?phrase=blue', '"blue" cannot be matched to a word of the EFSA scale'],
  [
    400,
    '/claim/brondt?scale=mine',
    "option '--scale <name>' argument 'mine' is invalid. Allowed choices are efsa, ipcc, icd203, phia.",
  ],
];

describe.each([
  ['cove', SAME, COVE_FILES],
  ['mill-lane', OF_TEAMS, ['mill-lane.yaml', 'mill-lane.scores.csv']],
] as const)('%s', (name, questions, files) => {
  const own = folder(...files);
  const meet = join(own.path, `${name}.yaml`);
  let serving: Serving;
  beforeAll(async () => {
    serving = await servedHere(meet);
  });
  afterAll(async () => {
    await serving.close();
    own.clean();
  });

  it.each(questions)('%s', async (path, ...args) => {
    const ran = run([...args, '--json', '--meet', meet]);
    expect([ran.code, ran.err]).toEqual([0, '']);
    const reply = await ask(serving.address, path);
    expect(linesOf(reply.text)).toEqual(linesOf(ran.out));
    expect(reply.status).toBe(200);
    const isOne = ran.out.trimEnd().split('\n').length === 1;
    expect(reply.headers['content-type']).toBe(
      `application/${isOne ? 'json' : 'x-ndjson'}; charset=utf-8`,
    );
    const head = await ask(serving.address, path, { method: 'HEAD' });
    expect([head.status, head.text]).toEqual([200, '']);
  });
});

/** Its lines; the last digits of a chance depend on what was worked out before, and are left out. */
function linesOf(text: string): string[] {
  return text.split('\n').map((line) => line.replace(/(\d\.\d{9})\d+/g, '$1'));
}

describe('what cannot be answered', () => {
  it.each(REFUSED)('%i %s', async (status, path, message) => {
    const reply = await ask(cove.address, path);
    expect(JSON.parse(reply.text).error.message).toContain(message);
    expect(wrongIn('error', JSON.parse(reply.text))).toEqual([]);
    expect(reply.status).toBe(status);
  });

  // Of each kind: nobody of that name, no such option, a value that is none, a word too few.
  it.each([
    ['/needs/nobody', ['needs', 'nobody']],
    ['/needs/brondt?four=medal', ['needs', 'brondt', '--four', 'medal']],
    ['/needs/brondt?when=never', ['needs', 'brondt', '--when=never']],
    ['/needs/brondt?margin=much', ['needs', 'brondt', '--margin=much']],
    ['/suppose?score=brondt:BB', ['suppose', 'brondt', 'BB']],
    ['/graphics?since=9999', ['graphics', '--since=9999']],
    ['/claim', ['claim']],
    ['/claim/brondt?scale=mine', ['claim', 'brondt', '--scale=mine']],
  ])('%s is refused as the command refuses it', async (path, args) => {
    const ran = run([...args, '--json', '--meet', COVE]);
    expect([ran.out, ran.code]).not.toEqual(['', 0]);
    expect((await ask(cove.address, path)).text).toBe(ran.err);
  });

  it('as things stand is a conflict', async () => {
    const own = folder('finals.yaml', 'finals.scores.csv');
    const meet = join(own.path, 'finals.yaml');
    const serving = await servedHere(meet);
    try {
      const { rows } = JSON.parse(run(['standings', '--meet', meet, '--json']).out);
      const done = rows.find((row: { toCome: string[] }) => row.toCome.length === 0).id;
      const reply = await ask(serving.address, `/outcomes/${done}`);
      expect(reply.text).toBe(run(['outcomes', done, '--meet', meet, '--json']).err);
      expect([reply.status, JSON.parse(reply.text).error.code]).toEqual([409, 'nothing-to-come']);
    } finally {
      await serving.close();
      own.clean();
    }
  });

  it.each([
    '/meet',
    '/record',
    '/record/brondt',
    '/new',
    '/live',
    '/serve',
    '/backtest',
    '/ranges',
    '/help',
    '/captions',
    '/constructor',
    '/__proto__',
    '/toString',
    '/needs/',
    '/needs/a/b',
    '//',
    '/Needs',
  ])('%s is nowhere', async (path) => {
    const reply = await ask(cove.address, path);
    expect([reply.status, JSON.parse(reply.text).error.code]).toEqual([404, 'unknown-path']);
    expect(wrongIn('error', JSON.parse(reply.text))).toEqual([]);
  });

  it.each([
    '/standings?meet=/etc/passwd',
    '/standings?json',
    '/standings?help',
    '/standings?version',
    '/graphics?out=lines.json',
    '/graphics?follow',
    '/graphics?templates=/etc/passwd',
    '/graphics?shipped',
    '/graphics?format=csv',
    '/claim/brondt?history=/etc/passwd',
    '/chances?sample=1000000000',
    '/chances?precision=0.00001',
    '/needs?out%3Dx=1',
    '/needs?=1',
    '/needs?-h',
    '/needs?--why',
    '/needs/brondt?why=no',
    '/needs/brondt?for=gold&for=medal',
    '/needs/--why',
    '/needs/-h',
    '/needs/--help',
    '/graphics/--out=lines.json',
    '/?x',
    '/events?x',
  ])('%s is not asked like that', async (path) => {
    const before = readdirSync(place.path);
    const { status, text } = await ask(cove.address, path);
    expect([400, 404]).toContain(status);
    expect(Object.keys(JSON.parse(text))).toEqual(['error']);
    expect(text).not.toContain('root:');
    expect(readdirSync(place.path)).toEqual(before);
  });
});

it('many questions at once are answered as one by one, each with its own errors', async () => {
  const paths = [...SAME.slice(0, 14).map(([path]) => path), '/needs/nobody', '/standings?after=x'];
  const alone = [];
  for (const path of paths) alone.push((await ask(cove.address, path)).text);
  const fresh = await servedHere(COVE);
  const all = [...paths, ...paths, ...paths];
  const together = await Promise.all(all.map((path) => ask(fresh.address, path)));
  expect(together.map(({ text }) => text)).toEqual([...alone, ...alone, ...alone]);
  await fresh.close();
});

it('a contest named at the start is meant where a question names none', async () => {
  const serving = await servedHere(COVE, { contest: 'UB' });
  const { text } = await ask(serving.address, '/standings');
  expect(text).toBe(run(['standings', '--contest=UB', '--json', '--meet', COVE]).out);
  const other = await ask(serving.address, '/standings?contest=FX');
  expect(other.text).toBe(run(['standings', '--contest=FX', '--json', '--meet', COVE]).out);
  await serving.close();
  await expect(servedHere(COVE, { contest: 'nowhere' })).rejects.toThrow('nowhere');
});

it('a file that is no longer sound leaves the last answers, and check says what is wrong', async () => {
  const own = folder(...COVE_FILES);
  const meet = join(own.path, 'cove.yaml');
  const serving = await servedHere(meet);
  const before = await ask(serving.address, '/standings');
  const whole = readFileSync(meet, 'utf8');
  appendFileSync(meet, 'nonsense: 1\n');
  let after = before;
  await until(
    () => {
      void ask(serving.address, '/standings').then((reply) => {
        after = reply;
      });
      return after.headers['lastrotation-stale'] !== undefined;
    },
    () => 'never stale',
  );
  expect([after.status, after.text]).toEqual([200, before.text]);
  const checked = await ask(serving.address, '/check');
  expect(checked.text).toBe(run(['check', '--meet', meet, '--json']).out);
  expect(JSON.parse(checked.text).sound).toBe(false);
  // What stands in this process is no business of whoever asks.
  expect(process.exitCode).toBeUndefined();
  const graphics = JSON.parse((await ask(serving.address, '/graphics')).text);
  expect(graphics.stale).toBe(after.headers['lastrotation-stale']);
  expect(whole).not.toContain('nonsense');
  await serving.close();
  own.clean();
});

it('nothing is written anywhere', async () => {
  const own = folder(...COVE_FILES);
  mkdirSync(join(own.path, 'empty'));
  const before = readdirSync(own.path, { recursive: true });
  const serving = await servedHere(join(own.path, 'cove.yaml'));
  for (const path of ['/', '/check', '/graphics?contest=all', '/chances']) {
    expect((await ask(serving.address, path)).status).toBe(200);
  }
  await serving.close();
  expect(readdirSync(own.path, { recursive: true })).toEqual(before);
  own.clean();
});
