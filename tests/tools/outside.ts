/**
 * What some tests ask for and not every machine has: published files in `../shared/data`, beside the project, and programs.
 * A test that goes without says so in its title, in the words of `skipped`; the summary of the suite gathers them.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const DATA = new URL('../../../shared/data/', import.meta.url);

/** Where a published file or folder lies (`iana/ipv4-multicast.json`), if it is here. */
export function published(name: string): string | undefined {
  const path = fileURLToPath(new URL(name, DATA));
  return existsSync(path) ? path : undefined;
}

/** The text of a published file that is here. */
export function textOf(name: string): string {
  return readFileSync(new URL(name, DATA), 'utf8');
}

/** The names of all files in a published folder that is here, and in those below it. */
export function filesIn(folder: string): readonly string[] {
  return readdirSync(new URL(folder, DATA), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name}`)
    .filter((name) => statSync(new URL(name, DATA)).isFile())
    .toSorted();
}

/** Why a test of these published files cannot run; nothing where all of them are here. */
export function unpublished(...names: readonly string[]): string | undefined {
  const missing = names.find((name) => published(name) === undefined);
  return missing === undefined ? undefined : `../shared/data/${missing} is not here`;
}

/** Why a test that starts this program cannot run. */
export function withoutProgram(program: string, words: readonly string[]): string | undefined {
  return spawnSync(program, words).status === 0 ? undefined : `${[program, ...words].join(' ')} does not run here`;
}

/** The end of a title: nothing, or why its tests are skipped. */
export function skipped(reason: string | undefined): string {
  return reason === undefined ? '' : ` (skipped: ${reason})`;
}

/** The reason in a title that ends so, or in one that says what it needs. */
export function reasonIn(title: string): string | undefined {
  const said = /\(skipped: (.+)\)/.exec(title)?.[1];
  const needed = /\(needs (.+)\)/.exec(title)?.[1];
  return said ?? (needed === undefined ? undefined : `${needed} is not here`);
}
