/**
 * The public face as data, for the test that asks for words: every export of the two doors with its
 * comment, its members, its parameters, and the codes of the errors that the code behind it can throw.
 */
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { thrownBy } from './thrown.mjs';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/** The file of each door. */
export const DOORS = {
  lastrotation: `${ROOT}lib/index.ts`,
  'lastrotation/files': `${ROOT}lib/files/index.ts`,
};

/** What a program of types, which has the doors among its files, exports there. */
export function faceOf(program) {
  const types = { checker: program.getTypeChecker(), thrown: thrownBy(program) };
  return Object.entries(DOORS).flatMap(([door, path]) => {
    const file = program.getSourceFile(path);
    return exportsOf(types, types.checker.getSymbolAtLocation(file), door);
  });
}

function exportsOf(types, module, at) {
  const { checker } = types;
  return checker.getExportsOfModule(module).flatMap((found) => {
    const symbol = found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found;
    const name = `${at} ${found.name}`;
    if (symbol.flags & ts.SymbolFlags.ValueModule) return exportsOf(types, symbol, name);
    return [exported(types, symbol, name)];
  });
}

function exported({ checker, thrown }, symbol, name) {
  const declared = symbol.declarations[0];
  const call = callOf(declared);
  return {
    name,
    from: relative(ROOT, declared.getSourceFile().fileName),
    words: call === null ? wordsOf(checker, symbol) : wordsOfCalls(checker, symbol),
    tags: symbol
      .getJsDocTags(checker)
      .map(({ name, text }) => [name, ts.displayPartsToString(text)]),
    isFunction: call !== null,
    start: declared.getStart(),
    parameters: call?.parameters.map((parameter) => parameter.name.getText()) ?? [],
    // What is written out in a signature the words on its parameters speak of.
    members: call === null ? membersOf(checker, declared) : [],
    thrown: call === null ? [] : thrown(declared),
  };
}

/** Of a function that can be called in several ways each way has words of its own. */
function wordsOfCalls(checker, symbol) {
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
function membersOf(checker, declared) {
  const members = [];
  const isMember = (node) =>
    ts.isPropertySignature(node) ||
    ts.isMethodSignature(node) ||
    (ts.isClassDeclaration(declared) && ts.isPropertyDeclaration(node));
  const visit = (node) => {
    if (isMember(node) && !ts.isComputedPropertyName(node.name) && !isKind(node)) {
      const symbol = checker.getSymbolAtLocation(node.name);
      members.push({ name: node.name.getText(), words: wordsOf(checker, symbol) });
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

function wordsOf(checker, symbol) {
  return ts.displayPartsToString(symbol.getDocumentationComment(checker)).trim();
}
