/** What `rigproof failures` and `rigproof clocks` take. */
import { type Command, Option } from 'commander';
import type { Terminal } from '../edge/terminal.js';
import { widthArgument } from './arguments.js';
import type { ClocksCommandOptions } from './clocks-command.js';
import type { ExitCode } from './exit.js';
import type { FailuresCommandOptions } from './failures-command.js';
import { colour, stdinFormat } from './shared-options.js';

export function addFailuresCommand(program: Command, terminal: Terminal, end: (code: ExitCode) => void): void {
  program
    .command('failures')
    .description(
      'Rank what each single failure takes off air: switches, links, devices, interfaces, shared risks, power feeds.',
    )
    .argument('<plan...>', 'plan files or folders as for lint')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json', 'csv']).default('text'))
    .option('--all', 'show too what takes nothing off air and only weakens; with --timeline, name everybody')
    .option(
      '--lose <name>',
      'say in full what the failure of one thing does; with --timeline, NAME:reference for what a clock is locked to',
    )
    .option('--timeline', 'with --lose: what happens after it, from second to second')
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: FailuresCommandOptions) => {
      const { failuresCommand } = await import('./failures-command.js');
      end(failuresCommand(paths, options, terminal));
    });
}

export function addClocksCommand(program: Command, terminal: Terminal, end: (code: ExitCode) => void): void {
  program
    .command('clocks')
    .description('Say who leads each PTP domain and why, who follows through what, and what each loss changes.')
    .argument('<plan...>', 'plan files or folders as for lint')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json']).default('text'))
    .option('--all', 'name every follower, and losses that change only the way')
    .option(
      '--lose <name>',
      'elect again without a clock, switch, link, risk or power feed; NAME:reference for what a clock is locked to',
    )
    .option('--return', 'with --lose: what clocks do once it is given back, from second to second')
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: ClocksCommandOptions) => {
      const { clocksCommand } = await import('./clocks-command.js');
      end(clocksCommand(paths, options, terminal));
    });
}
