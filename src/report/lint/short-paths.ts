/** File paths for people: relative to the folder that all files share, which is then said once. */
import type { Finding } from '../../lint/finding.js';
import type { LintResult } from '../../lint/result.js';

export interface ShortPaths {
  readonly result: LintResult;
  /** The folder left out, with its separator; empty where the files share none. */
  readonly folder: string;
}

/** The result with every place, and every file the crew has to touch, named from the shared folder on. */
export function shortPaths(result: LintResult): ShortPaths {
  const { files, findings, problems } = result;
  const names = new Set(files.map(({ name }) => name));
  for (const { at, others } of findings) for (const { file } of [at, ...others]) names.add(file);
  for (const { at } of problems) names.add(at.file);
  const folder = sharedFolder(names);
  if (folder === '') return { result, folder };
  const short = <T extends { readonly file: string }>(at: T): T => ({ ...at, file: at.file.slice(folder.length) });
  const shortened = (finding: Finding): Finding => ({
    ...finding,
    at: short(finding.at),
    others: finding.others.map(short),
    touch: names.has(finding.touch.name)
      ? { ...finding.touch, name: finding.touch.name.slice(folder.length) }
      : finding.touch,
  });
  return {
    result: {
      ...result,
      findings: findings.map(shortened),
      problems: problems.map((problem) => ({ ...problem, at: short(problem.at) })),
    },
    folder,
  };
}

function sharedFolder(names: ReadonlySet<string>): string {
  let shared: string | undefined;
  for (const name of names) {
    const folder = folderOf(name);
    while (shared !== undefined && shared !== '' && !folder.startsWith(shared)) shared = folderOf(shared.slice(0, -1));
    shared ??= folder;
    if (shared === '') return '';
  }
  return shared ?? '';
}

/** Up to and with the last separator. */
function folderOf(name: string): string {
  return name.slice(0, Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
}
