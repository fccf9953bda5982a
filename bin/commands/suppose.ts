import type { Command } from 'commander';
import { addCaution, addMeetOptions, answer, type MeetOptions, meetOf } from '../context.js';

export function addSuppose(program: Command): void {
  const command = program
    .command('suppose')
    .argument('<what...>', 'gymnast, apparatus (without one: her next) and score, once or more')
    .summary('what if she scores that? nothing is recorded')
    .description(
      'What the board would be, how the chances would change and what the next up would need if these scores happened. A score may also be low, likely, high, fall (as expected, but with a fall) or DNS. Nothing is recorded.',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation suppose adeyemi floor 13.566
  lastrotation suppose adeyemi floor high brondt beam fall`,
    );
  addMeetOptions(addCaution(command)).action(async (what: string[], options: MeetOptions) => {
    const { readSupposed, reports, suppose } = await import('../../lib/index.js');
    const meet = meetOf(options);
    const value = suppose(meet, readSupposed(meet, what), { contest: options.contest });
    await answer(options, 'suppose', meet.scoring.decimals, value, () =>
      reports.suppose(meet, value),
    );
  });
}
