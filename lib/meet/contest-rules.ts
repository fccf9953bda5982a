/** The contests of a meet file, their rules, and the apparatus that they make part of the meet. */
import { type Apparatus, DISCIPLINES, NEUTRAL_WORDS, withFollowUps } from '../apparatus.js';
import { SCORING_SYSTEMS } from '../scoring.js';
import { checkAdvance, readAdvance } from './advance.js';
import { checkCarried, readCarried } from './carried.js';
import { type Checking, complain } from './checking.js';
import type { Path } from './document.js';
import type { Complain, ComplainOfField, ContestReader } from './known-rules.js';
import type { ContestRules } from './meet.js';
import type { ContestDocument } from './schema.js';
import { entriesOf } from './values.js';

const DEFAULT_MEDALS = 3;

/** The apparatus of the discipline, in its order. */
export function disciplineApparatus({ document }: Checking): Apparatus[] {
  const { discipline } = document;
  const rest = { limit: null, follows: null };
  if (typeof discipline === 'string') {
    return DISCIPLINES[discipline].apparatus.map(([code, name]) => ({ code, name, ...rest }));
  }
  return entriesOf(discipline).map(([, a]) => ({
    code: a.code,
    name: a.name ?? a.code,
    limit: a.limit ?? null,
    follows: null,
  }));
}

export function disciplineWords({ document }: Checking): { she: string; her: string } {
  const { discipline } = document;
  return typeof discipline === 'string' ? DISCIPLINES[discipline].words : NEUTRAL_WORDS;
}

export function medalsOf({ document }: Checking): number {
  return document.medals ?? DEFAULT_MEDALS;
}

/** The kind of a contest, which must be one that is known. */
export function readerOf({ rules }: Checking, { kind }: Pick<ContestRules, 'kind'>): ContestReader {
  const reader = rules.contests.find((k) => k.name === kind);
  if (reader === undefined) throw new RangeError(`no kind of contest ${kind}`);
  return reader;
}

export function readContests(checking: Checking): ContestRules[] {
  const { document, rules } = checking;
  const discipline = disciplineApparatus(checking);
  const contests: ContestRules[] = [];
  const given = entriesOf(document.contests);
  const [first] = rules.contests;
  const byDefault = first === undefined ? [] : [[0, { kind: first.name }] as const];
  for (const [i, contest] of given.length > 0 ? given : byDefault) {
    const read = readContest(checking, contest, ['contests', i], discipline);
    if (read === null) continue;
    if (contests.some((c) => c.id === read.id)) {
      complain(
        checking,
        'error',
        'contest-twice',
        ['contests', i],
        `two contests have the id ${read.id}`,
        'give one of them an id of its own: id: …',
      );
    } else contests.push(read);
  }
  return contests;
}

function readContest(
  checking: Checking,
  contest: ContestDocument,
  path: readonly (string | number)[],
  discipline: readonly Apparatus[],
): ContestRules | null {
  const reader = readerOf(checking, contest);
  const complainOf: Complain = (key, code, message, mend) =>
    complain(checking, 'error', code, [...path, key], message, mend);
  const settings = reader.settingsFrom(contest, discipline, complainOf);
  if (settings === null) return null;
  const { document, scoring } = checking;
  const given = contest.ties ?? (reader.hasTiesOfMeet ? document.ties : undefined);
  const isBroken = SCORING_SYSTEMS[scoring.system].breaksTies;
  const id = contest.id ?? reader.idByDefault(settings);
  return {
    id,
    medals: contest.medals ?? medalsOf(checking),
    kind: reader.name,
    settings,
    ties: given?.filter((t) => t !== null) ?? (isBroken ? reader.tiesByDefault(settings) : []),
    carried: readCarried(checking, { file: contest.carried, id }, path),
    advance: readAdvance(checking, contest, [...path, 'advance'], reader),
    givesMedals: contest.advance === undefined || contest.medals !== undefined,
  };
}

/** The apparatus of the meet: those its contests count; what follows another right after it. */
export function meetApparatus(checking: Checking, contests: readonly ContestRules[]): Apparatus[] {
  const all = withFollowUps(disciplineApparatus(checking));
  const counted = new Set(contests.flatMap((c) => readerOf(checking, c).counts(c.settings, all)));
  return all.filter((a) => counted.has(a.code));
}

/** Reports what is wrong with the field for one of the contests. */
export function checkFields(
  checking: Checking,
  contests: readonly ContestRules[],
  field: Parameters<ContestReader['checkField']>[1],
): void {
  const say: ComplainOfField = (at, severity, code, message, mend) =>
    complain(checking, severity, code, pathOf(checking, at), message, mend);
  for (const contest of contests) {
    checkAdvance(checking, contest, readerOf(checking, contest), field);
    checkCarried(checking, contest, readerOf(checking, contest), field);
    readerOf(checking, contest).checkField(contest.settings, field, say);
  }
}

/** Where a problem of the field stands; teams that no list names are those of the gymnasts. */
function pathOf({ document }: Checking, at: Parameters<ComplainOfField>[0]): Path {
  if (typeof at === 'string') return [at];
  const [entry] = entriesOf(document.teams).find(([, t]) => t.id === at.team) ?? [];
  if (entry === undefined) return ['gymnasts'];
  return ['teams', entry, ...(at.apparatus === null ? [] : ['lineup', at.apparatus])];
}
