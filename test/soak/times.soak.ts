/** Tests of what is drawn at random, on many times as many draws; TIMES says how many. */
process.env.TIMES ??= '20';
await import('../meet/log.test.js');
await import('../meet/yaml.test.js');
await import('../properties/advancing.test.js');
await import('../properties/records.test.js');
await import('../reference/day-form.test.js');
await import('../reference/mixed-integer-advance.test.js');
await import('../reference/mixed-integer.test.js');
await import('../reference/replay.test.js');
await import('../story/laws.test.js');
