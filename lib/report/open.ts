/** What an answer rests on that may still change: scores that are awaited, scores under inquiry. */

import type { Meet } from '../meet/meet.js';
import type { OpenScores } from '../meet/now.js';
import { type Section, sentence } from './report.js';
import { apparatusName, listed, nameOf, shower } from './words.js';

/** "Awaited: the score of Nia Fitch on vault."; "Under inquiry: Ada Quillmore, vault 13.200; it may change." */
export function openSection(meet: Meet, { awaited, underInquiry }: OpenScores): Section {
  const on = (code: string) => `on ${apparatusName(meet, code)}`;
  const waiting = awaited.map((r) => `${nameOf(meet, r.gymnast)} ${on(r.apparatus)}`);
  const open = underInquiry.map(
    (r) => `${nameOf(meet, r.gymnast)}, ${shower(meet)(r.score)} ${on(r.apparatus)}`,
  );
  const scores = waiting.length > 1 ? 'the scores' : 'the score';
  return [
    ...(waiting.length === 0
      ? []
      : [sentence(`Still awaited: ${scores} of ${listed(waiting)}.`, 'warning')]),
    ...(open.length === 0
      ? []
      : [sentence(`Under inquiry, and may change: ${open.join('; ')}.`, 'warning')]),
  ];
}
