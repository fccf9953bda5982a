/**
 * How long a qualification takes, warm, in one process: node test/bench/season.mjs [RUNS]. 98 gymnasts, 12
 * teams of five and 38 by themselves, four subdivisions, six contests from which somebody advances; the
 * first subdivision half through, and the third over with the fourth half through. Every meet is read
 * anew for each run, so that nothing is remembered. The library must have been built.
 */
import { cpus } from 'node:os';
import { inside } from './inside.mjs';

const { advancing, needs, nextUp, readMeet, standings } = await inside(
  'lib/index.ts',
  'lib/meet/now.ts',
);

const RUNS = Number(process.argv[2] ?? 9);
const CODES = ['VT', 'UB', 'BB', 'FX'];
const GYMNASTS = 98;
const CONTESTS = ['all-around', 'team', ...CODES];

/** @param {number} seed */
function randomFrom(seed) {
  let state = seed;
  return () => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return state / 2147483648;
  };
}

/** @param {number} done how many subdivisions are over when the next is half through */
function qualification(done) {
  const random = randomFrom(7);
  const log = ['gymnast,apparatus,score,d'];
  const order = new Map();
  const gymnasts = [];
  for (let i = 0; i < GYMNASTS; i++) {
    const session = (i % 4) + 1;
    const team = i < 60 ? Math.floor(i / 5) : null;
    const level = 12.3 + random() * 1.4;
    const start = Math.floor(i / 4) % 4;
    const group = `${session} ${start}`;
    order.set(group, [...(order.get(group) ?? []), `g${i}`]);
    const ranges = CODES.map((code, a) => {
      const likely = level + (random() - 0.5) * 0.6;
      const score = Math.floor((Math.round((likely + random() - 0.5) * 30) * 1000) / 30) / 1000;
      const turn = (a - start + 4) % 4;
      if (session <= done || (session === done + 1 && turn < 2)) {
        log.push(`g${i},${code},${score.toFixed(3)},5.000`);
      }
      const [low, high] = [likely - 0.6, likely + 0.4].map((x) => x.toFixed(3));
      return `${code}: { low: ${low}, likely: ${likely.toFixed(3)}, high: ${high}, falls: 0.1, d: 5.0 }`;
    });
    const whose = team === null ? '' : `, team: t${team}`;
    gymnasts.push(`  - { id: g${i}${whose}, ranges: { ${ranges.join(', ')} } }`);
  }
  const groups = [...order].map(([key, ids]) => {
    const [session, start] = key.split(' ').map(Number);
    return `  - { session: ${session}, start: ${CODES[start ?? 0]}, order: [${ids.join(', ')}] }`;
  });
  const finals = CODES.map(
    (code) =>
      `  - { kind: apparatus, on: ${code}, advance: { places: 8, perTeam: 2, reserves: 3 } }`,
  );
  const meet = [
    'discipline: wag',
    'scoring: open',
    'contests:',
    '  - { kind: all-around, advance: { places: 24, perTeam: 2, reserves: 4 } }',
    '  - { kind: team, up: 5, count: 3, advance: { places: 8 } }',
    ...finals,
    'gymnasts:',
    ...gymnasts,
    'groups:',
    ...groups,
  ].join('\n');
  return { meet: `${meet}\n`, log: `${log.join('\n')}\n` };
}

/** @param {{ meet: string, log: string }} texts */
function fresh({ meet, log }) {
  const read = readMeet({
    meet: { file: 'qualification.yaml', text: meet },
    log: { file: 'qualification.scores.csv', text: log },
  });
  if (read.meet === null) {
    throw new Error(
      JSON.stringify(read.problems.filter((p) => p.severity === 'error').slice(0, 3)),
    );
  }
  return read.meet;
}

/** @param {readonly number[]} times */
const median = (times) => [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? 0;

console.log(`${cpus()[0]?.model}, node ${process.version}, median of ${RUNS}`);
for (const done of [0, 3]) {
  const texts = qualification(done);
  /** @type {Record<string, number[]>} */
  const times = { boards: [], needs: [], advancing: [], all: [] };
  let error = 0;
  for (let run = -2; run < RUNS; run++) {
    const meet = fresh(texts);
    const start = performance.now();
    for (const contest of CONTESTS) standings(meet, { contest });
    const boards = performance.now();
    for (const contest of CONTESTS) {
      for (const { gymnast, apparatus: on } of nextUp(meet)) {
        const isTeam = meet.gymnasts.find((g) => g.id === gymnast)?.team != null;
        const isIn = contest === 'team' ? isTeam : contest === 'all-around' || contest === on;
        if (isIn) needs(meet, gymnast, { contest, on });
      }
    }
    const asked = performance.now();
    for (const contest of CONTESTS) error = Math.max(error, advancing(meet, { contest }).error);
    const end = performance.now();
    if (run < 0) continue;
    times.boards?.push(boards - start);
    times.needs?.push(asked - boards);
    times.advancing?.push(end - asked);
    times.all?.push(end - start);
  }
  console.log(
    `${done} subdivisions over, the next half through; error at most ${error.toFixed(4)}`,
  );
  for (const [what, all] of Object.entries(times)) {
    console.log(`  ${what.padEnd(10)} ${median(all).toFixed(0).padStart(5)} ms`);
  }
}
