/** Every answer, written out, is what its schema says. */
import fc from 'fast-check';
import { errorAsJson } from '../../../bin/errors.js';
import {
  type AnswerName,
  type Answers,
  chances,
  check,
  claim,
  graphics,
  LastRotationError,
  type Meet,
  needs,
  needsOfAll,
  outcomes,
  readMeet,
  record,
  standings,
  suppose,
  type Target,
  written,
} from '../../../lib/index.js';
import { amount, logOf, type Sketch, yamlOf } from '../../support/random-meet.js';
import { type SchemaName, wrongIn } from '../../support/schemas.js';
import { type Ask, type Case, caseArb, contestId, must, randomFrom, readCase } from '../asking.js';

/** Chances take the longest by far, and a claim asks for many of them. */
const MOST_TO_COME = 8;
const MOST_FOR_A_CLAIM = 4;
const TARGETS: readonly Target[] = ['lead', 'win', 'medal', 'hold', 'place:2', 'total:20.000'];

type Judge = (name: SchemaName, value: unknown) => void;

function judgeOf(sketch: Sketch): Judge {
  return (name, value) => {
    const printed: unknown = JSON.parse(JSON.stringify(value));
    const wrong = wrongIn(name, printed);
    must(wrong.length === 0, sketch, () => `${name}: ${wrong.slice(0, 9).join('\n')}`);
  };
}

/** An answer is judged as that, a refusal as an error. */
function asker(judge: Judge, { scoring }: Meet) {
  return <N extends AnswerName>(name: N, answer: () => Answers[N]): void => {
    let value: Answers[N];
    try {
      value = answer();
    } catch (error) {
      if (!(error instanceof LastRotationError)) throw error;
      judge('error', { error: errorAsJson(error) });
      return;
    }
    judge(name, written(name, value, scoring.decimals));
  };
}

export const answersAreAsTheirSchemasSay = fc.property(
  caseArb(1),
  ({ sketch, asks: [ask] }: Case) => {
    if (ask === undefined) return;
    const { meet } = readCase(sketch);
    const judge = judgeOf(sketch);
    judge('check', check(readMeet({ meet: source(yamlOf(sketch)), log: source(logOf(sketch)) })));
    for (const sketched of sketch.contests) {
      askAbout(meet, contestId(sketched), ask, asker(judge, meet));
    }
    recordInto(meet, sketch, ask, asker(judge, meet));
  },
);

const source = (text: string) => ({ file: 'a file', text });

function askAbout(meet: Meet, contest: string, ask: Ask, judged: ReturnType<typeof asker>): void {
  const pick = <T>(list: readonly T[]): T | undefined => list[ask.who % Math.max(list.length, 1)];
  const who = pick(standings(meet, { contest }).rows)?.id ?? '';
  const target = pick(TARGETS) ?? 'win';
  const { when, rivals, rest } = ask;
  judged('standings', () => standings(meet, { contest }));
  judged('standings', () => standings(meet, { contest, after: 1 }));
  judged('needsOfAll', () => needsOfAll(meet, { contest }));
  judged('needs', () => needs(meet, who, { contest, why: ask.named }));
  judged('needs', () => needs(meet, who, { contest, for: target, when, rivals, rest, why: true }));
  judged('outcomes', () => outcomes(meet, who, { contest, chances: false }));
  judged('graphics', () => graphics(meet, { contest }));
  const toCome = meet.results.filter((r) => r === null).length;
  const isQuick = toCome <= MOST_TO_COME;
  const routine = pick(meet.routines);
  if (routine !== undefined) {
    const { gymnast, apparatus } = routine;
    const score = ['likely', 'fall', 'DNS', '9.100'][ask.d % 4] ?? 'low';
    const supposed = [{ gymnast, apparatus, score }];
    judged('suppose', () => suppose(meet, supposed, { contest, chances: isQuick }));
  }
  if (!isQuick) return;
  judged('chances', () => chances(meet, ask.named ? who : null, { contest }));
  judged('chances', () => chances(meet, who, { contest, sample: 1024, seed: ask.seed }));
  judged('needs', () => needs(meet, who, { contest, chance: 0.5 }));
  judged('outcomes', () => outcomes(meet, who, { contest, when }));
  if (toCome > MOST_FOR_A_CLAIM) return;
  judged('claim', () => claim(meet, who, { contest, to: target, phrase: 'very unlikely' }));
}

/** A score, an inquiry, a withdrawal, a row taken back: told of somebody, some refused. */
function recordInto(meet: Meet, sketch: Sketch, ask: Ask, judged: ReturnType<typeof asker>): void {
  const random = randomFrom(ask.seed);
  let next = meet;
  for (const score of ['up', amount(1 + random(9000), sketch.decimals), 'inquiry', 'void', 'DNS']) {
    const routine = next.routines[random(next.routines.length)];
    if (routine === undefined) continue;
    const { gymnast } = routine;
    const apparatus = score === 'DNS' ? 'all' : routine.apparatus;
    judged('record', () => {
      const { meet: after, recorded } = record(next, { gymnast, apparatus, score });
      next = after;
      return recorded;
    });
  }
}
