import type { Command } from 'commander';
import { logPathOf, readHistoryFile, recordBetween } from '../../lib/files/index.js';
import {
  addCaution,
  addMeetOptions,
  answer,
  type MeetOptions,
  meetOf,
  refuseUnused,
} from '../context.js';

interface Options extends MeetOptions {
  readonly d?: string;
  readonly e?: string;
  readonly nd?: string;
  readonly note?: string;
  readonly yes?: boolean;
  readonly history?: string;
}

export function addRecord(program: Command): void {
  const command = program
    .command('record')
    .argument('<who>', 'a gymnast, by id or part of the name')
    .argument('<apparatus>', 'its code or name; all, with DNS or DNF')
    .argument('<score>', 'a score, DNS, DNF, or void to take the last one back')
    .summary('a score is in: write it down, and see what it changed')
    .description(
      'Writes a score into the log beside the meet file, and does not return before it is safe on the disk. A later score for the same routine replaces the earlier one; nothing is ever erased.',
    )
    .option('--d <score>', 'D score')
    .option('--e <score>', 'E score')
    .option('--nd <score>', 'neutral deductions')
    .option('--note <text>', 'a note, such as: inquiry accepted')
    .option('--history <file>', 'past results: since when she has not been as good')
    .option('--yes', 'yes, the score is right, even if nobody expected it')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation record adeyemi floor 13.566          or by its code: FX
  lastrotation record adeyemi floor 13.666 --d 5.7 --e 7.966 --note "inquiry accepted"
  lastrotation record adeyemi floor 1.433 --yes      the routine broke off
  lastrotation record adeyemi floor void
  lastrotation record adeyemi all DNS`,
    );
  addMeetOptions(addCaution(command)).action(
    async (gymnast: string, apparatus: string, score: string, options: Options) => {
      const { namedGymnast, pastBest, reports, scoreInPlace } = await import('../../lib/index.js');
      const { d, e, nd, note } = options;
      const part = (['d', 'e', 'nd'] as const).find((key) => options[key] !== undefined);
      if (part !== undefined && /^(dns|dnf|void|up|for:.*|after:.*)$/i.test(score)) {
        refuseUnused(`--${part}`, `"${score}" is no score`, 'leave it out');
      }
      // Read before, so that nothing can go wrong once the row is written.
      const meet = meetOf(options);
      const history = options.history === undefined ? null : readHistoryFile(options.history);
      const told = {
        gymnast: namedGymnast(meet, gymnast),
        apparatus,
        score,
        d: d ?? null,
        e: e ?? null,
        nd: nd ?? null,
        note: note ?? null,
      };
      const { before, recorded, after } = await recordBetween(options.meet, told, {
        contest: options.contest,
        careful: options.yes !== true,
      });
      const inPlace = scoreInPlace(before, after, recorded);
      const past = history === null || inPlace === null ? null : pastBest(after, history, inPlace);
      const value = { ...recorded, inPlace, ...(history === null ? {} : { pastBest: past }) };
      await answer(options, 'record', meet.scoring.decimals, value, () =>
        reports.recorded(before, recorded, after, logPathOf(options.meet), inPlace, past),
      );
    },
  );
}
