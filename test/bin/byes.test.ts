/** A team that has a bye goes up in no order, and is named as a whole; a mixed group is named one by one. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { answer, EXAMPLES, run } from '../support/cli.js';

const byes = (meet: string) =>
  run(['check', '--meet', meet])
    .out.split('\n')
    .flatMap((line) => /^(?:\d+)? +bye +(.*)$/.exec(line)?.[1] ?? []);

describe('check of a meet with byes', () => {
  it('names the team that rests, and gives programs its gymnasts', () => {
    const meet = join(EXAMPLES, 'tri.yaml');
    const [oxbourne, haverbeck, larkhall] = ['Oxbourne', 'Haverbeck', 'Larkhall'];
    expect(byes(meet)).toEqual([oxbourne, haverbeck, larkhall, oxbourne, haverbeck, larkhall]);
    interface Plan {
      readonly rotations: readonly { stations: { apparatus: string | null; order: string[] }[] }[];
    }
    const { rotations } = answer<Plan>(['check', '--meet', meet]);
    const resting = rotations[0]?.stations.find((s) => s.apparatus === null)?.order;
    expect(resting).toContain('winstanmoor');
    expect(resting).toHaveLength(6);
  });

  it('names those who rest where a team is split, or somebody has none', () => {
    const path = mkdtempSync(join(tmpdir(), 'lastrotation-byes-'));
    const meet = (team: string) => `discipline: wag
scoring: open
gymnasts:
  - { id: ann, name: Ann Abeling, team: A }
  - { id: bea, name: Bea Bramwick${team} }
groups: [{ start: bye, order: [ann] }, { start: VT, order: [bea] }, { start: UB, order: [] },
  { start: BB, order: [] }, { start: FX, order: [] }]
`;
    try {
      const file = join(path, 'meet.yaml');
      writeFileSync(file, meet(', team: A'));
      expect(byes(file).slice(0, 2)).toEqual(['Abeling', 'Bramwick']);
      writeFileSync(file, meet(''));
      expect(byes(file)).toContain('Bramwick');
      expect(byes(file)).toContain('A');
    } finally {
      rmSync(path, { recursive: true, force: true });
    }
  });
});
