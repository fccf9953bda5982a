/** The meet inside a page is the meet: every answer from it is the same. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pageAssets } from '../../bin/page-assets.js';
import { openMeet } from '../../lib/files/index.js';
import { needsOfAll, page, pagePolicy, standings } from '../../lib/index.js';
import { packed, unpacked } from '../../lib/page/state.js';
import { EXAMPLES } from '../support/cli.js';
import { meetFrom } from '../support/meet.js';

const MEETS = readdirSync(EXAMPLES).filter((name) => name.endsWith('.yaml'));

describe('the meet in a page', () => {
  it.each(MEETS)('answers as the meet itself: %s', (name) => {
    const meet = openMeet(join(EXAMPLES, name));
    for (const { id: contest } of meet.contests) {
      const state = { meet, contest, version: '7', follows: null };
      const again = unpacked(packed(state));
      expect({ ...again, meet: null }).toEqual({ ...state, meet: null });
      expect(standings(again.meet, { contest })).toEqual(standings(meet, { contest }));
      expect(needsOfAll(again.meet, { contest })).toEqual(needsOfAll(meet, { contest }));
    }
  });

  it('ends no script element, whatever somebody is called', () => {
    const meet = meetFrom(
      'discipline: wag\nscoring: open\ngymnasts:\n  - { id: ann, name: "</script><!--" }\n',
    );
    const text = packed({ meet, contest: 'all-around', version: '', follows: null });
    expect(text).not.toContain('<');
    expect(unpacked(text).meet.gymnasts[0]?.name).toBe('</script><!--');
  });
});

describe('what a page may do', () => {
  const assets = pageAssets();

  it('is to run its own script and style, and to ask nobody', () => {
    const policy = pagePolicy(assets);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*|connect-src|frame-src/);
    expect(pagePolicy(assets, 'events')).toContain("connect-src 'self'");
    expect(pagePolicy(assets, 'events')).not.toContain('frame-src');
    expect(pagePolicy(assets, 'file')).toContain('frame-src file:');
    expect(pagePolicy(assets, 'file')).not.toContain('connect-src');
  });

  it('names nothing elsewhere, and is under 400 KB for the demo meet', () => {
    const text = page(openMeet(join(EXAMPLES, 'harbour.yaml')), { assets });
    const addresses = text.match(/\b(https?:)?\/\/[a-z][\w.-]+\.[a-z]{2,}[^\s"'`)]*/g) ?? [];
    // Names of the languages of the page, which nobody fetches.
    expect(addresses.filter((a) => !a.startsWith('http://www.w3.org/'))).toEqual([]);
    expect(text.length).toBeLessThan(400 * 1024);
  });
});
