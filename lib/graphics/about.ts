/** Whoever a line is about, as a graphic shows them. */
import type { Meet } from '../meet/meet.js';

/** Somebody a line is about, with what a graphics template asks for. */
export interface About {
  /** As the meet file has it. */
  readonly id: string;
  /** As it is shown. */
  readonly name: string;
  /** What a board has room for; null where the meet gives none. */
  readonly short: string | null;
  /** The id of a gymnast's team; null for a team. */
  readonly team: string | null;
  /** Three letters; null where the meet gives none. */
  readonly country: string | null;
}

/** By id, of a gymnast or of a team. */
export function aboutOf(meet: Meet, id: string, isTeam: boolean): About {
  const gymnast = isTeam ? undefined : meet.gymnasts.find((g) => g.id === id);
  const name = gymnast?.name ?? meet.teams.find((t) => t.id === id)?.name ?? id;
  const { short = null, team = null, country = null } = gymnast ?? {};
  return { id, name, short, team, country };
}
