/** Texts in what a viewer sees as single characters. */

let segmenter: Intl.Segmenter | undefined;

/** A text in what a viewer sees as single characters. */
export function graphemes(text: string): string[] {
  if (/^[\x20-\x7e]*$/.test(text)) return [...text];
  segmenter ??= new Intl.Segmenter(undefined, { granularity: 'grapheme' });
  return [...segmenter.segment(text)].map((s) => s.segment);
}

/** How many characters a viewer sees. */
export function lengthOf(text: string): number {
  return graphemes(text).length;
}
