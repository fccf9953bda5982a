/**
 * How long chances take, warm, in one process: node test/bench/chances.mjs [RUNS] [teams]. Every field is
 * read anew for each run, so nothing is remembered from one to the next; places are counted for a
 * second before they are timed. The ratio is to straightforward sampling of the same field to a
 * standard error of 0.001. With `teams` only teams that drop scores, from the start of their meet,
 * all of `chances`, warm and cold. The library must have been built.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { inside } from './inside.mjs';

const {
  chances,
  derived,
  findContest,
  modelOf,
  needs,
  outcomes,
  placeChances,
  podiumsOf,
  readMeet,
  samplePlaces,
  samplingOf,
} = await inside(
  'lib/chances/medals/podiums.ts',
  'lib/chances/model.ts',
  'lib/chances/place-chances.ts',
  'lib/chances/sampled/options.ts',
  'lib/chances/sampled/sampled.ts',
  'lib/contest/contest.ts',
  'lib/index.ts',
  'lib/meet/sound.ts',
);

const RUNS = Number(process.argv[2] ?? 7);
const WOMEN = ['VT', 'UB', 'BB', 'FX'];
const MEN = ['FX', 'PH', 'SR', 'VT', 'PB', 'HB'];
const FALLS = [0.04, 0.12, 0.14, 0.06, 0.08, 0.1];

/** @param {number} seed */
function randomFrom(seed) {
  let state = seed;
  return () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
}

/** In each system about what is scored, and how far from it: level, spread, below and above what is likely. */
const SYSTEMS = {
  open: { level: 13.2, spread: 0.6, below: 0.6, above: 0.4, most: 17 },
  ten: { level: 9.4, spread: 0.2, below: 0.35, above: 0.2, most: 10 },
};

/**
 * An invented field with realistic ranges; `done` routines each, or every second one two of them. In
 * teams each has so many gymnasts, of whom so many go up on each apparatus and so many count.
 * @param {{
 *   n: number, done: number | 'half', ties: string, men?: boolean,
 *   team?: { of: number, up: number, count: number }, system?: 'open' | 'ten', decimals?: 3 | 4,
 * }} of
 */
function field({ n, done, ties, men = false, team, system = 'open', decimals = 3 }) {
  const random = randomFrom(7);
  const codes = men ? MEN : WOMEN;
  const { level: least, spread, below, above, most } = SYSTEMS[system];
  const lines = [`discipline: ${men ? 'mag' : 'wag'}`, `scoring: ${system}`];
  if (decimals === 4) lines.push('decimals: 4', 'panel: { counting: 4, step: 0.05 }');
  if (team) {
    const { up, count } = team;
    lines.push(
      'contests:',
      `  - { kind: team, up: ${up}, count: ${count}, ties: ${ties} }`,
      'teams:',
    );
    for (let t = 0; t < n / team.of; t++) lines.push(`  - { id: t${t}, name: Team ${t} }`);
  } else lines.push(`ties: ${ties}`);
  lines.push('gymnasts:');
  const log = ['gymnast,apparatus,score'];
  for (let i = 0; i < n; i++) {
    const level = least + (spread / 0.6) * random();
    // Who is left out moves on by one from apparatus to apparatus.
    const on = codes.filter((_, a) => !team || (i + a) % team.of >= team.of - team.up);
    lines.push(`  - id: g${i}`, `    name: Gymnast ${i}`);
    if (team) lines.push(`    team: t${Math.floor(i / team.of)}`, `    on: [${on.join(', ')}]`);
    lines.push('    ranges:');
    const finished = done === 'half' ? (i % 2) * 2 : done;
    codes.forEach((code, a) => {
      const likely = Math.min(level + (random() - 0.5) * spread, most - above / 2);
      const score = Math.floor((Math.round((likely + random() - 0.5) * 30) * 1000) / 30) / 1000;
      if (!on.includes(code)) return;
      const [low, high] = [likely - below, Math.min(likely + above, most)].map((x) => x.toFixed(3));
      const range = `low: ${low}, likely: ${likely.toFixed(3)}, high: ${high}, falls: ${FALLS[a]}`;
      lines.push(`      ${code}: { ${range} }`);
      if (a < finished) log.push(`g${i},${code},${score.toFixed(3)}`);
    });
  }
  return { text: `${lines.join('\n')}\n`, log: `${log.join('\n')}\n` };
}

