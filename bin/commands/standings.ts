import type { Command } from 'commander';
import { LastRotationError, type Meet } from '../../lib/index.js';
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
  lastrotation standings --contest UB --json`,
    );
  addMeetOptions(command).action(async (options: StandingsOptions) => {
    const { reports, standings } = await import('../../lib/index.js');
    const meet = meetOf(options);
    const board = standings(meet, {
      contest: options.contest,
      after: number(meet, 'rotation', options.after),
      session: number(meet, 'session', options.session),
    });
    await answer(options, 'standings', meet.scoring.decimals, board, () =>
      reports.standings(meet, board),
    );
  });
}

/** The number of a rotation or of a session; null where none is asked for. */
function number(
  { rotations }: Meet,
  what: 'rotation' | 'session',
  text: string | undefined,
): number | null {
  if (text === undefined) return null;
  if (/^\d{1,3}$/.test(text)) return Number(text);
  throw new LastRotationError(`there is no ${what} "${text}"`, {
    kind: 'usage',
    code: `unknown-${what}`,
    mend: `choose one from 1 to ${Math.max(...rotations.map((r) => r[what]))}`,
  });
}
