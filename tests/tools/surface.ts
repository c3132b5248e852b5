/** What the package shows to the outside: every exported name with its declaration, read from the sources by the compiler. */
import { dirname, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export interface Exported {
  readonly name: string;
  /** The declaration without its body and comments, on one line. */
  readonly text: string;
}

export interface Surface {
  /** By entry file, sorted by name. */
  readonly entries: ReadonlyMap<string, readonly Exported[]>;
  /** Types of this project that an exported declaration mentions and no entry exports: `LintOptions mentions Profile`. */
  readonly missing: readonly string[];
}

/** Reads the surface of the entries, paths from the project's root. */
export function surfaceOf(entries: readonly string[]): Surface {
  const config = ts.getParsedCommandLineOfConfigFile(
    `${ROOT}tsconfig.json`,
    { noEmit: true },
    {
      ...ts.sys,
      onUnRecoverableConfigFileDiagnostic: ({ messageText }) => {
        throw new Error(ts.flattenDiagnosticMessageText(messageText, '\n'));
      },
    },
  );
  if (config === undefined) throw new Error('tsconfig.json can not be read');
  const program = ts.createProgram(
    entries.map((entry) => `${ROOT}${entry}`),
    config.options,
  );
  const checker = program.getTypeChecker();
  const shown = new Set<ts.Symbol>();
  const found = new Map<string, readonly Exported[]>();
  for (const entry of entries) {
    const file = program.getSourceFile(`${ROOT}${entry}`);
    const module = file === undefined ? undefined : checker.getSymbolAtLocation(file);
    if (module === undefined) throw new Error(`${entry} exports nothing`);
    const own = checker.getExportsOfModule(module).map((symbol) => ({ name: symbol.name, symbol: resolved(symbol) }));
    for (const { symbol } of own) shown.add(symbol);
    found.set(
      entry,
      own
        .map(({ name, symbol }) => ({ name, text: textOf(symbol) }))
        .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0)),
    );
  }
  const missing = [...shown].flatMap((symbol) =>
    [...mentioned(symbol)].filter((other) => !shown.has(other)).map((other) => `${symbol.name} mentions ${other.name}`),
  );
  return { entries: found, missing: [...new Set(missing)].sort() };

  function resolved(symbol: ts.Symbol): ts.Symbol {
    return (symbol.flags & ts.SymbolFlags.Alias) === 0 ? symbol : checker.getAliasedSymbol(symbol);
  }

  function textOf(symbol: ts.Symbol): string {
    return (symbol.declarations ?? []).map((declaration) => declarationText(symbol, declaration)).join(' & ');
  }

  function declarationText(symbol: ts.Symbol, declaration: ts.Declaration): string {
    if (ts.isFunctionDeclaration(declaration)) {
      const [signature] = checker.getSignaturesOfType(checker.getTypeOfSymbol(symbol), ts.SignatureKind.Call);
      return signature === undefined ? '' : `function ${checker.signatureToString(signature, undefined, FLAGS)}`;
    }
    if (ts.isVariableDeclaration(declaration))
      return `const ${checker.typeToString(checker.getTypeOfSymbol(symbol), undefined, FLAGS)}`;
    const text = declaration.getText().replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, '');
    return text.replace(/^export\s+/, '').replaceAll(/\s+/g, ' ');
  }

  /** Types of the project that a declaration names outside of function bodies. */
  function mentioned(symbol: ts.Symbol): ReadonlySet<ts.Symbol> {
    const names = new Set<ts.Symbol>();
    const visit = (node: ts.Node): void => {
      if (ts.isBlock(node)) return;
      if (ts.isTypeReferenceNode(node) || ts.isExpressionWithTypeArguments(node) || ts.isTypeQueryNode(node)) {
        const name = ts.isTypeReferenceNode(node)
          ? node.typeName
          : ts.isTypeQueryNode(node)
            ? node.exprName
            : node.expression;
        const at = checker.getSymbolAtLocation(name);
        const target = at === undefined ? undefined : resolved(at);
        if (target !== undefined && isOwn(target)) names.add(target);
      }
      if (!ts.isPropertyDeclaration(node) || !isHidden(node)) ts.forEachChild(node, visit);
    };
    for (const declaration of symbol.declarations ?? []) visit(declaration);
    return names;
  }
}

const FLAGS: ts.TypeFormatFlags =
  ts.TypeFormatFlags.NoTruncation | ts.TypeFormatFlags.UseAliasDefinedOutsideCurrentScope;

/** A type of this project; not a parameter of a generic one, nor a constant that a type is made of. */
function isOwn(symbol: ts.Symbol): boolean {
  if ((symbol.flags & (ts.SymbolFlags.TypeParameter | ts.SymbolFlags.Variable)) !== 0) return false;
  return (symbol.declarations ?? []).some((declaration) => {
    const path = relative(ROOT, declaration.getSourceFile().fileName);
    return /^(src|rules)\//.test(path) && dirname(path) !== '';
  });
}

function isHidden(node: ts.PropertyDeclaration): boolean {
  return (
    ts.isPrivateIdentifier(node.name) || (node.modifiers ?? []).some((one) => one.kind === ts.SyntaxKind.PrivateKeyword)
  );
}
