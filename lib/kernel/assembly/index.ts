/** What can be called from outside. */
export { addRows, addUp, sumProducts, sumShared } from './lists';
export { addOthers, countResults, countShared, exchange } from './places';
export { findChanges, multiply } from './products';
export { fillRows, findBands } from './rows';
