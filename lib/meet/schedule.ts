/** The groups or rotations of a meet file, checked, and the routines that follow from them. */
import { type Apparatus, FOLLOW_UP_CODES } from '../apparatus.js';
import { type Checking, complain } from './checking.js';
import { readerOf } from './contest-rules.js';
import type { Path } from './document.js';
import type { ContestRules, Gymnast, Rotation, Schedule, Station } from './meet.js';
import { didYouMean } from './problems.js';
import { defaultOn, type Listed } from './roster.js';
import {
  type Competes,
  type Group,
  rotationsInTurn,
  rotationsOfGroups,
  routinesInOrder,
} from './rotations.js';
import { entriesOf } from './values.js';

export function readSchedule(
  checking: Checking,
  listed: readonly Listed[],
  contests: readonly ContestRules[],
  apparatus: readonly Apparatus[],
): Schedule {
  const { document } = checking;
  const stations = apparatus.filter((a) => a.follows === null).map((a) => a.code);
  if (document.groups !== undefined && document.rotations !== undefined) {
    complain(
      checking,
      'error',
      'groups-and-rotations',
      ['rotations'],
      'groups and rotations are both given',
      'keep one of the two',
    );
  }
  if (document.groups === undefined && document.rotations !== undefined) {
    return writtenOut(checking, listed, contests, apparatus, stations);
  }
  const gymnasts = listed.map((g) => settled(g, defaultOn(checking, apparatus, contests)));
  const competes = competesIn(gymnasts);
  const rotations =
    document.groups === undefined
      ? rotationsInTurn(
          stations,
          gymnasts.map((g) => g.id),
          competes,
        )
      : rotationsOfGroups(
          readGroups(checking, listed, gymnasts, stations),
          stations,
          document.startOrder ?? 'rotate',
          competes,
        );
  return { gymnasts, rotations, routines: routinesInOrder(rotations, apparatus, competes) };
}

function settled({ entry, ...listed }: Listed, byDefault: readonly string[]): Gymnast {
  return { ...listed, on: listed.on ?? byDefault };
}

function competesIn(gymnasts: readonly Gymnast[]): Competes {
  const on = new Map(gymnasts.map((g) => [g.id, new Set(g.on)]));
  return (gymnast, apparatus) => on.get(gymnast)?.has(apparatus) ?? false;
}

/** The known gymnasts of an order; those who are not in the list are reported. */
function knownOrder(
  checking: Checking,
  order: readonly (string | null)[],
  path: Path,
  where: string,
  ids: ReadonlySet<string>,
): string[] {
  const known: string[] = [];
  for (const [i, id] of entriesOf(order)) {
    if (ids.has(id)) known.push(id);
    else {
      complain(
        checking,
        'error',
        'unknown-gymnast',
        [...path, i],
        `gymnast \`${id}\` in ${where} is not in the list`,
        didYouMean(id, [...ids], 'add her to gymnasts, or name one of'),
      );
    }
  }
  return known;
}

function readGroups(
  checking: Checking,
  listed: readonly Listed[],
  gymnasts: readonly Gymnast[],
  stations: readonly string[],
): Group[] {
  const groups: Group[] = [];
  const groupOf = new Map<string, number>();
  const ids = new Set(gymnasts.map((g) => g.id));
  for (const [i, group] of entriesOf(checking.document.groups)) {
    const path = ['groups', i, 'order'];
    const order: string[] = [];
    for (const id of knownOrder(checking, group.order, path, `group ${i + 1}`, ids)) {
      const before = groupOf.get(id);
      if (before === undefined) {
        groupOf.set(id, i);
        order.push(id);
        continue;
      }
      complain(
        checking,
        'error',
        'gymnast-in-two-groups',
        [...path, group.order.lastIndexOf(id)],
        before === i
          ? `gymnast \`${id}\` is twice in group ${i + 1}`
          : `gymnast \`${id}\` is in group ${before + 1} and in group ${i + 1}`,
        'keep her in one place',
      );
    }
    if (group.start !== null && !stations.includes(group.start)) {
      complain(
        checking,
        'error',
        'unknown-apparatus',
        ['groups', i, 'start'],
        `group ${i + 1} starts on ${group.start}, which is not part of this meet`,
        didYouMean(group.start, [...stations, 'bye'], 'choose from'),
      );
    } else if (group.start !== null && groups.some((g) => g.start === group.start)) {
      complain(
        checking,
        'error',
        'start-twice',
        ['groups', i, 'start'],
        `two groups start on ${group.start}`,
        'let each group start elsewhere',
      );
    } else groups.push({ start: group.start, order });
  }
  // Of a group that could not be read nobody knows who is in it.
  if (checking.document.groups?.includes(null)) return groups;
  checkEveryStation(checking, groups, stations);
  for (const [i, g] of gymnasts.entries()) {
    if (groupOf.has(g.id) || g.on.length === 0) continue;
    complain(
      checking,
      'error',
      'gymnast-in-no-group',
      ['gymnasts', listed[i]?.entry ?? i],
      `gymnast \`${g.id}\` is in no group`,
      'add her to the order of a group; a reserve has on: []',
    );
  }
  return groups;
}

