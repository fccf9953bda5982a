import type { Command } from 'commander';
import {
  addCaution,
  addQuestionOptions,
  answer,
  badUsage,
  meetOf,
  oneOf,
  type QuestionOptions,
  questionOf,
  refuseUnusedRest,
} from '../context.js';

export function addOutcomes(program: Command): void {
  const command = program
    .command('outcomes')
    .argument(
      '<who...>',
      'a gymnast or team, by id or part of the name; then, if wanted, an apparatus',
    )
    .summary('which place does each score bring her?')
    .description(
      'Every score she can get in her next routine, from the best down, and the place it brings: on the board right after it, unless --when says otherwise.',
    )
    .addHelpText(
      'after',
      `
Examples:
  lastrotation outcomes adeyemi
  lastrotation outcomes adeyemi floor
  lastrotation outcomes adeyemi --when end --rivals likely`,
    );
  addQuestionOptions(addCaution(command)).action(
    async (words: string[], options: QuestionOptions) => {
      const { outcomes, readAsked, reports } = await import('../../lib/index.js');
      const meet = meetOf(options);
      const named = readAsked(meet, words, options);
      const { who } = named;
      if (who === null || named.for !== null) {
        throw badUsage(
          who === null ? 'nobody is named' : `outcomes has no use for "${named.for}"`,
          who === null
            ? 'name her: lastrotation outcomes NAME …'
            : 'ask: lastrotation needs NAME …',
        );
      }
      const asked = questionOf(meet, options);
      const value = outcomes(meet, who, { ...asked, on: oneOf('on', named.on, options.on) });
      refuseUnusedRest(options, [value.when]);
      await answer(options, 'outcomes', meet.scoring.decimals, value, () =>
        reports.outcomes(meet, value),
      );
    },
  );
}
