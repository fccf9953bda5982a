/**
 * How much a gymnast's routines go together, in the open data: 20,815 routines, 2022 and 2023, from the
 * UCSAS 2024 data challenge (University of Connecticut), read from the folder that LASTROTATION_DATA
 * names; no row of it is here. Each routine of a gymnast with three or more earlier results on the
 * apparatus is set in her range from earlier dates, as the share of such routines that score less;
 * the correlation of those shares between two routines of hers is what a day form is.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { sampleCorrelation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { DAY_FORM } from '../../lib/claim/asked.js';
import { fitRanges, tellsOfScores } from '../../lib/history/fit.js';
import { type PastRoutine, readHistory } from '../../lib/index.js';
import { withFalls } from '../../lib/range/distribution.js';

const FOLDER = process.env.LASTROTATION_DATA ?? '';
const WITHOUT = FOLDER === '' ? ' (skipped: LASTROTATION_DATA is not set)' : '';
const GRID = { counting: 3, stepMillionths: 100_000, decimals: 3 } as const;
const FALL = 1000;
const FEWEST = 3;

/** By routine: the share of her range that is under it, half of the score itself. */
function shares(): { routine: PastRoutine; share: number }[] {
  const file = 'routines-2022-2023.csv';
  const history = readHistory({ file, text: readFileSync(join(FOLDER, file), 'utf8') });
  const telling = history.routines.filter((r) => tellsOfScores(r) && r.apparatus !== 'VT2');
  return [...new Set(telling.map((r) => r.date))].flatMap((before) => {
    const fitted = new Map(
      fitRanges(history, { before }).map((f) => [`${f.discipline} ${f.id}`, f.ranges]),
    );
    return telling
      .filter((r) => r.date === before)
      .flatMap((routine) => {
        const range = fitted.get(`${routine.discipline} ${routine.gymnast}`)?.[routine.apparatus];
        if (range === undefined || range.results < FEWEST) return [];
        const { scores, chances } = withFalls({ ...range, from: 'file' }, GRID, FALL);
        const share = scores.reduce(
          (sum, s, i) =>
            sum + (s < routine.score ? 1 : s === routine.score ? 0.5 : 0) * chances[i]!,
          0,
        );
        return [{ routine, share }];
      });
  });
}

/** The same less the mean of all on that apparatus in that round: a lenient panel is nobody's good day. */
function centred(of: ReturnType<typeof shares>): ReturnType<typeof shares> {
  const groups = new Map<string, typeof of>();
  for (const one of of) {
    const { discipline, competition, date, round, apparatus } = one.routine;
    const key = [discipline, competition, date, round.name, apparatus].join('\n');
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()]
    .filter((group) => group.length > 1)
    .flatMap((group) => {
      const middle = group.reduce((sum, { share }) => sum + share, 0) / group.length;
      return group.map(({ routine, share }) => ({ routine, share: share - middle }));
    });
}

/**
 * The correlation between two routines of hers on different apparatus: in one round, or in rounds of
 * different competitions.
 */
function together(of: ReturnType<typeof shares>, where: 'one round' | 'apart'): number {
  const groups = new Map<string, typeof of>();
  for (const one of of) {
    const key = `${one.routine.discipline}\n${one.routine.gymnast}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  const isSame = (a: PastRoutine, b: PastRoutine) =>
    a.competition === b.competition && a.date === b.date && a.round.name === b.round.name;
  const pairs = [...groups.values()].flatMap((own) =>
    own.flatMap((a) =>
      own
        .filter(
          (b) =>
            a.routine.apparatus !== b.routine.apparatus &&
            (where === 'apart'
              ? a.routine.competition !== b.routine.competition
              : isSame(a.routine, b.routine)),
        )
        .map((b) => [a.share, b.share] as const),
    ),
  );
  return sampleCorrelation(
    pairs.map(([a]) => a),
    pairs.map(([, b]) => b),
  );
}

describe.skipIf(FOLDER === '')(`day form in the open data${WITHOUT}`, () => {
  it('is about the day form a claim is stressed with', { timeout: 120_000 }, () => {
    const of = centred(shares());
    // What goes together from one competition to another is no day: her range is too high or too low.
    const measured = together(of, 'one round') - together(of, 'apart');
    expect(Math.abs(DAY_FORM.dayForm - measured)).toBeLessThan(0.01);
    // Of women it is more, of men less; the figures are in docs/claims.md.
    const [women, men] = (['wag', 'mag'] as const).map((discipline) => {
      const these = of.filter(({ routine }) => routine.discipline === discipline);
      return together(these, 'one round') - together(these, 'apart');
    });
    expect([women, men].map((r) => r?.toFixed(2))).toEqual(['0.13', '0.05']);
  });
});
