/** A claim without a meet: two equals, one ahead of the other, with so many routines each to come. */

import { DISCIPLINES, type DisciplineCode } from '../apparatus.js';
import { CAUTION } from '../caution.js';
import { chances } from '../chances/chances.js';
import { findContest } from '../contest/contest.js';
import { badUsage } from '../error.js';
import { precedentsOf } from '../history/precedents.js';
import { type Meet, routineAt } from '../meet/meet.js';
import { derived } from '../meet/sound.js';
import { isDiscipline, usualRange } from '../meet/usual.js';
import { readTexts } from '../rules/reading.js';
import {
  type Decimals,
  formatScore,
  givenScore,
  parseScore,
  type Score,
  type Units,
  unitsPerPoint,
} from '../score.js';
import { SCORING_SYSTEMS, type ScoringSystemName } from '../scoring.js';
import { withinError } from './asked.js';
import { type Claim, type ClaimOptions, judged, readOptions } from './claim.js';
import { stressesOf } from './stressed.js';

/** One of two who are as good as each other, some way behind, with as much to come as the other. */
export interface TwoEquals {
  /** How far behind: `0.8`. */
  readonly behind: Score | string;
  /** How many routines each has to come. */
  readonly remaining: number;
  /** `wag` without it, or `mag`. */
  readonly discipline?: string | null | undefined;
  /** `open` without it, or `ten`. */
  readonly scoring?: string | null | undefined;
}

/** The gymnast behind, and the one ahead. */
const BEHIND = 'behind';
const AHEAD = 'ahead';

/**
 * The chance that one of two equals, with usual ranges, passes the other or draws level: to win against more
 * rivals cannot be likelier.
 * @param of - How far the one is behind, and how much both have to come.
 * @param options - The phrase, the scale and the history; contest and target are fixed.
 * @throws `unknown-discipline`, `unknown-scoring`: not `wag` or `mag`, not `open` or `ten`
 * @throws `unknown-phrase`, `unknown-scale`: the phrase is no word of the scale and no number, or there is no
 *   such scale
 * @throws `wrong-number`: `remaining` is more than there are apparatus, or none
 * @throws `wrong-score`: `behind` is no score
 * @example
 * const { chance, bound } = claimOfTwo({ behind: '0.8', remaining: 1 });
 * [chance.toFixed(2), bound] // → ['0.10', 'upper']
 */
export function claimOfTwo(of: TwoEquals, options: ClaimOptions = {}): Claim {
  const read = readOptions(options);
  const meet = meetOfTwo(of);
  const contest = findContest(meet, null);
  const asked = { contest, id: BEHIND, target: { kind: 'win' } as const };
  const { contenders, error } = chances(meet);
  const chance = contenders.find((c) => c.id === BEHIND)!.win;
  const about = {
    who: 'the one behind',
    isHers: (i: number) => routineAt(meet, i).gymnast === BEHIND,
    chance: withinError(chance, error),
  };
  const stresses = stressesOf(meet, asked, about, options.onProgress);
  return {
    contest: null,
    contender: null,
    target: 'pass the one ahead',
    bound: 'upper',
    precedent:
      options.history?.scoring === meet.scoring.system
        ? precedentsOf(options.history, {
            discipline: meet.discipline!,
            behind: behindIn(meet, 3),
            decimals: 3,
            remaining: of.remaining,
            place: null,
          })
        : null,
    ...judged(about.chance, stresses, read),
    error,
    caution: CAUTION,
  };
}

/** How far one is behind the other, in units of so many decimals. */
function behindIn(meet: Meet, decimals: Decimals): Units {
  const [ahead = 0, behind = 0] = meet.gymnasts.map((g) => g.carried);
  const points = (ahead - behind) / unitsPerPoint(meet.scoring.decimals);
  return Math.round(points * unitsPerPoint(decimals));
}

/** The last routines in Olympic order are those to come; ties stand. */
export function meetOfTwo({
  behind: gap,
  remaining,
  discipline = 'wag',
  scoring = 'open',
}: TwoEquals): Meet {
  const code = disciplineOf(discipline ?? 'wag');
  const system = systemOf(scoring ?? 'open');
  const behind = typeof gap === 'string' ? gap : formatScore(givenScore(gap, 3, 'behind'), 3);
  const decimals: Decimals = /[.,]\d{4}$/.test(behind) ? 4 : 3;
  const parsed = parseScore(behind, decimals);
  if ('wrong' in parsed) throw badUsage('wrong-score', `--behind: ${parsed.wrong}`, parsed.mend);
  const codes = DISCIPLINES[code].apparatus.map(([c]) => c);
  if (!Number.isInteger(remaining) || remaining < 1 || remaining > codes.length) {
    throw badUsage(
      'wrong-number',
      `--remaining: nobody has ${remaining} routines to come`,
      `give a number from 1 to ${codes.length}`,
    );
  }
  const on = codes.slice(-remaining).join(', ');
  const start = 10 * unitsPerPoint(decimals);
  const ahead = formatScore(start + parsed.value, decimals);
  // The total of the one ahead is a score too, and may be too large for one.
  const total = parseScore(ahead, decimals);
  if ('wrong' in total) throw badUsage('wrong-score', `--behind: ${total.wrong}`, total.mend);
  const text = `
discipline: ${code}
scoring: ${system}
decimals: ${decimals}
ties: []
gymnasts:
  - { id: ${AHEAD}, on: [${on}], carried: ${ahead} }
  - { id: ${BEHIND}, on: [${on}], carried: ${formatScore(start, decimals)} }
`;
  const { meet, problems } = readTexts({ meet: { file: 'claim', text } });
  if (meet === null) throw new RangeError(problems[0]?.message);
  return derived(meet, { ranges: equalRanges(meet) });
}

/** Both are at their own level, the usual one, whatever that is worth: ranges as of gymnasts known. */
function equalRanges(meet: Meet): Meet['ranges'] {
  return meet.routines.map(({ apparatus }) => {
    const range = usualRange(meet.scoring, meet.discipline!, apparatus)!;
    return { ...range, d: null, within: null, from: 'usual' };
  });
}

function disciplineOf(text: string): DisciplineCode {
  if (isDiscipline(text)) return text;
  throw badUsage('unknown-discipline', `there is no discipline "${text}"`, 'write wag or mag');
}

function systemOf(text: string): ScoringSystemName {
  if (Object.hasOwn(SCORING_SYSTEMS, text)) return text as ScoringSystemName;
  throw badUsage('unknown-scoring', `there is no scoring system "${text}"`, 'write open or ten');
}
