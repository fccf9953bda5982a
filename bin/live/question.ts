/** A question typed at the prompt in the words of its command: whoever is next up comes first. */
import {
  LastRotationError,
  type Meet,
  namedContender,
  readAsked,
  readSupposed,
} from '../../lib/index.js';

/** Commands that answer a question about this meet; the first word of a line. */
export const QUESTIONS = [
  'needs',
  'chances',
  'outcomes',
  'suppose',
  'standings',
  'story',
  'check',
  'claim',
  'graphics',
] as const;

/** What a command was once called: it says what it is called now. */
export const FORMER_NAME = 'captions';

/** The options of a command for what a question may name besides somebody. */
const OPTIONS: Readonly<Record<string, { readonly on?: string; readonly for?: string }>> = {
  needs: { on: '--on', for: '--for' },
  outcomes: { on: '--on' },
  claim: { for: '--to' },
  chances: {},
};

/** The words after a command as it takes them outside the prompt. */
export function commandWords(
  meet: Meet,
  command: string,
  words: readonly string[],
  contest: string | undefined,
): string[] {
  const first = words.findIndex((w) => w.startsWith('-'));
  const said = first < 0 ? words : words.slice(0, first);
  const rest = first < 0 ? [] : words.slice(first);
  if (said.length === 0) return [...words];
  const how = { contest: contestIn(rest) ?? contest, nextUpFirst: true };
  const exactly = (id: string) => `id:${id}`;
  if (command === 'suppose') {
    const supposed = readSupposed(meet, said, how);
    const args = supposed.flatMap((s) => [exactly(s.gymnast), s.apparatus, String(s.score)]);
    return [...args, ...rest];
  }
  if (command === 'graphics') {
    return [...said.map((name) => exactly(namedContender(meet, name, how))), ...rest];
  }
  const options = OPTIONS[command];
  if (options === undefined) return [...words];
  const asked = readAsked(meet, said, how);
  const args = (['on', 'for'] as const).flatMap((key) => {
    const value = asked[key];
    if (value === null) return [];
    const option = options[key];
    if (option === undefined) throw notTaken(command, value);
    return [option, value];
  });
  return [...(asked.who === null ? [] : [exactly(asked.who)]), ...args, ...rest];
}

/** The words of a line that begins with no command, where they ask what somebody needs. */
export function needWords(
  meet: Meet,
  line: string,
  words: readonly string[],
  contest: string | undefined,
): string[] {
  // An answer to no question is nobody's name.
  const isAnswer = /^(y|yes|n|no)$/i.test(line) && !meet.gymnasts.some((g) => g.id === line);
  let mend = 'write a score, ade 13.566, or a name, ade; for all there is: help';
  try {
    const args = isAnswer ? [] : commandWords(meet, 'needs', words, contest);
    const [first = '--on'] = args;
    if (first !== '--on') return args;
  } catch (error) {
    const isNobody = error instanceof LastRotationError && error.code === 'unknown-gymnast';
    if (!isNobody) throw error;
    if (error.mend?.startsWith('did you mean')) ({ mend } = error);
  }
  throw new LastRotationError(`"${line}" is neither a score nor a question`, {
    kind: 'usage',
    code: 'bad-usage',
    mend,
  });
}

/** `--contest team`, or `--contest=team`. */
function contestIn(options: readonly string[]): string | undefined {
  const at = options.findIndex((o) => /^--contest(=|$)/.test(o));
  return at < 0 ? undefined : (/=(.*)$/.exec(options[at] ?? '')?.[1] ?? options[at + 1]);
}

function notTaken(command: string, value: string): LastRotationError {
  return new LastRotationError(`${command} has no use for "${value}"`, {
    kind: 'usage',
    code: 'bad-usage',
    mend: `ask: needs ${value}; or see: ${command} --help`,
  });
}
