/** What can be called from outside. */
export {
  addRows,
  addUp,
  convolve,
  leastVariance,
  sumDistances,
  sumProducts,
  sumShared,
} from './lists';
export { countMedals, takeLevel } from './medals';
export { countResults, leaveOut, place, raise } from './places';
export { findChanges, multiply } from './products';
export { fillRows, findBands } from './rows';
export { handOut } from './sums';
export { addTitles, beginTitles, faceTitles } from './title-bound';
export { countTitles } from './titles';
