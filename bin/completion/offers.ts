/** What may be completed from the meet at hand: gymnasts, teams, apparatus, contests, targets. */
import { readMeetFiles } from '../../lib/files/index.js';
import { LINE_KINDS, type Plan } from '../../lib/index.js';
import { safe } from '../terminal.js';

/** A word, and what it stands for. */
type Offer = readonly [word: string, about: string];

export type Offers = (meet: Plan | null, word: string) => readonly Offer[];

/** No words of ours: the shell completes files. */
export const FILES: Offers = () => [];

const plainly =
  (...words: readonly string[]): Offers =>
  () =>
    words.map((word) => [word, '']);

const together =
  (...all: readonly Offers[]): Offers =>
  (meet, word) =>
    all.flatMap((offers) => offers(meet, word));

const APPARATUS: Offers = (meet) =>
  (meet?.apparatus ?? []).flatMap(({ code, name }): Offer[] => [
    [name, code],
    [code, name],
  ]);

/** Ids; the words of names where what is typed begins no id. */
const GYMNASTS: Offers = (meet, word) => {
  const known = (meet?.gymnasts ?? []).filter((g) => !g.unnamed);
  const ids = known.map(({ id, name }): Offer => [id, name]);
  if (ids.some(([id]) => id.startsWith(word))) return ids;
  return known.flatMap(({ name }) => name.split(/[\s,]+/).map((part): Offer => [part, name]));
};

const TEAMS: Offers = (meet) => (meet?.teams ?? []).map(({ id, name }): Offer => [id, name]);

const CONTESTS: Offers = (meet) => [
  ...(meet?.contests ?? []).map(({ id }): Offer => [id, 'contest']),
  ...APPARATUS(meet, ''),
];

const SESSIONS: Offers = (meet) => numbered((meet?.rotations ?? []).map((r) => r.session));
const ROTATIONS: Offers = (meet) => numbered((meet?.rotations ?? []).map((r) => r.rotation));

function numbered(all: readonly number[]): Offer[] {
  return [...new Set(all)].map((n): Offer => [String(n), '']);
}

const TARGETS = plainly('lead', 'win', 'medal', 'hold', 'gold', 'silver', 'bronze', 'advance');
const CONTENDERS = together(GYMNASTS, TEAMS);
const SCORE_WORDS = ['DNS', 'DNF', 'void'];

/** By the name of an option, in every command. */
const OF_OPTIONS: Readonly<Record<string, Offers>> = {
  contest: CONTESTS,
  on: APPARATUS,
  for: TARGETS,
  to: TARGETS,
  after: ROTATIONS,
  session: SESSIONS,
};

/** By the name of a command and of its argument, or its option. */
const OF_COMMANDS: Readonly<Record<string, Offers>> = {
  'completion shell': plainly('bash', 'zsh', 'fish'),
  'new startList': FILES,
  'ranges history': FILES,
  'backtest history': FILES,
  'record who': GYMNASTS,
  'record apparatus': together(APPARATUS, plainly('all')),
  'record score': plainly(...SCORE_WORDS, 'up', 'inquiry', 'confirmed'),
  'needs who': together(CONTENDERS, APPARATUS, TARGETS),
  'outcomes who': together(CONTENDERS, APPARATUS),
  'chances who': CONTENDERS,
  'suppose what': together(
    GYMNASTS,
    APPARATUS,
    plainly('low', 'likely', 'high', 'fall', ...SCORE_WORDS),
  ),
  'graphics who': CONTENDERS,
  'graphics kind': plainly(...LINE_KINDS),
  'claim who': together(CONTENDERS, TARGETS),
};

/** What a value may be, by the flags of its option or the name of its argument; null where nobody can say. */
export function offersOf(command: string, flagsOrName: string): Offers | null {
  if (flagsOrName.includes('<file>')) return FILES;
  const [, name = flagsOrName] = /^--([a-z-]+)/.exec(flagsOrName) ?? [];
  const found = OF_COMMANDS[`${command} ${name}`];
  return found ?? (flagsOrName.startsWith('--') ? (OF_OPTIONS[name] ?? null) : null);
}

/** What is offered, without what a shell would not take as one plain word, and with nothing twice. */
export function offersFor(offers: Offers, meet: Plan | null, word: string): readonly Offer[] {
  const all = offers(meet, word).filter(([value]) => /^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u.test(value));
  return all.map(([value, about]) => [value, safe(about)]);
}

/** The meet that the words of a line are about; null where it cannot be read. */
export function atHand(words: readonly string[]): Plan | null {
  const at = words.findLastIndex((word, i) => i < words.length - 1 && /^--meet(=|$)/.test(word));
  const named = /=(.*)$/.exec(words[at] ?? '')?.[1] ?? words[at + 1];
  const path = at < 0 ? (process.env.LASTROTATION_MEET ?? 'meet.yaml') : named;
  try {
    return path === undefined ? null : readMeetFiles(path).plan;
  } catch {
    return null;
  }
}
