import type { Command } from 'commander';
import { readMeetFiles } from '../../lib/files/index.js';
import { addMeetOptions, type MeetOptions } from '../context.js';
import { safeJson, writeLine } from '../terminal.js';

export function addCheck(program: Command): void {
  const command = program
    .command('check')
    .summary('is the meet sound; who performs where; what is missing')
    .description(
      'Reads the meet file, its ranges and the score log, and says everything that is wrong or missing, each with its line and its mend. Exit code 2 when the meet is not sound.',
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
    if (!checked.sound) process.exitCode = 2;
  });
}
