/** Scores still to come, set with a slider or typed: the board, the needs and the chances follow. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import { type Contest, findContest } from '../../contest/contest.js';
import { LastRotationError } from '../../error.js';
import { limitAt, type Meet, type Routine, rangeAt } from '../../meet/meet.js';
import { ifRangesAre } from '../../needs/likely.js';
import { type FieldChances, fieldChances, medalPlaces } from '../../needs/quick-chances.js';
import { boardsIf, type Supposition, supposedMeet } from '../../needs/suppose.js';
import type { Report } from '../../report/report.js';
import { supposeReport } from '../../report/supposed.js';
import { apparatusName, capital, nameOf, rotationInWords, shower } from '../../report/words.js';
import { parseScore, type Units } from '../../score.js';
import { gridPoints } from '../../scoring.js';
import { keyOf, openRoutines } from '../open.js';
import { ReportView } from '../report-view.js';

/** What is typed or set, by `gymnast apparatus`, so that it outlasts a new score of somebody else. */
export type Typed = ReadonlyMap<string, string>;

interface WhatIfProps {
  readonly meet: Meet;
  readonly contest: string;
}

export function WhatIf({ meet, contest: id }: WhatIfProps) {
  const [typed, setTyped] = useState<Typed>(new Map());
  const contest = useMemo(() => findContest(meet, id), [meet, id]);
  const open = useMemo(() => openRoutines(meet, contest), [meet, contest]);
  const set = (routine: Routine, text: string) =>
    setTyped((before) => {
      const next = new Map(before);
      if (text.trim() === '') next.delete(keyOf(routine));
      else next.set(keyOf(routine), text);
      return next;
    });
  const given = open.filter((r) => (typed.get(keyOf(r)) ?? '') !== '');
  const answer = useAnswer(meet, contest, given, typed);
  return (
    <div class="what-if">
      <div class="inputs">
        <p class="quiet">
          Set a score that is still to come. Nothing is recorded.{' '}
          <button type="button" disabled={given.length === 0} onClick={() => setTyped(new Map())}>
            clear all
          </button>
        </p>
        {byRotation(open).map((routines, k) => (
          <details open={k === 0} key={routines[0]?.at}>
            <summary>{capital(rotationInWords(meet, routines[0] as Routine))}</summary>
            {routines.map((routine) => (
              <ScoreInput
                meet={meet}
                routine={routine}
                text={typed.get(keyOf(routine)) ?? ''}
                wrong={answer.wrong.get(keyOf(routine)) ?? null}
                set={(text) => set(routine, text)}
                key={keyOf(routine)}
              />
            ))}
          </details>
        ))}
        {open.length === 0 ? <p>Nothing is to come.</p> : null}
      </div>
      <div class="outcome" aria-live="polite">
        {answer.report === null ? null : <ReportView report={answer.report} />}
      </div>
    </div>
  );
}

function byRotation(routines: readonly Routine[]): Routine[][] {
  const rotations = new Map<number, Routine[]>();
  for (const r of routines) rotations.set(r.at, [...(rotations.get(r.at) ?? []), r]);
  return [...rotations.values()];
}

interface ScoreInputProps {
  readonly meet: Meet;
  readonly routine: Routine;
  readonly text: string;
  readonly wrong: string | null;
  readonly set: (text: string) => void;
}

function ScoreInput({ meet, routine, text, wrong, set }: ScoreInputProps) {
  const show = shower(meet);
  const scores = useMemo(() => realScores(meet, routine.index), [meet, routine.index]);
  const name = `${nameOf(meet, routine.gymnast)}, ${apparatusName(meet, routine.apparatus)}`;
  const { likely } = rangeAt(meet, routine.index);
  const typed = parseScore(text, meet.scoring.decimals);
  const at = nearest(scores, 'value' in typed ? typed.value : (likely ?? 0));
  return (
    <div class={text === '' ? 'input' : 'input given'}>
      <span class="who">
        <bdi>{nameOf(meet, routine.gymnast)}</bdi>{' '}
        <span class="quiet">{apparatusName(meet, routine.apparatus)}</span>
      </span>
      <input
        type="range"
        min={0}
        max={scores.length - 1}
        value={at}
        aria-label={`${name}: slide to a score`}
        aria-valuetext={text === '' ? 'not set' : text}
        onInput={(event) => set(show(scores[Number(event.currentTarget.value)] ?? 0))}
      />
      <input
        type="text"
        inputMode="decimal"
        size={7}
        value={text}
        placeholder={likely === null ? '' : show(likely)}
        aria-label={`${name}: type a score, or DNS`}
        aria-invalid={wrong !== null}
        onInput={(event) => set(event.currentTarget.value)}
      />
      <button
        type="button"
        aria-label={`${name}: clear`}
        disabled={text === ''}
        onClick={() => set('')}
      >
        ×
      </button>
      {wrong === null ? null : <p class="error">{wrong}</p>}
    </div>
  );
}

