/** Profiles, house rules and baselines from files named on the command line. */
import { readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Terminal } from '../edge/terminal.js';
import { readBaseline, type Baseline } from '../lint/baseline.js';
import { SEVERITIES } from '../lint/finding.js';
import { checkProfile, NO_PROFILE, readProfile, type Profile } from '../lint/profile.js';
import type { Rule } from '../lint/rule.js';
import { FACTS } from '../model/facts.js';
import { readJson } from '../read/json.js';
import { readYaml } from '../read/yaml.js';
import { UsageError } from './exit.js';
import { reasonOf } from './output.js';

export function loadProfile(path: string | undefined, terminal: Terminal): Profile {
  if (path === undefined) return NO_PROFILE;
  const profile = readProfile(loadValue(path, terminal));
  if (typeof profile === 'string') throw new UsageError(`${path}: ${profile}`);
  return {
    ...profile,
    houseRules: profile.houseRules.map((one) => resolve(terminal.cwd, dirname(path), one)),
  };
}

/** Built-in rules and the house's own; the profile's names are checked against all of them. */
export async function loadRules(
  builtIn: readonly Rule[],
  profile: Profile,
  profilePath: string | undefined,
  paths: readonly string[],
  { cwd }: Terminal,
): Promise<readonly Rule[]> {
  const rules = [...builtIn];
  for (const path of [...profile.houseRules, ...paths.map((one) => resolve(cwd, one))]) {
    for (const rule of await importRules(path)) {
      if (rules.some((known) => known.id === rule.id))
        throw new UsageError(`${path}: a rule called \`${rule.id}\` exists already; give yours another name`);
      rules.push(rule);
    }
  }
  const wrong = checkProfile(profile, rules);
  if (wrong !== undefined) throw new UsageError(`${profilePath ?? 'profile'}: ${wrong}`);
  return rules;
}

export function loadBaseline(path: string, terminal: Terminal): Baseline {
  const baseline = readBaseline(loadValue(path, terminal));
  if (typeof baseline === 'string') throw new UsageError(`${path}: ${baseline}`);
  return baseline;
}

/** A YAML or JSON file as plain values. */
export function loadValue(path: string, { cwd }: Terminal): unknown {
  let text: string;
  try {
    text = readFileSync(resolve(cwd, path), 'utf8').replace(/^\ufeff/, '');
  } catch (error) {
    throw new UsageError(`${path} can't be read (${reasonOf(error, cwd)})`);
  }
  const read = path.toLowerCase().endsWith('.json') ? readJson(path, text) : readYaml(path, text);
  if (read.document !== undefined) return read.document.value;
  const [problem] = read.problems;
  throw new UsageError(
    problem === undefined
      ? `${path} can't be read`
      : `${path} line ${problem.at.line}, column ${problem.at.column}: ${problem.what}; ${problem.instead}`,
  );
}

async function importRules(path: string): Promise<readonly Rule[]> {
  let module: { readonly default?: unknown };
  try {
    module = (await import(pathToFileURL(path).href)) as { readonly default?: unknown };
  } catch (error) {
    throw new UsageError(
      `${path}: this house rule file can't be loaded (${error instanceof Error ? error.message : String(error)})`,
    );
  }
  const rules: readonly unknown[] = Array.isArray(module.default) ? module.default : [module.default];
  for (const rule of rules) {
    const wrong = faultOfRule(rule);
    if (wrong !== undefined)
      throw new UsageError(
        `${path}: ${wrong}; export a rule, or a list of rules, as default (DEVELOPERS.md shows one)`,
      );
  }
  return rules as readonly Rule[];
}

/** House rules may be plain JavaScript, so their shape is checked here and not by a compiler. */
function faultOfRule(rule: unknown): string | undefined {
  if (typeof rule !== 'object' || rule === null) return 'the default export is not a rule';
  const { id, summary, severity, sources, needs, check } = rule as Readonly<Record<string, unknown>>;
  if (typeof id !== 'string' || !/^[a-z0-9-]+\/[a-z0-9-]+$/.test(id))
    return 'the `id` of a rule is `family/fault` in small letters';
  if (typeof summary !== 'string') return `\`${id}\` has no \`summary\``;
  if (!SEVERITIES.some((known) => known === severity))
    return `the \`severity\` of \`${id}\` is not one of ${SEVERITIES.join(', ')}`;
  if (!Array.isArray(sources)) return `\`${id}\` has no list of \`sources\``;
  if (!Array.isArray(needs)) return `\`${id}\` has no list of \`needs\` (it may be empty)`;
  const strange = (needs as readonly unknown[]).find((need) => typeof need !== 'string' || !Object.hasOwn(FACTS, need));
  if (strange !== undefined) return `\`${id}\` needs ${JSON.stringify(strange)}, which is no known fact`;
  return typeof check === 'function' ? undefined : `\`${id}\` has no \`check\` function`;
}
