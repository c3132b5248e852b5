/** Options that several commands have. */
import { InvalidArgumentError, Option } from 'commander';

/** Which there are the readers say, who are loaded only by commands that read. */
export function stdinFormat(): Option {
  return new Option('--stdin-format <ending>', 'what standard input is, when its start does not tell: yaml, csv, …');
}

export function colour(): Option {
  return new Option('--colour <when>', 'colour in text').choices(['auto', 'always', 'never']).default('auto');
}

export function collect(value: string, before: readonly string[] | undefined): readonly string[] {
  return [...(before ?? []), value];
}

export function profile(what = 'profile'): Option {
  return new Option('--profile <file>', `${what}: severities, thresholds, convention rules`);
}

export function conventionRules(): Option {
  const what = 'JavaScript file with rules of your own; may be repeated';
  return new Option('--convention-rules <file>', what).argParser(collect);
}

/** By the name it had before version 0.2: refused with the new one. */
export function oldConventionRules(): Option {
  return new Option('--house-rules <file>').hideHelp().argParser(() => {
    throw new InvalidArgumentError('It is called --convention-rules since version 0.2.');
  });
}
