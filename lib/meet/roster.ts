/** Gymnasts and teams of a meet file, and who competes on what. */
import type { Apparatus } from '../apparatus.js';
import { asScore } from '../score.js';
import { type Checking, complain } from './checking.js';
import { readerOf } from './contest-rules.js';
import type { ContestRules, Gymnast, Team } from './meet.js';
import { didYouMean } from './problems.js';
import { entriesOf } from './values.js';
import { apparatusMend } from './which-apparatus.js';

/** A gymnast as listed; `on` is null where the list does not say. */
export interface Listed extends Omit<Gymnast, 'on'> {
  readonly on: readonly string[] | null;
  /** Her place in the list of the file. */
  readonly entry: number;
}

/** A gymnast as listed, with the apparatus she competes on where the list does not say. */
export function settled({ entry, ...listed }: Listed, byDefault: readonly string[]): Gymnast {
  return { ...listed, on: listed.on ?? byDefault };
}

/** The gymnasts as listed. `apparatus` are the meet's, `discipline` the codes of all there are. */
export function readGymnasts(
  checking: Checking,
  apparatus: readonly Apparatus[],
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
      family: g.family ?? null,
      short: g.short ?? null,
      say: g.say ?? null,
      country: g.country ?? null,
      bib: g.bib ?? null,
      team: g.team ?? null,
      on: g.on === undefined ? null : readOn(checking, i, g.id, g.on, apparatus, discipline),
      carried: g.carried ?? asScore(0),
      unnamed: false,
      entry: i,
    });
  }
  warnOfTwice(checking, listed, 'short');
  warnOfTwice(checking, listed, 'bib');
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

/** Of what should tell one gymnast from another: whose is somebody else's before. */
function warnOfTwice(checking: Checking, listed: readonly Listed[], key: 'short' | 'bib'): void {
  const code = key === 'bib' ? 'bib-twice' : 'short-twice';
  for (const [i, g] of listed.entries()) {
    const other = listed.slice(0, i).find((o) => g[key] !== null && o[key] === g[key]);
    if (other === undefined) continue;
    complain(
      checking,
      'warning',
      code,
      ['gymnasts', g.entry, key],
      `${g.name} has the same \`${key}\` as ${other.name}: ${g[key]}`,
      'give each her own',
    );
  }
}

function readOn(
  checking: Checking,
  entry: number,
  id: string,
  written: readonly (string | null)[],
  apparatus: readonly Apparatus[],
  discipline: readonly string[],
): string[] {
  const on = entriesOf(written);
  const codes = apparatus.map((a) => a.code);
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
        `apparatus ${code} of gymnast \`${id}\` is not part of this meet`,
        apparatusMend(code, apparatus, 'one of'),
      );
    }
  }
  const given = on.map(([, code]) => code);
  for (const { code, follows } of apparatus) {
    if (follows === null || !given.includes(code) || given.includes(follows)) continue;
    complain(
      checking,
      'error',
      'second-vault-alone',
      ['gymnasts', entry, 'on'],
      `gymnast \`${id}\` does ${code} without ${follows}`,
      `add ${follows} to her \`on\``,
    );
  }
  return codes.filter((c) => given.includes(c));
}

/**
 * What a gymnast does when nobody says: everything, a second vault only where no contest of the meet
 * counts every apparatus.
 */
export function defaultOn(
  checking: Checking,
  apparatus: readonly Apparatus[],
  contests: readonly ContestRules[],
): string[] {
  const isFinals = contests.every((c) => !readerOf(checking, c).countsEverything);
  return apparatus.filter((a) => a.follows === null || isFinals).map((a) => a.code);
}

/** The teams as listed, or, without a list, those the gymnasts name. */
export function readTeams(checking: Checking, gymnasts: readonly Listed[]): Team[] {
  if (checking.document.teams === undefined) {
    const ids = new Set(gymnasts.flatMap((g) => g.team ?? []));
    return [...ids].map((id) => ({ id, name: id, carried: asScore(0), lineup: {} }));
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
    } else {
      const carried = t.carried ?? asScore(0);
      teams.push({ id: t.id, name: t.name ?? t.id, carried, lineup: {} });
    }
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
        'add it to teams, or name one of',
      ),
    );
  }
  return teams;
}
