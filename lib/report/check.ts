/** What is wrong with a meet, and who performs where. */
import type { AdvanceFrom, Check } from '../meet/check.js';
import type { Problem } from '../meet/problems.js';
import type { Plan } from '../meet/read.js';
import { type Report, reportOf, type Section, sentence, title } from './report.js';
import { tableOf } from './table.js';
import { orderInNames } from './unnamed.js';
import { apparatusName, contestInWords, numberInWords } from './words.js';

/**
 * Every problem of a meet, and its rotations. `meet` is null where its file cannot be read.
 * @param meet - `plan` of what `readMeet` gave.
 * @param answer - As `check` gave it.
 * @example
 * const text = 'gymnasts:\n  - { id: ada, name: Ada Quillmore }\n';
 * const read = readMeet({ meet: { file: 'meet.yaml', text } });
 * const wrong = reports.check(read.plan, check(read)).flat().flatMap((b) => (b.kind === 'problem' ? [b.message] : []));
 * wrong[0] // → '`discipline` is missing'
 */
export function checkReport(
  meet: Plan | null,
  { sound, problems, rotations, advance }: Check,
): Report {
  return reportOf(
    problems.map(({ severity, file, line, message, mend }) => ({
      kind: 'problem',
      severity,
      where: `${file}${line === null ? '' : `:${line}`}`,
      message,
      mend,
    })),
    meet === null || rotations === null ? [] : rotationsSection(meet, rotations),
    (advance ?? []).map((rules) => sentence(advanceInWords(meet, rules))),
    [
      sound
        ? title(`All is well with the meet.${counted(problems)}`)
        : title(`The meet cannot be used as it is.${counted(problems)}`, { tone: 'error' }),
    ],
  );
}

/** "From all-around 24 go through, two of a team at most; four reserves. Ties are broken by the rules." */
function advanceInWords(
  meet: Plan | null,
  { contest, places, perTeam, reserves, ties }: AdvanceFrom,
): string {
  const name = meet === null ? contest : contestInWords(meet, contest);
  const quota = perTeam === null ? '' : `, ${numberInWords(perTeam)} of a team at most`;
  const waiting =
    reserves === 0 ? '' : `; ${numberInWords(reserves)} ${reserves === 1 ? 'reserve' : 'reserves'}`;
  const level = ties === 'all' ? ' Everyone level with the last one in goes through.' : '';
  return `From ${name} ${numberInWords(places)} ${places === 1 ? 'goes' : 'go'} through${quota}${waiting}.${level}`;
}

function counted(problems: readonly Problem[]): string {
  const counts = (['error', 'warning', 'note'] as const).flatMap((severity) => {
    const n = problems.filter((p) => p.severity === severity).length;
    return n === 0 ? [] : [`${n} ${severity}${n === 1 ? '' : 's'}`];
  });
  return counts.length === 0 ? '' : ` ${counts.join(', ')}.`;
}

function rotationsSection(meet: Plan, rotations: NonNullable<Check['rotations']>): Section {
  const sessions = new Set(rotations.map((r) => r.session));
  const rows = rotations.flatMap(({ session, rotation, stations }) =>
    stations.map((station, i) => ({
      session: sessions.size > 1 && rotation === 1 && i === 0 ? String(session) : '',
      rotation: i === 0 ? String(rotation) : '',
      station,
    })),
  );
  const table = tableOf(
    [
      { head: 'session', cell: (r) => r.session },
      { head: 'rotation', cell: (r) => r.rotation },
      {
        head: 'on',
        cell: ({ station }) =>
          station.apparatus === null ? 'bye' : apparatusName(meet, station.apparatus),
      },
      {
        head: 'in this order',
        cell: ({ station }) => ({
          text: '',
          items: restingTeams(meet, station) ?? orderInNames(meet, station.order),
        }),
      },
    ],
    rows,
  );
  return table.rows.length === 0 ? [] : [table];
}

/** The teams that have a bye, where whole teams do: nobody goes up in an order there. */
function restingTeams(
  { gymnasts, teams }: Plan,
  { apparatus, order }: Plan['rotations'][number]['stations'][number],
): string[] | null {
  const resting = new Set(order);
  const theirs = teams.filter(({ id }) => gymnasts.some((g) => g.team === id && resting.has(g.id)));
  const ids = new Set(theirs.map((t) => t.id));
  const isWhole =
    gymnasts.every((g) => !ids.has(g.team ?? '') || g.on.length === 0 || resting.has(g.id)) &&
    gymnasts.every((g) => !resting.has(g.id) || g.team !== null);
  return apparatus === null && ids.size > 0 && isWhole ? theirs.map((t) => t.name) : null;
}
