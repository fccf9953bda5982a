/**
 * What an answer says, as plain data: sections of titles, sentences and tables, in the order in
 * which they are read. A report holds no colour and no width, so a terminal and a page print the same.
 */

/** How much something matters, or how bad it is. */
export type Tone = 'strong' | 'quiet' | 'warning' | 'error';

/** The heading of a section. */
export interface Title {
  readonly kind: 'title';
  /** In one line. */
  readonly text: string;
  /** Said after it, less loudly. */
  readonly aside: string | null;
  /** How loudly it is said; null as usual. */
  readonly tone: Tone | null;
}

/** A paragraph. */
export interface Sentence {
  readonly kind: 'sentence';
  /** Plain English, to be broken where there is no room. */
  readonly text: string;
  /** How loudly it is said; null as usual. */
  readonly tone: Tone | null;
  /** Belongs to the title above it. */
  readonly isDetail: boolean;
}

/** A problem of a file, to be found in it. */
export interface FoundProblem {
  readonly kind: 'problem';
  /** As of a `Problem`. */
  readonly severity: 'error' | 'warning' | 'note';
  /** The file, and the line where it is known: `meet.yaml:12`. */
  readonly where: string;
  /** What is wrong. */
  readonly message: string;
  /** What to do about it. */
  readonly mend: string;
}

/** Lines to be taken over as they are, such as a part of a file. */
export interface Verbatim {
  readonly kind: 'verbatim';
  /** With its line breaks. */
  readonly text: string;
}

/** How the cells of a column are set, and what gives way where there is no room. */
export interface Column {
  /** Empty where the cells speak for themselves; several lines where it has line breaks. */
  readonly head: string;
  /** To which side its cells are set; figures to the right. */
  readonly align: 'left' | 'right';
  /** May be left out where there is no room, the highest number first; null: never. */
  readonly spare: number | null;
  /** Its text may be broken into several lines. */
  readonly isFlexible: boolean;
  /** Where there is no room for it, its cells are said under their rows. */
  readonly goesUnder: boolean;
  /** Of names: one that is still too long is cut, with …, before another column is left out. */
  readonly isNames: boolean;
  /** What the left and the right end of its pictures stand for, instead of a head. */
  readonly ends: readonly [left: string, right: string] | null;
}

/** What was forecast and what happened, each a probability, to be shown on one line from 0 to 1. */
export interface Comparison {
  /** The mean chance that was given; null where none was. */
  readonly said: number | null;
  /** How often it happened; null where nothing was said. */
  readonly happened: number | null;
  /** Between what the true share may lie, 95 times in a hundred; null where nothing was said. */
  readonly interval: readonly [low: number, high: number] | null;
}

/** What stands in one row of one column. */
export interface Cell {
  /** Several lines where it has line breaks; empty for nothing. */
  readonly text: string;
  /**
   * The same shorter and shorter, for where there is no room, before a column is left out. All cells of a
   * table are taken equally far.
   */
  readonly shorter?: readonly string[];
  /** How loudly it is said; null or left out as usual. */
  readonly tone?: Tone | null;
  /** A probability to be shown as a length, before the text. */
  readonly bar?: number;
  /** Probabilities in order of time, to be shown as a small line of heights, instead of the text. */
  readonly spark?: readonly number[];
  /** Shown instead of the text, separated by commas, and broken only between two. */
  readonly items?: readonly string[];
  /** Shown instead of the text. */
  readonly comparison?: Comparison;
}

/** One line of a table. */
export interface Row {
  /** One a column. */
  readonly cells: readonly Cell[];
  /** Sentences about this row, under it. */
  readonly under: readonly string[];
}

/** A remark under a table that says how to read it. */
export interface Note {
  /** A sentence. */
  readonly text: string;
  /** The head of the column it is about; it is said where that column is shown. Null: always. */
  readonly about: string | null;
}

/** Rows of cells under columns, with notes. */
export interface Table {
  readonly kind: 'table';
  /** From left to right. */
  readonly columns: readonly Column[];
  /** From top to bottom. */
  readonly rows: readonly Row[];
  /** To be said under it, where the column they are about is shown. */
  readonly notes: readonly Note[];
  /** How columns that had to be left out are told: by name, as a series, or not at all. */
  readonly tellsLeftOut: 'names' | 'series' | null;
}

/** What a section is made of. */
export type Block = Title | Sentence | FoundProblem | Verbatim | Table;

/** What is read together; there is room between two sections. */
export type Section = readonly Block[];

/** All that there is to read, from top to bottom, without colours and widths. */
export type Report = readonly Section[];

export function title(text: string, { aside = null, tone = null }: Partial<Title> = {}): Title {
  return { kind: 'title', text, aside, tone };
}

export function sentence(text: string, tone: Tone | null = null): Sentence {
  return { kind: 'sentence', text, tone, isDetail: false };
}

/** A sentence that belongs to the title above it. */
export function detail(text: string, tone: Tone | null = null): Sentence {
  return { kind: 'sentence', text, tone, isDetail: true };
}

/** The sections that have something to say. */
export function reportOf(...sections: readonly Section[]): Report {
  return sections.filter((section) => section.length > 0);
}
