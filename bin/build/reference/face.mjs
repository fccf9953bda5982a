/**
 * The public face as data, for the test that asks for words: every export of the two doors with its
 * comment, its members, its parameters, and the codes of the errors that the code behind it can throw.
 * node bin/build/reference/face.mjs
 */
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { thrownBy } from './thrown.mjs';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const DOORS = { lastrotation: 'lib/index.ts', 'lastrotation/files': 'lib/files/index.ts' };

const { config } = ts.readConfigFile(`${ROOT}tsconfig.json`, ts.sys.readFile);
const { options } = ts.parseJsonConfigFileContent({ ...config, files: [] }, ts.sys, ROOT);
const program = ts.createProgram(
  Object.values(DOORS).map((door) => ROOT + door),
  options,
);
const checker = program.getTypeChecker();
const thrown = thrownBy(program);

const face = Object.entries(DOORS).flatMap(([door, path]) => {
  const file = program.getSourceFile(ROOT + path);
  return exportsOf(checker.getSymbolAtLocation(file), door);
});
process.stdout.write(JSON.stringify(face));

function exportsOf(module, at) {
  return checker.getExportsOfModule(module).flatMap((found) => {
    const symbol = found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found;
    const name = `${at} ${found.name}`;
    if (symbol.flags & ts.SymbolFlags.ValueModule) return exportsOf(symbol, name);
    return [exported(symbol, name)];
  });
}

function exported(symbol, name) {
  const declared = symbol.declarations[0];
  const call = callOf(declared);
  return {
    name,
    from: relative(ROOT, declared.getSourceFile().fileName),
    words: call === null ? wordsOf(symbol) : wordsOfCalls(symbol),
    tags: symbol
      .getJsDocTags(checker)
      .map(({ name, text }) => [name, ts.displayPartsToString(text)]),
    isFunction: call !== null,
    start: declared.getStart(),
    parameters: call?.parameters.map((parameter) => parameter.name.getText()) ?? [],
    // What is written out in a signature the words on its parameters speak of.
    members: call === null ? membersOf(declared) : [],
    thrown: call === null ? [] : thrown(declared),
  };
}

/** Of a function that can be called in several ways each way has words of its own. */
function wordsOfCalls(symbol) {
  const ways = checker.getTypeOfSymbol(symbol).getCallSignatures();
  const words = ways.map((way) => ts.displayPartsToString(way.getDocumentationComment(checker)));
  return words.every((text) => text.trim() !== '') ? words.join('\n\n') : '';
}

/** What of a declaration is called: a function, or what a constant holds. */
function callOf(declared) {
  if (ts.isFunctionDeclaration(declared)) return declared;
  const value = ts.isVariableDeclaration(declared) ? declared.initializer : undefined;
  return value && (ts.isArrowFunction(value) || ts.isFunctionExpression(value)) ? value : null;
}

/** Every member that is written out in a type, those of the types within it as well. */
function membersOf(declared) {
  const members = [];
  const isMember = (node) =>
    ts.isPropertySignature(node) ||
    ts.isMethodSignature(node) ||
    (ts.isClassDeclaration(declared) && ts.isPropertyDeclaration(node));
  const visit = (node) => {
    if (isMember(node) && !ts.isComputedPropertyName(node.name) && !isKind(node)) {
      const symbol = checker.getSymbolAtLocation(node.name);
      members.push({ name: node.name.getText(), words: wordsOf(symbol) });
    }
    if (!ts.isBlock(node) && !ts.isObjectLiteralExpression(node)) ts.forEachChild(node, visit);
  };
  visit(declared);
  return members;
}

/** What tells one kind of a union from the others, as what is said of the kind does. */
function isKind({ name, type }) {
  return name.getText() === 'kind' && type !== undefined && ts.isLiteralTypeNode(type);
}

function wordsOf(symbol) {
  return ts.displayPartsToString(symbol.getDocumentationComment(checker)).trim();
}
