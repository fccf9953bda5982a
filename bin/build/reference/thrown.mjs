/**
 * Which errors can come out of a function: the codes that it, and whatever it refers to, makes errors
 * with. More than can truly come out, since no condition is looked at, and never less.
 */
import ts from 'typescript';

/** What is thrown with the code of a problem that was found in a file. */
const OF_A_PROBLEM = 'the code of a problem';

/**
 * What refuses an option, a name or a number, and the exports through which somebody else can give it one.
 * Everywhere else the library itself asks, with what it knows to be there.
 */
const REFUSES = {
  askedOf: ['chances'],
  askedRoutine: ['needs', 'brief', 'outcomes', 'routinePicture'],
  chanceOfAtLeast: ['chanceOfAtLeast'],
  checkChance: ['needs', 'needsOfAll'],
  checkedOptions: ['needs', 'needsOfAll', 'needChances', 'outcomes', 'graphics'],
  completeQuestion: ['needs', 'needsOfAll', 'outcomes'],
  findContender: [
    ...[
      'brief',
      'needs',
      'needsOfAll',
      'outcomes',
      'chances',
      'graphics',
      'claim',
      'routinePicture',
    ],
  ],
  formatScore: ['formatScore'],
  kindCalled: [],
  parseTarget: ['needs', 'needsOfAll', 'claim'],
  rotationAskedFor: ['standings'],
  samplingOf: ['chances'],
  scoreForNeed: ['needs', 'needsOfAll'],
};

/** What `ifRangesAre` makes null of. */
const CAUGHT = 'missing-range';

/** What no condition lets out: a question that is fixed, or a file of the library's own. */
const RULED_OUT = {
  backtest: ['missing-range', 'unknown-contest'],
  backtestPart: ['missing-range', 'unknown-contest'],
  claimOfTwo: [
    'missing-range',
    'too-many-routines',
    'unknown-contest',
    'nothing-to-come',
    'wrong-target',
  ],
  graphics: [OF_A_PROBLEM],
  outcomes: ['win-is-end'],
  readTemplates: [OF_A_PROBLEM],
  routinePicture: ['no-place', 'wrong-target'],
  beforeLastEntry: ['wrong-number'],
  brief: ['missing-range', 'no-place', 'wrong-target'],
  shippedTemplates: [OF_A_PROBLEM],
  suppose: ['nothing-to-come', 'nothing-to-void'],
};

