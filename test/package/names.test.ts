/** Whatever the doors give or take is made of types a stranger can name. */
import { readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { type Packed, pack } from './stranger.js';

let packed: Packed;
beforeAll(async () => {
  packed = await pack();
});

/** A name and the module it is declared in: `dist/types/score.d.ts#Score`. */
type Place = string;

it('lets every type of its answers be imported', () => {
  // What a door gives as a namespace is taken in by name, as all of its own.
  const doors = ['index', 'files/index', 'report/index'].map((d) => `dist/types/${d}.d.ts`);
  const named = new Set(doors.flatMap((door) => [...importsOf(door).values()]));
  expect(named.size).toBeGreaterThan(40);
  const needed = new Set(named);
  // A set goes on to what is added to it on the way.
  for (const place of needed) for (const type of typesIn(place)) needed.add(type);
  expect([...needed].filter((type) => !named.has(type)).sort()).toEqual([]);
});

/** The types of this package that a declaration mentions. */
function typesIn(place: Place): readonly Place[] {
  const [module = '', name = ''] = place.split('#');
  const declarations = declarationsOf(module);
  const text = declarations.get(name);
  if (text === undefined) throw new Error(`${name} is not declared in ${module}`);
  const imports = importsOf(module);
  // The type of a constant is written out wherever it is used; it needs no name.
  const words = new Set(text.replace(/\btypeof \w+/g, '').match(/\b[A-Z]\w*\b/g));
  return [...words].flatMap(
    (word) => imports.get(word) ?? (declarations.has(word) ? `${module}#${word}` : []),
  );
}

/** What a module imports, or passes on, from others of the package. */
function importsOf(module: string): ReadonlyMap<string, Place> {
  const statements = textOf(module).matchAll(
    /^(?:import|export)\s+(?:type\s+)?\{([^}]*)\}\s+from\s+'(\.[^']+)';/gm,
  );
  return new Map(
    [...statements].flatMap(([, names = '', from = '']) => {
      const source = posix.join(posix.dirname(module), from.replace(/\.js$/, '.d.ts'));
      return names
        .split(',')
        .map((name) => name.trim().replace(/^type\s+/, ''))
        .filter((name) => name !== '')
        .map((name): [string, Place] => {
          const [declared = '', known = declared] = name.split(' as ');
          return [known, `${declaring(source, declared)}#${declared}`];
        });
    }),
  );
}

/** The module that declares a name: another, where all the types of that one are passed on. */
function declaring(module: string, name: string): string {
  if (declarationsOf(module).has(name)) return module;
  const passedOn = [...textOf(module).matchAll(/^export type \* from '(\.[^']+)';/gm)].map(
    ([, from = '']) => posix.join(posix.dirname(module), from.replace(/\.js$/, '.d.ts')),
  );
  return passedOn.find((other) => declarationsOf(other).has(name)) ?? module;
}

/** Its declarations by name, each with its text. */
function declarationsOf(module: string): ReadonlyMap<string, string> {
  const start =
    /^(?:export\s+)?(?:declare\s+)?(?:abstract\s+)?(?:class|const|function|interface|type)\s+(\w+)/gm;
  const text = textOf(module);
  const starts = [...text.matchAll(start)];
  const all = new Map<string, string>();
  starts.forEach(({ index, 1: name = '' }, i) => {
    all.set(name, (all.get(name) ?? '') + text.slice(index, starts[i + 1]?.index));
  });
  return all;
}

/** Without comments, and without the members a class keeps to itself. */
const textOf = (module: string): string =>
  readFileSync(join(packed.path, module), 'utf8')
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/^\s*private .*$/gm, '');
