/** Texts in what a viewer sees as single characters. */

let segmenter: Intl.Segmenter | undefined;

/** Signs that stand for themselves whatever is beside them: Latin letters, their accents in them, and punctuation. */
const SINGLE = /^[\x20-\x7e\u00a0-\u017f\u2010-\u2027]*$/;

/** A text in what a viewer sees as single characters. */
export function graphemes(text: string): string[] {
  if (SINGLE.test(text)) return [...text];
  segmenter ??= new Intl.Segmenter(undefined, { granularity: 'grapheme' });
  return [...segmenter.segment(text)].map((s) => s.segment);
}

/** How many characters a viewer sees. */
export function lengthOf(text: string): number {
  return SINGLE.test(text) ? text.length : graphemes(text).length;
}
