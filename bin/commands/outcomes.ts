import type { Command } from 'commander';
import {
  addCaution,
  addQuestionOptions,
  answer,
  meetOf,
  type QuestionOptions,
  questionOf,
  refuseUnusedRest,
} from '../context.js';

export function addOutcomes(program: Command): void {
  const command = program
    .command('outcomes')
    .argument('<who>', 'a gymnast or team, by id or part of the name')
    .summary('which place does each score bring her?')
    .description(
      'Every score she can get in her next routine, from the best down, and the place it brings: on the board right after it, unless --when says otherwise.',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation outcomes adeyemi
  lastrotation outcomes adeyemi --when end --rivals likely`,
    );
  addQuestionOptions(addCaution(command)).action(async (who: string, options: QuestionOptions) => {
    const { namedContender, outcomes, reports } = await import('../../lib/index.js');
    const meet = meetOf(options);
    const value = outcomes(meet, namedContender(meet, who, options), questionOf(meet, options));
    refuseUnusedRest(options, [value.when]);
    await answer(options, 'outcomes', meet.scoring.decimals, value, () =>
      reports.outcomes(meet, value),
    );
  });
}
