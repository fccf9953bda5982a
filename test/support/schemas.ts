/** The schemas as they are shipped, and what they have against a value. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import type { Printed } from '../../lib/index.js';
import { ROOT } from './cli.js';

export type SchemaName = keyof Printed;

const FOLDER = join(ROOT, 'dist/schemas');

/** By name, each as it is shipped. */
export const SCHEMAS: ReadonlyMap<string, Readonly<Record<string, unknown>>> = new Map(
  readdirSync(FOLDER).map((file) => [
    file.replace(/\.json$/, ''),
    JSON.parse(readFileSync(join(FOLDER, file), 'utf8')) as Record<string, unknown>,
  ]),
);

// A keyword that is misspelt, or of another dialect, is an error.
const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true });
const validators = new Map<string, ValidateFunction>();

/** What a schema has against a value, each with where; nothing where it is valid. */
export function wrongIn(name: SchemaName, value: unknown): string[] {
  const schema = SCHEMAS.get(name);
  if (schema === undefined) throw new Error(`no schema ${name}`);
  const validate = validators.get(name) ?? ajv.compile(schema);
  validators.set(name, validate);
  if (validate(value)) return [];
  return (validate.errors ?? []).map(
    ({ instancePath, message, params }) =>
      `${instancePath} ${message ?? ''} ${JSON.stringify(params)}`,
  );
}
