/** What a shell may offer at each place of a command line, read off the commands themselves. */
import type { Argument, Command, Option } from 'commander';

/** Words to choose from, or paths, or what only the user knows. */
export type Values = readonly string[] | 'files' | 'folders' | 'unknown';

export interface OptionWords {
  /** Long, and short where there is one: `--help`, `-h`. */
  readonly long: string;
  readonly short: string | undefined;
  readonly says: string;
  /** What follows it; undefined where nothing does. */
  readonly values: Values | undefined;
}

export interface CommandWords {
  readonly name: string;
  readonly says: string;
  readonly options: readonly OptionWords[];
  /** What is no option, wherever it stands. */
  readonly values: Values;
}

export interface ProgramWords {
  readonly version: string;
  /** Options that every command takes, before its name too. */
  readonly everywhere: readonly OptionWords[];
  readonly commands: readonly CommandWords[];
}

/** Lists that no command line states, by the long option (`--rule`) or the argument (`rule`) that takes one of them. */
export type NamedLists = Readonly<Record<string, readonly string[]>>;

/** What the values of options stand for, by the name that help gives them. */
const OF_OPTIONS: Readonly<Record<string, Values>> = { file: 'files', plan: 'files', folder: 'folders' };
/** The same for arguments: a rig is a file or a folder there, and a name as the value of an option. */
const OF_ARGUMENTS: Readonly<Record<string, Values>> = {
  plan: 'files',
  'plan-and-stream': 'files',
  rig: 'files',
  sheet: 'files',
  request: 'files',
  old: 'files',
  new: 'files',
  folder: 'folders',
};

export function wordsOf(program: Command, version: string, lists: NamedLists): ProgramWords {
  const help = program.createHelp();
  const commands = help.visibleCommands(program);
  const all: NamedLists = { ...lists, command: commands.map((command) => command.name()) };
  return {
    version,
    everywhere: help.visibleOptions(program).map((option) => optionWords(option, all)),
    commands: commands.map((command) => ({
      name: command.name(),
      says: command.description(),
      options: help
        .visibleOptions(command)
        .filter(({ long }) => long !== '--help')
        .map((option) => optionWords(option, all)),
      values: command.registeredArguments.map((one) => argumentValues(one, all)).find(isKnown) ?? 'unknown',
    })),
  };
}

/** Names of all options, as they are typed. */
export function flagsOf(options: readonly OptionWords[]): readonly string[] {
  return options.flatMap(({ short, long }) => (short === undefined ? [long] : [long, short]));
}

function optionWords(option: Option, lists: NamedLists): OptionWords {
  const { long, short, description, flags, required, argChoices } = option;
  if (long === undefined) throw new Error(`${flags} has no long name`);
  const [, stands = ''] = /<([^>.]+)/.exec(flags) ?? [];
  const values = argChoices ?? lists[long] ?? OF_OPTIONS[stands] ?? 'unknown';
  return { long, short, says: description, values: required ? values : undefined };
}

function argumentValues(argument: Argument, lists: NamedLists): Values {
  const name = argument.name();
  return argument.argChoices ?? lists[name] ?? OF_ARGUMENTS[name] ?? 'unknown';
}

function isKnown(values: Values): boolean {
  return values !== 'unknown';
}
