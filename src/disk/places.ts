/** Where paths really lead. */
import { existsSync, realpathSync } from 'node:fs';
import { isAbsolute, relative, resolve, sep } from 'node:path';

export { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path';

/** All links followed; undefined where the path leads nowhere. */
export function realPath(path: string): string | undefined {
  try {
    return realpathSync.native(path);
  } catch {
    return undefined;
  }
}

export function exists(path: string): boolean {
  return existsSync(path);
}

/** Whether a real path is one of the folders, or lies below one. */
export function liesWithin(path: string, folders: Iterable<string>): boolean {
  for (const folder of folders) {
    const way = relative(folder, path);
    if (way === '' || (way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way))) return true;
  }
  return false;
}

/** The real folders behind paths that exist. */
export function realFolders(cwd: string, paths: readonly string[]): readonly string[] {
  return paths.flatMap((path) => realPath(resolve(cwd, path)) ?? []);
}
