/** From which score on nobody can pass her, in sentences that can be read aloud. */
import { findContest } from '../contest/contest.js';
import { type Meet, routineOf } from '../meet/meet.js';
import type { Safe } from '../needs/safe.js';
import type { NeedsSheet } from '../needs/sheet.js';
import { caution, settledInWords } from './chance-words.js';
import { openSection } from './open.js';
import { detail, type Report, reportOf, sentence, title } from './report.js';
import { boardNow, namingOf, standingInWords } from './standing.js';
import {
  apparatusName,
  capital,
  contestInWords,
  listed,
  nameOf,
  percent,
  shower,
  whereInWords,
  wordsFor,
} from './words.js';

/** The sheet of who asks what is safe: `sheet.safe` is there. */
export function safeReport(meet: Meet, sheet: NeedsSheet): Report {
  const safe = sheet.safe ?? [];
  const who = nameOf(meet, sheet.gymnast);
  const team = sheet.gymnast === sheet.contender ? '' : ` for ${sheet.name}`;
  const where = whereInWords(meet, sheet);
  const lines = safe.map((s) => safeInWords(meet, sheet, s));
  const won = sheet.settled.filter((s) => s.target === 'win');
  return reportOf(
    [
      title(
        `${who}${team} on ${where} (${contestInWords(meet, sheet.contest)}): when nobody can pass any more`,
      ),
      detail(standingInWords(boardNow(meet, sheet.contest), sheet.contender, namingOf(meet))),
    ],
    [
      ...lines,
      ...won.map(
        (s) => `For certain: ${settledInWords(findContest(meet, sheet.contest), s, null)}.`,
      ),
    ].map((line) => sentence(line)),
    [...openSection(meet, sheet), ...(safe.some((s) => s.reach !== null) ? [caution()] : [])],
  );
}

/**
 * "Whatever the others score, nobody can pass Ida Brondt from 14.800 on (her chance of it 3.1%); the last
 * threat is Mei Tan, who can reach 57.733 with floor to come."
 */
export function safeInWords(meet: Meet, sheet: NeedsSheet, safe: Safe): string {
  const { status, score, reach, threat, missing } = safe;
  const { her } = wordsFor(meet, sheet.contender);
  const show = shower(meet);
  const whatever =
    safe.by === 'limit'
      ? 'whatever the others score'
      : 'as long as the others stay within their ranges, falls included';
  if (status === null) {
    const names = missing.map((m) => `${nameOf(meet, m.gymnast)} on ${m.apparatus}`);
    return `${capital(whatever)}: no range for ${listed(names)}.`;
  }
  const rest =
    sheet.toCome.length < 2
      ? ''
      : {
          low: `, with ${her} other routines at their low`,
          likely: `, with ${her} other routines as expected`,
          high: `, with ${her} other routines at their best`,
          limit: `, with ${her} other routines at the limit`,
        }[safe.rest];
  const condition = `${capital(whatever)}${rest}`;
  if (status === 'secured') return `${condition}, ${sheet.name} is safe with any score.`;
  const reaches = threat && `can reach ${show(threat.total)}`;
  const name = threat === null ? '' : nameOf(meet, threat.id);
  if (status === 'impossible' || score === null) {
    const on = sheet.toCome.length > 1 ? ` on ${apparatusName(meet, sheet.apparatus)}` : '';
    return `${condition}, no score${on} is safe: ${name} ${reaches}.`;
  }
  const last = threat === null ? '' : `; the last threat is ${name}, who ${reaches}`;
  const { she } = meet.words;
  const high = meet.given[routineOf(meet, sheet.gymnast, sheet.apparatus)?.index ?? -1]?.high;
  const beyond =
    status === 'beyond' && high != null ? `, above ${meet.words.her} best of ${show(high)}` : '';
  const chance =
    reach === null || status === 'beyond'
      ? ''
      : `, a score ${she} ${she === 'they' ? 'reach' : 'reaches'} ${percent(reach)} of the time`;
  return `${condition}, ${sheet.name} is safe from ${show(score)} on${beyond}${chance}${last}.`;
}
