/** What is said after a score, in lines that can be read aloud. */
import {
  type Meet,
  type Need,
  type NeedsSheet,
  needs,
  nextUp,
  type Recorded,
  type Routine,
} from '../../lib/index.js';
import { colour, writeWords } from '../terminal.js';
import { apparatusName, nameOf, ordinal, settledInWords, shower, wordsFor } from '../words.js';

/** More places that changed than this are counted. */
const MOST_CHANGES = 4;

/** Her score, total and place; who moved; what was settled; what the next up need. */
export function sayRecorded(meet: Meet, recorded: Recorded): void {
  const show = shower(meet);
  const { row, rows } = recorded;
  const codes = rows.map((r) => apparatusName(meet, r.apparatus ?? '')).join(', ');
  const place = recorded.place === null ? 'no place yet' : ordinal(recorded.place);
  const total = recorded.total === null ? '' : `: ${show(recorded.total)}, ${place}`;
  const score = row.score === 'void' ? 'taken back' : row.score;
  writeWords(`${nameOf(meet, row.gymnast ?? '')}, ${codes} ${score}${total}`, colour.bold);
  for (const warning of recorded.warnings) writeWords(`note: ${warning}`, colour.yellow);
  sayMoves(meet, recorded);
  saySettled(meet, recorded);
  sayNextUp(meet, recorded.contest);
}

/** Whose place changed, the best places first. */
function sayMoves(meet: Meet, { row, changes }: Recorded): void {
  const others = changes
    .flatMap(({ id, from, to }) => (id === row.gymnast || to === null ? [] : [{ id, from, to }]))
    .sort((a, b) => a.to - b.to);
  if (others.length === 0) return;
  const moves = others
    .slice(0, MOST_CHANGES)
    .map(({ id, from, to }) => `${nameOf(meet, id)} ${moveInWords(from, to)}`);
  const more = others.length - moves.length;
  writeWords(`${moves.join(', ')}${more > 0 ? `, and ${more} more` : ''}.`);
}

/** What was settled, the same of several at once. */
function saySettled(meet: Meet, { settled }: Recorded): void {
  const whose = new Map<string, string[]>();
  for (const { id, ...what } of settled) {
    const words = settledInWords(what, null);
    whose.set(words, [...(whose.get(words) ?? []), nameOf(meet, id)]);
  }
  for (const [words, names] of whose) writeWords(`${namesInWords(names)}: ${words}.`, colour.bold);
}

/** "Ada, Bea and Cleo" */
function namesInWords(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

function moveInWords(from: number | null, to: number): string {
  if (from === null) return `is ${ordinal(to)}`;
  return `${to < from ? 'up' : 'down'} to ${ordinal(to)}`;
}

/** One line for the next up on each apparatus. */
export function sayNextUp(meet: Meet, contest: string): void {
  const next = nextUp(meet);
  if (next.length === 0) writeWords('Nothing is to come.');
  for (const routine of next) {
    const line = nextLine(meet, routine, contest);
    if (line !== null) writeWords(line);
  }
}

function nextLine(meet: Meet, routine: Routine, contest: string): string | null {
  const where = `Next on ${apparatusName(meet, routine.apparatus)}`;
  const name = nameOf(meet, routine.gymnast);
  let sheet: NeedsSheet;
  try {
    sheet = needs(meet, routine.gymnast, { contest, on: routine.apparatus });
  } catch {
    // No contender of this contest, or out of it.
    return `${where}: ${name}.`;
  }
  const asked = [
    { need: needOf(sheet, 'lead', 'now'), words: 'to lead', beyond: 'leading' },
    { need: needOf(sheet, 'win', 'end'), words: 'to win', beyond: 'winning' },
    { need: needOf(sheet, 'medal', 'end'), words: 'for a medal', beyond: 'a medal' },
  ];
  const said = asked.flatMap(({ need, words }) => scoreInWords(meet, need, words) ?? []);
  const beyond = asked.flatMap(({ need, beyond: words }) =>
    need?.status === 'beyond' || need?.status === 'impossible' ? [words] : [],
  );
  const is = beyond.length === 1 ? 'is' : 'are';
  const { she, her } = wordsFor(meet, sheet.contender);
  const sentences = [
    ...(said.length > 0 ? [`${she} needs ${said.join(', ')}`] : []),
    ...(beyond.length > 0 ? [`${namesInWords(beyond)} ${is} above ${her} realistic best`] : []),
  ];
  if (sentences.length === 0) return `${where}, ${name}.`;
  return `${where}, ${name}: ${sentences.join('; ')}.`;
}

/** To lead as the board stands; all else with rivals, and her own rest, at their likely. */
function needOf(sheet: NeedsSheet, target: string, when: string): Need | undefined {
  const rivals = when === 'now' ? 'as-is' : 'likely';
  return sheet.needs.find(
    (n) => n.target === target && n.when === when && n.rivals === rivals && n.rest === 'likely',
  );
}

/** "13.434 to win"; null where no realistic score does it. */
function scoreInWords(meet: Meet, need: Need | undefined, words: string): string | null {
  const show = shower(meet);
  switch (need?.status) {
    case 'secured':
      return `any score ${words}`;
    case 'level-only':
      return `${show(need.level ?? 0)} to draw level ${words}`;
    case 'needs':
      return `${show(need.onGrid ?? need.ahead ?? 0)} ${words}`;
    default:
      return null;
  }
}
