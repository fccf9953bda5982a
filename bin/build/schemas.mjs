/**
 * Makes a JSON Schema of everything `--json` prints, from the types the compiler has written down:
 * node bin/build/schemas.mjs
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { createGenerator } from 'ts-json-schema-generator';

const DIALECT = 'https://json-schema.org/draft/2020-12/schema';

/** In print a score is a text, and what is neither a score nor one of these fractions is whole. */
const NUMBERS = {
  Score: {
    type: 'string',
    pattern: '^-?\\d+\\.\\d{3,4}$',
    description: "A score, a total or a gap, with the meet's decimals: 13.534.",
  },
  Chance: { type: 'number', minimum: 0, maximum: 1 },
  ChanceChange: { type: 'number', minimum: -1, maximum: 1 },
  Measure: { type: 'number', minimum: 0 },
  MeasureChange: { type: 'number' },
};

const { definitions } = createGenerator({
  path: 'dist/types/printed.d.ts',
  tsconfig: 'tsconfig.build.json',
  type: 'Printed',
  expose: 'export',
  jsDoc: 'extended',
  sortProps: false,
  encodeRefs: false,
  // The compiler has just done it.
  skipTypeCheck: true,
}).createSchema('Printed');

const printed = Object.fromEntries(
  Object.entries(definitions).map(([name, type]) => {
    const { [name]: number } = NUMBERS;
    return [name, number ? { description: type.description, ...number } : inPrint(type)];
  }),
);

mkdirSync('dist/schemas', { recursive: true });
for (const [name, answer] of Object.entries(printed.Printed.properties)) {
  const $defs = Object.fromEntries([...namedIn(answer)].sort().map((key) => [key, printed[key]]));
  const schema = { $schema: DIALECT, title: name, ...answer, $defs };
  writeFileSync(`dist/schemas/${name}.json`, `${JSON.stringify(schema)}\n`);
}

/** As this dialect writes it, with every other number whole. */
function inPrint(schema) {
  if (typeof schema === 'boolean') return schema;
  return Object.fromEntries(
    Object.entries(schema).flatMap(([keyword, value]) => {
      if (keyword === '$ref') return [[keyword, value.replace('#/definitions/', '#/$defs/')]];
      if (keyword === 'type') return [[keyword, wholeFor(value)]];
      if (keyword === 'anyOf' || keyword === 'allOf') return [[keyword, value.map(inPrint)]];
      if (keyword === 'additionalProperties') return [[keyword, inPrint(value)]];
      if (keyword === 'properties') {
        const keys = Object.entries(value).map(([key, of]) => [key, inPrint(of)]);
        return [[keyword, Object.fromEntries(keys)]];
      }
      if (keyword !== 'items') return [[keyword, value]];
      if (!Array.isArray(value)) return [[keyword, inPrint(value)]];
      return [
        ['prefixItems', value.map(inPrint)],
        ['items', false],
      ];
    }),
  );
}

function wholeFor(type) {
  if (Array.isArray(type)) return type.map(wholeFor);
  return type === 'number' ? 'integer' : type;
}

/** The names of all that a schema refers to. */
function namedIn(schema, names = new Set()) {
  for (const [key, value] of Object.entries(schema)) {
    if (key === '$ref') {
      const name = value.slice('#/$defs/'.length);
      if (!names.has(name)) namedIn(printed[name], names.add(name));
    } else if (value !== null && typeof value === 'object') namedIn(value, names);
  }
  return names;
}
