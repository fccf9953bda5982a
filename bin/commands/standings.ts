import type { Command } from 'commander';
import { addMeetOptions, answer, type MeetOptions, meetOf } from '../context.js';

export function addStandings(program: Command): void {
  const command = program
    .command('standings')
    .summary('the board: who stands where, who moved')
    .description('The board as it stands, or as it stood after a rotation.')
    .option('--after <rotation>', 'as it stood after this rotation')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation standings
  lastrotation standings --after 2
  lastrotation standings --contest UB --json`,
    );
  addMeetOptions(command).action(async (options: MeetOptions & { after?: string }) => {
    const { LastRotationError, reports, standings } = await import('../../lib/index.js');
    const meet = meetOf(options);
    if (options.after !== undefined && !/^\d{1,3}$/.test(options.after)) {
      throw new LastRotationError(`there is no rotation "${options.after}"`, {
        kind: 'usage',
        code: 'unknown-rotation',
        mend: `choose one from 1 to ${meet.rotations.length}`,
      });
    }
    const after = options.after === undefined ? null : Number(options.after);
    const board = standings(meet, { contest: options.contest, after });
    await answer(options, 'standings', meet.scoring.decimals, board, () =>
      reports.standings(meet, board),
    );
  });
}
