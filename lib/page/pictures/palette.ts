/** Colours of a picture: in a page those of its style sheet, which knows light and dark; in a file their values. */

export interface Palette {
  readonly paper: string;
  readonly ink: string;
  readonly quiet: string;
  readonly line: string;
  /** What is filled lightly. */
  readonly wash: string;
  /** By goal. */
  readonly win: string;
  readonly medal: string;
  readonly advance: string;
  /** Lines of several contenders, told apart by their dashes as well. */
  readonly lines: readonly string[];
}

/** So many contenders can be told apart in one picture. */
export const MOST_LINES = 6;

export const PAGE_PALETTE: Palette = {
  paper: 'var(--paper)',
  ink: 'var(--ink)',
  quiet: 'var(--quiet)',
  line: 'var(--line)',
  wash: 'var(--wash)',
  win: 'var(--win)',
  medal: 'var(--medal)',
  advance: 'var(--advance)',
  lines: Array.from({ length: MOST_LINES }, (_, k) => `var(--line-${k + 1})`),
};

export const FILE_PALETTE: Palette = {
  paper: '#ffffff',
  ink: '#1d2730',
  quiet: '#55606b',
  line: '#d5d9dd',
  wash: '#e6ebee',
  win: '#8f6400',
  medal: '#1f6f78',
  advance: '#1f6f78',
  lines: ['#1f6f78', '#8f6400', '#8c2f4b', '#4a4fa3', '#3f6b2a', '#6b4a2f'],
};

/** Dashes of the lines, in the same order. */
export const DASHES = ['', '7 3', '2 3', '10 3 2 3', '5 5', '1 4'] as const;
