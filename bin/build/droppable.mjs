/**
 * What a bundler may leave out where the program uses nothing of it. Module by module it does so of itself, as
 * package.json says that it may (`sideEffects: false`); within a file it has to be told.
 */
import { readFileSync } from 'node:fs';
import MagicString from 'magic-string';
import { parseAst } from 'rollup/parseAst';

/** What bundlers leave out without being told that they may. */
const PLAIN = new Set([
  'ArrowFunctionExpression',
  'ClassExpression',
  'FunctionExpression',
  'Identifier',
  'Literal',
]);

/**
 * Marks each value that is worked out as a file is loaded: nothing else comes of it. And names a file for each package
 * that does not say so of itself: behind a file of ours it is left out with it.
 * @param files - each with its `path` and its `text`.
 * @returns the same files, and by name of a package the text of the file that passes it on.
 */
export function droppable(files, nextTo) {
  const passedOn = new Map();
  const marked = files.map(({ path, text }) => {
    const code = new MagicString(text);
    for (const statement of parseAst(text).body) {
      if (statement.type === 'VariableDeclaration') mark(statement, code);
      if (statement.type !== 'ImportDeclaration' || !isPackage(statement.source.value)) continue;
      const { source, specifiers } = statement;
      const names = passedOn.get(source.value) ?? new Set();
      for (const { imported } of specifiers) names.add(imported?.name ?? 'default');
      passedOn.set(source.value, names);
      code.update(source.start, source.end, JSON.stringify(nextTo(path, source.value)));
    }
    return { path, text: code.toString() };
  });
  const passing = [...passedOn].map(([name, names]) => {
    return [name, `export{${[...names].sort().join(',')}}from${JSON.stringify(name)};\n`];
  });
  return { files: marked, passedOn: new Map(passing) };
}

function mark({ declarations }, code) {
  for (const { init } of declarations) {
    if (init === null || PLAIN.has(init.type)) continue;
    code.appendLeft(init.start, '/* @__PURE__ */(()=>(').appendRight(init.end, '))()');
  }
}

/** Whether it comes from a package, and one that may have effects as it is loaded. */
function isPackage(source) {
  if (/^(\.|node:)/.test(source)) return false;
  const [name] = /^(?:@[^/]+\/)?[^/]+/.exec(source);
  return (
    JSON.parse(readFileSync(`node_modules/${name}/package.json`, 'utf8')).sideEffects !== false
  );
}
