/** The built program, for the few tests of what only a process of its own shows. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** A built module by its path below `dist`. */
export function built(path: string): string {
  const file = fileURLToPath(new URL(`../../dist/${path}`, import.meta.url));
  if (!existsSync(file)) throw new Error(`dist/${path} is missing: run \`npm run build\`, then this test again`);
  return file;
}
