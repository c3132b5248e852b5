/** Options that several commands have. */
import { Option } from 'commander';

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
