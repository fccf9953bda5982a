import { type Command, Option } from 'commander';
import {
  readHistoryFile,
  readRangesFile,
  sha256OfFile,
  writeMadeFile,
} from '../../lib/files/index.js';
import type { Backtest, BacktestOptions, FinalName, History, RangesFrom } from '../../lib/index.js';
import { addCaution, answer, refuseUnused, seedOption } from '../context.js';
import { progressLine } from '../progress.js';
import { version } from '../version.js';

interface Options {
  readonly contest: FinalName | 'all';
  readonly since?: string;
  readonly discipline?: 'wag' | 'mag';
  readonly ranges: string;
  readonly against?: string;
  readonly csv?: string;
  readonly report?: string;
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
      'Plays the finals of a results history again, rotation by rotation, and sets the chances that would have been given, from what was known then, against what happened. Simple forecasts are judged beside them, and single routines against their ranges.',
    )
    .addOption(
      new Option('--contest <kind>', 'which finals')
        .choices(['all-around', 'team', 'apparatus', 'all'])
        .default('all-around'),
    )
    .option('--since <date>', 'only finals from this day on; what was before is still known')
    .addOption(new Option('--discipline <code>', 'women or men').choices(['wag', 'mag']))
    .option(
      '--ranges <from>',
      'what the chances rest on: `rounds`, results of earlier days and of earlier rounds of the competition; `days`, of earlier days alone; or a ranges file',
      'rounds',
    )
    .option('--against <from>', 'the same finals with other ranges as well, and which were closer')
    .option('--csv <file>', 'write every single forecast, and what happened, for sums of your own')
    .option('--report <file>', 'write all tables as Markdown, and the command that makes it again')
    .option('--seed <n>', 'for whatever is drawn, any whole number (default: 1)')
    .option('--json', 'the same, for programs')
    .addHelpText(
      'after',
      `
Examples:
  lastrotation backtest results.csv
  lastrotation backtest results.csv --contest all --since 2023-01-01 --report honest.md
  lastrotation backtest results.csv --ranges days --against rounds
  lastrotation backtest results.csv --ranges mine.yaml --against theirs.yaml --csv forecasts.csv`,
    );
  addCaution(command).action(async (path: string, options: Options) => {
    const { backtest, backtestPart, forecastsAsCsv, reports } = await import('../../lib/index.js');
    const { doneAsThread, partsOnThreads } = await import('../backtest-threads.js');
    if (options.against === options.ranges) {
      refuseUnused(
        '--against',
        `both are ${options.ranges}`,
        'name other ranges: rounds, days, or a ranges file',
      );
    }
    const isPart = doneAsThread(({ part, of }, onProgress) =>
      backtestPart(readHistoryFile(path), { ...askedBy(options), onProgress }, part, of),
    );
    if (isPart) return;
    const { csv } = options;
    const asked = askedBy(options);
    const progress = progressLine('parts: the finals, then single routines');
    const [parts, history] = await Promise.all([
      partsOnThreads(path, progress.show),
      readWithProgress(path),
    ]);
    const value = backtest(history, { ...asked, parts, onProgress: progress.show });
    progress.clear();
    const sources = sourcesOf(path, options);
    if (csv !== undefined) {
      const begins = 'final,contest,';
      writeMadeFile(csv, forecastsAsCsv(value, history.decimals), sources, {
        option: '--csv',
        begins,
      });
    }
    if (options.report !== undefined) await writeReport(options.report, path, options, value);
    await answer(options, 'backtest', history.decimals, value, () => reports.backtest(value));
  });
}

/** Asynchronous, so that what it throws is met together with what the threads say. */
async function readWithProgress(path: string): Promise<History> {
  const reading = progressLine('thousandths of the history read');
  const history = readHistoryFile(path, reading.show);
  reading.clear();
  return history;
}

/** What the options ask of the library. */
function askedBy({
  contest,
  since,
  discipline,
  ranges,
  against,
  csv,
  seed,
}: Options): BacktestOptions {
  return {
    ...{ contest, since, discipline },
    ranges: rangesFrom(ranges),
    against: against === undefined ? null : rangesFrom(against),
    forecasts: csv !== undefined,
    seed: seedOption(seed),
  };
}

/** `rounds`, `days`, or what a file holds. */
function rangesFrom(text: string): RangesFrom {
  return text === 'rounds' || text === 'days' ? text : readRangesFile(text);
}

/** The files that the answer comes from. */
function sourcesOf(path: string, { ranges, against }: Options): string[] {
  const others = [ranges, against].filter((name) => name !== undefined);
  return [path, ...others.filter((name) => typeof rangesFrom(name) === 'object')];
}

async function writeReport(
  file: string,
  path: string,
  options: Options,
  value: Backtest,
): Promise<void> {
  const { reports, STAMPED, stampedReport } = await import('../../lib/index.js');
  const { contest, since, discipline, ranges, against, csv } = options;
  const named = Object.entries({
    ...{ contest, since, discipline, ranges, against, csv },
    ...{ report: file, seed: String(value.seed) },
  });
  const words = named.flatMap(([name, text]) => (text === undefined ? [] : [`--${name}`, text]));
  const sources = sourcesOf(path, options);
  const text = stampedReport(
    {
      title: 'How honest the chances were',
      version,
      files: sources.map((source) => ({ file: source, sha256: sha256OfFile(source) })),
      seed: value.seed,
      command: ['lastrotation', 'backtest', path, ...words].map(quoted).join(' '),
    },
    reports.backtest(value),
  );
  writeMadeFile(file, text, sources, { option: '--report', begins: STAMPED });
}

/** As a shell takes it for one word. */
function quoted(word: string): string {
  return /^[\w./:=@%+-]+$/.test(word) ? word : `'${word.replaceAll("'", "'\\''")}'`;
}
