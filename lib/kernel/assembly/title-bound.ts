/** Titles where what is ahead of a result is known by a bound: see lib/chances/cells/title-bound.ts. */
import { at, greater, less, whole } from './memory';
import { MANY, NONE } from './products';

/** What a result adds to a title by less than this is only counted as an error. */
const SLIGHT: f64 = 1e-10;

/** What has been found, as it lies in memory. */
@unmanaged
export class TitleBound {
  size: i32;
  variants: i32;
  /** By variant: the runner it does not compete with; and 1 where its titles are asked. */
  of: usize;
  asked: usize;
  /** By runner: the chance of not being ahead of the result at hand. */
  behind: usize;
  /** The product of all factors but one and those that are 0; and but for that and the lowest one, two or three. */
  found: usize;
  /** By variant and runner: the chance that the runner wins if the variant is the case. */
  titles: usize;
  /** By variant: the chance that it is ahead of all that is level at hand. */
  ahead: usize;
  /** By variant with results on the level at hand: the chance that it is ahead of one; or -1. */
  met: usize;
  /** What can be wrong with the titles of a runner; and with one if a variant is the case, by variant and runner. */
  errors: usize;
  variantErrors: usize;
}

/** Those on one level, as they lie in memory: runners first, then variants. */
@unmanaged
export class Level {
  runners: i32;
  members: i32;
  /** By member: the variant it is. */
  variants: usize;
  /** By member: its chance on the level, and how much of that is on no key. */
  chances: usize;
  rests: usize;
  /** By runner on it, and variant: by how much the variant is ahead more than is told by key; how much is told apart. */
  turned: usize;
  toldApart: usize;
  /** By member: how likely one runner is where it is, and it ahead; and with it on one key. */
  sums: usize;
  levels: usize;
}

/**
 * Others are ahead with chances p. Finds the products of all factors but for one runner's; gives which
 * of them is 0.
 */
export function faceTitles(t: TitleBound, p: usize, except: i32): i32 {
  let zero = NONE;
  let others: f64 = 1;
  let product: f64 = 1;
  let a: f64 = 1;
  let b: f64 = 1;
  let c: f64 = 1;
  for (let j = 0; j < t.size; j++) {
    const factor = 1 - load<f64>(at(p, j));
    store<f64>(at(t.behind, j), factor);
    if (j === except) continue;
    if (factor === 0) zero = zero === NONE ? j : MANY;
    else others *= factor;
    if (factor >= c) product *= factor;
    else {
      product *= c;
      if (factor < a) {
        c = b;
        b = a;
        a = factor;
      } else if (factor < b) {
        c = b;
        b = factor;
      } else c = factor;
    }
  }
  store<f64>(t.found, others);
  store<f64>(at(t.found, 1), product * b * c);
  store<f64>(at(t.found, 2), product * c);
  store<f64>(at(t.found, 3), product);
  return zero;
}

/** What a result with such a chance adds to its title if one runner more is not there. */
function othersThan(t: TitleBound, chance: f64, zero: i32, runner: i32): f64 {
  const product = load<f64>(t.found);
  if (zero === NONE) return (chance * product) / load<f64>(at(t.behind, runner));
  return zero === runner ? chance * product : 0;
}

/**
 * A result of a runner, against others that are ahead with chances p; `wrong` and `dependent` as in
 * ErrorBound. Gives 0 when it adds next to nothing to any title.
 */
export function beginTitles(
  t: TitleBound,
  who: i32,
  p: usize,
  chance: f64,
  wrong: f64,
  dependent: f64,
): i32 {
  zeroAtHand = faceTitles(t, p, who);
  const one = load<f64>(at(t.found, 1));
  const two = wrong * load<f64>(at(t.found, 2));
  const error = at(t.errors, who);
  let sum = load<f64>(error) + chance * less(two + dependent * load<f64>(at(t.found, 3)), 1);
  const isSlight = chance * one < SLIGHT;
  if (isSlight) sum += chance * one;
  store<f64>(error, sum);
  return isSlight ? 0 : 1;
}

/** Of the result that was begun: which of the factors is 0. */
let zeroAtHand: i32 = NONE;

/**
 * The result that was begun, of a runner that is member k of the level. `told`: how much of its chance
 * is known by key, none where all on the level are taken to be level.
 */
export function addTitles(
  t: TitleBound,
  level: Level,
  k: i32,
  who: i32,
  chance: f64,
  told: f64,
): void {
  const zero = zeroAtHand;
  for (let l = level.runners; l < level.members; l++) {
    const h = load<i32>(whole(level.variants, l));
    const own = load<i32>(whole(t.of, h));
    if (load<i32>(whole(t.asked, h)) === 0 || own === who) continue;
    const all = load<f64>(at(level.chances, l));
    let ahead = all / 2;
    let off = all / 2;
    if (told > 0) {
      const pair = k * t.variants + h;
      ahead = (load<f64>(at(level.sums, l)) + load<f64>(at(level.turned, pair))) / told;
      const same = load<f64>(at(level.levels, l)) - load<f64>(at(level.toldApart, pair));
      off = greater(load<f64>(at(level.rests, l)) + same / told, 0) / 2;
      // What of her is not told can be on any key.
      off += all * greater(1 - told / chance, 0);
    }
    store<f64>(at(t.met, h), less(load<f64>(at(t.ahead, h)) + ahead, 1));
    const errors = at(t.variantErrors, h * t.size + who);
    store<f64>(errors, load<f64>(errors) + off * othersThan(t, chance, zero, own));
  }
  for (let h = 0; h < t.variants; h++) {
    if (load<i32>(whole(t.asked, h)) === 0) continue;
    const met = at(t.met, h);
    const here = load<f64>(met);
    const ahead = here < 0 ? load<f64>(at(t.ahead, h)) : here;
    store<f64>(met, -1);
    const own = load<i32>(whole(t.of, h));
    if (own === who) continue;
    const title = at(t.titles, h * t.size + who);
    store<f64>(title, load<f64>(title) + othersThan(t, chance, zero, own) * (1 - ahead));
  }
}
