/** What `rigproof completion` takes. */
import { Argument, type Command } from 'commander';
import type { Terminal } from '../../edge/terminal.js';
import type { ExitCode } from '../exit.js';
import { SHELLS, type Shell } from './shells.js';

export function addCompletionCommand(program: Command, terminal: Terminal, end: (code: ExitCode) => void): void {
  program
    .command('completion')
    .description('Print a script by which a shell completes commands, options and rule names.')
    .addArgument(new Argument('<shell>', 'shell the script is for').choices(SHELLS))
    .action(async (shell: Shell) => {
      const { completionCommand } = await import('../completion-command.js');
      end(completionCommand(shell, program, terminal));
    });
}
