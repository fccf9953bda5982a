import { type Command, Option } from 'commander';
import { createMeetFile } from '../../lib/files/index.js';
import type { MeetMade } from '../../lib/index.js';
import { addMeetOptions, type MeetOptions } from '../context.js';
import { safe, safeJson, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly title?: string;
  readonly discipline: 'wag' | 'mag';
  readonly scoring: 'open' | 'ten';
}

export function addNew(program: Command): void {
  const command = program
    .command('new')
    .argument(
      '[startList]',
      'a CSV with a column name, and if wanted id, family, short, say, country, bib, team, group, on, carried',
    )
    .summary('begin a meet file, from a start list or empty')
    .description(
      'Writes a meet file (to --meet) from a start list whose rows are in start order, or an empty one with comments. In the column group stands the apparatus a gymnast starts on, its number, or bye. A file that exists already is never touched.',
    )
    .option('--title <text>', 'the name of the meet')
    .addOption(
      new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']).default('wag'),
    )
    .addOption(
      new Option('--scoring <system>', 'D + E, or out of ten')
        .choices(['open', 'ten'])
        .default('open'),
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation new start-list.csv --title "Harbour Invitational" --meet harbour.yaml
  lastrotation new --discipline mag`,
    );
  addMeetOptions(command, { contest: false }).action(
    (startList: string | undefined, options: Options) => {
      const { title, discipline, scoring } = options;
      const made = createMeetFile(options.meet, startList ?? null, {
        title: title ?? null,
        discipline,
        scoring,
      });
      const { gymnasts, groups, problems } = made;
      if (options.json) {
        const answer: MeetMade = { file: options.meet, gymnasts, groups, problems };
        writeLine(safeJson(answer));
        return;
      }
      for (const p of problems) writeLine(safe(`${p.file}:${p.line ?? 1}: ${p.message}`));
      const what =
        startList === undefined
          ? 'an empty meet with comments'
          : `${gymnasts} gymnasts in ${groups} groups`;
      writeLine(safe(`Wrote ${options.meet}: ${what}.`));
      writeLine(`Next: write ranges into it, then see that it is in order: lastrotation check`);
    },
  );
}
