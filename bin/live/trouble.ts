/** What is said at the prompt while the files are not what they should be, and when a score was not recorded. */
import { type FileNews, type Followed, fileNews, type LiveBoard } from '../../lib/files/index.js';
import { LastRotationError, type Meet, type ToRecord } from '../../lib/index.js';
import { sayNews } from '../errors.js';
import { colour, writeWords } from '../terminal.js';

export interface Trouble {
  /** Says what is new of the files since this was last called. */
  readonly sayNews: () => void;
  /** Before an answer: since when it is not up to date, and why. */
  readonly sayStale: () => Promise<void>;
  /** Takes the log as it is. */
  readonly accept: () => void;
}

/** The troubles of the files of one meet. */
export function troubleOf(board: LiveBoard): Trouble {
  let last: Followed<unknown> = board.look();
  const say = () => {
    const now = board.look();
    const all = fileNews(last, now);
    last = now;
    for (const news of all) sayOne(news);
  };
  return {
    sayNews: say,
    sayStale: async () => {
      const { stale, wrong } = await board.settled();
      if (stale === null) return;
      const since = new Date(stale).toTimeString().slice(0, 8);
      writeWords(`Not up to date since ${since}: ${wrong?.message ?? ''}.`, colour.yellow);
    },
    accept: () => {
      board.accept();
      say();
    },
  };
}

function sayOne(news: FileNews): void {
  sayNews(news, false);
  const isLoss =
    'wrong' in news &&
    news.wrong instanceof LastRotationError &&
    /^log-(gone|shrunk)$/.test(news.wrong.code);
  if (isLoss) writeWords('To go on with the log as it is now: accept', colour.dim);
}

/** A score that could not be written, to be tried again. */
export interface Unrecorded {
  readonly told: ToRecord;
  /** What stood of the routine when it was told. */
  readonly stood: string;
}

/** Says that it is not recorded, and how to repeat it. */
export function sayUnrecorded(meet: Meet, told: ToRecord): void {
  const { gymnast: id, apparatus, score } = told;
  const { name } = meet.gymnasts.find((g) => g.id === id) ?? { name: id };
  writeWords(`Not recorded: ${name}, ${apparatus} ${score}. To try it again: again`, colour.yellow);
}
