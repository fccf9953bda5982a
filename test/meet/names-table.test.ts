/**
 * Forms of names from many countries: the family name that is found in each, and what a board with too
 * little room shows. Everybody is invented; all are on one board, so that two who share a family name
 * show their initials.
 */
import { describe, expect, it } from 'vitest';
import { type Meet, reports, standings } from '../../lib/index.js';
import { familyName, shortName } from '../../lib/meet/names.js';
import { meetFrom } from '../support/meet.js';

type Form = readonly [name: string, family: string, board: string];

const FORMS: readonly Form[] = [
  // Given name, family name.
  ['Ada Quill', 'Quill', 'Quill'],
  ['Ines Maria Tolle', 'Tolle', 'Tolle'],
  ['Zoë Brückenø', 'Brückenø', 'Brückenø'],
  ['Þóra Eldbergsdóttir', 'Eldbergsdóttir', 'Eldbergsdóttir'],
  ['Ruth Okafor', 'Okafor', 'R. Okafor'],
  ['Mina Okafor', 'Okafor', 'M. Okafor'],
  ['Élise Ravelle', 'Ravelle', 'É. Ravelle'],
  ['Bea Ravelle', 'Ravelle', 'B. Ravelle'],
  // The same initial as well: nothing shorter tells them apart.
  ['Amy Marsh', 'Marsh', 'Amy Marsh'],
  ['Ann Marsh', 'Marsh', 'Ann Marsh'],
  // The family name in capitals, before or after.
  ['BRONDT Ida', 'BRONDT', 'BRONDT'],
  ['Liv LUND', 'LUND', 'LUND'],
  ['LI Sumei', 'LI', 'LI'],
  ['NG Wai Yan', 'NG', 'NG'],
  ['GARCÍA ROBLEDO Ana', 'GARCÍA ROBLEDO', 'GARCÍA ROBLEDO'],
  ['Van der AALST Fien', 'Van der AALST', 'Van der AALST'],
  ['GROß Ute', 'GROß', 'GROß'],
  ['Ben MARROW', 'MARROW', 'MARROW'],
  ['ASTOR Ida NQY', 'ASTOR', 'ASTOR'],
  ['McLARREN Isla', 'McLARREN', 'McLARREN'],
  ['O’DUNNE Orla', 'O’DUNNE', 'O’DUNNE'],
  ['SILVA e CORTEZ Luz', 'SILVA e CORTEZ', 'SILVA e CORTEZ'],
  ['ПОЛЕВА Ада', 'ПОЛЕВА', 'ПОЛЕВА'],
  ['STENBERG-HOLT Maja', 'STENBERG-HOLT', 'STENBERG-HOLT'],
  // All in capitals, or all small, says nothing.
  ['SUZU TANAKURA', 'TANAKURA', 'TANAKURA'],
  ['FENNA DE RUIGE', 'DE RUIGE', 'DE RUIGE'],
  ['HETTY de LOOS', 'de LOOS', 'de LOOS'],
  ['ANA SERRA y LUNA', 'SERRA y LUNA', 'SERRA y LUNA'],
  ['nell ashdown', 'ashdown', 'ashdown'],
  // Given names in initials.
  ['J.P. Harrow', 'Harrow', 'Harrow'],
  ['AJ Pellow', 'Pellow', 'Pellow'],
  ['MK Vance', 'Vance', 'Vance'],
  ['E.A. Marlow', 'Marlow', 'Marlow'],
  ['Costeira L.', 'Costeira', 'Costeira'],
  ['Hwang S. M.', 'Hwang', 'Hwang'],
  ['Mina O', 'O', 'O'],
  // Particles, small or with a capital.
  ['Fenna de Wit', 'de Wit', 'de Wit'],
  ['Lotte van der Heuvelen', 'van der Heuvelen', 'van der Heuvelen'],
  ['Anke Van Rossem', 'Van Rossem', 'Van Rossem'],
  ['Greta von Eschen', 'von Eschen', 'von Eschen'],
  ['Rita dos Prados', 'dos Prados', 'dos Prados'],
  ['Chiara Della Corte', 'Della Corte', 'Della Corte'],
  ['Maëlle Le Goïc', 'Le Goïc', 'Le Goïc'],
  ['Odette d’Arvel', 'd’Arvel', 'd’Arvel'],
  ['Salma El Amriti', 'El Amriti', 'El Amriti'],
  ['Ben Sarrow', 'Sarrow', 'Sarrow'],
  ['Noor Ben Sahli', 'Ben Sahli', 'Ben Sahli'],
  ['Aisyah binti Rahimah', 'binti Rahimah', 'binti Rahimah'],
  ['Fiona Mc Larrie', 'Mc Larrie', 'Mc Larrie'],
  ["Nora O' Brannt", "O' Brannt", "O' Brannt"],
  ["Orla O'Shaye", "O'Shaye", "O'Shaye"],
  ['Aoife Ní Bhriarr', 'Ní Bhriarr', 'Ní Bhriarr'],
  ['Clara St. Aubrey', 'St. Aubrey', 'St. Aubrey'],
  // Two family names, where that can be known.
  ['Maja Pell-Lindqvist', 'Pell-Lindqvist', 'Pell-Lindqvist'],
  ['Maja Sand - Lie', 'Sand - Lie', 'Sand - Lie'],
  ['Rosa Ortega y Luz', 'Ortega y Luz', 'Ortega y Luz'],
  ['Inês da Serra e Mello', 'da Serra e Mello', 'da Serra e Mello'],
  // Where it cannot, the last word: `family` says more.
  ['Ana Robledo Cruz', 'Cruz', 'Cruz'],
  ['Lê Thị Hương', 'Hương', 'Hương'],
  // A comma, and what follows a name.
  ['Vale, Dita', 'Vale', 'Vale'],
  ['Montero Rey, Alba', 'Montero Rey', 'Montero Rey'],
  ['Ken Ashby Jr.', 'Ashby', 'Ashby'],
  ['Lee Carrow, Sr.', 'Carrow', 'Carrow'],
  ['Dean Thorley III', 'Thorley', 'Thorley'],
  ['Paulo Nevada Filho', 'Nevada', 'Nevada'],
  ['Ana Júnior', 'Júnior', 'Júnior'],
  ['Wren Adeyemi (NQY)', 'Adeyemi', 'Adeyemi'],
  // One name, and names in scripts without spaces.
  ['Juno', 'Juno', 'Juno'],
  ['de Boor', 'de Boor', 'de Boor'],
  ['谭晓梅', '谭晓梅', '谭晓梅'],
  ['橘 すず', '橘 すず', '橘 すず'],
  ['アイダ・ブラント', 'アイダ・ブラント', 'アイダ・ブラント'],
  ['한소미', '한소미', '한소미'],
  ['ليلى سمران', 'سمران', 'سمران'],
];

