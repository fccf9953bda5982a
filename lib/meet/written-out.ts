/** Rotations that a meet file writes out, and who competes where by them. */
import { type Apparatus, FOLLOW_UP_CODES } from '../apparatus.js';
import { type Checking, complain } from './checking.js';
import { readerOf } from './contest-rules.js';
import { membersIn } from './groups.js';
import { lineUpFinder } from './lineups.js';
import type { ContestRules, Rotation, Schedule, Station, Team } from './meet.js';
import { type Listed, settled } from './roster.js';
import { entriesOf } from './values.js';
import { apparatusMend } from './which-apparatus.js';

/** By gymnast: the apparatus on which a rotation has her. */
type Scheduled = ReadonlyMap<string, Set<string>>;

export function writtenOut(
  checking: Checking,
  listed: readonly Listed[],
  teams: readonly Team[],
  contests: readonly ContestRules[],
  apparatus: readonly Apparatus[],
  byDefault: readonly string[],
): Omit<Schedule, 'routines'> {
  const own = apparatus.filter((a) => a.follows === null);
  const stations = own.map((a) => a.code);
  const scheduled = new Map(listed.map((g) => [g.id, new Set<string>()]));
  const isOn = (g: Listed, code: string) => (g.on ?? byDefault).includes(code);
  const rotations: Rotation[] = [];
  for (const [i, rotation] of entriesOf(checking.document.rotations)) {
    const written: Station[] = [];
    for (const [code, given] of Object.entries(rotation)) {
      const path = ['rotations', i, code];
      if (!isStation(checking, code, i + 1, own)) continue;
      const where = `rotation ${i + 1} on ${code}`;
      const order = membersIn(checking, given, path, where, listed, teams).flatMap((named) => {
        if (named.team === null) return named.ids;
        const lineup = teams.find((t) => t.id === named.team)?.lineup[code];
        return (
          lineup ?? listed.filter((g) => g.team === named.team && isOn(g, code)).map((g) => g.id)
        );
      });
      written.push({ apparatus: code, order: onceEach(checking, order, code, i, scheduled) });
    }
    written.sort(
      (a, b) => stations.indexOf(a.apparatus ?? '') - stations.indexOf(b.apparatus ?? ''),
    );
    rotations.push({ session: 1, rotation: i + 1, stations: written });
  }
  const lineUpFor = lineUpFinder(teams, listed);
  const gymnasts = listed.map((g) => {
    const here = scheduled.get(g.id) ?? new Set();
    checkWrittenOn(checking, g, here, contests, apparatus, (code) => lineUpFor(g.id, code));
    // Who has no `on` competes where the rotations have her.
    const isUp = ({ code, follows }: Apparatus) =>
      byDefault.includes(code) && here.has(follows ?? code);
    return settled(
      g,
      apparatus.filter(isUp).map((a) => a.code),
    );
  });
  return { gymnasts, rotations };
}

function isStation(
  checking: Checking,
  code: string,
  rotation: number,
  stations: readonly Apparatus[],
): boolean {
  if (stations.some((a) => a.code === code)) return true;
  const isFollowUp = FOLLOW_UP_CODES.includes(code);
  complain(
    checking,
    'error',
    'unknown-apparatus',
    ['rotations', rotation - 1, code],
    isFollowUp
      ? `${code} is done right after the first vault and has no rotation of its own`
      : `apparatus ${code} in rotation ${rotation} is not part of this meet`,
    isFollowUp ? 'delete it' : apparatusMend(code, stations, 'choose from'),
  );
  return false;
}

/** An order without those whom a rotation has on this apparatus already, which is reported. */
function onceEach(
  checking: Checking,
  order: readonly string[],
  code: string,
  rotation: number,
  scheduled: Scheduled,
): string[] {
  return order.filter((id) => {
    const hers = scheduled.get(id);
    if (hers?.has(code) !== true) {
      hers?.add(code);
      return true;
    }
    const message = `gymnast \`${id}\` is up twice on ${code}`;
    const path = ['rotations', rotation, code];
    complain(checking, 'error', 'routine-twice', path, message, 'keep her in one place');
    return false;
  });
}

function checkWrittenOn(
  checking: Checking,
  gymnast: Listed,
  here: ReadonlySet<string>,
  contests: readonly ContestRules[],
  apparatus: readonly Apparatus[],
  lineUpOn: (code: string) => readonly string[] | null,
): void {
  const { id, on, entry, team } = gymnast;
  const path = ['gymnasts', entry];
  const say = (code: string, where: 'not-in-rotations' | 'not-in-lineup') =>
    complain(
      checking,
      'error',
      where,
      path,
      where === 'not-in-rotations'
        ? `gymnast \`${id}\` is in the line-up of ${team} on ${code}, but no rotation has her there`
        : `a rotation has gymnast \`${id}\` on ${code}, but ${team} has a line-up there without her`,
      where === 'not-in-rotations'
        ? `add ${team} to a rotation on ${code}, or take her from the line-up`
        : 'take her from the rotation, or add her to the line-up',
    );
  const stations = apparatus.flatMap((a) => (a.follows === null ? [a.code] : []));
  for (const code of stations) {
    const lineup = lineUpOn(code);
    if (lineup === null || lineup.includes(id) === here.has(code)) continue;
    say(code, here.has(code) ? 'not-in-lineup' : 'not-in-rotations');
  }
  if (on === null) {
    const missing = stations.filter((code) => !here.has(code) && lineUpOn(code) === null);
    const isExpected = contests.some((c) => readerOf(checking, c).needsEveryApparatus);
    if (missing.length === 0 || !isExpected) return;
    complain(
      checking,
      'note',
      'not-in-rotations',
      path,
      `gymnast \`${id}\` is in no rotation on ${missing.join(', ')}, and so does not compete there`,
      'add her to the rotations if she does',
    );
    return;
  }
  for (const code of on.filter((c) => stations.includes(c) && !here.has(c))) {
    complain(
      checking,
      'error',
      'not-in-rotations',
      [...path, 'on'],
      `gymnast \`${id}\` competes on ${code}, but no rotation has her there`,
      `add her to a rotation on ${code}, or take it from \`on\``,
    );
  }
  for (const code of [...here].filter((c) => !on.includes(c))) {
    complain(
      checking,
      'error',
      'not-her-apparatus',
      [...path, 'on'],
      `a rotation has gymnast \`${id}\` on ${code}, which is not in her \`on\``,
      `add ${code} to her \`on\`, or take her from the rotation`,
    );
  }
}
