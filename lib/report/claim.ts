/** A claim: the chance in words, the verdict in a sentence, and the figures behind both. */
import type { Claim } from '../claim/claim.js';
import { bandInWords } from '../claim/phrases.js';
import { SCALES, type Term } from '../claim/scales.js';
import type { Stressed } from '../claim/stressed.js';
import type { Verdict } from '../claim/verdict.js';
import { findContest } from '../contest/contest.js';
import type { History } from '../history/history.js';
import type { Meet } from '../meet/meet.js';
import { holdIn } from '../needs/hold.js';
import type { Decimals } from '../score.js';
import { caution, chanceInWords, percentWithin } from './chance-words.js';
import { historyTrouble } from './history-rows.js';
import { holdInWords } from './need-words.js';
import { precedentsSection } from './precedents.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { contestInWords, listed, nameOf, ordinal, wordsFor } from './words.js';

/** What somebody asked about two equals, as it was put. */
export interface TwoAsked {
  /** As it was typed: `0.8`. */
  readonly behind: string;
  /** As it was typed: `1`. */
  readonly remaining: string;
}

/**
 * A claim about a meet. `history`: where precedents were looked for; null where nowhere.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `claim` gave it.
 * @param history - Where precedents were looked for; null where nowhere.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const report = reports.claim(meet, claim(meet, 'brondt', { phrase: 'unlikely' }), null);
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[0] // → 'The chance is 14.6%: “unlikely” on the EFSA scale (10 to 33%).'
 */
export function claimReport(meet: Meet, answer: Claim, history: History | null): Report {
  const who = answer.contender === null ? '' : nameOf(meet, answer.contender);
  return reportOnClaim(answer, {
    heading: `${who} ${targetInWords(meet, answer)} (${contestInWords(meet, answer.contest ?? '')})`,
    basis: 'the ranges you gave',
    decimals: meet.scoring.decimals,
    history,
  });
}

/**
 * A claim about two equals, without a meet.
 * @param answer - As `claimOfTwo` gave it.
 * @param two - What was asked, in the words it was asked in.
 * @param history - Where precedents were looked for; null where nowhere.
 * @example
 * const answer = claimOfTwo({ behind: '0.8', remaining: 1 });
 * const report = reports.claimOfTwo(answer, { behind: '0.8', remaining: '1' }, null);
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[0] // → 'The chance is 10.2%: “unlikely” on the EFSA scale (10 to 33%).'
 */
export function claimOfTwoReport(answer: Claim, two: TwoAsked, history: History | null): Report {
  const left = two.remaining === '1' ? 'one routine' : `${two.remaining} routines`;
  return reportOnClaim(answer, {
    heading: `Two equals, ${left} each to come: can the one ${two.behind} behind catch up?`,
    basis: 'what is usual on each apparatus',
    decimals: 3,
    history,
  });
}

interface About {
  readonly heading: string;
  /** What the chance is calculated from. */
  readonly basis: string;
  readonly decimals: Decimals;
  readonly history: History | null;
}

function reportOnClaim(answer: Claim, about: About): Report {
  const { verdict, claimed, precedent, stresses, notTried } = answer;
  const said = (chance: number) => percentWithin(chance, answer.error);
  const { name, source, terms } = SCALES[answer.scale];
  const upper =
    answer.bound === 'upper'
      ? [
          sentence(
            'That is the chance to pass or catch that one rival. To win, the others must be beaten too, and that cannot be likelier.',
          ),
        ]
      : [];
  const basis = [sentence(`The chance is worked out from ${about.basis}.`, 'quiet'), caution()];
  const none =
    about.history !== null
      ? [
          sentence(
            'Nobody in the history was that far behind with as many routines left, in this discipline and scoring.',
          ),
        ]
      : [];
  const { history } = about;
  const rows =
    history === null ? [] : historyTrouble(history.routines.length, history, 'ranges --json');
  const last: readonly Section[] =
    precedent === null
      ? [[...upper, ...none, ...rows, ...basis]]
      : [
          [...upper, ...precedentsSection(precedent, about.decimals)],
          [...rows, ...basis],
        ];
  return reportOf(
    [
      title(about.heading),
      sentence(`The chance is ${said(answer.chance)}: ${wordInWords(answer)}.`),
      ...readInWords(claimed),
      ...(verdict === null ? [] : [sentence(verdictInWords(answer, verdict, said), 'strong')]),
    ],
    stresses.length === 0 ? [] : [tableOf(stressColumns(answer), stressRows(answer))],
    notTried.map(({ what, why }) => sentence(`Not tried is whether ${what}: ${why}.`, 'quiet')),
    [title(`The words of the ${name} scale (${source})`), tableOf(scaleColumns(answer), terms)],
    ...last,
  );
}