/** With byes the groups' starts are the stations, so every apparatus must be one of them. */
function checkEveryStation(
  checking: Checking,
  groups: readonly Group[],
  stations: readonly string[],
): void {
  if (!groups.some((g) => g.start === null)) return;
  const missing = stations.filter((s) => !groups.some((g) => g.start === s));
  if (missing.length === 0) return;
  complain(
    checking,
    'error',
    'station-missing',
    ['groups'],
    `with byes every apparatus is some group's start; none starts on ${missing.join(', ')}`,
    `add - { start: ${missing[0]}, order: [] }, also when nobody starts there`,
  );
}

function writtenOut(
  checking: Checking,
  listed: readonly Listed[],
  contests: readonly ContestRules[],
  apparatus: readonly Apparatus[],
  stations: readonly string[],
): Schedule {
  const ids = new Set(listed.map((g) => g.id));
  const scheduled = new Map(listed.map((g) => [g.id, new Set<string>()]));
  const rotations: Rotation[] = [];
  for (const [i, rotation] of entriesOf(checking.document.rotations)) {
    const written: Station[] = [];
    for (const [code, given] of Object.entries(rotation)) {
      const path = ['rotations', i, code];
      if (!stations.includes(code)) {
        const isFollowUp = FOLLOW_UP_CODES.includes(code);
        complain(
          checking,
          'error',
          'unknown-apparatus',
          path,
          isFollowUp
            ? `${code} is done right after the first vault and has no rotation of its own`
            : `apparatus ${code} in rotation ${i + 1} is not part of this meet`,
          isFollowUp ? 'delete it' : didYouMean(code, stations, 'choose from'),
        );
        continue;
      }
      const order: string[] = [];
      const known = knownOrder(checking, given, path, `rotation ${i + 1} on ${code}`, ids);
      for (const id of known) {
        if (scheduled.get(id)?.has(code)) {
          complain(
            checking,
            'error',
            'routine-twice',
            path,
            `gymnast \`${id}\` is up twice on ${code}`,
            'keep her in one place',
          );
        } else {
          scheduled.get(id)?.add(code);
          order.push(id);
        }
      }
      written.push({ apparatus: code, order });
    }
    written.sort(
      (a, b) => stations.indexOf(a.apparatus ?? '') - stations.indexOf(b.apparatus ?? ''),
    );
    rotations.push({ rotation: i + 1, stations: written });
  }
  const gymnasts = listed.map((g) => {
    const here = scheduled.get(g.id) ?? new Set();
    checkWrittenOn(checking, g, here, contests, apparatus);
    // Who has no `on` competes where the rotations have her.
    const byDefault = new Set(defaultOn(checking, apparatus, contests));
    const isUp = ({ code, follows }: Apparatus) => byDefault.has(code) && here.has(follows ?? code);
    return settled(
      g,
      apparatus.filter(isUp).map((a) => a.code),
    );
  });
  const competes = competesIn(gymnasts);
  return { gymnasts, rotations, routines: routinesInOrder(rotations, apparatus, competes) };
}

function checkWrittenOn(
  checking: Checking,
  gymnast: Listed,
  here: ReadonlySet<string>,
  contests: readonly ContestRules[],
  apparatus: readonly Apparatus[],
): void {
  const { id, on, entry } = gymnast;
  const path = ['gymnasts', entry];
  const isStation = (code: string) => apparatus.every((a) => a.code !== code || a.follows === null);
  if (on === null) {
    const missing = apparatus.flatMap(({ code, follows }) =>
      follows === null && !here.has(code) ? [code] : [],
    );
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
  for (const code of on.filter((c) => isStation(c) && !here.has(c))) {
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
