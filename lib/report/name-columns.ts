/** Columns that say who: names, shortened for all by the same rule, teams, countries. */
import { gymnastOf, type Meet } from '../meet/meet.js';
import { nameForms } from '../meet/names.js';
import type { Cell } from './report.js';
import type { ColumnOf } from './table.js';
import { nameOf } from './words.js';

/**
 * The names of gymnasts or teams: whole; initial and family name; the family name. A team's becomes its
 * id.
 */
export function nameColumn<Row>(meet: Meet, idOf: (row: Row) => string): ColumnOf<Row> {
  return { head: 'name', cell: (row) => nameCell(meet, idOf(row)), isNames: true };
}

function nameCell(meet: Meet, id: string): Cell {
  const forms = nameForms(meet).get(id);
  if (forms !== undefined) {
    return { text: forms.whole, shorter: [forms.initial, forms.family] };
  }
  const text = nameOf(meet, id);
  return { text, shorter: id.length < text.length ? [text, id] : [] };
}

/**
 * Team and country, as one column where nobody has two different ones: a country stands where there is
 * no team, and is said once where it is the team.
 */
export function teamColumns<Row extends { readonly id: string; readonly team: string | null }>(
  meet: Meet,
  rows: readonly Row[],
): ColumnOf<Row>[] {
  const countryOf = ({ id }: Row) => gymnastOf(meet, id)?.country ?? null;
  const hasBoth = rows.some((r) => r.team !== null && ![null, r.team].includes(countryOf(r)));
  const team = (r: Row) => r.team ?? '';
  const country = (r: Row) => countryOf(r) ?? '';
  if (hasBoth) {
    return [
      { head: 'team', cell: team, spare: 1 },
      { head: 'country', cell: country, spare: 1 },
    ];
  }
  const head = rows.some((r) => r.team !== null) ? 'team' : 'country';
  return [{ head, cell: (r) => r.team ?? country(r), spare: 1 }];
}