export function thrownBy(program) {
  const checker = program.getTypeChecker();
  const ofDeclaration = new Map();
  const known = codesIn(program);

  return (declaration) => {
    const codes = new Map();
    const seen = new Map();
    const from = declaration.name.text;
    // Only who brings a meet can bring one that was put together by hand.
    const types = declaration.parameters.map((p) => checker.getTypeAtLocation(p));
    const takesMeet = types.some((type) => type.symbol?.name === 'Meet');
    const queue = [{ node: declaration, path: from, caught: false }];
    for (const { node, path, caught } of queue) {
      if (seen.has(node) && (caught || !seen.get(node))) continue;
      if (!isAsked(node, from) || (node.name?.text === 'requireSound' && !takesMeet)) continue;
      seen.set(node, caught);
      const found = reach(node);
      for (const code of found.throws) {
        if (!(caught && code === CAUGHT) && !codes.has(code)) codes.set(code, path);
      }
      for (const [nodes, isCaughtHere] of [
        [found.refers, caught],
        [found.caught, true],
      ]) {
        for (const next of nodes) {
          queue.push({ node: next, path: `${path} > ${next.name.text}`, caught: isCaughtHere });
        }
      }
    }
    for (const code of RULED_OUT[from] ?? []) codes.delete(code);
    return [...codes].sort();
  };

  function reach(declaration) {
    const known = ofDeclaration.get(declaration);
    if (known) return known;
    const found = { throws: new Set(), refers: new Set(), caught: new Set() };
    ofDeclaration.set(declaration, found);
    const visit = (node) => {
      if (ts.isTypeNode(node)) return;
      if (ts.isTryStatement(node) && node.catchClause && !hasThrow(node.catchClause)) {
        visit(node.catchClause);
        if (node.finallyBlock) visit(node.finallyBlock);
        return;
      }
      if (isCaught(node)) {
        for (const next of reach(node).refers) found.caught.add(next);
        return;
      }
      if (ts.isCallExpression(node) || ts.isNewExpression(node)) made(node, found.throws);
      if (ts.isIdentifier(node)) refersTo(node, found.refers);
      ts.forEachChild(node, visit);
    };
    ts.forEachChild(declaration, visit);
    return found;
  }

  /** An error is made by one of these, or by a function of a file's own that is told the code. */
  function made(node, throws) {
    const name = node.expression.getText();
    if (name === 'badUsage' || name === 'noAnswer') {
      for (const text of textsOf(node.arguments[0])) throws.add(text);
    } else if (name === 'LastRotationError') {
      const { properties } = node.arguments[1];
      const code = properties.find((p) => p.name?.getText() === 'code');
      if (code && ts.isShorthandPropertyAssignment(code)) {
        // What is only passed on is looked at where it comes from, but a problem is no error yet.
        if (isOfProblem(code)) throws.add(OF_A_PROBLEM);
        return;
      }
      for (const text of textsOf(code?.initializer)) throws.add(text);
    } else {
      const texts = (node.arguments ?? []).filter(ts.isStringLiteral).map(({ text }) => text);
      const codes = texts.filter((text) => known.has(text));
      // What a call gives is asked last: to find that out takes most of the time.
      if (codes.length === 0) return;
      if (checker.getTypeAtLocation(node).symbol?.name !== 'LastRotationError') return;
      for (const text of codes) throws.add(text);
    }
  }

  /** `const { code } = problem` */
  function isOfProblem(shorthand) {
    const from = checker.getShorthandAssignmentValueSymbol(shorthand)?.valueDeclaration;
    if (!from || !ts.isBindingElement(from)) return false;
    return checker.getTypeAtLocation(from.parent.parent.initializer).symbol?.name === 'Problem';
  }

  /** The texts that an expression may be. */
  function textsOf(expression) {
    if (expression === undefined) return [OF_A_PROBLEM];
    const type = checker.getTypeAtLocation(expression);
    const types = type.isUnion() ? type.types : [type];
    const texts = types.filter((t) => t.isStringLiteral()).map((t) => t.value);
    return texts.length > 0 && texts.length < 20 ? texts : [OF_A_PROBLEM];
  }

  function refersTo(node, refers) {
    // No member is a function of a module; and to find out which member it is takes most of the time.
    if (ts.isPropertyAccessExpression(node.parent) && node.parent.name === node) return;
    const found = checker.getSymbolAtLocation(node);
    if (!found) return;
    const symbol = found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found;
    for (const declared of symbol.declarations ?? []) {
      const file = declared.getSourceFile();
      // What makes the errors is given the code, and is looked at where it is called.
      if (file.isDeclarationFile || file.fileName.endsWith('/lib/error.ts')) continue;
      const isOurs = ts.isFunctionDeclaration(declared) || holdsMore(declared);
      if (isOurs) refers.add(declared);
    }
  }

  /** A constant of a module that is more than words and numbers: it may hold functions. */
  function holdsMore(declared) {
    if (!isConstant(declared)) return false;
    const type = checker.getTypeAtLocation(declared);
    const held = checker.getIndexTypeOfType(type, ts.IndexKind.Number) ?? type;
    return (held.isUnion() ? held.types : [held]).some((t) => t.flags & ts.TypeFlags.Object);
  }
}

/** Every code that an error may have. */
function codesIn(program) {
  const file = program.getSourceFiles().find((f) => f.fileName.endsWith('/lib/codes.ts'));
  const alias = file.statements.find((s) => s.name?.text === 'ErrorCode');
  return new Set(
    program
      .getTypeChecker()
      .getTypeAtLocation(alias)
      .types.map((t) => t.value),
  );
}

function isCaught(node) {
  return ts.isCallExpression(node) && node.expression.getText() === 'ifRangesAre';
}

function isAsked({ name }, from) {
  const doors = Object.hasOwn(REFUSES, name?.text) ? REFUSES[name.text] : null;
  return doors?.includes(from) ?? true;
}

/** A constant of a module, which may hold functions. */
function isConstant(node) {
  return ts.isVariableDeclaration(node) && ts.isSourceFile(node.parent.parent.parent);
}

function hasThrow(node) {
  let found = false;
  const visit = (child) => {
    if (ts.isThrowStatement(child)) found = true;
    else ts.forEachChild(child, visit);
  };
  visit(node);
  return found;
}
