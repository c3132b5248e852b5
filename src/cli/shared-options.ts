/** Options that several commands have. */
import { Option } from 'commander';
import { UsageError } from './exit.js';

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

/** An option by the name it had before version 0.2, `--json`: refused with the new one. */
export function renamed(name: string, now: string): Option {
  // A value there may be makes the parser run with and without one.
  return new Option(`${name} [value]`)
    .preset('')
    .hideHelp()
    .argParser(() => {
      throw new UsageError(`${name} is called ${now} since version 0.2`);
    });
}