/** @param {{ text: string, log: string }} files */
function read({ text, log }) {
  const sources = { meet: { file: 'meet', text }, log: { file: 'log', text: log } };
  const { meet, problems } = readMeet({ ...sources, ranges: () => null });
  if (meet === null) throw new Error(JSON.stringify(problems.slice(0, 3)));
  return meet;
}

/** So long is done what is timed before it is, in milliseconds. */
const WARM = 1000;

/**
 * @template T
 * @param {number} runs
 * @param {() => T} make
 * @param {(made: T) => unknown} work
 */
function warmMedian(runs, make, work) {
  const begin = performance.now();
  while (performance.now() - begin < WARM) work(make());
  return median(runs, make, work);
}

/**
 * @template T
 * @param {number} runs
 * @param {() => T} make
 * @param {(made: T) => unknown} work
 */
function median(runs, make, work) {
  const times = [];
  for (let run = -1; run < runs; run++) {
    const made = make();
    const begin = performance.now();
    work(made);
    if (run >= 0 || runs === 1) times.push(performance.now() - begin);
  }
  times.sort((a, b) => a - b);
  return times[times.length >> 1] ?? Number.NaN;
}

/**
 * Whole commands on a field, in milliseconds.
 * @param {{ text: string, log: string }} of
 * @param {readonly string[]} names
 */
function commands({ text, log }, names) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const meet = join(folder, 'meet.yaml');
  writeFileSync(meet, text);
  writeFileSync(join(folder, 'meet.scores.csv'), log);
  const times = names.map((name) =>
    median(
      RUNS,
      () => null,
      () => {
        const args = ['dist/cli/lastrotation.cjs', name, '--meet', meet];
        if (spawnSync(process.execPath, args).status !== 0) throw new Error(`${name} failed`);
      },
    ),
  );
  rmSync(folder, { recursive: true });
  return times;
}

/** Teams from the start of their meet: as many as two, and as eight. */
function teams() {
  console.log('teams: all of `chances` warm ms | cold ms | error');
  for (const { system, decimals, up, count } of TEAMS) {
    for (const many of [2, 8]) {
      const ties = system === 'open' ? '[best-scores]' : '[]';
      const team = { of: up, up, count };
      const of = field({ n: many * up, done: 0, ties, team, system, decimals });
      let error = 0;
      const warm = warmMedian(
        RUNS,
        () => read(of),
        (meet) => {
          ({ error } = chances(meet));
        },
      );
      const [cold] = commands(of, ['chances']);
      const name = `${many} teams, ${up} up, ${count} count, ${system}, ${decimals} decimals`;
      const figures = [warm.toFixed(0), cold?.toFixed(0), error.toExponential(1)];
      console.log(`${name.padEnd(46)} ${figures.join(' | ')}`);
    }
  }
}

/** @type {readonly { system: 'open' | 'ten', decimals: 3 | 4, up: number, count: number }[]} */
const TEAMS = [
  { system: 'ten', decimals: 3, up: 6, count: 5 },
  { system: 'ten', decimals: 4, up: 6, count: 5 },
  { system: 'open', decimals: 3, up: 4, count: 3 },
  { system: 'open', decimals: 3, up: 5, count: 4 },
  { system: 'open', decimals: 3, up: 6, count: 5 },
];

if (process.argv[3] === 'teams') {
  teams();
  process.exit(0);
}

