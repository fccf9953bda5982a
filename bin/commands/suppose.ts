import type { Command } from 'commander';
import type { Supposition } from '../../lib/index.js';
import { addCaution, addMeetOptions, answer, type MeetOptions, meetOf } from '../context.js';

export function addSuppose(program: Command): void {
  const command = program
    .command('suppose')
    .argument('<what...>', 'gymnast, apparatus and score, once or more')
    .summary('the board and the needs if these scores happen; nothing is written')
    .description(
      'What the board would be, and what the next up would need, if these scores happened. A score may also be low, likely, high, fall (likely less one fall) or DNS. Nothing is written.',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation suppose adeyemi FX 13.566
  lastrotation suppose adeyemi FX high brandt FX fall`,
    );
  addMeetOptions(addCaution(command)).action(async (what: string[], options: MeetOptions) => {
    const { LastRotationError, reports, suppose } = await import('../../lib/index.js');
    if (what.length % 3 !== 0) {
      throw new LastRotationError(`${what.length} words are no whole number of suppositions`, {
        kind: 'usage',
        code: 'bad-usage',
        mend: 'give gymnast, apparatus and score for each: suppose adeyemi FX 13.566',
      });
    }
    const suppositions: Supposition[] = [];
    for (let i = 0; i < what.length; i += 3) {
      const [gymnast = '', apparatus = '', score = ''] = what.slice(i, i + 3);
      suppositions.push({ gymnast, apparatus, score });
    }
    const meet = meetOf(options);
    const value = suppose(meet, suppositions, { contest: options.contest });
    await answer(options, 'suppose', meet.scoring.decimals, value, () =>
      reports.suppose(meet, value),
    );
  });
}
