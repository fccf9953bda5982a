/** A final of a history as a meet: its text, and when everybody was up. */
import { type DisciplineCode, FOLLOW_UP_CODES } from '../apparatus.js';
import type { Meet } from '../meet/meet.js';
import { readTexts } from '../rules/reading.js';
import { type Decimals, formatScore } from '../score.js';
import type { ScoringSystemName } from '../scoring.js';
import type { FinalField } from './final-kinds.js';
import type { PastRoutine } from './routine.js';

/** Lines of a meet file: `groups:` or `rotations:`. */
type Schedule = string;

/** A final, with short ids: codes of a history may be anything. */
export interface FinalPlan {
  readonly discipline: DisciplineCode;
  readonly scoring: ScoringSystemName;
  readonly decimals: Decimals;
  readonly field: FinalField;
  /** By gymnast, in the order of the history: the routines, and her team where teams compete. */
  readonly gymnasts: ReadonlyMap<string, { routines: readonly PastRoutine[]; team: string | null }>;
  readonly schedule: Schedule;
}

export function gymnastId(i: number): string {
  return `g${i}`;
}

export function teamId(i: number): string {
  return `t${i}`;
}

/** The meet with every score recorded. Throws a `RangeError` where it is none. */
export function meetOf(plan: FinalPlan): Meet {
  const { discipline, scoring, decimals, field, gymnasts, schedule } = plan;
  const teams = [...field.contenders.keys()];
  const text = [
    `discipline: ${discipline}`,
    `scoring: ${scoring}`,
    `decimals: ${decimals}`,
    `contests: [${field.contest}]`,
    'gymnasts:',
    ...[...gymnasts.values()].map(({ routines, team }, i) => {
      const on = routines.map((r) => r.apparatus).join(', ');
      const whose = team === null ? '' : `, team: ${teamId(teams.indexOf(team))}`;
      return `  - { id: ${gymnastId(i)}${whose}, on: [${on}] }`;
    }),
    schedule,
  ].join('\n');
  const rows = [...gymnasts.values()].flatMap(({ routines }, i) =>
    routines.map((r) => `${gymnastId(i)},${r.apparatus},${numbersOf(r, decimals)}`),
  );
  const { meet, problems } = readTexts({
    meet: { file: 'round', text },
    log: { file: 'scores', text: `gymnast,apparatus,score,d,e,nd\n${rows.join('\n')}\n` },
  });
  if (meet === null) throw new RangeError(problems.find((p) => p.severity === 'error')?.message);
  return meet;
}

/** Score, D, E and ND; of a routine worth nothing the parts do not add up, and are left out. */
function numbersOf({ score, d, e, nd }: PastRoutine, decimals: Decimals): string {
  const show = (value: number | null) => (value === null ? '' : formatScore(value, decimals));
  const parts = score === 0 ? ['', '', ''] : [show(d), show(e), show(nd)];
  return [show(score), ...parts].join(',');
}

/** As the history says, and how many rotations that are; null where it does not say it of everybody. */
export function knownRotations(
  gymnasts: FinalPlan['gymnasts'],
): { text: Schedule; count: number } | null {
  const rotations = new Map<number, Map<string, string[]>>();
  for (const [i, { routines }] of [...gymnasts.values()].entries()) {
    for (const { apparatus, rotation } of routines) {
      if (rotation === null) return null;
      // A second vault is done right after the first.
      if (FOLLOW_UP_CODES.includes(apparatus)) continue;
      const stations = rotations.get(rotation) ?? new Map<string, string[]>();
      stations.set(apparatus, [...(stations.get(apparatus) ?? []), gymnastId(i)]);
      rotations.set(rotation, stations);
    }
  }
  const inOrder = [...rotations].sort(([a], [b]) => a - b);
  return {
    text: rotationsText(inOrder.map(([, stations]) => [...stations])),
    count: rotations.size,
  };
}

/** One after another, each in a rotation of her own. */
export function oneAfterAnother(order: readonly number[], on: string): Schedule {
  return rotationsText(order.map((i) => [[on, [gymnastId(i)]]]));
}

type Station = readonly [code: string, order: readonly string[]];

function rotationsText(rotations: readonly (readonly Station[])[]): Schedule {
  const lines = rotations.map((stations) => {
    const orders = stations.map(([code, order]) => `${code}: [${order.join(', ')}]`);
    return `  - { ${orders.join(', ')} }`;
  });
  return `rotations:\n${lines.join('\n')}\n`;
}

/**
 * Without the order: groups by place in qualification where the competition has one, the best on the
 * first apparatus (common practice: women four groups, men six); else everyone apparatus by
 * apparatus in Olympic order. `qualified`: totals by gymnast or team.
 */
export function assumedGroups(
  field: FinalField,
  gymnasts: FinalPlan['gymnasts'],
  qualified: ReadonlyMap<string, number>,
): Schedule {
  const names = [...field.contenders.keys()];
  const known = names.filter((name) => qualified.has(name)).length;
  if (known * 2 < names.length) return '';
  const ranked = names
    .map((name, i) => ({ name, i, total: qualified.get(name) ?? -1 }))
    .sort((a, b) => b.total - a.total || a.i - b.i);
  const members = [...gymnasts].map(([name, { team }], i) => ({ whose: team ?? name, i }));
  const size = Math.ceil(ranked.length / field.codes.length);
  const lines = field.codes.flatMap((code, k) => {
    const group = ranked.slice(k * size, (k + 1) * size);
    const order = group.flatMap(({ name }) =>
      members.filter((m) => m.whose === name).map(({ i }) => gymnastId(i)),
    );
    return order.length === 0 ? [] : [`  - { start: ${code}, order: [${order.join(', ')}] }`];
  });
  return `groups:\n${lines.join('\n')}\n`;
}
