/** All files below a folder, links followed once and circles cut. */
import { readdirSync, realpathSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { liesWithin } from './places.js';
import { faultOf, type ReadFault } from './read.js';
import { oddKindOf } from './stamp.js';

export interface Walked {
  /** In order of name, as seen from where the folder is named; a file with two names comes twice. */
  readonly files: readonly string[];
  readonly faults: readonly { readonly path: string; readonly fault: ReadFault | { readonly fault: 'above' } }[];
}

/**
 * Files whose names are wanted; hidden ones and `node_modules` are passed over, links come last. `folder` is how it is named, `at` where
 * that is. A link to a folder that holds the first one would bring all its neighbours in: it is a fault, `above`. A link
 * back to one on the way is a circle: what is there is read already.
 */
export function walk(folder: string, at: string, wanted: (name: string) => boolean): Walked {
  const files: string[] = [];
  const faults: { path: string; fault: ReadFault | { fault: 'above' } }[] = [];
  const seen = new Set<string>();
  let top: string | undefined;

  // Followed last, so that a file goes by its own name rather than by a link's.
  const links: (() => void)[] = [];

  const enter = (named: string, place: string, linked: boolean): void => {
    try {
      const real = realpathSync.native(place);
      top ??= real;
      if (seen.has(real)) return;
      if (linked && liesWithin(top, [real])) {
        faults.push({ path: named, fault: { fault: 'above' } });
        return;
      }
      seen.add(real);
      const entries = readdirSync(place, { withFileTypes: true })
        .filter(({ name }) => !name.startsWith('.') && name !== 'node_modules')
        .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
      for (const entry of entries) {
        const path = join(named, entry.name);
        const there = join(place, entry.name);
        if (entry.isDirectory()) enter(path, there, false);
        else if (entry.isSymbolicLink())
          links.push(() => {
            follow(path, there, entry.name);
          });
        else if (wanted(entry.name)) take(path, there);
      }
    } catch (error) {
      faults.push({ path: named, fault: faultOf(error) });
    }
  };
  const follow = (path: string, there: string, name: string): void => {
    try {
      if (statSync(there).isDirectory()) enter(path, there, true);
      else if (wanted(name)) take(path, there);
    } catch (error) {
      if (wanted(name)) faults.push({ path, fault: faultOf(error) });
    }
  };
  const take = (path: string, there: string): void => {
    const odd = oddKindOf(statSync(there, { bigint: true }));
    if (odd === undefined) files.push(path);
    else faults.push({ path, fault: { fault: odd } });
  };
  enter(folder, at, false);
  // A link may lead to a folder with more of them.
  for (const link of links) link();
  return { files, faults };
}

/** Whether a path leads to a folder; a fault where it leads nowhere. */
export function isFolder(path: string): boolean | ReadFault {
  try {
    return statSync(path).isDirectory();
  } catch (error) {
    return faultOf(error);
  }
}

/** A folder, or that of a file, and all below it; no links are followed. */
export function foldersBelow(path: string): readonly string[] {
  if (!statSync(path).isDirectory()) return [dirname(path)];
  const below = readdirSync(path, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith('.') && entry.name !== 'node_modules')
    .map(({ name }) => join(path, name));
  return [path, ...below.flatMap(foldersBelow)];
}
