/** Columns that say when: the rotation, and the session where there are several. */
import { type Meet, type Routine, sessionsOf } from '../meet/meet.js';
import type { ColumnOf } from './table.js';

export function rotationColumns<Row>(
  meet: Meet,
  routineOf: (row: Row) => Pick<Routine, 'session' | 'rotation'> | undefined,
  spare: number,
): ColumnOf<Row>[] {
  const several = sessionsOf(meet).length > 1;
  const text = (number: number | undefined) => String(number ?? '');
  return [
    {
      head: 'session',
      cell: (row) => (several ? text(routineOf(row)?.session) : ''),
      align: 'right',
      spare,
    },
    { head: 'rotation', cell: (row) => text(routineOf(row)?.rotation), align: 'right', spare },
  ];
}
