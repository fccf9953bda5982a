import { type Command, Option } from 'commander';
import { readHistoryFile } from '../../lib/files/index.js';
import {
  addCaution,
  addMeetOptions,
  answer,
  badUsage,
  type MeetOptions,
  meetOf,
  oneOf,
  refuseUnused,
  wholeNumberOption,
} from '../context.js';
import { progressLine } from '../progress.js';

type Progress = ReturnType<typeof progressLine>;

interface Options extends MeetOptions {
  readonly to?: string;
  readonly phrase?: string;
  readonly scale?: string;
  readonly behind?: string;
  readonly remaining?: string;
  readonly discipline?: string;
  readonly scoring?: string;
  readonly history?: string;
}

export function addClaim(program: Command): void {
  const command = program
    .command('claim')
    .argument(
      '[who...]',
      'a gymnast or team, by id or part of the name; then, if wanted, what for: medal, top 8, …',
    )
    .summary('is “almost impossible” true? a phrase put to the test')
    .description(
      'Is “almost impossible” true? How likely it is, how much that changes when the ranges are bent, the word for it on a published scale, and whether a phrase holds, is overstated, understated or borderline. With a name it is about this meet; with --behind, about two equals of whom one is that far behind.',
    )
    .option('--to <target>', 'win, medal, silver, "top 8", hold or beat:NAME (default: win)')
    .option('--phrase <words>', 'what was said, or is about to be said')
    .addOption(
      new Option('--scale <name>', 'whose scale of words (default: efsa)').choices([
        'efsa',
        'ipcc',
        'icd203',
        'phia',
      ]),
    )
    .option('--behind <score>', 'two equals: how far one is behind the other')
    .option('--remaining <n>', 'two equals: how many routines each has to come')
    .addOption(new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']))
    .addOption(new Option('--scoring <system>', 'D + E, or out of ten').choices(['open', 'ten']))
    .option('--history <file>', 'past results: how often has it been done before?')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation claim adeyemi --phrase "almost impossible to make up"
  lastrotation claim adeyemi medal --scale ipcc
  lastrotation claim adeyemi --history results.csv
  lastrotation claim --behind 0.8 --remaining 2 --discipline wag --scoring ten`,
    );
  addMeetOptions(addCaution(command)).action((words: string[], options: Options) =>
    words.length === 0 ? aboutTwo(options) : aboutSomebody(words, options),
  );
}

/** What both kinds of claims are asked with. */
function claimOptions({ contest, phrase, scale, history }: Options, progress: Progress) {
  return {
    ...{ contest, phrase, scale },
    history: history === undefined ? null : readHistoryFile(history),
    onProgress: progress.show,
  };
}

/** Two equals, of whom one is so far behind. */
async function aboutTwo(options: Options): Promise<void> {
  const { claimOfTwo, reports } = await import('../../lib/index.js');
  const { behind, remaining, discipline, scoring } = options;
  if (behind === undefined || remaining === undefined) {
    throw badUsage(
      'a claim needs a name, or two equals',
      'lastrotation claim NAME, or: lastrotation claim --behind 0.8 --remaining 2',
    );
  }
  if (options.to !== undefined) {
    throw badUsage(
      '--to goes with a name',
      'of two equals it is always the chance to catch the one ahead',
    );
  }
  if (options.contest !== undefined) {
    refuseUnused('--contest', 'two equals are of no meet', 'name somebody, or leave it out');
  }
  const toCome = wholeNumberOption(
    '--remaining',
    remaining,
    'how many routines each has to come, such as 2',
  );
  const progress = progressLine('chances worked out');
  const asked = claimOptions(options, progress);
  const value = claimOfTwo({ behind, remaining: toCome, discipline, scoring }, asked);
  progress.clear();
  await answer(options, 'claim', 3, value, () =>
    reports.claimOfTwo(value, { behind, remaining }, asked.history),
  );
}

/** Somebody of the meet. */
async function aboutSomebody(words: readonly string[], options: Options): Promise<void> {
  const { claim, namedTarget, readAsked, reports } = await import('../../lib/index.js');
  const [single] = (['behind', 'remaining', 'discipline', 'scoring'] as const).filter(
    (o) => options[o] !== undefined,
  );
  if (single !== undefined) {
    throw badUsage(
      `--${single} is about two equals, not about somebody of the meet`,
      'leave out either that or the name',
    );
  }
  const progress = progressLine('chances worked out');
  const asked = claimOptions(options, progress);
  const meet = meetOf(options);
  const { who, on, for: word } = readAsked(meet, words, options);
  if (who === null) throw badUsage('nobody is named', 'name somebody: lastrotation claim NAME …');
  if (on !== null) {
    throw badUsage(`claim has no use for "${on}"`, 'it is about all there is to come');
  }
  const target = oneOf('to', word, options.to);
  const to = target === undefined ? null : namedTarget(meet, target, options);
  const value = claim(meet, who, { ...asked, to });
  progress.clear();
  await answer(options, 'claim', meet.scoring.decimals, value, () =>
    reports.claim(meet, value, asked.history),
  );
}
