/** What is installed beside the code. */
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isThere, readText } from '../disk/text.js';

/** Folder of the installed package: the nearest one above this module with a package.json. */
function packageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!isThere(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error('package.json is missing from the installation');
    folder = parent;
  }
  return folder;
}

export function packageVersion(): string {
  const { version } = JSON.parse(readText(join(packageFolder(), 'package.json'))) as {
    readonly version: string;
  };
  return version;
}

/** A page of the installation by its path; the installation is broken without it. */
export function packagePage(...steps: readonly string[]): string {
  const path = join(packageFolder(), ...steps);
  if (!isThere(path)) throw new Error(`${path} is missing from the installation`);
  return readText(path);
}
