/** What `rigproof mend` takes. */
import { type Command, Option } from 'commander';
import type { Terminal } from '../edge/terminal.js';
import { dateArgument, widthArgument } from './arguments.js';
import type { ExitCode } from './exit.js';
import { FAIL_AT } from './fail-at.js';
import type { MendCommandOptions } from './mend-command.js';
import { colour, conventionRules, profile, renamed, stdinFormat } from './shared-options.js';

export function addMendCommand(program: Command, terminal: Terminal, end: (code: ExitCode) => void): void {
  program
    .command('mend')
    .description('Carry out the cures of what lint finds: shown as a difference, and written where told.')
    .argument('<plan...>', 'plan files or folders as for lint')
    .option('--likely', 'likely cures too; else those alone that are certain')
    .option('--rule <name>', 'only findings of this rule: groups/leg-map')
    .option('--subject <text>', 'only the finding of this subject, as a report prints it beside "subject"')
    .option('--write <folder>', 'write the mended plan, all of its files, into a folder')
    .option('--in-place', 'write over the files that change')
    .addOption(new Option('--format <name>', 'how to report').choices(['text', 'json']).default('text'))
    .addOption(
      new Option(
        '--fail-at <severity>',
        'least severity left that makes the exit code 1; unjudged: what was not judged too',
      )
        .choices(FAIL_AT)
        .default('error'),
    )
    .addOption(profile())
    .addOption(conventionRules())
    .addOption(renamed('--house-rules', '--convention-rules'))
    .option('--output <file>', 'write the report to a file')
    .option('--force', 'overwrite files that exist')
    .addOption(stdinFormat())
    .option('--today <date>', 'date that waivers are held against, YYYY-MM-DD', dateArgument)
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: MendCommandOptions) => {
      const { mendCommand } = await import('./mend-command.js');
      end(await mendCommand(paths, options, terminal));
    });
}
