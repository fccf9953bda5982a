/** The field of a start list: who competes, where, and in which order. */
import type { Meet } from './meet.js';
import { type ProblemList, report } from './problems.js';
import type { FieldFacts, MeetKind } from './start-kinds.js';
import {
  finalsOf,
  groupsOf,
  groupsOfTeams,
  lineUpsOf,
  type Orders,
  type StartGroup,
  teamsOf,
} from './start-orders.js';
import type { Entrant } from './start-rows.js';

export interface StartField {
  /** Null where neither the list nor anybody says what sort of meet it is. */
  readonly kind: MeetKind | null;
  readonly codes: readonly string[];
  readonly entrants: readonly Entrant[];
  readonly lineups: ReadonlyMap<string, Orders>;
  /** Null where there are no finals in an order of their own. */
  readonly finals: Orders | null;
  readonly groups: readonly StartGroup[];
  /** Whether everyone on vault does two, or nobody, or those of whom the list says so. */
  readonly twoVaults: 'all' | 'none' | 'listed';
}

interface Asked {
  readonly kind?: MeetKind | null;
  readonly vaults?: 1 | 2;
  readonly carried?: string | null;
  readonly earlier: Meet | null;
}

export function fieldOf(
  entrants: readonly Entrant[],
  codes: readonly string[],
  asked: Asked,
  list: ProblemList,
): StartField {
  const hasPositions = entrants.some((e) => Object.keys(e.positions).length > 0);
  const hasTeams = teamsOf(entrants).length > 0;
  const byPosition = !hasPositions ? null : hasTeams ? 'team' : 'finals';
  const kind = asked.kind ?? (asked.carried == null ? byPosition : 'day-two');
  const isFinals = hasPositions && kind === 'finals';
  const lineups =
    hasPositions && !isFinals ? lineUpsOf(entrants, codes, list) : new Map<string, Orders>();
  const isReserve = (e: Entrant) => isInNone(lineups.get(e.team) ?? {}, e.id);
  const given = isFinals ? [] : groupsOf(entrants, codes, isReserve, list);
  const isPaired = kind === 'dual' && given.length === 0;
  const field: StartField = {
    kind,
    codes,
    entrants,
    lineups,
    finals: isFinals ? finalsOf(entrants, codes, list) : null,
    groups: isPaired ? groupsOfTeams(entrants, codes, isReserve) : given,
    twoVaults: vaultsOf(kind, entrants, asked, list),
  };
  return { ...field, entrants: entrants.map((e) => ({ ...e, on: writtenOn(field, e) })) };
}

function isInNone(orders: Orders, id: string): boolean {
  const all = Object.values(orders);
  return all.length > 0 && !all.some((ids) => ids.includes(id));
}

/** Kinds of meet with a contest on vault in which two vaults may count. */
const WITH_VAULT: readonly (MeetKind | null)[] = ['qualification', 'finals'];

function vaultsOf(
  kind: MeetKind | null,
  entrants: readonly Entrant[],
  { vaults, earlier }: Asked,
  list: ProblemList,
): StartField['twoVaults'] {
  const first = entrants.find((e) => e.vaultsTwice);
  if (vaults !== 2 && first === undefined) return 'none';
  const hadTwo = earlier?.contests.some((c) => c.settings.vaults === 2) ?? false;
  if (WITH_VAULT.includes(kind) || (kind === 'day-two' && hadTwo)) {
    return vaults === 2 ? 'all' : 'listed';
  }
  const message = 'a second vault is left out: no contest of this meet counts it';
  const mend = `it counts in: ${WITH_VAULT.join(', ')}`;
  report(list, 'note', 'not-counted', first?.line ?? null, message, mend);
  return 'none';
}

/** Whether she does two vaults, if she is on vault at all. */
function vaultsTwice({ twoVaults }: StartField, entrant: Entrant): boolean {
  return twoVaults === 'all' || (twoVaults === 'listed' && entrant.vaultsTwice);
}

/**
 * What the meet file says with her `on`: nothing where it follows from her list. Where every contest is on
 * one apparatus a second vault goes without saying, and elsewhere it does not.
 */
function writtenOn(field: StartField, entrant: Entrant): string {
  const on = onOf(field, entrant);
  const isTwice = vaultsTwice(field, entrant) && on.includes('VT');
  const goesWithoutSaying =
    field.kind === 'finals' && field.twoVaults !== 'none'
      ? isTwice || !on.includes('VT')
      : !isTwice;
  if (entrant.on === '' && goesWithoutSaying) return '';
  const said = entrant.on === '' ? on.join(' ') : entrant.on;
  return isTwice ? said.replace(/\bVT\b/, 'VT VT2') : said;
}

/** The apparatus somebody is on, as the meet file will have it. */
function onOf({ codes, lineups, finals }: StartField, { id, team, on }: Entrant): string[] {
  if (on !== '') return codes.filter((code) => on.split(' ').includes(code));
  if (finals !== null) return codes.filter((code) => finals[code]?.includes(id));
  const orders = lineups.get(team) ?? {};
  return isInNone(orders, id) ? [] : codes.filter((code) => orders[code]?.includes(id) ?? true);
}

/** What of it the contests depend on. */
export function factsOf(field: StartField): Omit<FieldFacts, 'earlier'> {
  const { codes, entrants, lineups } = field;
  const on = entrants.map((e) => new Set(onOf(field, e)));
  const teams = teamsOf(entrants);
  const upOf = (team: string, code: string) =>
    entrants.filter((e, i) => e.team === team && on[i]?.has(code)).length;
  return {
    allAround: on.filter((hers) => hers.size === codes.length).length,
    apparatus: codes.map((code) => ({
      code,
      competing: on.filter((hers) => hers.has(code)).length,
      twice: entrants.filter((e, i) => vaultsTwice(field, e) && on[i]?.has(code)).length,
    })),
    teams: teams.length,
    mostUp: Math.max(0, ...teams.flatMap((team) => codes.map((code) => upOf(team, code)))),
    hasLineUps: lineups.size > 0,
  };
}
