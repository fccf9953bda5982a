/** The plain statistics of a gymnast's scores: her own mean, and how far all lie from theirs. */
import type { Units } from '../score.js';
import type { PastRoutine } from './routine.js';

/** Mean and spread, in units. */
export interface Normal {
  readonly mean: number;
  readonly spread: number;
}

interface Moments {
  count: number;
  mean: number;
  /** The sum of squared differences from the mean. */
  squares: number;
}

const none = (): Moments => ({ count: 0, mean: 0, squares: 0 });

/** Welford's recurrence; the squares grow by what is returned. */
function add(to: Moments, value: number): number {
  to.count++;
  const before = value - to.mean;
  to.mean += before / to.count;
  const more = before * (value - to.mean);
  to.squares += more;
  return more;
}

/** Fed routine by routine; what it says is of those it was fed. */
export interface OwnMeans {
  readonly add: (routine: PastRoutine) => void;
  /** How many of hers there are on the apparatus. */
  readonly count: (of: Whose) => number;
  /**
   * Her own mean with the standard deviation around gymnasts' own means on the apparatus; null without a
   * score of hers, or where nobody has two. `more`: scores of hers that count besides.
   */
  readonly own: (of: Whose, more?: readonly Units[]) => Normal | null;
  /** Of all scores on the apparatus; null where there are not two. */
  readonly all: (of: Omit<Whose, 'gymnast'>) => Normal | null;
}

type Whose = Pick<PastRoutine, 'discipline' | 'apparatus' | 'gymnast'>;

export function ownMeans(): OwnMeans {
  const owns = new Map<string, Moments>();
  const everyone = new Map<string, Moments & { within: number; gymnasts: number }>();
  const placeOf = (of: Omit<Whose, 'gymnast'>) => `${of.discipline} ${of.apparatus}`;
  const ownOf = (of: Whose) => owns.get(`${placeOf(of)} ${of.gymnast}`);
  return {
    add: (routine) => {
      const place = placeOf(routine);
      const key = `${place} ${routine.gymnast}`;
      const all = everyone.get(place) ?? { ...none(), within: 0, gymnasts: 0 };
      everyone.set(place, all);
      const own = owns.get(key) ?? none();
      if (own.count === 0) {
        owns.set(key, own);
        all.gymnasts++;
      }
      all.within += add(own, routine.score);
      add(all, routine.score);
    },
    count: (of) => ownOf(of)?.count ?? 0,
    own: (of, more = []) => {
      const { count, mean } = ownOf(of) ?? none();
      const all = everyone.get(placeOf(of));
      const free = (all?.count ?? 0) - (all?.gymnasts ?? 0);
      if (all === undefined || free === 0 || count + more.length === 0) return null;
      const sum = more.reduce((a: number, b) => a + b, count * mean);
      return { mean: sum / (count + more.length), spread: Math.sqrt(all.within / free) };
    },
    all: (of) => {
      const { count, mean, squares } = everyone.get(placeOf(of)) ?? none();
      return count < 2 ? null : { mean, spread: Math.sqrt(squares / (count - 1)) };
    },
  };
}
