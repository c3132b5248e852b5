/** The built program, for the few tests of what only a process of its own shows. */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
/** What the build makes the program of. */
const SOURCES = { src: '.ts', rules: '.ts', schemas: '.json' };
/** Written by every build, and last. */
const STAMP = 'dist/program/cli/main.js';

/** A built module by its path below `dist`, as long as it is built from the sources as they are. */
export function built(path: string): string {
  const file = fileURLToPath(new URL(`../../dist/${path}`, import.meta.url));
  if (!existsSync(file)) throw new Error(`dist/${path} is missing: run \`npm run build\`, then this test again`);
  const newer = newerSource(ROOT);
  if (newer !== undefined) throw new Error(`${newer} is newer than dist: run \`npm run build\`, then this test again`);
  return file;
}

/** A source that was written after the last build. */
export function newerSource(root: string): string | undefined {
  const { mtimeMs } = statSync(join(root, STAMP));
  for (const [folder, ending] of Object.entries(SOURCES)) {
    const files = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith(ending),
    );
    const newer = files.find((name) => statSync(join(root, folder, name)).mtimeMs > mtimeMs);
    if (newer !== undefined) return join(folder, newer);
  }
  return undefined;
}