const meet = meetFrom(
  JSON.stringify({
    discipline: 'wag',
    scoring: 'open',
    gymnasts: FORMS.map(([name], i) => ({ id: `g${i}`, name })),
  }),
);

function narrowBoard(of: Meet): string[] {
  const board = reports.standings(of, standings(of)).flat();
  const table = board.find((block) => block.kind === 'table');
  const at = table?.columns.findIndex((c) => c.head === 'name') ?? -1;
  return (table?.rows ?? []).map((row) => {
    const cell = row.cells[at];
    return cell?.shorter?.at(-1) ?? cell?.text ?? '';
  });
}

const shown = narrowBoard(meet);

describe('forms of names', () => {
  it('are fifty at least, and no two look the same on a board', () => {
    expect(FORMS.length).toBeGreaterThanOrEqual(50);
    expect(shown).toHaveLength(FORMS.length);
    expect(new Set(shown).size).toBe(FORMS.length);
  });

  it.each(FORMS.map((form, i) => [...form, i] as const))('%s: %s, on a board %s', (...form) => {
    const [name, family, board, i] = form;
    expect(familyName({ name })).toBe(family);
    expect(shown[i]).toBe(board);
  });

  it('are said whole in a sentence where somebody else has the family name', () => {
    expect(shortName(meet, 'g4')).toBe('Ruth Okafor');
    expect(shortName(meet, 'g0')).toBe('Quill');
  });

  it('are never without a family name, whatever is written', () => {
    for (const name of ['-', ',', ', Ida', 'Ida,', 'II', 'Jr.', '()', 'A. B.', '- - -', 'X', 'y']) {
      expect(familyName({ name }).trim(), name).not.toBe('');
    }
  });
});
