/** What is wrong with a meet, and who performs where. */
import type { Check, Plan, Problem, Severity } from '../../lib/index.js';
import { colour, safe, writeLine } from '../terminal.js';
import { apparatusName, shortName } from '../words.js';
import { renderTable } from './table.js';

const STYLES: Readonly<Record<Severity, (text: string) => string>> = {
  error: colour.red,
  warning: colour.yellow,
  note: colour.dim,
};

export function printCheck(meet: Plan | null, { sound, problems, rotations }: Check): void {
  for (const problem of problems) {
    const where = `${problem.file}${problem.line === null ? '' : `:${problem.line}`}`;
    writeLine(
      `${STYLES[problem.severity](problem.severity)} ${safe(`${where}: ${problem.message}`)}`,
    );
    writeLine(`  ${safe(problem.mend)}`);
  }
  if (problems.length > 0) writeLine();
  if (meet !== null && rotations !== null) printRotations(meet, rotations);
  writeLine(
    sound
      ? colour.bold(`Sound.${counted(problems)}`)
      : colour.bold(colour.red(`Not sound.${counted(problems)}`)),
  );
}

function counted(problems: readonly Problem[]): string {
  const counts = (['error', 'warning', 'note'] as const).flatMap((severity) => {
    const n = problems.filter((p) => p.severity === severity).length;
    return n === 0 ? [] : [`${n} ${severity}${n === 1 ? '' : 's'}`];
  });
  return counts.length === 0 ? '' : ` ${counts.join(', ')}.`;
}

function printRotations(meet: Plan, rotations: NonNullable<Check['rotations']>): void {
  const rows = rotations.flatMap(({ rotation, stations }) =>
    stations.map((station, i) => ({ rotation: i === 0 ? String(rotation) : '', station })),
  );
  const { text } = renderTable(
    [
      { head: 'rotation', cell: (r) => r.rotation },
      {
        head: 'on',
        cell: ({ station }) =>
          station.apparatus === null ? 'bye' : apparatusName(meet, station.apparatus),
      },
      {
        head: 'in this order',
        cell: ({ station }) => wrapped(station.order.map((id) => shortName(meet, id))),
      },
    ],
    rows,
  );
  writeLine(text);
  writeLine();
}

/** Names on lines short enough for a narrow terminal. */
function wrapped(names: readonly string[]): string {
  const lines: string[] = [];
  for (const name of names) {
    const line = lines.at(-1);
    if (line === undefined || line.length + name.length > 50) lines.push(name);
    else lines[lines.length - 1] = `${line}, ${name}`;
  }
  return lines.join(',\n');
}
