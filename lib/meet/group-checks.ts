/** What does not fit in groups that could be read: who is in none, stations without a group, routes. */
import { type Checking, complain } from './checking.js';
import type { ReadGroup, ReadGroups } from './groups.js';
import type { Gymnast } from './meet.js';
import type { Listed } from './roster.js';
import { stopsOf } from './rotations.js';

/** Reports who is in no group, and what of the ways round does not fit. */
export function checkGroups(
  checking: Checking,
  { groups, placed, isPartial }: ReadGroups,
  gymnasts: readonly Gymnast[],
  listed: readonly Listed[],
  stations: readonly string[],
): void {
  if (isPartial) return;
  for (const session of new Set(groups.map((g) => g.session))) {
    const hers = groups.filter((g) => g.session === session);
    checkEveryStation(checking, hers, stations);
    checkOneGroupEach(checking, hers, stations);
  }
  checkRoutes(checking, groups, gymnasts, stations);
  for (const [i, { entry }] of listed.entries()) {
    const gymnast = gymnasts[i];
    if (gymnast === undefined || placed.has(gymnast.id) || gymnast.on.length === 0) continue;
    complain(
      checking,
      'error',
      'gymnast-in-no-group',
      ['gymnasts', entry],
      `gymnast \`${gymnast.id}\` is in no group`,
      'add her to the order of a group; a reserve has on: []',
    );
  }
}

/** With byes the groups' starts are the stations, so every apparatus must be one of them. */
function checkEveryStation(
  checking: Checking,
  groups: readonly ReadGroup[],
  stations: readonly string[],
): void {
  const moving = groups.filter((g) => g.route === null);
  if (!moving.some((g) => g.start === null)) return;
  const missing = stations.filter((s) => !moving.some((g) => g.start === s));
  if (missing.length === 0) return;
  const [{ session } = { session: 1 }] = moving;
  const which = session === 1 ? '' : `session: ${session}, `;
  complain(
    checking,
    'error',
    'station-missing',
    ['groups'],
    `with byes every apparatus is some group's start; none${session === 1 ? '' : ` of session ${session}`} starts on ${missing.join(', ')}`,
    `add - { ${which}start: ${missing[0]}, order: [] }, also when nobody starts there`,
  );
}

/** Two groups on one apparatus at a time, which only a route can bring about. */
function checkOneGroupEach(
  checking: Checking,
  groups: readonly ReadGroup[],
  stations: readonly string[],
): void {
  if (groups.every((g) => g.route === null)) return;
  for (const [turn, stops] of stopsOf(groups, stations).entries()) {
    for (const [i, { group, apparatus }] of stops.entries()) {
      const other = stops.slice(0, i).find((s) => apparatus !== null && s.apparatus === apparatus);
      if (other === undefined) continue;
      const [first = 0, last = 0] = [other.group.entry, group.entry].sort((a, b) => a - b);
      const at = group.route === null ? other.group.entry : group.entry;
      complain(
        checking,
        'error',
        'two-groups-up',
        ['groups', at, 'route'],
        `groups ${first + 1} and ${last + 1} are both on ${apparatus} in rotation ${turn + 1}`,
        'change the route of one of the two',
      );
    }
  }
}

/** A route leads to every apparatus that somebody of the group is on. */
function checkRoutes(
  checking: Checking,
  groups: readonly ReadGroup[],
  gymnasts: readonly Gymnast[],
  stations: readonly string[],
): void {
  const byId = new Map(gymnasts.map((g) => [g.id, g] as const));
  for (const { route, order, entry } of groups) {
    if (route === null) continue;
    const missed = new Map<string, string[]>();
    for (const id of order) {
      for (const code of byId.get(id)?.on ?? []) {
        if (!stations.includes(code) || route.includes(code)) continue;
        missed.set(code, [...(missed.get(code) ?? []), id]);
      }
    }
    for (const [code, ids] of missed) {
      const [first, ...others] = ids;
      const more = others.length === 0 ? ' competes' : ` and ${others.length} more compete`;
      complain(
        checking,
        'error',
        'not-in-rotations',
        ['groups', entry, 'route'],
        `the route of group ${entry + 1} does not lead to ${code}, where \`${first}\`${more}`,
        `add ${code} to the route, or say with \`on\` who competes where`,
      );
    }
  }
}
