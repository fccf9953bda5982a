/** What a row of the log told, in a sentence: a new score, or one changed, confirmed or taken back. */
import { isScored, type Meet, type Result, type Told } from '../meet/meet.js';
import { resultShown } from '../meet/names.js';
import { type Recorded, supersedes } from '../needs/recorded.js';
import { apparatusName, listed, nameOf, shower } from './words.js';

/** "Lena Velde, vault 13.200 after an inquiry, was 13.100"; "Lena Velde steps in for Nia Fitch on beam" */
export function toldInWords(meet: Meet, { row, rows, kind, took, was, now }: Recorded): string {
  const name = nameOf(meet, row.gymnast ?? '');
  const codes = rows.flatMap((r) => (r.apparatus === null ? [] : [r.apparatus]));
  const isAll = codes.length === 1 && codes[0] === 'all';
  const where = isAll ? 'from here on' : listed(codes.map((code) => apparatusName(meet, code)));
  const on = isAll ? where : `on ${where}`;
  const show = (s: Recorded['was']) => (typeof s === 'number' ? shower(meet)(s) : (s ?? ''));
  const whom = nameOf(meet, /:(.*)$/.exec(row.score ?? '')?.[1] ?? '');
  switch (kind) {
    case 'steps-in':
    case 'order':
      return `${name} ${kind === 'steps-in' ? STEPS_IN : GOES_AFTER} ${whom} ${on}`;
    case 'up':
      return `${name} has performed ${on}, and the score is awaited`;
    case 'score':
      return `${name}, ${where} ${show(now)}${row.status === 'inquiry' ? ', under inquiry' : ''}`;
    case 'inquiry':
      return `${name}, ${where} ${show(now)} is under inquiry`;
    case 'confirmed':
      return `${name}, ${where} ${show(now)} confirmed`;
    case 'changed':
      return `${name}, ${where} ${show(now)} after an inquiry, was ${show(was)}`;
    case 'corrected':
      return `${name}, ${where} ${show(now)}, corrected from ${show(was)}`;
    case 'withdrawn':
      return `${name}, ${where} ${row.score}${was === null ? '' : `, was ${show(was)}`}`;
    case 'taken-back': {
      if (was === now) return nothingChanged(took, name, where, on);
      const what = was === null ? 'taken back' : `${show(was)} taken back`;
      return `${name}, ${where} ${what}${now === null ? '' : `, ${show(now)} counts again`}`;
    }
  }
}

/** A row taken back that left every score as it was. */
function nothingChanged(took: Recorded['took'], name: string, where: string, on: string): string {
  switch (took) {
    case 'inquiry':
      return `${name}, ${where}: the inquiry is taken back, and the score stands`;
    case 'up':
      return `${name} has not performed ${on} yet`;
    case 'for':
      return `${name} does not step in ${on}`;
    case 'after':
      return `${name} goes up as planned again ${on}`;
    default:
      return `${name}, ${where}: a row is taken back, and what stood before stands`;
  }
}

const STEPS_IN = 'steps in for';
const GOES_AFTER = 'goes up after';

/** Who steps in for whom, and who goes up after whom: "Lena Velde steps in for Nia Fitch on beam". */
export function moveTold(meet: Meet, { gymnast, apparatus, act }: Told): string {
  const whom = 'whom' in act ? nameOf(meet, act.whom) : '';
  const on = apparatus === 'all' ? 'from here on' : `on ${apparatusName(meet, apparatus)}`;
  const does = act.kind === 'for' ? STEPS_IN : GOES_AFTER;
  return `${nameOf(meet, gymnast)} ${does} ${whom} ${on}`;
}

/** What a row warns of, but for what stood before, which is told with the score. */
export function warningsBeside(meet: Meet, { warnings, was, rows }: Recorded): readonly string[] {
  if (was === null) return warnings;
  const stood = typeof was === 'number' ? shower(meet)(was) : was;
  const told = rows.map((r) =>
    supersedes(stood, { gymnast: r.gymnast ?? '', apparatus: r.apparatus ?? '' }),
  );
  return warnings.filter((w) => !told.includes(w));
}

/** What became of a routine that stood as `was`, in words: "13.200 after an inquiry, was 13.100". */
export function changeInWords(meet: Meet, was: Result | null, is: Result | null): string {
  const show = (r: Result) => resultShown(meet, r);
  if (is === null) return was === null ? 'the score is awaited' : `${show(was)} taken back`;
  const open = isScored(is) && is.underInquiry ? ', under inquiry' : '';
  if (was === null) return `${show(is)}${open}`;
  if (show(was) !== show(is)) {
    const isAfter = isScored(was) && was.underInquiry;
    return `${show(is)}${open}${isAfter ? ' after an inquiry' : ''}, was ${show(was)}`;
  }
  return open === '' ? `${show(is)} confirmed` : `${show(is)} is under inquiry`;
}
