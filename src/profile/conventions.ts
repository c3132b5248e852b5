/** What a rig's conventions bring to every command that judges: its profile and its rules. */
import { NO_PROFILE, type Profile } from '../lint/profile.js';
import type { Rule } from '../lint/rule.js';
import type { Input } from '../read/index.js';
import type { Location } from '../source/document.js';
import { locate } from '../source/locate.js';
import type { Problem } from '../source/problem.js';
import { rulesOf } from './convention-rules.js';
import { readProfile, unknownNames, type ConventionProfile } from './read-profile.js';

/** Files a user names on the command line. */
export interface ConventionOptions {
  readonly profile?: string | undefined;
  readonly conventionRules?: readonly string[] | undefined;
}

/** Where the conventions' files come from. */
export interface ConventionFiles {
  /** A file of settings, or why it can't be opened. */
  open(path: string): Input | Problem;
  /** What a JavaScript file exports; its path is seen from the file `from`, where there is one. Throws where it can't. */
  run(path: string, from: string | undefined): Promise<{ readonly default?: unknown }>;
}

export interface Conventions {
  readonly profile: Profile;
  /** Built-in rules, then the conventions' own. */
  readonly rules: readonly Rule[];
  /** With any, nothing is to be judged. */
  readonly problems: readonly Problem[];
}

/** Loads conventions; the names in its profile are held against all rules. Never throws on bad input. */
export async function loadConventions(
  builtIn: readonly Rule[],
  options: ConventionOptions,
  files: ConventionFiles,
): Promise<Conventions> {
  const { profile, problems } = openProfile(options.profile, files);
  if (problems.length > 0) return { profile: NO_PROFILE, rules: builtIn, problems };
  const rules = [...builtIn];
  const faults: Problem[] = [];
  for (const module of modulesOf(profile, options)) {
    const own = await runModule(module, files);
    if (typeof own === 'string') {
      faults.push(problemOf(module, own, RULES_FORM));
      continue;
    }
    for (const rule of own) {
      const twice = rules.some(({ id }) => id === rule.id);
      if (twice)
        faults.push(problemOf(module, `a rule called \`${rule.id}\` exists already`, 'give yours another name'));
      else rules.push(rule);
    }
  }
  // A rule that could not be loaded is not one the profile has wrong.
  if (faults.length > 0) return { profile: NO_PROFILE, rules: builtIn, problems: faults };
  return {
    profile: profile ?? NO_PROFILE,
    rules,
    problems: profile === undefined ? [] : unknownNames(profile, rules),
  };
}

const RULES_FORM = 'export a rule, or a list of rules, as default (README.md shows one)';

function openProfile(
  path: string | undefined,
  files: ConventionFiles,
): { readonly profile: ConventionProfile | undefined; readonly problems: readonly Problem[] } {
  if (path === undefined) return { profile: undefined, problems: [] };
  const opened = files.open(path);
  return 'at' in opened ? { profile: undefined, problems: [opened] } : readProfile(opened);
}

/** A file with rules, and where it is named. */
interface RulesModule {
  readonly path: string;
  readonly from: string | undefined;
  readonly at: () => Location;
}

function modulesOf(
  profile: ConventionProfile | undefined,
  { conventionRules = [] }: ConventionOptions,
): readonly RulesModule[] {
  const named = conventionRules.map((path): RulesModule => ({
    path,
    from: undefined,
    at: () => ({ file: path, line: 1, column: 1, endLine: 1, endColumn: 1 }),
  }));
  if (profile === undefined) return named;
  const { document, conventionRules: container } = profile;
  const listed = container.map((path, key): RulesModule => ({
    path,
    from: document.name,
    at: () => locate({ document, container, key }),
  }));
  return [...listed, ...named];
}

function problemOf({ path, from, at }: RulesModule, what: string, instead: string): Problem {
  return { at: at(), what: from === undefined ? what : `${path}: ${what}`, instead };
}

async function runModule({ path, from }: RulesModule, files: ConventionFiles): Promise<readonly Rule[] | string> {
  try {
    return rulesOf(await files.run(path, from));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    const where = /Cannot find package 'rigproof'/.test(why)
      ? '; `rigproof/rule` is found where rigproof is installed in the folder of the file or above, and a rule can do without it'
      : '';
    return `this convention rule file can't be loaded (${why}${where})`;
  }
}
