/** One need, one figure: what a line says, the desk says, in its sentence and in its table. */
import fc from 'fast-check';
import {
  awaited,
  formatScore,
  graphics,
  type Meet,
  type Need,
  needs,
  needsOfAll,
  nextUp,
  reports,
  type Score,
} from '../../../lib/index.js';
import { asScore } from '../../../lib/score.js';
import { gridAtOrAbove } from '../../../lib/scoring.js';
import { type Case, caseArb, contestId, must, readCase } from '../asking.js';

/** What is said of one need: the lowest real score, and the real score that only ties. */
interface Said {
  readonly score: string | null;
  readonly tie: string | null;
}

const GOALS = { 'to lead': 'lead', 'to win': 'win', 'for a medal': 'medal' } as const;
type Goal = (typeof GOALS)[keyof typeof GOALS];

/** "… needs 14.633 on beam to lead; 14.600 shares the lead." */
function ofLine(text: string): Said {
  return {
    score: / needs (\d+\.\d{3,4}) /.exec(text)?.[1] ?? null,
    tie: /; (\d+\.\d{3,4}) (?:shares|ties)/.exec(text)?.[1] ?? null,
  };
}

function targetOf(line: string): Goal {
  const goal = Object.entries(GOALS).find(([words]) => line.includes(` ${words}`));
  return goal?.[1] ?? 'lead';
}

/** "… she needs 14.633 to lead now (14.600 shares it); if …, 14.700 to win and 13.766 for a medal." */
function ofSentence(text: string): Map<string, Said> {
  const found = text.matchAll(
    /(\d+\.\d{3,4}) ((?:to lead|to win|for a medal| and )+)(?: \((\d+\.\d{3,4}) (?:shares|ties))?/g,
  );
  return new Map(
    [...found].flatMap(([, score = '', goals = '', tie = null]) =>
      goals
        .split(' and ')
        .map((goal): [string, Said] => [GOALS[goal as keyof typeof GOALS], { score, tie }]),
    ),
  );
}

const HEADS: Readonly<Record<string, string>> = {
  'to lead now': 'lead',
  'for a medal': 'medal',
  'to win': 'win',
  'to hold\nthe place': 'hold',
};

/** The cells of the table of all needs by gymnast, apparatus and target. */
function cellsOf(meet: Meet, contest: string): Map<string, string> {
  const all = needsOfAll(meet, { contest });
  const blocks = reports.needsOfAll(meet, all).flat();
  const table = blocks.find((block) => block.kind === 'table');
  if (table?.kind !== 'table') return new Map();
  // Those who are still to be named and have done nothing are one line together.
  const begun = new Set(
    meet.routines.flatMap((r) =>
      meet.results[r.index] != null || meet.up[r.index] ? [r.gymnast] : [],
    ),
  );
  const isShown = (id: string) =>
    begun.has(id) || meet.gymnasts.some((g) => g.id === id && !g.unnamed);
  const shown = all.gymnasts.filter((sheet) => isShown(sheet.gymnast));
  const cells = shown.flatMap(({ gymnast, apparatus }, row) =>
    table.columns.map(({ head }, column): [string, string] => [
      `${gymnast} ${apparatus} ${HEADS[head] ?? head}`,
      table.rows[row]?.cells[column]?.text ?? '',
    ]),
  );
  return new Map(cells);
}

/** The lowest real score that draws level: of a mean of two that is cut, more than one score does. */
function realLevel({ scoring }: Meet, need: Need | undefined): Score | null {
  if (need?.level == null || need.ahead == null) return null;
  const score = gridAtOrAbove(need.level, scoring.grid);
  return score === need.level || score < need.ahead ? asScore(score) : null;
}

/** Compares every need line that there is now, and gives how many figures and ties were compared. */
export function compareFigures(
  meet: Meet,
  contest: string,
  differs: (what: string) => void,
): { figures: number; ties: number } {
  const count = { figures: 0, ties: 0 };
  const show = (s: Score | null) => (s === null ? null : formatScore(s, meet.scoring.decimals));
  const sentences = reports.nextUp(meet, contest).flat();
  const cells = cellsOf(meet, contest);
  const lines = graphics(meet, { contest, kinds: ['need'] }).lines;
  // The desk says first whose score is awaited.
  [...awaited(meet), ...nextUp(meet)].forEach(({ gymnast, apparatus }, i) => {
    const sentence = sentences[i];
    const desk = ofSentence(sentence?.kind === 'sentence' ? sentence.text : '');
    for (const { about, text, apparatus: on } of lines) {
      if (text === null || about[0]?.id !== gymnast || on !== apparatus) continue;
      const said = ofLine(text);
      const target = targetOf(text);
      if (said.score === null) continue;
      count.figures++;
      if (said.tie !== null) count.ties++;
      const [need] = needs(meet, gymnast, { contest, on: apparatus, for: target }).needs;
      if (show(need?.onGrid ?? null) !== said.score) differs(`${text} of ${need?.onGrid}`);
      // A tie that is named is the level of the need, and not hers.
      if (
        said.tie !== null &&
        (show(realLevel(meet, need)) !== said.tie || need?.tieGoesTo === 'her')
      )
        differs(`${text} of level ${need?.level}, ${need?.tieGoesTo}`);
      const alsoSaid = desk.get(target);
      // A line may leave the tie out to make room for what it rests on, or that it is above her best.
      const isLong =
        need?.status === 'beyond' || /\((?:[^()]* )?(?:awaited|under inquiry)\)\.$/.test(text);
      const isOtherTie = said.tie === null && isLong ? false : alsoSaid?.tie !== said.tie;
      if (alsoSaid !== undefined && (alsoSaid.score !== said.score || isOtherTie)) {
        differs(`${text}\nbut ${JSON.stringify(sentence)}`);
      }
      // The desk leaves a figure out where it is more than her best, or all that there is to win.
      if (alsoSaid === undefined && need?.status === 'needs' && target !== 'lead') {
        differs(`${text}\nis not in ${JSON.stringify(sentence)}`);
      }
      const cell = cells.get(`${about.at(-1)?.id} ${apparatus} ${target}`);
      const own = cells.get(`${gymnast} ${apparatus} ${target}`) ?? cell;
      if (own !== undefined && own.split(' ')[0] !== said.score) {
        differs(`${text}\nbut the table says ${own}`);
      }
    }
  });
  return count;
}

export const oneNeedHasOneFigure = fc.property(caseArb(1), ({ sketch }: Case) => {
  const { meet } = readCase(sketch);
  for (const sketched of sketch.contests) {
    compareFigures(meet, contestId(sketched), (what) => must(false, sketch, () => what));
  }
});
