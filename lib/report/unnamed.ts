/** Gymnasts who are not known yet: many with one name, and until they have done something one line of a board. */
import { gymnastOf, isUp, type Meet, sessionsOf } from '../meet/meet.js';
import { boardName, type Names } from '../meet/names.js';
import { type Section, sentence } from './report.js';

/** Rows to be shown, and what is said of the others. */
interface Folded<Row> {
  readonly shown: readonly Row[];
  readonly said: Section;
}

/** Rows without those who are not known yet and have done nothing: of these one line a session. */
export function folded<Row>(
  meet: Meet,
  rows: readonly Row[],
  idOf: (row: Row) => string,
): Folded<Row> {
  const perSession = new Map<number, number>();
  const shown = rows.filter((row) => {
    const session = sessionToCome(meet, idOf(row));
    if (session === null) return true;
    perSession.set(session, (perSession.get(session) ?? 0) + 1);
    return false;
  });
  const several = sessionsOf(meet).length > 1;
  const counts = [...perSession].sort(([a], [b]) => a - b);
  const said = counts.map(([session, count]) => {
    const when = several ? ` in session ${session}` : '';
    return sentence(`${count} more to come${when}, not named yet.`);
  });
  return { shown, said };
}

/** The session of somebody who is not known yet and has done nothing; null of anybody else. */
function sessionToCome(meet: Meet, id: string): number | null {
  if (gymnastOf(meet, id)?.unnamed !== true) return null;
  const hers = meet.routines.filter((r) => r.gymnast === id);
  const isWaiting = hers.every((r) => meet.results[r.index] === null && !isUp(meet, r.index));
  return isWaiting ? (hers[0]?.session ?? null) : null;
}

/** An order in names: "Okafor, 3 to be named, Lund". */
export function orderInNames(meet: Names, order: readonly string[]): string[] {
  const unnamed = new Set(meet.gymnasts.flatMap((g) => (g.unnamed ? [g.id] : [])));
  const names: string[] = [];
  let count = 0;
  for (const [i, id] of order.entries()) {
    if (!unnamed.has(id)) {
      names.push(boardName(meet, id));
      continue;
    }
    count += 1;
    if (unnamed.has(order[i + 1] ?? '')) continue;
    names.push(`${count} to be named`);
    count = 0;
  }
  return names;
}
