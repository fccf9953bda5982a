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
  writeWords(`${nameOf(meet, row.gymnast ?? '')}, ${codes} ${row.score}${total}`, colour.bold);
  for (const warning of recorded.warnings) writeWords(`note: ${warning}`, colour.yellow);
  const others = recorded.changes.filter((c) => c.id !== row.gymnast && c.to !== null);
  const moves = others
    .slice(0, MOST_CHANGES)
    .map(({ id, from, to }) => `${nameOf(meet, id)} ${moveInWords(from, to ?? 0)}`);
  const more = others.length - moves.length;
  if (moves.length > 0) writeWords(`${moves.join(', ')}${more > 0 ? `, and ${more} more` : ''}.`);
  for (const { id, ...settled } of recorded.settled) {
    writeWords(`${nameOf(meet, id)}: ${settledInWords(settled, null)}.`, colour.bold);
  }
  sayNextUp(meet, recorded.contest);
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
  const said = [
    part(meet, sheet, 'lead', 'now', 'to lead'),
    part(meet, sheet, 'win', 'end', 'to win'),
    part(meet, sheet, 'medal', 'end', 'for a medal'),
  ].filter((p) => p !== null);
  const { she } = wordsFor(meet, sheet.contender);
  const words = said.length === 0 ? '' : `: ${she} needs ${said.join(', ')}`;
  const later = said.some((p) => !p.endsWith('to lead')) ? ' (rivals as likely)' : '';
  return `${where}, ${name}${words}${later}.`;
}

/** "13.434 to win", "any score for a medal"; null where it cannot be. */
function part(
  meet: Meet,
  sheet: NeedsSheet,
  target: string,
  when: string,
  words: string,
): string | null {
  const rivals = when === 'now' ? 'as-is' : 'likely';
  const need = sheet.needs.find(
    (n) => n.target === target && n.when === when && n.rivals === rivals && n.rest === 'likely',
  );
  return need === undefined ? null : scoreInWords(meet, need, words);
}

function scoreInWords(meet: Meet, need: Need, words: string): string | null {
  const show = shower(meet);
  switch (need.status) {
    case 'secured':
      return `any score ${words}`;
    case 'level-only':
      return `${show(need.level ?? 0)} to tie ${words}`;
    case 'beyond':
      return `${show(need.onGrid ?? need.ahead ?? 0)} ${words}, above the realistic best`;
    case 'needs':
      return `${show(need.onGrid ?? need.ahead ?? 0)} ${words}`;
    default:
      return null;
  }
}
