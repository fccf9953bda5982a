/** Damaged files as in the tests, many more of them. */
process.env.FUZZ_CASES ??= '30000';
await import('../meet/fuzz.test.js');
