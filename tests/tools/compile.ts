/** Examples of the documents, compiled as a user of the package would. */
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The code blocks of a Markdown text in one language. */
export function codeBlocks(markdown: string, language: string): readonly string[] {
  return [...markdown.matchAll(new RegExp(`^\`\`\`${language}\\n([\\s\\S]*?)^\`\`\`$`, 'gm'))].map(
    ([, code = '']) => code,
  );
}

/**
 * What the compiler says of a module that imports the package by its names, `rigproof` for one, and of modules beside it,
 * `words.ts` for one.
 */
export function compileExample(
  code: string,
  entries: Readonly<Record<string, string>>,
  beside: Readonly<Record<string, string>> = {},
): readonly string[] {
  const file = `${ROOT}tests/example.ts`;
  const texts = new Map([[file, code]]);
  for (const [name, text] of Object.entries(beside)) texts.set(`${ROOT}tests/${name}`, text);
  const host = ts.createCompilerHost({});
  const read = host.getSourceFile.bind(host);
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    strict: true,
    noUncheckedIndexedAccess: true,
    exactOptionalPropertyTypes: true,
    skipLibCheck: true,
    noEmit: true,
    types: ['node'],
    resolveJsonModule: true,
    paths: Object.fromEntries(Object.entries(entries).map(([name, path]) => [name, [`${ROOT}${path}`]])),
  };
  const program = ts.createProgram([file], options, {
    ...host,
    fileExists: (name) => texts.has(name) || host.fileExists(name),
    readFile: (name) => texts.get(name) ?? host.readFile(name),
    getSourceFile: (name, languageVersion) => {
      const text = texts.get(name);
      return text === undefined ? read(name, languageVersion) : ts.createSourceFile(name, text, languageVersion);
    },
  });
  const source = program.getSourceFile(file);
  return [...program.getSyntacticDiagnostics(source), ...program.getSemanticDiagnostics(source)].map(
    ({ messageText }) => ts.flattenDiagnosticMessageText(messageText, '\n'),
  );
}
