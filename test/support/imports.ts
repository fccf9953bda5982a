/** Which module of the project imports which, and what of that the house forbids. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { ROOT } from './cli.js';

/** By path from the root, the paths it imports; those of packages as they are written. */
export type Imports = ReadonlyMap<string, readonly string[]>;

/**
 * The rooms of the house in their order: a module imports from its own row and from those above.
 * A name without an ending is a folder.
 */
const ROOMS: readonly (readonly string[])[] = [
  ['score.ts', 'apparatus.ts', 'scoring.ts', 'codes.ts', 'error.ts', 'caution.ts', 'chance.ts'],
  ['meet'],
  ['rules'],
  ['contest'],
  ['range'],
  ['chances'],
  ['needs'],
  ['history'],
  ['claim'],
  ['story'],
  ['report'],
  ['graphics'],
  ['page'],
  [
    'answers.ts',
    'written.ts',
    'printed.ts',
    'line-formats.ts',
    'story-csv.ts',
    'forecasts-csv.ts',
    'draws-csv.ts',
    'stamped-report.ts',
  ],
  ['files'],
  ['index.ts'],
];

const DOORS = ['lib/index.ts', 'lib/files/index.ts'];

/** The modules of some folders by their path from the root, each with its text. */
export function sourcesIn(...folders: readonly string[]): ReadonlyMap<string, string> {
  const paths = folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .map((path) => posix.join(folder, path.replaceAll('\\', '/')))
      .filter((path) => /\.tsx?$/.test(path) && !path.includes('/node_modules/')),
  );
  return new Map(paths.map((path) => [path, readFileSync(join(ROOT, path), 'utf8')]));
}

/** Imports of values and of types, passed on or asked for while running: they all count. */
export function importsOf(sources: ReadonlyMap<string, string>): Imports {
  return new Map(
    [...sources].map(([path, text]) => {
      const named = [
        ...text.matchAll(/^(?:import|export)\b[^;]*?\bfrom\s+['"]([^'"]+)['"]/gm),
        ...text.matchAll(/^import\s+['"]([^'"]+)['"]/gm),
        ...text.matchAll(/\bimport\(\s*['"]([^'"]+)['"]/g),
      ].map(([, name = '']) => name);
      return [path, [...new Set(named.map((name) => resolved(sources, path, name)))]];
    }),
  );
}

function resolved(sources: ReadonlyMap<string, string>, from: string, name: string): string {
  if (!name.startsWith('.')) return name;
  const path = posix.join(posix.dirname(from), name).replace(/\.js$/, '.ts');
  return sources.has(`${path}x`) ? `${path}x` : path;
}

/** Circles of imports, each as "a.ts → b.ts → a.ts". */
export function circlesIn(imports: Imports): string[] {
  const circles: string[] = [];
  const left = new Set<string>();
  const visit = (path: string, way: readonly string[]) => {
    const at = way.indexOf(path);
    if (at >= 0) circles.push([...way.slice(at), path].join(' → '));
    if (at >= 0 || left.has(path)) return;
    for (const next of imports.get(path) ?? []) visit(next, [...way, path]);
    left.add(path);
  };
  for (const path of imports.keys()) visit(path, []);
  return circles;
}

/** Imports of lib that run from an earlier room to a later one, or out of the house. */
export function wrongWaysIn(imports: Imports): string[] {
  return edgesOf(imports)
    .filter(([from, to]) => from.startsWith('lib/') && !isPackage(imports, to))
    .filter(([from, to]) => rowOf(to) > rowOf(from))
    .map(asText);
}

/** Imports of bin from lib that pass by the doors. */
export function pastTheDoorsIn(imports: Imports): string[] {
  return edgesOf(imports)
    .filter(([from, to]) => from.startsWith('bin/') && !DOORS.includes(to))
    .filter(([, to]) => !to.startsWith('bin/') && !isPackage(imports, to))
    .map(asText);
}

/** Packages, Node's own too, that the modules of a folder import. */
export function packagesIn(imports: Imports, folder: string): string[] {
  return edgesOf(imports)
    .filter(([from, to]) => from.startsWith(folder) && isPackage(imports, to))
    .map(asText);
}

function edgesOf(imports: Imports): [from: string, to: string][] {
  return [...imports].flatMap(([from, all]) => all.map((to): [string, string] => [from, to]));
}

function isPackage(imports: Imports, path: string): boolean {
  return !imports.has(path) && !/^(lib|bin)\/|^\.\.?\/|\.ts$/.test(path);
}

/** The place of a module's room in the order; after all of them where it is in none. */
function rowOf(path: string): number {
  const [house, room = ''] = path.split('/');
  const row = house === 'lib' ? ROOMS.findIndex((rooms) => rooms.includes(room)) : -1;
  return row < 0 ? ROOMS.length : row;
}

function asText([from, to]: readonly [string, string]): string {
  return `${from} → ${to}`;
}
