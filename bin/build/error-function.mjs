// Stands in for simple-statistics (an alias in the build): whole, it works out a table as soon as it is loaded.
export { default as errorFunction } from '../../node_modules/simple-statistics/src/error_function.js';
