/** Scripts by which a shell completes command lines of this program. */
import type { Command } from 'commander';
import { packageVersion } from '../edge/package.js';
import type { Terminal } from '../edge/terminal.js';
import { areaOf } from '../lint/filter.js';
import { SHEETS } from '../reporters/crew.js';
import { RULES } from '../../rules/index.js';
import { bashScript } from './completion/bash.js';
import { fishScript } from './completion/fish.js';
import type { Shell } from './completion/shells.js';
import { wordsOf, type ProgramWords } from './completion/words.js';
import { zshScript } from './completion/zsh.js';
import { EXIT, type ExitCode } from './exit.js';

const SCRIPTS: Readonly<Record<Shell, (words: ProgramWords) => string>> = {
  bash: bashScript,
  zsh: zshScript,
  fish: fishScript,
};

/** Prints the script of a shell: every command and option of `program` that its help shows, and rules by name. */
export function completionCommand(shell: Shell, program: Command, terminal: Terminal): ExitCode {
  const rules = RULES.map(({ id }) => id);
  const words = wordsOf(program, packageVersion(), {
    '--rule': rules,
    rule: rules,
    '--area': [...new Set(rules.map(areaOf))],
    '--only': SHEETS,
  });
  terminal.stdout.write(SCRIPTS[shell](words));
  return EXIT.clean;
}
