import { LAWS } from './all.js';
import { tryAll } from './runs.js';

tryAll(LAWS.graphics);
