import { type Command, Option } from 'commander';
import { readHistoryFile } from '../../lib/files/index.js';
import { addCaution, answer, seedOption } from '../context.js';
import { progressLine } from '../progress.js';

interface Options {
  readonly discipline?: 'wag' | 'mag';
  readonly seed?: string;
  readonly json?: boolean;
}

export function addBacktest(program: Command): void {
  const command = program
    .command('backtest')
    .argument(
      '<history>',
      'a CSV: gymnast,discipline,date,competition,round,apparatus,score,d,e,nd',
    )
    .summary('were the chances right? tried out on past results')
    .description(
      'Plays the all-around finals of a results history again, rotation by rotation, and sets the chances that would have been given, from what was known then, against what happened. Simple forecasts are judged beside them.',
    )
    .addOption(new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']))
    .option('--seed <n>', 'for the intervals, any whole number (default: 1)')
    .option('--json', 'the same, for programs')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation backtest results.csv
  lastrotation backtest results.csv --discipline wag --json`,
    );
  addCaution(command).action(async (path: string, options: Options) => {
    const { backtest, reports } = await import('../../lib/index.js');
    const reading = progressLine('thousandths of the history read');
    const history = readHistoryFile(path, reading.show);
    reading.clear();
    const progress = progressLine('parts: the finals, then single routines');
    const value = backtest(history, {
      discipline: options.discipline,
      seed: seedOption(options.seed),
      onProgress: progress.show,
    });
    progress.clear();
    await answer(options, 'backtest', history.decimals, value, () => reports.backtest(value));
  });
}
