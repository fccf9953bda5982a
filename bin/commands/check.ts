import type { Command } from 'commander';
import { readMeetFiles } from '../../lib/files/index.js';
import { addMeetOptions, type MeetOptions } from '../context.js';
import { endWith, safeJson, writeLine } from '../terminal.js';

export function addCheck(program: Command): void {
  const command = program
    .command('check')
    .summary('is the meet file in order? who goes up where?')
    .description(
      'Reads the meet file, the ranges and the score log, and says what is wrong or missing, on which line, and how to put it right; then who goes up where in each rotation. Exit code 2 when the meet cannot be used.',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation check
  lastrotation check --meet final.yaml --json`,
    );
  addMeetOptions(command, { contest: false }).action(async (options: MeetOptions) => {
    const { check, reports } = await import('../../lib/index.js');
    const { printReport } = await import('../render/print.js');
    const files = readMeetFiles(options.meet);
    const checked = check(files);
    if (options.json) writeLine(safeJson(checked));
    else printReport(reports.check(files.plan, checked));
    if (!checked.sound) endWith(2);
  });
}
