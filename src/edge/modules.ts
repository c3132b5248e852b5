/** JavaScript of the conventions' own: run only where the user names it on the command line or in a profile, never by a plan. */
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';

/** What a module exports; `path` is seen from the file `from`, where there is one. Throws where it can't be run. */
export async function runModule(
  path: string,
  from: string | undefined,
  cwd: string,
): Promise<{ readonly default?: unknown }> {
  const folder = from === undefined ? resolve(cwd) : resolve(cwd, from, '..');
  return (await import(pathToFileURL(resolve(folder, path)).href)) as { readonly default?: unknown };
}