const FIELDS = [
  ...['[]', '[best-scores]'].flatMap((ties) =>
    [0, 1, 2, 3, 'half'].map((done) => ({ n: 24, done, ties })),
  ),
  { n: 98, done: 0, ties: '[]' },
  { n: 98, done: 0, ties: '[best-scores]' },
  ...[0, 2, 4, 5].map((done) => ({ n: 8, done, ties: '[best-scores]', men: true })),
  { n: 32, done: 0, ties: '[best-scores]', team: { of: 4, up: 3, count: 3 } },
];

console.log(`Node ${process.version}, ${cpus().length} cores, ${RUNS} runs a field`);
console.log('field: places ms | ratio to sampling | error | all of `chances` ms | with a curve ms');
for (const of of FIELDS) {
  const files = field(/** @type {any} */ (of));
  const modelIn = (/** @type {any} */ meet) => modelOf(meet, findContest(meet, null));
  let error = 0;
  const places = warmMedian(
    RUNS,
    () => read(files),
    (meet) => {
      error = placeChances(modelIn(meet)).error;
    },
  );
  const sampled = median(
    1,
    () => read(files),
    (meet) => samplePlaces(modelIn(meet), samplingOf({ precision: 0.001 })),
  );
  const whole = median(
    1,
    () => read(files),
    (meet) => chances(meet),
  );
  const curve = median(
    1,
    () => read(files),
    (meet) => chances(meet, of.team ? 't1' : 'g1'),
  );
  const name = `${of.n} ${of.men ? 'men' : of.team ? 'in teams' : ''} done ${of.done} ${of.ties}`;
  const figures = [
    places.toFixed(1),
    (sampled / places).toFixed(1),
    error.toExponential(1),
    whole.toFixed(0),
    curve.toFixed(0),
  ];
  console.log(`${name.padEnd(36)} ${figures.join(' | ')}`);
}

const files = field({ n: 24, done: 2, ties: '[best-scores]' });
const meet = read(files);
placeChances(modelOf(meet, findContest(meet, null)));
const more = read({ ...files, log: `${files.log}g3,BB,13.100\n` });
const sameRanges = derived(meet, { results: more.results });
const refresh = warmMedian(
  RUNS,
  () => sameRanges,
  (m) => placeChances(modelOf(m, findContest(m, null))),
);
const anew = warmMedian(
  RUNS,
  () => read({ ...files, log: `${files.log}g3,BB,13.100\n` }),
  (m) => placeChances(modelOf(m, findContest(m, null))),
);
console.log(
  `24, two to come, after one new score: ${refresh.toFixed(1)} ms, from nothing ${anew.toFixed(1)} ms`,
);
const model = modelOf(meet, findContest(meet, null));
const counted = placeChances(model);
const medals = median(
  RUNS,
  () => counted,
  ({ groups, places }) => podiumsOf(model, groups, places, () => undefined),
);
console.log(`24, two to come, medals in order: ${medals.toFixed(1)} ms`);
for (const done of [2, 0]) {
  const of = field({ n: 24, done, ties: '[best-scores]' });
  const bands = median(
    1,
    () => read(of),
    (m) => outcomes(m, 'g3'),
  );
  const sheet = median(
    1,
    () => read(of),
    (m) => needs(m, 'g3', { chance: 0.5 }),
  );
  console.log(
    `24, ${4 - done} to come: outcomes ${bands.toFixed(0)} ms, needs --chance ${sheet.toFixed(0)} ms`,
  );
}
for (const [ties, done] of /** @type {const} */ ([
  ['[]', 0],
  ['[best-scores]', 0],
  ['[best-scores]', 2],
])) {
  const of = field({ n: 24, done, ties });
  const [check, cold] = commands(of, ['check', 'chances']);
  console.log(
    `cold, done ${done} ${ties}: chances ${cold?.toFixed(0)} ms, check ${check?.toFixed(0)} ms`,
  );
}
teams();
const drawn = 200_000;
const time = median(
  3,
  () => meet,
  () => samplePlaces(model, samplingOf({ sample: drawn })),
);
console.log(`sampling: ${Math.round(drawn / time)} meets a millisecond`);
console.log(`memory: ${Math.round(process.memoryUsage().rss / 1e6)} MB`);
