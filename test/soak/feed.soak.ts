/** The feed with a thousand kills (`KILLS=n` for how many) and a million lines of garbage. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { folder } from '../support/cli.js';
import { killFeeds } from '../support/feed-kills.js';
import { feedGarbage } from '../support/garbage.js';

it('a thousand kills while rows are written', async () => {
  const place = folder();
  try {
    await killFeeds(place.path, Number(process.env.KILLS ?? 1000));
  } finally {
    place.clean();
  }
});

it('a million lines of garbage in bounded memory', async () => {
  const place = folder();
  try {
    const meet = join(place.path, 'meet.yaml');
    writeFileSync(
      meet,
      'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }, { id: cleo }]\n',
    );
    const { bad, good, rise } = await feedGarbage(meet, 1_000_000);
    expect([bad, good]).toEqual([1_000_000, 3]);
    expect(rise).toBeLessThan(100);
  } finally {
    place.clean();
  }
});