/** From two falls below what is lowest for her to as much above her best, as a panel can give them. */
function realScores(meet: Meet, routine: number): Units[] {
  const { low, high } = rangeAt(meet, routine);
  const { grid, fall } = meet.scoring;
  const limit = limitAt(meet, routine);
  const from = low === null ? 0 : Math.max(low - 2 * fall, 0);
  const to = high === null ? limit : Math.min(high + fall, limit);
  return gridPoints(from, to, grid);
}

/** The index of the score nearest to another. */
function nearest(scores: readonly Units[], wanted: Units): number {
  const off = (i: number) => Math.abs((scores[i] ?? 0) - wanted);
  return scores.reduce((best, _, i) => (off(i) < off(best) ? i : best), 0);
}

interface Answer {
  readonly report: Report | null;
  /** By routine: what is wrong with what was typed. */
  readonly wrong: ReadonlyMap<string, string>;
}

/** With more routines to come than this, chances are first told by totals, and in full once it rests. */
const AT_ONCE = 40;

/** How long it must rest, in milliseconds. */
const REST_MS = 200;

function useAnswer(meet: Meet, contest: Contest, given: readonly Routine[], typed: Typed): Answer {
  const key = given.map((r) => `${keyOf(r)} ${typed.get(keyOf(r))}`).join('\n');
  const [isRested, setRested] = useState(false);
  const isMuch = useMemo(() => openRoutines(meet, contest).length > AT_ONCE, [meet, contest]);
  useEffect(() => {
    setRested(false);
    if (!isMuch || key === '') return;
    const timer = setTimeout(() => setRested(true), REST_MS);
    return () => clearTimeout(timer);
  }, [meet, key, isMuch]);
  const isByTotal = isMuch && !isRested;
  // The key says all that was typed.
  return useMemo(
    () => answerTo(meet, contest, given, typed, isByTotal),
    [meet, contest, key, isByTotal],
  );
}

function answerTo(
  meet: Meet,
  contest: Contest,
  given: readonly Routine[],
  typed: Typed,
  isByTotal: boolean,
): Answer {
  const wrong = new Map<string, string>();
  const sound: Supposition[] = [];
  for (const { gymnast, apparatus } of given) {
    const key = keyOf({ gymnast, apparatus });
    const one = { gymnast, apparatus, score: typed.get(key) ?? '' };
    try {
      supposedMeet(meet, [one]);
      sound.push(one);
    } catch (error) {
      wrong.set(key, inWords(error));
    }
  }
  if (sound.length === 0) return { report: null, wrong };
  const { meet: after, ...boards } = boardsIf(meet, contest, sound);
  const before = chancesOf(meet, contest, isByTotal);
  const chances = {
    before,
    after: before && chancesOf(after, findContest(after, contest.id), isByTotal),
  };
  return { report: supposeReport(meet, { ...boards, chances }, { chancesFirst: true }), wrong };
}

/** Meets never change, so the chances before what is supposed are worked out once. */
const known = new WeakMap<Meet, Map<string, FieldChances | null>>();

function chancesOf(meet: Meet, contest: Contest, isByTotal: boolean): FieldChances | null {
  const all = known.get(meet) ?? new Map<string, FieldChances | null>();
  known.set(meet, all);
  const key = `${contest.id} ${isByTotal}`;
  const found = all.get(key);
  if (found !== undefined) return found;
  const made = ifRangesAre(() =>
    fieldChances(meet, contest, { isByTotal, among: medalPlaces(contest) }),
  );
  all.set(key, made);
  return made;
}

function inWords(error: unknown): string {
  if (!(error instanceof LastRotationError)) throw error;
  return `${error.message}; a score, low, likely, high, fall or DNS`;
}
