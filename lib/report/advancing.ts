/** Who goes through, with chances: a line that can be read aloud, and the whole field. */
import { findContest } from '../contest/contest.js';
import { gymnastOf, type Meet } from '../meet/meet.js';
import type { AdvanceChances, Advancing } from '../needs/advancing.js';
import { onwardInFew } from './advance.js';
import { caution, percentWithin, unsettled, whereFrom } from './chance-words.js';
import { withBar } from './chances.js';
import { nameColumn } from './name-columns.js';
import { openSection } from './open.js';
import { type Cell, type Report, reportOf, sentence, title } from './report.js';
import { type ColumnOf, tableOf } from './table.js';
import { folded } from './unnamed.js';
import { restsOnUsual } from './usual.js';
import {
  capital,
  listed,
  numberInWords,
  shortName,
  shower,
  titleOf,
  toComeInWords,
} from './words.js';

/**
 * Who goes through: everyone's chance of it, who is in as the board stands, who as projected.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `advancing` gave it.
 * @throws `unknown-contest`: the answer is of another meet
 * @throws `unsound-meet`: the meet was put together by hand
 * @example
 * const text =
 *   'discipline: wag\nscoring: open\nusual: { FX: { low: 12, likely: 13, high: 14, falls: 0.1 } }\n' +
 *   'contests:\n  - { kind: apparatus, on: FX, advance: { places: 1 } }\n' +
 *   'gymnasts:\n  - { id: ada, name: Ada Quillmore, on: [FX] }\n  - { id: bea, name: Bea Corran, on: [FX] }\n';
 * const { meet: heats } = readMeet({ meet: { file: 'meet.yaml', text } });
 * const report = heats === null ? [] : reports.advancing(heats, advancing(heats));
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : []))[1] // → 'On the edge: Quillmore 51.0% and Corran 51.0%.'
 */
export function advancingReport(meet: Meet, answer: AdvanceChances): Report {
  const { contest, contenders, error } = answer;
  const { shown, said } = folded(meet, contenders, (r) => r.id);
  const isOver = contenders.every((r) => r.toCome.length === 0);
  const basis = isOver
    ? [sentence('It is over: this is who goes through.', 'quiet')]
    : [sentence(whereFrom({ method: 'exact', error }), 'quiet'), ...restsOnUsual(meet), caution()];
  return reportOf(
    [
      title(`${titleOf(meet, contest)}, who goes through: ${placesInWords(meet, contest)}`),
      ...edgeSentences(meet, answer),
      tableOf(columnsOf(meet, answer), shown),
      ...said,
    ],
    [...openSection(meet, answer), ...basis],
  );
}

/**
 * Who goes through, in a line or two.
 * @param meet - From `readMeet`, `openMeet` or `record`.
 * @param answer - As `advancing` gave it.
 * @example
 * const text =
 *   'discipline: wag\nscoring: open\nusual: { FX: { low: 12, likely: 13, high: 14, falls: 0.1 } }\n' +
 *   'contests:\n  - { kind: apparatus, on: FX, advance: { places: 1 } }\n' +
 *   'gymnasts:\n  - { id: ada, name: Ada Quillmore, on: [FX] }\n  - { id: bea, name: Bea Corran, on: [FX] }\n';
 * const { meet: heats } = readMeet({ meet: { file: 'meet.yaml', text } });
 * const report = heats === null ? [] : reports.edge(heats, advancing(heats));
 * report.flat().flatMap((b) => (b.kind === 'sentence' ? [b.text] : [])) // → ['Nobody is through yet.', 'On the edge: Quillmore 51.0% and Corran 51.0%.']
 */
export function edgeReport(meet: Meet, answer: AdvanceChances): Report {
  return reportOf(edgeSentences(meet, answer));
}

/** "24 places, two a team at most, four reserves" */
function placesInWords(meet: Meet, contest: string): string {
  const { advance } = findContest(meet, contest);
  if (advance === null) return '';
  const { places, perTeam, reserves } = advance;
  return [
    places === 1 ? 'one place' : `${numberInWords(places)} places`,
    ...(perTeam === null ? [] : [`${numberInWords(perTeam)} of a team at most`]),
    ...(reserves === 0
      ? []
      : [reserves === 1 ? 'one reserve' : `${numberInWords(reserves)} reserves`]),
  ].join(', ');
}

/** Between these chances somebody is on the edge. */
const EDGE = { from: 0.05, to: 0.95 };

/** So many on the edge are named, those nearest to even first. */
const MOST_NAMED = 8;

function edgeSentences(meet: Meet, { contenders, error }: AdvanceChances) {
  const onEdge = contenders
    .filter((r) => r.settled.length === 0 && r.chance >= EDGE.from && r.chance <= EDGE.to)
    .sort((a, b) => Math.abs(a.chance - 0.5) - Math.abs(b.chance - 0.5));
  const edge = onEdge.filter((r) => gymnastOf(meet, r.id)?.unnamed !== true);
  const unnamed = onEdge.length - edge.length;
  const named = edge.slice(0, MOST_NAMED).sort((a, b) => b.chance - a.chance);
  const names = named.map((r) => `${shortName(meet, r.id)} ${percentWithin(r.chance, error)}`);
  const more = edge.length - named.length;
  const through = contenders.filter((r) => certainly(r) === 'secured').length;
  const likely = contenders.filter((r) => r.chance > EDGE.to).length - through;
  const sure = [
    through === 0
      ? 'nobody is through yet'
      : `${numberInWords(through)} ${through === 1 ? 'is' : 'are'} through`,
    ...(likely === 0 ? [] : [`${numberInWords(likely)} more as good as through`]),
  ];
  const isOver = contenders.every((r) => r.toCome.length === 0);
  if (isOver) return [];
  return [
    sentence(`${capital(sure.join(', '))}.`, 'strong'),
    ...(onEdge.length === 0
      ? []
      : [
          sentence(
            `On the edge: ${listed([
              ...names,
              ...(more > 0 ? [`${more} more`] : []),
              ...(unnamed > 0 ? [`${unnamed} still to be named`] : []),
            ])}.`,
            'strong',
          ),
        ]),
  ];
}

function columnsOf(meet: Meet, { error, contenders }: AdvanceChances): ColumnOf<Advancing>[] {
  const show = shower(meet);
  const isOver = contenders.every((r) => r.toCome.length === 0);
  const hasProjection = contenders.some((r) => r.projected !== null && r.toCome.length > 0);
  const few = (r: Advancing, onward: Advancing['now']) => onwardInFew(onward, certainly(r));
  return [
    nameColumn(meet, (r: Advancing) => r.id),
    { head: 'total', cell: (r) => show(r.total), align: 'right' },
    { head: 'to come', cell: (r) => toComeInWords(r.toCome), spare: 2 },
    { head: isOver ? 'goes through' : 'as it stands', cell: (r) => few(r, r.now), spare: 1 },
    ...(hasProjection
      ? [{ head: 'as projected', cell: (r: Advancing) => few(r, r.projected) }]
      : []),
    ...(isOver ? [] : [{ head: 'chance', cell: (r: Advancing) => chanceCell(r, error) }]),
  ];
}

/** What holds whatever is still scored. */
function certainly({ settled }: Advancing) {
  return settled.find((s) => s.by === 'limit')?.status;
}

function chanceCell({ chance, settled }: Advancing, error: number): Cell {
  const [claim] = settled;
  if (claim === undefined) return { ...withBar(chance, error), text: unsettled(chance, error) };
  const word = claim.status === 'secured' ? 'through' : 'out of reach';
  return { text: claim.by === 'limit' ? word : `${word}, by the ranges` };
}
