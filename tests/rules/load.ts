/** Rules and their examples, found by walking `rules/`. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Rule } from '../../src/lint/rule.js';

export const RULES_FOLDER = fileURLToPath(new URL('../../rules', import.meta.url));

export interface RuleFolder {
  readonly id: string;
  readonly folder: string;
  readonly files: readonly string[];
}

/** Set FAMILY to look at one family of rules only while working on it; `all` whatever is set. */
export function ruleFolders(family: string | undefined = process.env['FAMILY']): readonly RuleFolder[] {
  return folders(RULES_FOLDER)
    .filter((name) => family === undefined || family === 'all' || family.split(',').includes(name))
    .flatMap((name) =>
      folders(join(RULES_FOLDER, name)).map((fault) => {
        const folder = join(RULES_FOLDER, name, fault);
        return { id: `${name}/${fault}`, folder, files: readdirSync(folder).sort() };
      }),
    );
}

export async function loadRule(folder: RuleFolder): Promise<Rule> {
  const module = (await import(join(folder.folder, 'rule.ts'))) as { readonly default: Rule };
  return module.default;
}

export function read(folder: RuleFolder, file: string): string {
  return readFileSync(join(folder.folder, file), 'utf8');
}

function folders(at: string): readonly string[] {
  return readdirSync(at, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
}
