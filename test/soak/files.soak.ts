/** The durability tests with thousands of kills; KILLS says how many. */
process.env.KILLS ??= '2000';
await import('../files/durability.test.js');
