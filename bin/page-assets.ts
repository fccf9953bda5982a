/** The script and the style of a page, made when the package is built. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { PageAssets } from '../lib/index.js';

/** A file that is there already is only replaced by a picture where it is one. */
export const PICTURE = { option: '--svg', begins: '<svg' } as const;

/** The same of a page. */
export const PAGE = { begins: '<!doctype html>' } as const;

/** The folder that this lies in: of the command as it is built, or of its source. */
declare const __dirname: string;

export function pageAssets(): PageAssets {
  const places = [join(__dirname, '../page'), join(__dirname, '../dist/page')];
  const files = places.map((place) => join(place, 'assets.json'));
  return JSON.parse(readFileSync(files.find(existsSync) ?? files[0] ?? '', 'utf8'));
}
