/** A claim: the chance in words, the verdict in a sentence, and the figures behind both. */
import type { Claim, Stressed } from '../claim/claim.js';
import { bandInWords } from '../claim/phrases.js';
import { SCALES, type Term } from '../claim/scales.js';
import type { Verdict } from '../claim/verdict.js';
import { findContest } from '../contest/contest.js';
import type { Meet } from '../meet/meet.js';
import { holdIn } from '../needs/hold.js';
import type { Decimals } from '../score.js';
import { caution, percentWithin } from './chance-words.js';
import { holdInWords } from './need-words.js';
import { precedentsSection } from './precedents.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { nameOf, ordinal, wordsFor } from './words.js';

/** What somebody asked about two equals, as it was put. */
export interface TwoAsked {
  readonly behind: string;
  readonly remaining: string;
}

/** A claim about a meet. `hasHistory`: whether precedents were looked for. */
export function claimReport(meet: Meet, answer: Claim, hasHistory: boolean): Report {
  const who = answer.contender === null ? '' : nameOf(meet, answer.contender);
  return reportOnClaim(answer, {
    heading: `${who} ${targetInWords(meet, answer)} (${answer.contest})`,
    basis: 'your ranges',
    decimals: meet.scoring.decimals,
    hasHistory,
  });
}

/** A claim about two equals, without a meet. */
export function claimOfTwoReport(answer: Claim, two: TwoAsked, hasHistory: boolean): Report {
  const left = two.remaining === '1' ? 'one routine' : `${two.remaining} routines`;
  return reportOnClaim(answer, {
    heading: `Two equals, one ${two.behind} behind with ${left} each to come: to pass the one ahead`,
    basis: 'what is usual on each apparatus',
    decimals: 3,
    hasHistory,
  });
}

interface About {
  readonly heading: string;
  /** What the chance is calculated from. */
  readonly basis: string;
  readonly decimals: Decimals;
  readonly hasHistory: boolean;
}

function reportOnClaim(answer: Claim, about: About): Report {
  const { verdict, claimed, precedent, stresses } = answer;
  const said = (chance: number) => percentWithin(chance, answer.error);
  const { name, source, terms } = SCALES[answer.scale];
  const upper =
    answer.bound === 'upper'
      ? [
          sentence(
            'The chance is to pass that one rival, or to draw level; to win against others as well cannot be likelier.',
          ),
        ]
      : [];
  const basis = [sentence(`The chance is calculated from ${about.basis}.`, 'quiet'), caution()];
  const none = about.hasHistory
    ? [
        sentence(
          'The history has nobody of this discipline and scoring so far behind with as many routines left.',
        ),
      ]
    : [];
  const last: readonly Section[] =
    precedent === null
      ? [[...upper, ...none, ...basis]]
      : [[...upper, ...precedentsSection(precedent, about.decimals)], basis];
  return reportOf(
    [
      title(about.heading),
      sentence(`${said(answer.chance)}: ${wordInWords(answer)}.`),
      ...(claimed?.readAs == null
        ? []
        : [
            sentence(
              `“${claimed.readAs}” is read as “${claimed.term}”, ${bandInWords(claimed)}, a near-synonym of ours.`,
            ),
          ]),
      ...(verdict === null ? [] : [sentence(verdictInWords(answer, verdict, said), 'strong')]),
    ],
    stresses.length === 0 ? [] : [tableOf(stressColumns(answer, said), stressRows(answer))],
    [title(`The ${name} scale (${source})`), tableOf(scaleColumns(answer), terms)],
    ...last,
  );
}

function targetInWords(meet: Meet, { target, contest, contender }: Claim): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  if (kind === 'medal') return 'to take a medal';
  if (kind === 'hold' && contender !== null) {
    const hold = holdIn(meet, findContest(meet, contest), contender);
    return holdInWords(hold, wordsFor(meet, contender).her);
  }
  if (kind === 'place') return `to finish ${ordinal(Number(value))} or better`;
  if (kind === 'beat') return `to beat ${nameOf(meet, value)}`;
  return 'to win';
}

/** "extremely unlikely (1 to 5%)" */
function wordInWords({ scale, term, between }: Claim): string {
  const { name, terms } = SCALES[scale];
  const found = (terms as readonly Term[]).find((t) => t.term === term);
  if (found !== undefined) return `${found.term} (${name}: ${bandInWords(found)})`;
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
  const lead = `“${phrase}”`;
  const low = claimed !== null && chance < claimed.from;
  const limit = low ? `at most ${said(chanceHigh)}` : `at least ${said(chanceLow)}`;
  switch (verdict) {
    case 'supported':
      return `${lead} is supported: whatever was tried, the chance stays within ${band}.`;
    case 'too-strong':
      return `${lead} is too strong: it claims ${band}, and the chance is ${limit} whatever was tried.`;
    case 'too-weak':
      return `${lead} is too weak: it claims ${band}, and the chance is ${limit} whatever was tried.`;
    default: {
      const on = dependsOn.map(
        (what) => `${what} (${said(stresses.find((s) => s.what === what)?.chance ?? 0)})`,
      );
      return `${lead} depends: it claims ${band}, the chance is ${said(chance)}, and that turns with ${on.join(', ')}.`;
    }
  }
}

interface StressRow extends Stressed {
  readonly turns: boolean;
}

function stressRows({ chance, stresses, dependsOn }: Claim): StressRow[] {
  return [
    { what: 'as the ranges say', chance, turns: false },
    ...stresses.map((s) => ({ ...s, turns: dependsOn.includes(s.what) })),
  ];
}

function stressColumns(
  { verdict }: Claim,
  said: (chance: number) => string,
): ColumnOf<StressRow>[] {
  return [
    { head: 'if', cell: (r) => r.what },
    {
      head: 'chance',
      cell: (r) => said(r.chance),
      align: 'right',
    },
    { head: '', cell: (r) => ({ text: '', bar: r.chance }) },
    { head: '', cell: (r) => (verdict === 'depends' && r.turns ? 'turns it' : '') },
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
