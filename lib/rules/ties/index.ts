/** Every tie rule there is: a new one is a file beside this, and a line here. */
import { bestScores } from './best-scores.js';
import { bestVault } from './best-vault.js';
import { difficulty } from './difficulty.js';
import { execution } from './execution.js';
import { highestScore } from './highest-score.js';
import type { TieRule } from './tie-rule.js';

export const TIE_RULES = [
  bestScores,
  execution,
  difficulty,
  bestVault,
  highestScore,
] as const satisfies readonly TieRule[];

/** `best-scores`, `execution`, … as the meet file writes them. */
export type TieRuleName = (typeof TIE_RULES)[number]['name'];
