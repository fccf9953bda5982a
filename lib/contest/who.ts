/** Whom a question means: a gymnast or a team, by id or by any part of id or name that fits one. */
import { type LastRotationError, noAnswer } from '../error.js';
import type { Gymnast, Meet } from '../meet/meet.js';
import { nearest, plain } from '../meet/problems.js';
import type { Contender } from '../rules/contender.js';
import type { Contest } from './contest.js';

interface Named {
  readonly id: string;
  readonly name: string;
}

/** Whom a question is about: the contender, and the gymnast if one was named. */
export interface Who {
  readonly contender: Contender;
  readonly gymnast: Gymnast | null;
}

/** The one of a list that a text names, several it may mean, or none. */
function matches<T extends Named>(list: readonly T[], text: string): readonly T[] {
  const exact = list.filter((n) => n.id === text);
  if (exact.length > 0) return exact;
  const wanted = plain(text.trim());
  if (wanted === '') return [];
  const whole = list.filter((n) => plain(n.id) === wanted || plain(n.name) === wanted);
  if (whole.length > 0) return whole;
  return list.filter((n) => plain(n.id).includes(wanted) || plain(n.name).includes(wanted));
}

function unknown(text: string, list: readonly Named[]): LastRotationError {
  const near =
    nearest(
      text,
      list.map((n) => n.id),
    ) ??
    nearest(
      text,
      list.map((n) => n.name),
    ) ??
    nearest(
      text,
      list.flatMap((n) => n.name.split(/\s+/)),
    );
  const message = `nobody here is called "${text}"`;
  return noAnswer(
    'unknown-gymnast',
    message,
    near === null ? 'see who competes: lastrotation check' : `did you mean \`${near}\`?`,
  );
}

function ambiguous(text: string, found: readonly Named[]): LastRotationError {
  const names = found.slice(0, 6).map((n) => `${n.id} (${n.name})`);
  return noAnswer(
    'ambiguous-gymnast',
    `"${text}" fits ${found.length} of them`,
    `say which: ${names.join(', ')}${found.length > 6 ? ', …' : ''}`,
  );
}

/** The gymnast a text names. Throws when it is nobody, or more than one. */
export function findGymnast(meet: Meet, text: string): Gymnast {
  const found = matches(meet.gymnasts, text);
  const [first] = found;
  if (first === undefined) throw unknown(text, meet.gymnasts);
  if (found.length > 1) throw ambiguous(text, found);
  return first;
}

/** Whose total a gymnast's routines are part of: herself, or her team; undefined where nobody's. */
export function contenderFor(
  { kind, contenders }: Contest,
  { id, team }: Pick<Gymnast, 'id' | 'team'>,
): Contender | undefined {
  const whose = kind.ranks === 'teams' ? team : id;
  return contenders.find((c) => c.id === whose);
}

/**
 * The contender a text names in a contest. In a team contest team ids come first, and naming a
 * gymnast asks for her team.
 */
export function findContender(meet: Meet, contest: Contest, text: string): Who {
  if (contest.kind.ranks === 'gymnasts') {
    const gymnast = findGymnast(meet, text);
    const contender = contest.contenders.find((c) => c.id === gymnast.id);
    if (contender === undefined) {
      throw noAnswer(
        'no-contender',
        `${gymnast.name} is no contender in ${contest.id}`,
        gymnast.on.length > 0 ? `hers: ${gymnast.on.join(', ')}` : 'a reserve has no routines',
      );
    }
    return { contender, gymnast };
  }
  const teams = matches(contest.contenders, text);
  const gymnasts = matches(meet.gymnasts, text);
  const exactly = (n: Named) => plain(n.id) === plain(text.trim());
  const [team] = teams;
  if (team !== undefined && teams.length === 1 && (exactly(team) || !gymnasts.some(exactly))) {
    return { contender: team, gymnast: null };
  }
  const [gymnast] = gymnasts;
  if (gymnast !== undefined && gymnasts.length === 1) {
    const hers = contest.contenders.find((c) => c.id === gymnast.team);
    if (hers !== undefined) return { contender: hers, gymnast };
    throw noAnswer('no-contender', `${gymnast.name} has no team`, 'name a team');
  }
  const all = [...teams, ...gymnasts];
  if (all.length > 1) throw ambiguous(text, all);
  throw unknown(text, [...contest.contenders, ...meet.gymnasts]);
}
