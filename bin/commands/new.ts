import { type Command, Option } from 'commander';
import { createMeetFile } from '../../lib/files/index.js';
import { MEET_KINDS, type MeetKind, type MeetMade } from '../../lib/index.js';
import { addMeetOptions, type MeetOptions } from '../context.js';
import { safe, safeJson, writeLine } from '../terminal.js';

interface Options extends MeetOptions {
  readonly title?: string;
  readonly discipline: 'wag' | 'mag';
  readonly scoring?: 'open' | 'ten';
  readonly kind?: MeetKind;
  readonly vaults: '1' | '2';
  readonly carried?: string;
}

export function addNew(program: Command): void {
  const command = program
    .command('new')
    .argument(
      '[startList]',
      'a CSV with a column name, and if wanted id, family, short, say, country, bib, team, session, group, on, carried, and columns by the name of an apparatus',
    )
    .summary('begin a meet file, from a start list or empty')
    .description(
      `Writes a meet file (to --meet) from a start list whose rows are in start order, or an empty one with comments. In the column group stands the apparatus a gymnast starts on, its number, bye, or a route such as UB VT FX BB. In a column by the name of an apparatus stands the position in which she goes up there: in the line-up of her team, or, where there are no teams, in a final. A file that exists already is never touched.`,
    )
    .option('--title <text>', 'the name of the meet')
    .addOption(
      new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']).default('wag'),
    )
    .addOption(
      new Option(
        '--scoring <system>',
        'D + E, or out of ten (default: open; ten for dual)',
      ).choices(['open', 'ten']),
    )
    .addOption(
      new Option('--kind <kind>', 'with the contests and rules that are usual for it').choices(
        MEET_KINDS,
      ),
    )
    .addOption(
      new Option('--vaults <n>', '2: everyone on vault does two').choices(['1', '2']).default('1'),
    )
    .option('--carried <file>', 'the meet file of the first day, for day-two')
    .addHelpText('after', `\n${KINDS}\n\n${EXAMPLES}`);
  addMeetOptions(command, { contest: false }).action(
    (startList: string | undefined, options: Options) => make(startList ?? null, options),
  );
}

const KINDS = `Kinds:
  all-around     all four, or all six, added up
  qualification  who goes through to the finals: all-around, each apparatus, and the teams
  team           four up and three count, or what the line-ups say
  team-final     three up and three count
  dual           teams against each other, out of ten: six up and five count
  finals         one apparatus after another, each in its own start order
  day-two        what was done in the meet of --carried is brought in
Without one, line-ups make a team meet, positions without teams finals, and --carried a
day-two; else what is decided is left open, which is the all-around.`;

const EXAMPLES = `Examples:
  lastrotation new start-list.csv --title "Harbour Invitational" --meet harbour.yaml
  lastrotation new entries.csv --kind qualification --meet quali.yaml
  lastrotation new line-ups.csv --kind dual
  lastrotation new finalists.csv --kind finals --vaults 2
  lastrotation new start-list.csv --kind day-two --carried day-one.yaml --meet day-two.yaml
  lastrotation new --discipline mag`;

function make(startList: string | null, options: Options): void {
  const { title, discipline, scoring, kind, vaults, carried, meet } = options;
  const made = createMeetFile(meet, startList, {
    title: title ?? null,
    discipline,
    scoring: scoring ?? null,
    kind: kind ?? null,
    vaults: vaults === '2' ? 2 : 1,
    carried: carried ?? null,
  });
  const { problems, contests } = made;
  if (options.json) {
    const { kind: what, gymnasts, groups } = made;
    const answer: MeetMade = { file: meet, kind: what, contests, gymnasts, groups, problems };
    writeLine(safeJson(answer));
    return;
  }
  for (const p of problems) {
    const line = p.line === null ? '' : `:${p.line}`;
    writeLine(safe(`${p.severity} ${p.file}${line}: ${p.message}`));
    writeLine(safe(`  ${p.mend}`));
  }
  const groups = made.groups === 0 ? '' : ` in ${counted(made.groups, 'group')}`;
  const what =
    startList === null
      ? 'an empty meet with comments'
      : `${counted(made.gymnasts, 'gymnast')}${groups}`;
  const decided = made.kind === null ? '' : ` What is decided: ${contests.join(', ')}.`;
  writeLine(safe(`Wrote ${meet}: ${what}.${decided}`));
  const check = meet === 'meet.yaml' ? 'check' : `check --meet ${meet}`;
  writeLine(
    safe(`Next: write ranges into it, then see that it is in order: lastrotation ${check}`),
  );
}

function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`;
}
