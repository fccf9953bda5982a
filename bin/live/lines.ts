/** Lines of a stream of any length, in bounded memory. */

export interface FeedLine {
  /** Counted from 1. */
  readonly number: number;
  readonly text: string;
  /** Longer than any line may be; only its beginning is there. */
  readonly isCut: boolean;
}

/** No score needs a longer line. */
const LONGEST = 16 * 1024;

export async function* linesOf(input: AsyncIterable<Buffer | string>): AsyncGenerator<FeedLine> {
  const decoder = new TextDecoder();
  let rest = '';
  let isCut = false;
  let number = 1;
  for await (const chunk of input) {
    const text = typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true });
    let from = 0;
    for (let end = text.indexOf('\n'); end >= 0; end = text.indexOf('\n', from)) {
      add(text.slice(from, end));
      yield { number: number++, text: rest.replace(/\r$/, ''), isCut };
      rest = '';
      isCut = false;
      from = end + 1;
    }
    add(text.slice(from));
  }
  if (rest !== '') yield { number, text: rest, isCut };

  function add(more: string): void {
    if (rest.length + more.length > LONGEST) isCut = true;
    rest = (rest + more).slice(0, LONGEST);
  }
}
