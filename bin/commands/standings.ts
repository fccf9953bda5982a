import type { Command } from 'commander';
import { LastRotationError } from '../../lib/index.js';
import { addMeetOptions, answer, type MeetOptions, meetOf } from '../context.js';

interface StandingsOptions extends MeetOptions {
  readonly after?: string;
  readonly session?: string;
}

export function addStandings(program: Command): void {
  const command = program
    .command('standings')
    .summary('the board: who stands where, who moved')
    .description('The board as it stands, or as it stood after a rotation.')
    .option('--after <rotation>', 'as it stood after this rotation of the session under way')
    .option('--session <number>', 'of this session; alone: as it stood when this session was over')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation standings
  lastrotation standings --after 2
  lastrotation standings --after 2 --session 1
  lastrotation standings --contest bars --json`,
    );
  addMeetOptions(command).action(async (options: StandingsOptions) => {
    const { reports, standings } = await import('../../lib/index.js');
    const meet = meetOf(options);
    const board = standings(meet, {
      contest: options.contest,
      after: number(
        'rotation',
        options.after,
        meet.rotations.map((r) => r.rotation),
      ),
      session: number(
        'session',
        options.session,
        meet.rotations.map((r) => r.session),
      ),
    });
    await answer(options, 'standings', meet.scoring.decimals, board, () =>
      reports.standings(meet, board),
    );
  });
}

/** The number of a rotation or of a session, of which there are these; null where none is asked for. */
function number(
  what: 'rotation' | 'session',
  text: string | undefined,
  known: readonly number[],
): number | null {
  if (text === undefined) return null;
  if (/^\d{1,3}$/.test(text)) return Number(text);
  throw new LastRotationError(`there is no ${what} "${text}"`, {
    kind: 'usage',
    code: `unknown-${what}`,
    mend: `choose one from ${Math.min(...known)} to ${Math.max(...known)}`,
  });
}
