/** What a meet is made of: people, turns, results, and what a log says of them. */
import type { Chance } from '../chance.js';
import type { Score } from '../score.js';

/** Somebody on the start list. */
export interface Gymnast {
  /** As the meet file has it, and as every answer names her: `adeyemi`. */
  readonly id: string;
  /** Her whole name as it is shown: `Ade Adeyemi`. */
  readonly name: string;
  /** As the meet file gives it, as all the four that follow; where it does not, it is found in the name. */
  readonly family: string | null;
  /** What a board with too little room shows. */
  readonly short: string | null;
  /** How her name is spoken: `oh-KAH-for`. */
  readonly say: string | null;
  /** Three capital letters. */
  readonly country: string | null;
  /** Her start number: a text, `007` is another than `7`. */
  readonly bib: string | null;
  /** The id of her team. */
  readonly team: string | null;
  /** The apparatus of the meet she competes on, in Olympic order. */
  readonly on: readonly string[];
  /** Points brought in from an earlier day. */
  readonly carried: Score;
  /** Not known yet: one of so many still to be named. */
  readonly unnamed: boolean;
}

/** A team of the meet. */
export interface Team {
  /** As the meet file has it, and as every answer of a team contest names it. */
  readonly id: string;
  /** As it is shown. */
  readonly name: string;
  /** Points brought in from an earlier day; 0 where there was none. */
  readonly carried: Score;
  /** As the meet file has it: by apparatus, who goes up there, first up first. */
  readonly lineup: Readonly<Record<string, readonly string[]>>;
}

/**
 * The realistic scores of one gymnast on one apparatus. What nobody has given is null.
 * `falls` is a probability, everything else a score.
 */
export interface Range {
  /** The lowest score without a fall: where the PERT distribution begins. Null where it is not known. */
  readonly low: Score | null;
  /** The most likely score without a fall: where it is highest. */
  readonly likely: Score | null;
  /** The highest score: where it ends. */
  readonly high: Score | null;
  /** The chance of a first fall; a second comes with the same chance again. */
  readonly falls: Chance | null;
  /** The D score she is expected to show. */
  readonly d: Score | null;
  /** How far off `likely` may be, as whoever gave it says; null where nobody did. */
  readonly within: Score | null;
  /**
   * Where it was given first: with the gymnast, in the ranges file, or as usual for everyone, by the
   * meet file or, where nothing was given, by what is usual in the sport.
   */
  readonly from: 'own' | 'file' | 'usual' | null;
}

/** One gymnast's turn on one apparatus. */
export interface Routine {
  /** Its place in the order in which routines go up; also its index in `Meet.routines`. */
  readonly index: number;
  /** Whose it is, by id. */
  readonly gymnast: string;
  /** The code of the apparatus: `VT`. */
  readonly apparatus: string;
  /** Counted from 1. */
  readonly session: number;
  /** Counted from 1 within its session. */
  readonly rotation: number;
  /** The index of its rotation in `Meet.rotations`, over all sessions: what comes first has the lower. */
  readonly at: number;
}

/** A routine that was scored. */
export interface Scored {
  /** The final score: D + E - ND under open scoring. */
  readonly score: Score;
  /** The difficulty score, where it was given. */
  readonly d: Score | null;
  /** The execution score, where it was given. */
  readonly e: Score | null;
  /** Neutral deductions; 0 where none were given. */
  readonly nd: Score;
  /** The score stands, and may change. */
  readonly underInquiry: boolean;
}

/** What became of a routine; null while it is still to come. */
export type Result = Scored | 'DNS' | 'DNF';

/** One apparatus in one rotation, and who goes up there. */
export interface Station {
  /** Null for a bye. */
  readonly apparatus: string | null;
  /** Gymnasts' ids, first up first. */
  readonly order: readonly string[];
}

/** One turn of the meet: every group is at one station. */
export interface Rotation {
  /** Counted from 1: a session begins when the one before it is over. */
  readonly session: number;
  /** Counted from 1 within its session. */
  readonly rotation: number;
  /** Where each group is then, a bye included. */
  readonly stations: readonly Station[];
}

/** Who goes up when. */
export interface Schedule {
  /** In list order. */
  readonly gymnasts: readonly Gymnast[];
  /** All rotations of all sessions, in the order they are held. */
  readonly rotations: readonly Rotation[];
  /** In the order they go up. */
  readonly routines: readonly Routine[];
}

/** What a row of the log says of a gymnast on an apparatus. */
export type Act =
  | {
      readonly kind: 'result';
      /** A score, or that she did not start or did not finish. */
      readonly result: Result;
    }
  /** She has performed, and the score is awaited. */
  | { readonly kind: 'up' }
  /** The score that stands may change. */
  | { readonly kind: 'inquiry' }
  /** She steps in for somebody from here on: not where the other had performed when this was told. */
  | {
      readonly kind: 'for';
      /** For whom, by id. */
      readonly whom: string;
      /** Codes of the apparatus on which the other had performed already. */
      readonly performed: readonly string[];
    }
  /** She goes up after somebody. */
  | {
      readonly kind: 'after';
      /** After whom, by id. */
      readonly whom: string;
    };

/** A row of the log that stands: read, and not taken back. */
export interface Told {
  /** Whose row it is, by id. */
  readonly gymnast: string;
  /** A code, or `all`. */
  readonly apparatus: string;
  /** What the row says became of it. */
  readonly act: Act;
}
