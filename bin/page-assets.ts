/** The script and the style of a page, made when the package is built. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PageAssets } from '../lib/index.js';

/** In the command, the folder it lies in. */
declare const __dirname: string;

export function pageAssets(folder = join(__dirname, '..', 'page')): PageAssets {
  return JSON.parse(readFileSync(join(folder, 'assets.json'), 'utf8'));
}