function targetInWords(meet: Meet, { target, contest, contender }: Claim): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  if (kind === 'medal') return 'to take a medal';
  if (kind === 'advance') return 'to go through';
  if (kind === 'hold' && contender !== null) {
    const hold = holdIn(meet, findContest(meet, contest), contender);
    return holdInWords(hold, wordsFor(meet, contender).her);
  }
  if (kind === 'place') return `to finish ${ordinal(Number(value))} or better`;
  if (kind === 'beat') return `to beat ${nameOf(meet, value)}`;
  return 'to win';
}

/** What of the phrase was taken for what, where that is not a word of the scale. */
function readInWords(claimed: Claim['claimed']): Section {
  if (claimed?.readAs == null) return [];
  const { readAs, term, isNumber, from, to } = claimed;
  const band = bandInWords(claimed);
  if (!isNumber) return [sentence(`“${readAs}” is taken to mean “${term}” (${band}).`)];
  const isRough = band !== term && from > 0 && to < 1 && !term.includes(' to ');
  return [
    sentence(
      isRough
        ? `“${readAs}” is taken to mean ${term}, give or take: from ${band}, where the odds are half as long again or as short.`
        : `“${readAs}” is taken to mean ${band}.`,
    ),
  ];
}

/** "extremely unlikely (1 to 5%)" */
function wordInWords({ scale, term, between }: Claim): string {
  const { name, terms } = SCALES[scale];
  const found = (terms as readonly Term[]).find((t) => t.term === term);
  if (found !== undefined) return `“${found.term}” on the ${name} scale (${bandInWords(found)})`;
  const [below, above] = between ?? [null, null];
  if (below !== null && above !== null) {
    return `the ${name} scale has no word between “${below}” and “${above}”`;
  }
  return below === null
    ? `the ${name} scale has no word below “${above}”`
    : `the ${name} scale has no word above “${below}”`;
}

function verdictInWords(
  { phrase, claimed, chanceLow, chanceHigh, chance, dependsOn, stresses }: Claim,
  verdict: Verdict,
  said: (chance: number) => string,
): string {
  const band = claimed === null ? '' : bandInWords(claimed);
  const means = `it means ${band}`;
  const is = `the chance is ${said(chance)}`;
  const isLow = claimed !== null && chance < claimed.from;
  const [most, least] = [said(chanceHigh), said(chanceLow)];
  const upTo = most.startsWith('>') ? 'to 100%' : `above ${most}`;
  const downTo = least.startsWith('<') ? 'to 0' : `below ${least}`;
  const limit = isLow ? upTo : downTo;
  const never = `nothing that was tried brings it ${limit}`;
  switch (verdict) {
    case 'holds':
      return `“${phrase}” holds: ${means}, ${is}, and nothing that was tried takes it outside.`;
    case 'overstated':
      return `“${phrase}” is overstated: ${means}, but ${is}, and ${never}.`;
    case 'understated':
      return `“${phrase}” is understated: ${means}, but ${is}, and ${never}.`;
    default: {
      const on = stresses
        .filter((s) => dependsOn.includes(s.what))
        .map((s) => `if ${s.what} (${stressedInWords(s)})`);
      if (on.length === 0)
        return `“${phrase}” is borderline: ${means}, and ${is}, too near to tell.`;
      return `“${phrase}” is borderline: ${means}, and ${is}; the verdict changes ${listed(on)}.`;
    }
  }
}

interface StressRow extends Stressed {
  readonly turns: boolean;
}

function stressRows({ chance, error, stresses, dependsOn }: Claim): StressRow[] {
  return [
    {
      what: 'the ranges are right',
      ...{ chance, low: Math.max(chance - error, 0), high: Math.min(chance + error, 1) },
      turns: false,
    },
    ...stresses.map((s) => ({ ...s, turns: dependsOn.includes(s.what) })),
  ];
}

/** With no more digits than it deserves; what was drawn is never nothing at all, nor for certain. */
function stressedInWords({ chance, low, high }: Stressed): string {
  return chanceInWords(chance, (high - low) / 2);
}

function stressColumns({ verdict }: Claim): ColumnOf<StressRow>[] {
  return [
    { head: 'if', cell: (r) => r.what },
    {
      head: 'chance',
      cell: stressedInWords,
      align: 'right',
    },
    { head: '', cell: (r) => ({ text: '', bar: r.chance }) },
    { head: '', cell: (r) => (verdict === 'borderline' && r.turns ? 'changes the verdict' : '') },
  ];
}

function scaleColumns({ term, claimed }: Claim): ColumnOf<Term>[] {
  return [
    { head: '', cell: (t) => t.term, tone: (t) => (t.term === term ? 'strong' : null) },
    { head: '', cell: bandInWords, align: 'right' },
    {
      head: '',
      cell: (t) =>
        [t.term === term ? '← the chance' : '', t.term === claimed?.term ? '← the phrase' : '']
          .filter((m) => m !== '')
          .join(' '),
    },
  ];
}
