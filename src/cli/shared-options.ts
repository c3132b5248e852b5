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

/** An option by the name it had before version 0.2: refused with the new one. */
export function oldName(flags: string, now: string): Option {
  return new Option(flags).hideHelp().argParser(() => {
    throw new InvalidArgumentError(`It is called ${now} since version 0.2.`);
  });
}
