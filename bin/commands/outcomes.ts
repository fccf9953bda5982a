import { type Command, Option } from 'commander';
import { addMeetOptions, answer, type MeetOptions, meetOf, scoreOption } from '../context.js';

interface Options extends MeetOptions {
  readonly when?: 'now' | 'rotation' | 'end';
  readonly rivals?: 'as-is' | 'low' | 'likely' | 'high' | 'limit';
  readonly rest?: 'low' | 'likely' | 'high' | 'limit';
  readonly on?: string;
  readonly d?: string;
}

export function addOutcomes(program: Command): void {
  const command = program
    .command('outcomes')
    .argument('<who>', 'a gymnast (or team), by id or any part of the name')
    .summary('her next score in bands, and the place each brings')
    .description(
      'Every score she can get in her next routine, in bands, with the place each brings.',
    )
    .addOption(
      new Option('--when <when>', 'on which board (default: now)').choices([
        'now',
        'rotation',
        'end',
      ]),
    )
    .addOption(
      new Option('--rivals <how>', 'what rivals still to come score').choices([
        'as-is',
        'low',
        'likely',
        'high',
        'limit',
      ]),
    )
    .addOption(
      new Option('--rest <how>', 'what her own other routines score (default: likely)').choices([
        'low',
        'likely',
        'high',
        'limit',
      ]),
    )
    .option('--on <apparatus>', 'another of her routines than the next')
    .option('--d <score>', 'the D score she will show')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation outcomes adeyemi
  lastrotation outcomes adeyemi --when end --rivals likely`,
    );
  addMeetOptions(command).action(async (who: string, options: Options) => {
    const { outcomes } = await import('../../lib/index.js');
    const { printOutcomes } = await import('../tables/outcomes.js');
    const meet = meetOf(options);
    const value = outcomes(meet, who, {
      contest: options.contest ?? null,
      when: options.when ?? null,
      rivals: options.rivals ?? null,
      rest: options.rest ?? null,
      on: options.on ?? null,
      d: scoreOption(meet, '--d', options.d),
    });
    await answer(options, 'outcomes', meet, value, () => printOutcomes(meet, value));
  });
}
