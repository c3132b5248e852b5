/** The command line: words in, exit code out. Each command loads its own code when it runs. */
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import type { ClocksCommandOptions } from './clocks-command.js';
import type { DelayCommandOptions } from './delay-command.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import type { FailuresCommandOptions } from './failures-command.js';
import type { LintCommandOptions } from './lint-command.js';
import { packageVersion } from './package.js';
import type { RateCommandOptions } from './rate-command.js';
import type { TraceCommandOptions } from './trace-command.js';

const EXIT_HELP = `
Exit codes:
  0  nothing at or above --fail-at
  1  findings at or above --fail-at
  2  a plan that can't be read, or wrong usage
  3  a rule or the program failed

A clean result is a check on paper, not proof for air. Safety intercom and
public address follow local codes and competent testing.`;

/** Runs one command line (without node and script name). */
export async function runProgram(words: readonly string[]): Promise<ExitCode> {
  let code: ExitCode = EXIT.clean;
  const program = buildProgram((ended) => {
    code = ended;
  });
  try {
    await program.parseAsync(words, { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.clean : EXIT.unusable;
    if (error instanceof UsageError) {
      process.stderr.write(`rigproof: ${error.message}\n`);
      return EXIT.unusable;
    }
    process.stderr.write(
      `rigproof failed: ${error instanceof Error ? error.message : String(error)}\nThis is a fault of the program, not of the plan.\n`,
    );
    return EXIT.failed;
  }
}

function buildProgram(end: (code: ExitCode) => void): Command {
  const program = new Command('rigproof')
    .description('Lints the address and timing plan of a live-production IP media rig.')
    .version(packageVersion())
    .showHelpAfterError('(rigproof --help shows how)')
    .addHelpText('after', EXIT_HELP)
    .exitOverride();

  program
    .command('lint')
    .description('Judge one rig, in one file or several, or several rigs joined.')
    .argument(
      '<plan...>',
      'plan files (.yaml, .json), stream lists (.csv), session descriptions (.sdp), or folders of them; - for standard input',
    )
    .addOption(new Option('--format <name>', 'how to report').choices(['text', 'json', 'sarif']).default('text'))
    .addOption(
      new Option('--fail-at <severity>', 'least severity that makes the exit code 1')
        .choices(['error', 'warning', 'note'])
        .default('error'),
    )
    .option('--profile <file>', 'house profile: severities, thresholds, house rules')
    .option('--house-rules <file>', 'JavaScript file with rules of your own; may be repeated', collect)
    .option('--baseline <file>', 'report only findings this file does not accept')
    .option('--write-baseline <file>', "accept all of today's findings into a file")
    .option('--output <file>', 'write the report to a file')
    .option('--force', 'overwrite files that exist')
    .addOption(
      new Option('--stdin-format <name>', 'what standard input is, when its start does not tell').choices([
        'yaml',
        'json',
        'csv',
        'sdp',
      ]),
    )
    .option('--today <date>', 'date that waivers are held against, YYYY-MM-DD', dateArgument)
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(new Option('--colour <when>', 'colour in text').choices(['auto', 'always', 'never']).default('auto'))
    .action(async (paths: readonly string[], options: LintCommandOptions) => {
      const { lintCommand } = await import('./lint-command.js');
      end(await lintCommand(paths, options));
    });

  program
    .command('rules')
    .description('List every rule.')
    .action(async () => {
      const { rulesCommand } = await import('./rules-command.js');
      end(rulesCommand());
    });

  program
    .command('explain')
    .description('Say what a rule finds, what it does on air, and how to mend it.')
    .argument('<rule>', 'name of a rule: groups/two-senders')
    .action(async (id: string) => {
      const { explainCommand } = await import('./rules-command.js');
      end(explainCommand(id));
    });

  program
    .command('rate')
    .description('Say what one stream of a format puts on the wire; without a format, how formats are said.')
    .argument('[format...]', 'format in words: "1080p50", "L24 8ch 125us", "1080p50 jpegxs 3bpp"')
    .option(
      '--headroom <percent>',
      'part of a port to keep free, 10 when not given (common practice keeps 10 to 20)',
      headroomArgument,
    )
    .option('--json', 'as JSON')
    .action(async (words: readonly string[], options: RateCommandOptions) => {
      const { rateCommand } = await import('./rate-command.js');
      end(rateCommand(words, options));
    });

  program
    .command('trace')
    .description('Follow one stream through the network, hop by hop: what carries it, why, and what would take it.')
    .usage('[options] <plan...> <stream>')
    .argument('<plan-and-stream...>', 'plan files or folders as for lint, then the stream: cam-11/video')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json']).default('text'))
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (words: readonly string[], options: TraceCommandOptions) => {
      const { traceCommand } = await import('./trace-command.js');
      end(traceCommand(words, options));
    });

  program
    .command('failures')
    .description(
      'Rank what each single failure takes off air: switches, links, devices, interfaces, shared risks, power feeds.',
    )
    .argument('<plan...>', 'plan files or folders as for lint')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json', 'csv']).default('text'))
    .option('--all', 'show too what takes nothing off air and only weakens')
    .option('--lose <name>', 'say in full what the failure of one thing does')
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: FailuresCommandOptions) => {
      const { failuresCommand } = await import('./failures-command.js');
      end(failuresCommand(paths, options));
    });

  program
    .command('clocks')
    .description('Say who leads each PTP domain and why, who follows through what, and what each loss changes.')
    .argument('<plan...>', 'plan files or folders as for lint')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json']).default('text'))
    .option('--all', 'name every follower, and losses that change only the way')
    .option(
      '--lose <name>',
      'elect again without a clock, switch, link, risk or power feed; "reference NAME" for what a clock is locked to',
    )
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: ClocksCommandOptions) => {
      const { clocksCommand } = await import('./clocks-command.js');
      end(clocksCommand(paths, options));
    });

  program
    .command('delay')
    .description('Add up what each stream waits on its way, hold sound against picture, and speech out and back.')
    .argument('<plan...>', 'plan files or folders as for lint')
    .option('--stream <name>', 'one stream, part by part, at each of its receivers: cam-11/video')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json']).default('text'))
    .option('--all', 'list every reception')
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: DelayCommandOptions) => {
      const { delayCommand } = await import('./delay-command.js');
      end(delayCommand(paths, options));
    });

  return program;
}

function stdinFormat(): Option {
  return new Option('--stdin-format <name>', 'what standard input is, when its start does not tell').choices([
    'yaml',
    'json',
    'csv',
    'sdp',
  ]);
}

function colour(): Option {
  return new Option('--colour <when>', 'colour in text').choices(['auto', 'always', 'never']).default('auto');
}

function collect(value: string, before: readonly string[] | undefined): readonly string[] {
  return [...(before ?? []), value];
}

function dateArgument(value: string): string {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(value) ? Date.parse(`${value}T00:00:00Z`) : Number.NaN;
  if (Number.isNaN(time)) throw new InvalidArgumentError('Write a date as YYYY-MM-DD.');
  return value;
}

function widthArgument(value: string): number {
  const columns = Number(value);
  if (!Number.isInteger(columns) || columns < 40 || columns > 1000)
    throw new InvalidArgumentError('Write a number of columns from 40 to 1000.');
  return columns;
}

function headroomArgument(value: string): number {
  const percent = value.trim() === '' ? Number.NaN : Number(value);
  if (!(percent >= 0 && percent < 100)) throw new InvalidArgumentError('Write a percentage from 0 to less than 100.');
  return percent;
}
