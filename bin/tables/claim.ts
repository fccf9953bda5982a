/** A claim: the chance in words, the verdict in a sentence, and the figures behind both. */
import {
  bandInWords,
  type Claim,
  type Decimals,
  formatScore,
  type Meet,
  type PrecedentCase,
  type Precedents,
  SCALES,
  type Stressed,
  type Term,
  type Verdict,
} from '../../lib/index.js';
import { colour, writeLine, writeWords } from '../terminal.js';
import { bar, nameOf, ordinal, percentWithin } from '../words.js';
import { type Column, renderTable } from './table.js';

const BAR = 10;

export function printClaim(
  meet: Meet | null,
  answer: Claim,
  two: { readonly behind: string; readonly remaining: string } | null,
  hasHistory: boolean,
): void {
  const decimals = meet?.scoring.decimals ?? 3;
  writeWords(headline(meet, answer, two), colour.bold);
  const said = (chance: number) => percentWithin(chance, answer.error);
  writeWords(`${said(answer.chance)}: ${wordInWords(answer)}.`);
  const { verdict, claimed } = answer;
  if (claimed?.readAs != null) {
    writeWords(
      `“${claimed.readAs}” is read as “${claimed.term}”, ${bandInWords(claimed)}, a near-synonym of ours.`,
    );
  }
  if (verdict !== null) writeWords(`${verdictInWords(answer, verdict, said)}`, colour.bold);
  writeLine();
  if (answer.stresses.length > 0) {
    writeLine(renderTable(stressColumns(answer, said), stressRows(answer)).text);
    writeLine();
  }
  const { name, source, terms } = SCALES[answer.scale];
  writeWords(`The ${name} scale (${source})`, colour.bold);
  writeLine(renderTable(scaleColumns(answer), terms).text);
  writeLine();
  if (answer.bound === 'upper') {
    writeWords(
      'The chance is to pass that one rival, or to draw level; to win against others as well cannot be likelier.',
    );
  }
  if (answer.precedent !== null) printPrecedents(answer.precedent, decimals);
  else if (hasHistory)
    writeWords(
      'The history has nobody of this discipline and scoring so far behind with as many routines left.',
    );
  writeWords(
    meet === null
      ? 'It rests on what is usual on each apparatus; it is for commentary, and no basis for betting.'
      : 'It rests on the ranges given; it is for commentary, and no basis for betting.',
    colour.dim,
  );
}

/** So many cases are shown, the successes first. */
const CASES = 8;

function printPrecedents(of: Precedents, decimals: Decimals): void {
  const { cases, successes, interval, order, from, to, list } = of;
  const show = (s: number) => formatScore(s, decimals);
  const [low, high] = interval.map((p) => `${(p * 100).toFixed(1)}%`);
  writeWords('Precedents', colour.bold);
  writeWords(
    `Of ${cases} who were ${show(Math.max(from, 1))} to ${show(to)} behind with as many routines left, ${successes} did it (95% interval ${low} to ${high}).`,
  );
  const shown = [...list].sort((a, b) => Number(b.success) - Number(a.success)).slice(0, CASES);
  const columns: Column<PrecedentCase>[] = [
    { head: '', cell: (c) => (c.success ? 'did it' : '') },
    { head: 'behind', cell: (c) => show(c.behind), align: 'right' },
    { head: 'ended', cell: (c) => ordinal(c.place), align: 'right' },
    { head: 'gymnast', cell: (c) => c.gymnast },
    { head: 'date', cell: (c) => c.date },
    { head: 'competition', cell: (c) => c.competition, flexible: true },
  ];
  writeLine(renderTable(columns, shown).text);
  if (list.length > CASES)
    writeWords(`and ${list.length - CASES} more (--json has all)`, colour.dim);
  if (order === 'assumed') {
    writeWords('The order of their routines is assumed, not known.', colour.dim);
  }
  writeLine();
}

function headline(
  meet: Meet | null,
  { contest, contender, target }: Claim,
  two: { readonly behind: string; readonly remaining: string } | null,
): string {
  if (meet === null || contender === null) {
    const left = two?.remaining === '1' ? 'one routine' : `${two?.remaining} routines`;
    return `Two equals, one ${two?.behind} behind with ${left} each to come: to pass the one ahead`;
  }
  return `${nameOf(meet, contender)} ${targetInWords(meet, target)} (${contest})`;
}

function targetInWords(meet: Meet, target: string): string {
  const [kind, value = ''] = target.split(/:(.*)/s);
  if (kind === 'medal') return 'to take a medal';
  if (kind === 'hold') return 'to hold on to the present place';
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

function stressColumns({ verdict }: Claim, said: (chance: number) => string): Column<StressRow>[] {
  return [
    { head: 'if', cell: (r) => r.what },
    {
      head: 'chance',
      cell: (r) => said(r.chance),
      align: 'right',
    },
    { head: '', cell: (r) => bar(r.chance, BAR) },
    { head: '', cell: (r) => (verdict === 'depends' && r.turns ? 'turns it' : '') },
  ];
}

function scaleColumns({ term, claimed }: Claim): Column<Term>[] {
  return [
    { head: '', cell: (t) => t.term, style: (t) => (t.term === term ? colour.bold : String) },
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
