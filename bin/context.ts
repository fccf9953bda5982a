/** What every command shares: its options, its meet, and how it answers. */
import { type Command, Option } from 'commander';
import { openMeet } from '../lib/files/index.js';
import {
  type AnswerName,
  LastRotationError,
  type Meet,
  parseScore,
  type Score,
  written,
} from '../lib/index.js';
import { safeJson, writeLine } from './terminal.js';

export interface MeetOptions {
  readonly meet: string;
  readonly contest?: string;
  readonly json?: boolean;
}

export function addMeetOptions(command: Command, { contest = true } = {}): Command {
  command.addOption(
    new Option('--meet <file>', 'the meet file').default('meet.yaml').env('LASTROTATION_MEET'),
  );
  if (contest) {
    command.option(
      '--contest <id>',
      'a contest of the meet, or an apparatus code (default: first)',
    );
  }
  return command.option('--json', 'the same facts for programs');
}

export function meetOf(options: MeetOptions): Meet {
  return openMeet(options.meet);
}

/** Prints an answer: as JSON, or as whatever `table` writes. */
export async function answer(
  options: MeetOptions,
  name: AnswerName,
  meet: Meet,
  value: unknown,
  table: () => Promise<void> | void,
): Promise<void> {
  if (options.json) writeLine(safeJson(written(name, value, meet.scoring.decimals)));
  else await table();
}

/** A score given as an option. */
export function scoreOption(meet: Meet, name: string, text: string | undefined): Score | null {
  if (text === undefined) return null;
  const parsed = parseScore(text, meet.scoring.decimals);
  if ('value' in parsed) return parsed.value;
  throw new LastRotationError(`${name}: ${parsed.wrong}`, {
    kind: 'usage',
    code: 'wrong-score',
    mend: parsed.mend,
  });
}
