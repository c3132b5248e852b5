/** What is installed beside the code. */
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Folder of the installed package: the nearest one above this module with a package.json. */
function packageFolder(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error('package.json is missing from the installation');
    folder = parent;
  }
  return folder;
}

export function packageVersion(): string {
  const { version } = JSON.parse(readFileSync(join(packageFolder(), 'package.json'), 'utf8')) as {
    readonly version: string;
  };
  return version;
}

/** A page of the installation by its path; the installation is broken without it. */
export function packagePage(...steps: readonly string[]): string {
  const path = join(packageFolder(), ...steps);
  if (!existsSync(path)) throw new Error(`${path} is missing from the installation`);
  return readFileSync(path, 'utf8');
}
