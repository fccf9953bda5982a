/**
 * Makes the pages of the reference from the comments of what the two doors export, and on demand a file that has
 * the same as data, for the test that asks for words:
 * node bin/build/reference/pages.mjs [folder] [face.json]
 */
import { rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Application, Converter, LiteralType, LogLevel, ReflectionKind, UnionType } from 'typedoc';
import { DOORS, faceOf } from './face.mjs';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const [folder = join(ROOT, 'docs/reference'), faceFile] = process.argv.slice(2);
const out = resolve(folder);

const app = await Application.bootstrapWithPlugins({
  entryPoints: Object.values(DOORS),
  tsconfig: join(ROOT, 'tsconfig.build.json'),
  plugin: ['typedoc-plugin-markdown'],
  name: 'lastrotation',
  outputs: [{ name: 'markdown', path: out }],
  readme: 'none',
  // Lines move with every change; and the compiler has just found no error.
  disableSources: true,
  skipErrorChecking: true,
  // Of a key that two parts of a type have, one comment is enough.
  logLevel: LogLevel.Error,
  hidePageHeader: true,
  hideBreadcrumbs: false,
  indexFormat: 'table',
  parametersFormat: 'table',
  interfacePropertiesFormat: 'table',
  classPropertiesFormat: 'table',
  typeDeclarationFormat: 'table',
  propertyMembersFormat: 'table',
  tableColumnSettings: { hideModifiers: true, hideDefaults: true, hideSources: true },
});
const words = new Map();
app.converter.on(Converter.EVENT_CREATE_DECLARATION, (context, reflection) => {
  if (reflection.kindOf(ReflectionKind.TypeAlias))
    words.set(reflection, wordsOf(context, reflection));
});
app.converter.on(Converter.EVENT_RESOLVE_BEGIN, ({ project }) => {
  const of = (kind) => project.getReflectionsByKind(kind);
  for (const alias of of(ReflectionKind.TypeAlias)) alias.type = inWords(alias);
  for (const call of of(ReflectionKind.CallSignature))
    if (call.comment) throwsInOneList(call.comment);
});
let program;
app.converter.on(Converter.EVENT_BEGIN, ({ programs }) => {
  [program] = programs;
});
const project = await app.convert();
if (project === undefined) process.exit(1);
rmSync(out, { recursive: true, force: true });
await app.generateOutputs(project);
writeFileSync(join(out, 'README.md'), first(project));
// Last, since the order in which types are looked at is the order in which the pages have them.
if (faceFile !== undefined) writeFileSync(faceFile, JSON.stringify(faceOf(program)));

/** The texts that a type may be, as the compiler knows them. */
function wordsOf(context, reflection) {
  const symbol = context.getSymbolFromReflection(reflection);
  const type = context.checker.getDeclaredTypeOfSymbol(symbol);
  return (type.types ?? [type])
    .map(({ value }) => value)
    .filter((value) => typeof value === 'string');
}

/** One of the words of a list, `(typeof WHENS)[number]`, with the words instead of the list. */
function inWords(alias) {
  const { type } = alias;
  const parts = type?.type === 'union' ? type.types : [type];
  const others = parts.filter((part) => !isListed(part));
  const listed = words.get(alias) ?? [];
  if (others.length === parts.length || listed.length === 0 || listed.length > 40) return type;
  return new UnionType([...listed.map((word) => new LiteralType(word)), ...others]);
}

function throwsInOneList(comment) {
  const [one, ...others] = comment.getTags('@throws');
  if (one === undefined) return;
  const point = { kind: 'text', text: '- ' };
  const next = { kind: 'text', text: '\n- ' };
  one.content = [point, ...one.content, ...others.flatMap(({ content }) => [next, ...content])];
  comment.blockTags = comment.blockTags.filter((tag) => !others.includes(tag));
}

function isListed(type) {
  const isKey = type?.type === 'typeOperator' && type.operator === 'keyof';
  return isKey || type?.type === 'indexedAccess';
}

/** The first page: the two doors, and the answers with their schemas. */
function first({ children: doors }) {
  const [pure] = doors;
  const printed = pure.children.find(({ name }) => name === 'Printed').children;
  const said = ({ comment }) =>
    comment.summary
      .map(({ text }) => text)
      .join('')
      .replace(/\s+/g, ' ');
  const answers = printed
    .map(
      (one) => `| \`${one.name}\` | ${said(one)} | [schema](../../dist/schemas/${one.name}.json) |`,
    )
    .sort();
  return `# Reference

Every function, constant and type of the library, from the comments in its code (\`npm run reference\`).
[docs/library.md](../library.md) shows how they go together, in eight small programs.

- [lastrotation](lastrotation/README.md): everything that touches no disk, and so runs in a page as well
- [lastrotation/files](lastrotation/files/README.md): what reads and writes files

What stands in a meet file and a score log is in [docs/files.md](../files.md); \`newMeet(null).text\` is a meet file
to write over. A group's order turns from rotation to rotation (first up goes last) unless the meet file says
\`startOrder: fixed\`. A page takes the door through any bundler (\`esbuild page.mjs --bundle\`).

A score is a whole number of units, thousandths unless the meet publishes four decimals; a chance is a number from
0 to 1. Every error is a [LastRotationError](lastrotation/classes/LastRotationError.md) with one of the codes that
a page names under *Throws*.

## Answers, and their schemas

What \`--json\` prints has a JSON Schema in the package, \`lastrotation/schemas/NAME.json\` (in a copy of the
repository once it is built). [docs/answers.md](../answers.md) explains the keys in prose.

| name | of | |
| ---- | -- | - |
${answers.join('\n')}
`;
}
