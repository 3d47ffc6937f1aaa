import ts from 'typescript';

/** Globals that tie code to a page, a process, a clock or a machine's habits. */
const GLOBALS = new Set([
  ...['window', 'document', 'navigator', 'location', 'self', 'globalThis', 'localStorage', 'indexedDB'],
  ...['Date', 'performance', 'setTimeout', 'setInterval', 'requestAnimationFrame', 'queueMicrotask'],
  ...['fetch', 'crypto', 'process', 'require', 'Intl', 'console', 'AudioContext', 'OfflineAudioContext'],
]);

/**
 * What in a TypeScript source would make its result depend on anything but its input, as
 * `line: expression`. A name that the source itself declares or imports is its own affair.
 */
export function impurities(source: string): string[] {
  const file = ts.createSourceFile('source.ts', source, ts.ScriptTarget.Latest, true);
  const own = new Set<string>();
  const found: string[] = [];

  const declare = (node: ts.Node) => {
    const named =
      ts.isVariableDeclaration(node) ||
      ts.isParameter(node) ||
      ts.isBindingElement(node) ||
      ts.isFunctionDeclaration(node) ||
      ts.isImportSpecifier(node);
    if (named && node.name && ts.isIdentifier(node.name)) own.add(node.name.text);
    ts.forEachChild(node, declare);
  };

  const visit = (node: ts.Node) => {
    if (isImpure(node)) {
      const { line } = file.getLineAndCharacterOfPosition(node.getStart());
      found.push(`${line + 1}: ${node.getText()}`);
    }
    ts.forEachChild(node, visit);
  };

  const isImpure = (node: ts.Node) => {
    if (ts.isMetaProperty(node)) return true;
    if (ts.isPropertyAccessExpression(node)) {
      return node.getText() === 'Math.random' || /^(toLocale\w+|localeCompare)$/.test(node.name.text);
    }
    return ts.isIdentifier(node) && GLOBALS.has(node.text) && !own.has(node.text) && !isOnlyAName(node);
  };

  declare(file);
  visit(file);
  return found;
}

/** True for `window` in `scale.window`, `{ window: 1 }` or an interface's `window: number`. */
function isOnlyAName(node: ts.Identifier): boolean {
  const { parent } = node;
  return (
    (ts.isPropertyAccessExpression(parent) ||
      ts.isPropertyAssignment(parent) ||
      ts.isPropertySignature(parent) ||
      ts.isMethodSignature(parent)) &&
    parent.name === node
  );
}
