/**
 * How long a story takes, and one more score of it: node test/bench/story.mjs
 * Every example with a log, and the evening of harbour.yaml to its end, the rest of its scores as expected.
 */
import { readFileSync } from 'node:fs';
import { formatScore, nextUp, readMeet, record, story } from '../../dist/lib/index.js';

const read = (name) =>
  readFileSync(new URL(`../../docs/examples/${name}`, import.meta.url), 'utf8');

function meetOf(name) {
  const log = read(`${name}.scores.csv`);
  return {
    log,
    meet: readMeet({
      meet: { file: name, text: read(`${name}.yaml`) },
      log: { file: 'log', text: log },
    }).meet,
  };
}

/** The log with everything to come as expected. */
function toTheEnd({ meet, log }) {
  const rows = [];
  let now = meet;
  for (let [next] = nextUp(now); next !== undefined; [next] = nextUp(now)) {
    const { gymnast, apparatus, index } = next;
    const score = now.ranges[index].likely;
    now = record(now, { gymnast, apparatus, score }).meet;
    rows.push(`${gymnast},${apparatus},${formatScore(score, 3)},,,,,,2026-05-16T15:00:00.000Z`);
  }
  return { meet: now, log: `${log.trimEnd()}\n${rows.join('\n')}\n` };
}

const median = (times) => times.sort((a, b) => a - b)[times.length >> 1];

function timed(ask, times) {
  const found = Array.from({ length: times }, () => {
    const begun = performance.now();
    ask();
    return performance.now() - begun;
  });
  return median(found).toFixed(0);
}

function measure(name, { meet, log }, contest = null) {
  const source = { file: 'log', text: log };
  const shorter = { file: 'log', text: `${log.trimEnd().split('\n').slice(0, -1).join('\n')}\n` };
  const told = story(meet, source, { contest });
  const known = story(meet, shorter, { contest });
  const whole = timed(() => story(meet, source, { contest }), 5);
  const more = timed(() => story(meet, source, { contest, known }), 9);
  const title = contest === null ? name : `${name}, ${contest}`;
  console.log(
    `${title}: ${told.points.length} points, ${whole} ms; one more ${more} ms; error ${told.error.toExponential(1)}`,
  );
}

const harbour = meetOf('harbour');
measure('harbour', harbour);
measure('harbour to its end', toTheEnd(harbour));
for (const name of [
  'finals',
  'tri',
  'dual',
  'mill-lane',
  'tenths',
  'day-one',
  'rhythmic',
  'team-final',
  'team',
]) {
  measure(name, meetOf(name));
}
measure('qualification', meetOf('qualification'));
measure('qualification', meetOf('qualification'), 'team');
