/** Meets read by all the rules there are. */
import { badUsage } from '../error.js';
import type { KnownRules } from '../meet/known-rules.js';
import { type MeetSources, type ReadMeet, readMeetBy, type Source } from '../meet/read.js';
import { type NewMeet, type NewMeetOptions, newMeetBy } from '../meet/startlist.js';
import { CONTEST_KINDS } from './contests/index.js';
import { TIE_RULES } from './ties/index.js';
import { totalsOf } from './totals.js';

const RULES: KnownRules = {
  ties: TIE_RULES.map((rule) => rule.name),
  contests: CONTEST_KINDS,
  totals: totalsOf,
};

/**
 * Reads and checks a meet. All problems of all its files are found in one go; where one of them is an error
 * there is no meet, and `plan` has who performs where.
 * @param sources - The texts of its files; only the meet file itself is required.
 * @returns The meet, or null with what is wrong. It does not throw for what stands in a file.
 * @throws `bad-usage`: the text of a file is not given as `{ file, text }`
 * @example
 * const text = 'discipline: wag\nscoring: open\ngymnasts: [{ id: ann }, { id: bea }]';
 * const { meet: read, problems } = readMeet({ meet: { file: 'meet.yaml', text } });
 * read?.routines.length // → 8
 * problems.map((p) => `${p.line}: ${p.severity} ${p.code}`) // → ['3: note missing-range']
 */
export function readMeet(sources: MeetSources): ReadMeet {
  requireTexts(sources);
  return readTexts(sources);
}

/** The same of texts that are known to be some. */
export function readTexts(sources: MeetSources): ReadMeet {
  return readMeetBy(RULES, sources);
}

/** Where no types are checked: a text given any other way would be taken for none. */
function requireTexts(sources: MeetSources): void {
  for (const name of ['meet', 'log'] as const) {
    const source: unknown = sources?.[name];
    if (name === 'log' && (source === null || source === undefined)) continue;
    const { file, text } = Object(source);
    if (typeof file === 'string' && typeof text === 'string') continue;
    throw badUsage(
      'bad-usage',
      `the text of the ${name === 'meet' ? 'meet file' : 'score log'} is missing`,
      `give ${name}: { file, text }`,
    );
  }
}

/**
 * A meet file's text. The start list is a CSV with a column `name`, and if wanted those of docs/files.md; its
 * rows are in start order. Without one the file has an example to write over.
 * @param startList - The start list; null for a meet file to write over.
 * @param options - What is known of the meet besides; `kind` chooses its contests.
 * @throws `bad-usage`: `kind` and `carried` do not go together, or a kind that needs a start list has none
 * @throws the code of a problem: the meet of the first day cannot be used: the first thing that is wrong with
 *   it
 * @example
 * const { text, gymnasts } = newMeet({ file: 'list.csv', text: 'name\nAda Quillmore\nBea Marshden' });
 * gymnasts // → 2
 * readMeet({ meet: { file: 'meet.yaml', text: text ?? '' } }).meet?.gymnasts[0]?.id // → 'quillmore'
 */
export function newMeet(startList: Source | null, options: NewMeetOptions = {}): NewMeet {
  return newMeetBy(RULES, startList, options);
}
