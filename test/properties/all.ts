/** Every property, with how often the tests try it (runs that take some seconds each). */
import {
  boardsAreTrue,
  boardsCompareLikeWithLike,
  moreIsNeverWorse,
  orderDoesNotMatter,
  textsAreRead,
} from './laws/board.js';
import {
  certaintyIsChance,
  chancesAreTrue,
  judgeIsRight,
  orderChangesNoChance,
} from './laws/chances.js';
import { eveningIsItsLog, nothingCertainIsUndone } from './laws/evening.js';
import { oneNeedHasOneFigure } from './laws/figures.js';
import { catchersCanCatch, safeIsSafe } from './laws/finished.js';
import { everyScoreHasOneLine, noLineIsTooLong } from './laws/graphics.js';
import { scoresAreInTheirPlace } from './laws/in-place.js';
import { largeFieldsAreTrue, largeJudgeIsRight } from './laws/large-fields.js';
import { curvesAreTrue, partsMakeTheWhole, scoresForChancesAreLowest } from './laws/likely.js';
import { linesAreTheirValues } from './laws/lines.js';
import { needsAreTrue } from './laws/needs.js';
import { bandsAreTrue } from './laws/outcomes.js';
import { answersAreAsTheirSchemasSay } from './laws/printed.js';
import {
  formKeepsRanges,
  precisionIsReached,
  samplesAreTrue,
  seedsRepeat,
} from './laws/samples.js';
import { certaintyIsNeverUndone, settledHolds, settledIsAllThereIs } from './laws/settled.js';
import { splitsAddUp } from './laws/split.js';
import { supposingIsRecording } from './laws/suppose.js';
import { wideRangesAreTrue } from './laws/wide-ranges.js';

export const LAWS = {
  graphics: [
    {
      says: 'exactly one line is ready for every score the next up can get, and says their place',
      law: everyScoreHasOneLine,
      runs: 55,
    },
    {
      says: 'no line is longer than its template allows, and none is cut',
      law: noLineIsTooLong,
      runs: 100,
    },
    {
      says: 'every line is rebuilt from its values alone by the judge apart from the library',
      law: linesAreTheirValues,
      runs: 100,
    },
    {
      says: 'one need has one figure, on air, at the desk and in the table',
      law: oneNeedHasOneFigure,
      runs: 75,
    },
  ],
  board: [
    {
      says: 'routines, results and ranges are read as the texts say',
      law: textsAreRead,
      runs: 250,
    },
    {
      says: 'places and totals are those of a second judge, after every rotation too',
      law: boardsAreTrue,
      runs: 300,
    },
    {
      says: 'ties, places like for like and projected, and moves are those of a second judge',
      law: boardsCompareLikeWithLike,
      runs: 300,
    },
    {
      says: 'the order of rows, gymnasts, teams and groups changes no place, total or need',
      law: orderDoesNotMatter,
      runs: 300,
    },
    { says: 'a raised score never worsens a place', law: moreIsNeverWorse, runs: 300 },
  ],
  chances: [
    {
      says: 'the judge by which chances are judged agrees with a walk through every world',
      law: judgeIsRight,
      runs: 125,
    },
    {
      says: 'places, podiums, curves and what is at stake are those of full enumeration',
      law: chancesAreTrue,
      runs: 75,
    },
    {
      says: 'what is certain has chance 1 or 0, and what has chance 1 or 0 is certain',
      law: certaintyIsChance,
      runs: 150,
    },
    {
      says: 'the order of rows, gymnasts, teams and groups changes no chance',
      law: orderChangesNoChance,
      runs: 50,
    },
    { says: 'the judge of large fields agrees with the other', law: largeJudgeIsRight, runs: 5 },
    {
      says: 'up to 24 with up to four to come: within the error it says',
      law: largeFieldsAreTrue,
      runs: 3,
    },
    {
      says: 'wide ranges and three or four to come: within the error it says',
      law: wideRangesAreTrue,
      runs: 2,
    },
  ],
  evening: [
    {
      says: 'whatever the order of rows, who is awaited and who steps in: the answers of the plain meet',
      law: eveningIsItsLog,
      runs: 60,
    },
    {
      says: 'nothing that is called certain is undone by a log that goes on',
      law: nothingCertainIsUndone,
      runs: 35,
    },
  ],
  finished: [
    {
      says: 'from the safe score on nobody passes her in any completion, and with less somebody does',
      law: safeIsSafe,
      runs: 125,
    },
    {
      says: 'who can still catch her does in some completion, and nobody else does',
      law: catchersCanCatch,
      runs: 125,
    },
  ],
  inPlace: [
    {
      says: 'what she needed and got, how good it was for her and tonight, are those of the second judge',
      law: scoresAreInTheirPlace,
      runs: 75,
    },
  ],
  likely: [
    {
      says: 'the chance of a target by her score is what trying the totals says',
      law: curvesAreTrue,
      runs: 150,
    },
    {
      says: 'over all her scores, bands and needs come to the chances of the field',
      law: partsMakeTheWhole,
      runs: 75,
    },
    {
      says: 'the score for a chance gives it, and no lower one does',
      law: scoresForChancesAreLowest,
      runs: 150,
    },
  ],
  needs: [
    {
      says: 'ahead is the lowest score that reaches its target, and all that is said of it holds',
      law: needsAreTrue,
      runs: 750,
    },
  ],
  outcomes: [
    {
      says: 'every score up to the limit has one band, which brings the place it says',
      law: bandsAreTrue,
      runs: 750,
    },
  ],
  printed: [
    {
      says: 'every answer, and every refusal, is what its schema says',
      law: answersAreAsTheirSchemasSay,
      runs: 75,
    },
  ],
  samples: [
    {
      says: 'places, podiums, curves and what is at stake are, within the noise, those computed',
      law: samplesAreTrue,
      runs: 30,
    },
    {
      says: 'the same seed says the same',
      law: seedsRepeat,
      runs: 20,
    },
    {
      says: 'a day form keeps every range, and makes totals vary more',
      law: formKeepsRanges,
      runs: 30,
    },
    {
      says: 'a precision is reached, in whole batches and no more than it takes',
      law: precisionIsReached,
      runs: 20,
    },
  ],
  settled: [
    { says: 'no completion contradicts what is settled', law: settledHolds, runs: 125 },
    {
      says: 'nothing certain is undone by a log that goes on, whatever D is shown',
      law: certaintyIsNeverUndone,
      runs: 125,
    },
    {
      says: 'where every completion can be tried, settled says all there is to say',
      law: settledIsAllThereIs,
      runs: 300,
    },
  ],
  split: [
    {
      says: 'the scores of a split are enough at its quantile and not just below',
      law: splitsAddUp,
      runs: 400,
    },
  ],
  suppose: [
    {
      says: 'supposing a score is recording it, and leaves the meet as it is',
      law: supposingIsRecording,
      runs: 200,
    },
  ],
} as const;
