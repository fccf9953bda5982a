/** Her routine, of anybody with one to come: worked out in the page when she is chosen. */
import { useMemo, useState } from 'preact/hooks';
import { type ChancesByScores, chancesByScores } from '../../chances/chances.js';
import { findContest } from '../../contest/contest.js';
import { gymnastOf, type Meet, type Routine, routineAt } from '../../meet/meet.js';
import { awaited, nextUp } from '../../meet/now.js';
import { ifRangesAre } from '../../needs/likely.js';
import { needsOfRoutines } from '../../needs/sheet.js';
import { apparatusName, nameOf, rotationInWords } from '../../report/words.js';
import { keyOf, openRoutines } from '../open.js';
import { RoutinePanel } from '../routine.js';

export function Another({ meet, contest: id }: { readonly meet: Meet; readonly contest: string }) {
  const [chosen, choose] = useState('');
  const contest = useMemo(() => findContest(meet, id), [meet, id]);
  const open = useMemo(() => {
    const shown = new Set([...awaited(meet), ...nextUp(meet)].map((r) => r.index));
    const isNamed = ({ gymnast }: Routine) => gymnastOf(meet, gymnast)?.unnamed !== true;
    return openRoutines(meet, contest).filter((r) => !shown.has(r.index) && isNamed(r));
  }, [meet, contest]);
  const routine = open.find((r) => keyOf(r) === chosen)?.index ?? null;
  const panel = useMemo(() => {
    if (routine === null) return null;
    const [sheet = null] = needsOfRoutines(meet, contest, [routineAt(meet, routine)]);
    const found: ChancesByScores | null = ifRangesAre(() =>
      chancesByScores(meet, contest, [routine]),
    );
    return { sheet, curve: found?.curves.get(routine) ?? null };
  }, [meet, contest, routine]);
  if (open.length === 0) return null;
  return (
    <>
      <p>
        <label>
          Another routine:{' '}
          <select value={chosen} onChange={(event) => choose(event.currentTarget.value)}>
            <option value="">choose one</option>
            {open.map((r) => (
              <option value={keyOf(r)} key={r.index}>
                {nameOf(meet, r.gymnast)}, {apparatusName(meet, r.apparatus)},{' '}
                {rotationInWords(meet, r)}
              </option>
            ))}
          </select>
        </label>
      </p>
      {panel === null || routine === null ? null : (
        <RoutinePanel meet={meet} card={{ routine, sheet: panel.sheet }} curve={panel.curve} />
      )}
    </>
  );
}
