/** Files of the program's own: what is installed beside it, and what its build makes. */
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';

export function isThere(path: string | URL): boolean {
  return existsSync(path);
}

export function readText(path: string | URL): string {
  return readFileSync(path, 'utf8');
}

export function writeText(path: string | URL, text: string): void {
  writeFileSync(path, text);
}

export function namesIn(folder: string | URL): readonly string[] {
  return readdirSync(folder);
}

export function removeFolder(folder: string | URL): void {
  rmSync(folder, { recursive: true, force: true });
}
