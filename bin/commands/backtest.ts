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
    .summary('how honest the chances were, over a results history')
    .description(
      'Replays the all-around finals of a history rotation by rotation: at each board the chances from what was known then, against what happened; and the same for simple rivals.',
    )
    .addOption(new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']))
    .option('--seed <n>', 'of the intervals, a whole number (default: 1)')
    .option('--json', 'the same facts for programs')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation backtest results.csv
  lastrotation backtest results.csv --discipline wag --json`,
    );
  addCaution(command).action(async (path: string, options: Options) => {
    const { backtest, reports } = await import('../../lib/index.js');
    const history = readHistoryFile(path);
    const progress = progressLine('finals replayed');
    const value = backtest(history, {
      discipline: options.discipline,
      seed: seedOption(options.seed),
      onProgress: progress.show,
    });
    progress.clear();
    await answer(options, 'backtest', history.decimals, value, () => reports.backtest(value));
  });
}
