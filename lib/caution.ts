/** What is to be kept in mind of every chance, in one wording for every place where it is read. */

/**
 * Stands under every table with chances, in the help of every command that prints one, and as the last
 * key of every answer that carries one.
 * @example
 * chances(meet).caution === CAUTION // → true
 */
export const CAUTION =
  'Unofficial: chances rest on the ranges given, and are no basis for betting.';
