/** Gymnasts and teams of a meet file, and who competes on what. */
import { SECOND_VAULT, VAULT } from '../apparatus.js';
import { type Checking, complain } from './checking.js';
import type { ContestRules, Gymnast, Team } from './meet.js';
import { didYouMean } from './problems.js';
import { entriesOf } from './schema.js';

/** A gymnast as listed; `on` is null where the list does not say. */
export interface Listed {
  readonly id: string;
  readonly name: string;
  readonly team: string | null;
  readonly on: readonly string[] | null;
  readonly carried: number;
  /** Her place in the list of the file. */
  readonly entry: number;
}

/** The gymnasts as listed. `codes` are the meet's apparatus, `discipline` all there are. */
export function readGymnasts(
  checking: Checking,
  codes: readonly string[],
  discipline: readonly string[],
): Listed[] {
  const listed: Listed[] = [];
  const ids = new Set<string>();
  for (const [i, g] of entriesOf(checking.document.gymnasts)) {
    const path = ['gymnasts', i];
    if (ids.has(g.id)) {
      complain(
        checking,
        'error',
        'gymnast-twice',
        path,
        `gymnast \`${g.id}\` is listed twice`,
        'keep one entry, or give the other an id of its own',
      );
      continue;
    }
    ids.add(g.id);
    listed.push({
      id: g.id,
      name: g.name ?? g.id,
      team: g.team ?? null,
      on: g.on === undefined ? null : readOn(checking, i, g.id, g.on, codes, discipline),
      carried: g.carried ?? 0,
      entry: i,
    });
  }
  if (entriesOf(checking.document.gymnasts).length === 0) {
    complain(
      checking,
      'error',
      'no-gymnasts',
      ['gymnasts'],
      'no gymnast is listed',
      'add lines such as - { id: adeyemi, name: Wren Adeyemi }',
    );
  }
  return listed;
}

function readOn(
  checking: Checking,
  entry: number,
  id: string,
  written: readonly (string | null)[],
  codes: readonly string[],
  discipline: readonly string[],
): string[] {
  const on = entriesOf(written);
  for (const [k, code] of on) {
    const path = ['gymnasts', entry, 'on', k];
    if (codes.includes(code)) continue;
    if (discipline.includes(code)) {
      complain(
        checking,
        'note',
        'not-counted',
        path,
        `no contest of this meet counts ${code}`,
        `take it from \`on\`, or add a contest for ${code}`,
      );
    } else {
      complain(
        checking,
        'error',
        'unknown-apparatus',
        path,
        `apparatus ${code} of gymnast \`${id}\` is no part of this meet`,
        didYouMean(code, codes, 'one of'),
      );
    }
  }
  const given = on.map(([, code]) => code);
  if (given.includes(SECOND_VAULT) && !given.includes(VAULT)) {
    complain(
      checking,
      'error',
      'second-vault-alone',
      ['gymnasts', entry, 'on'],
      `gymnast \`${id}\` does ${SECOND_VAULT} without ${VAULT}`,
      `add ${VAULT} to her \`on\``,
    );
  }
  return codes.filter((c) => given.includes(c));
}

/** What a gymnast does when nobody says: everything, the second vault only in apparatus finals. */
export function defaultOn(codes: readonly string[], contests: readonly ContestRules[]): string[] {
  const secondVault = contests.every((c) => c.kind === 'apparatus');
  return codes.filter((c) => c !== SECOND_VAULT || secondVault);
}

/** The teams as listed, or, without a list, those the gymnasts name. */
export function readTeams(checking: Checking, gymnasts: readonly Listed[]): Team[] {
  if (checking.document.teams === undefined) {
    const ids = new Set(gymnasts.flatMap((g) => g.team ?? []));
    return [...ids].map((id) => ({ id, name: id, carried: 0 }));
  }
  const teams: Team[] = [];
  for (const [i, t] of entriesOf(checking.document.teams)) {
    if (teams.some((other) => other.id === t.id)) {
      complain(
        checking,
        'error',
        'team-twice',
        ['teams', i],
        `team \`${t.id}\` is listed twice`,
        'keep one entry',
      );
    } else teams.push({ id: t.id, name: t.name ?? t.id, carried: t.carried ?? 0 });
  }
  for (const g of gymnasts) {
    if (g.team === null || teams.some((t) => t.id === g.team)) continue;
    complain(
      checking,
      'error',
      'unknown-team',
      ['gymnasts', g.entry, 'team'],
      `team \`${g.team}\` of gymnast \`${g.id}\` is not in the list`,
      didYouMean(
        g.team,
        teams.map((t) => t.id),
        'add it to teams',
      ),
    );
  }
  return teams;
}

/** A team may send no more gymnasts to an apparatus than the contest lets up. */
export function checkTeamSizes(
  checking: Checking,
  contests: readonly ContestRules[],
  gymnasts: readonly Gymnast[],
  teams: readonly Team[],
  codes: readonly string[],
): void {
  for (const contest of contests) {
    if (contest.kind !== 'team') continue;
    if (teams.length === 0) {
      complain(
        checking,
        'error',
        'no-teams',
        ['contests'],
        'there is a team contest but no gymnast has a team',
        'add team: … to the gymnasts',
      );
    }
    for (const team of teams) {
      for (const code of codes) {
        const up = gymnasts.filter((g) => g.team === team.id && g.on.includes(code)).length;
        if (code === SECOND_VAULT || up <= contest.up) continue;
        complain(
          checking,
          'error',
          'too-many-up',
          ['gymnasts'],
          `team ${team.id} has ${up} on ${code}, but ${contest.up} are up`,
          'say with `on` who competes where, or mend `up`',
        );
      }
    }
  }
}
