/** The command line: words in, exit code out. Each command loads its own code when it runs. */
import { Command, Option } from 'commander';
import { createLedger, type Ledger } from '../edge/ledger.js';
import type { Terminal } from '../edge/terminal.js';
import type { AllocateCommandOptions } from './allocate-command.js';
import type { ApplyCommandOptions } from './apply-command.js';
import type { DelayCommandOptions } from './delay-command.js';
import type { DiffCommandOptions } from './diff-command.js';
import { addCompletionCommand } from './completion/add.js';
import { dateArgument, headroomArgument, sizeArgument, widthArgument } from './arguments.js';
import { endedBy } from './ended-by.js';
import { addCommandHelp } from './command-help.js';
import { EXIT, type ExitCode } from './exit.js';
import { collect, colour, conventionRules, profile, renamed, stdinFormat } from './shared-options.js';
import { EXIT_HELP, outputOf } from './command-output.js';
import { FAIL_AT } from './fail-at.js';
import type { LintCommandOptions } from './lint-command.js';
import { SEVERITIES } from '../lint/finding.js';
import { LINT_FORMATS } from '../reporters/options.js';
import { addClocksCommand, addFailuresCommand } from './loss-words.js';
import type { MergeCommandOptions } from './merge-command.js';
import { packageVersion } from '../edge/package.js';
import { addMendCommand } from './mend-words.js';
import type { RateCommandOptions } from './rate-command.js';
import type { SheetsCommandOptions } from './sheets-command.js';
import type { TraceCommandOptions } from './trace-command.js';

/** Runs one command line (without node and script name). */
export async function runProgram(words: readonly string[], at: Terminal): Promise<ExitCode> {
  let code: ExitCode = EXIT.clean;
  const terminal: Terminal & { readonly ledger: Ledger } = { ...at, ledger: createLedger() };
  const program = buildProgram(terminal, words, (ended) => {
    code = ended;
  });
  try {
    await program.parseAsync(words, { from: 'user' });
    return code;
  } catch (error) {
    return endedBy(error, terminal);
  }
}

function buildProgram(
  terminal: Terminal & { readonly ledger: Ledger },
  words: readonly string[],
  end: (code: ExitCode) => void,
): Command {
  const program = new Command('rigproof')
    .description('Lints the address and timing plan of a live-production IP media rig.')
    .version(packageVersion())
    .showHelpAfterError('(rigproof --help shows how)')
    .addHelpText('after', EXIT_HELP)
    .option('--largest-file <size>', 'most that is read of one file: 512M, 1G; 256M when not given', sizeArgument)
    .option(
      '--reach <folder>',
      'folder that paths inside files may lead to, besides their own; may be repeated',
      collect,
    )
    .exitOverride()
    .configureHelp({ showGlobalOptions: true })
    .configureOutput(outputOf(terminal, words))
    .hook('preAction', (top) => {
      const { largestFile, reach } = top.opts<{ readonly largestFile?: number; readonly reach?: readonly string[] }>();
      terminal.ledger.mostBytes = largestFile ?? terminal.ledger.mostBytes;
      terminal.ledger.reach = reach ?? [];
    });

  program
    .command('lint')
    .description('Judge one rig, in one file or several, or several rigs joined.')
    .argument(
      '<plan...>',
      'plan files (.yaml, .json), stream lists (.csv), session descriptions (.sdp), or folders of them; - for standard input',
    )
    .addOption(new Option('--format <name>', 'how to report').choices(LINT_FORMATS).default('text'))
    .addOption(
      new Option('--fail-at <severity>', 'least severity that makes the exit code 1; unjudged: what was not judged too')
        .choices(FAIL_AT)
        .default('error'),
    )
    .option('--front', 'show the first page alone: one line a cause, worst for the show first')
    .option('--area <name>', 'show one area of rules alone: groups, igmp, timing, …')
    .addOption(new Option('--severity <name>', 'show one severity alone').choices(SEVERITIES))
    .option('--device <name>', 'show alone what one device or switch has to do with')
    .addOption(profile())
    .addOption(conventionRules())
    .addOption(renamed('--house-rules', '--convention-rules'))
    .option('--baseline <file>', 'report only findings this file does not accept')
    .option('--write-baseline <file>', "accept all of today's findings into a file")
    .option('--output <file>', 'write the report to a file')
    .option('--force', 'overwrite files that exist')
    .addOption(stdinFormat())
    .option('--today <date>', 'date that waivers are held against, YYYY-MM-DD', dateArgument)
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: LintCommandOptions) => {
      const { lintCommand } = await import('./lint-command.js');
      end(await lintCommand(paths, options, terminal));
    });

  addMendCommand(program, terminal, end);

  program
    .command('merge')
    .description('Join rigs that meet: what clashes, who leads clocks and queries, and new numbers for what clashes.')
    .argument('<rig...>', 'a file or folder for each rig')
    .option('--join <file>', 'plan file that says how they meet (joins:, links:); may be repeated', collect)
    .option('--one <vlans>', 'VLANs that become one: Heron:control=Dunlin:control; may be repeated', collect)
    .option('--meet <networks>', 'networks that meet: Heron:red=Dunlin:red; may be repeated', collect)
    .option('--tie <ports>', 'a link between the rigs: Heron:red-core/4=Dunlin:fly-1/24; may be repeated', collect)
    .option('--ancestor <file>', 'plan all of them come from: what it has is one thing; may be repeated', collect)
    .option('--keep <rig>', 'rig whose numbers stay; else whoever has fewer boxes to touch moves')
    .option('--repair', 'propose new numbers, with a change sheet for the crew')
    .option('--write <folder>', 'write all plans with the new numbers, and the change sheet, into a folder')
    .option('--in-place', 'write the new numbers over the plans')
    .option('--own', 'report too what a rig has alone')
    .addOption(new Option('--format <name>', 'how to report').choices(['text', 'json']).default('text'))
    .addOption(
      new Option('--fail-at <severity>', 'least severity that makes the exit code 1; unjudged: what was not judged too')
        .choices(FAIL_AT)
        .default('error'),
    )
    .addOption(profile())
    .addOption(conventionRules())
    .addOption(renamed('--house-rules', '--convention-rules'))
    .option('--output <file>', 'write the report to a file')
    .option('--force', 'overwrite files that exist')
    .option('--today <date>', 'date that waivers are held against, YYYY-MM-DD', dateArgument)
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (paths: readonly string[], options: MergeCommandOptions) => {
      const { mergeCommand } = await import('./merge-command.js');
      end(await mergeCommand(paths, options, terminal));
    });

  program
    .command('apply')
    .description('Put a change sheet into the plans it was made from.')
    .argument('<sheet>', 'change-sheet.json, as merge --write leaves it')
    .argument('<rig...>', 'a file or folder for each rig, as merge was given')
    .option('--join <file>', 'plan file that says how they meet; may be repeated', collect)
    .option('--write <folder>', 'write all plans into a folder')
    .option('--in-place', 'write over the plans')
    .option('--force', 'overwrite files that exist')
    .action(async (sheet: string, paths: readonly string[], options: ApplyCommandOptions) => {
      const { applyCommand } = await import('./apply-command.js');
      end(applyCommand(sheet, paths, options, terminal));
    });

  program
    .command('allocate')
    .description(
      'Make a plan of a request: VLANs, subnets, addresses, groups, ports, queriers and clocks, clear of others.',
    )
    .argument('[request]', 'request file (schemas/request.schema.json)')
    .option('--ask', 'ask at the terminal what a first request needs, and write it')
    .option(
      '--earlier <plan>',
      'an earlier allocation: its numbers hold, only additions get new ones; may be repeated',
      collect,
    )
    .option('--output <file>', 'write the plan to a file')
    .option('--force', 'overwrite files that exist')
    .option('--sheets <folder>', 'write the crew sheets of the plan into a folder')
    .addOption(
      new Option('--format <name>', 'how to report how full it is, or what is short')
        .choices(['text', 'json'])
        .default('text'),
    )
    .addOption(renamed('--keep', '--earlier'))
    .addOption(renamed('--report', '--format'))
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .action(async (path: string | undefined, options: AllocateCommandOptions) => {
      const { allocateCommand } = await import('./allocate-command.js');
      end(await allocateCommand(path, options, terminal));
    });

  program
    .command('rules')
    .description('List every rule.')
    .action(async () => {
      const { rulesCommand } = await import('./rules-command.js');
      end(rulesCommand(terminal));
    });

  program
    .command('explain')
    .description('Say what a rule finds, what it does on air, and how to mend it.')
    .argument('<rule>', 'name of a rule: groups/two-senders')
    .action(async (id: string) => {
      const { explainCommand } = await import('./rules-command.js');
      end(explainCommand(id, terminal));
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
    .addOption(new Option('--format <name>', 'how to say it').choices(['text', 'json']).default('text'))
    .addOption(renamed('--json', '--format json'))
    .action(async (words: readonly string[], options: RateCommandOptions) => {
      const { rateCommand } = await import('./rate-command.js');
      end(rateCommand(words, options, terminal));
    });

  program
    .command('trace')
    .description(
      'Follow one stream through the network, hop by hop: what lint finds about it, what carries it, why, and what would take it.',
    )
    .usage('[options] <plan...> <stream>')
    .argument('<plan-and-stream...>', 'plan files or folders as for lint, then the stream: cam-11/video')
    .addOption(new Option('--format <name>', 'how to answer').choices(['text', 'json']).default('text'))
    .addOption(stdinFormat())
    .addOption(profile('profile that lint judges by'))
    .addOption(conventionRules())
    .addOption(renamed('--house-rules', '--convention-rules'))
    .option('--today <date>', 'date that waivers are held against, YYYY-MM-DD', dateArgument)
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (words: readonly string[], options: TraceCommandOptions) => {
      const { traceCommand } = await import('./trace-command.js');
      end(await traceCommand(words, options, terminal));
    });

  addFailuresCommand(program, terminal, end);
  addClocksCommand(program, terminal, end);

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
      end(delayCommand(paths, options, terminal));
    });

  program
    .command('diff')
    .description('Say what changed between two plans, as the steps a crew does, box by box and one leg at a time.')
    .argument('<old>', 'plan file or folder before')
    .argument('<new>', 'plan file or folder after')
    .addOption(
      new Option('--format <name>', 'a sheet to read, or JSON or CSV of it')
        .choices(['text', 'json', 'csv'])
        .default('text'),
    )
    .addOption(stdinFormat())
    .option('--output <file>', 'write the answer to a file')
    .option('--force', 'overwrite a file that exists')
    .option('--width <columns>', 'columns to wrap text at', widthArgument)
    .addOption(colour())
    .action(async (old: string, now: string, options: DiffCommandOptions) => {
      const { diffCommand } = await import('./diff-command.js');
      end(diffCommand(old, now, options, terminal));
    });

  program
    .command('sheets')
    .description('Print what the crew needs as CSV: host list, stream list, VLANs, switch ports, clocks.')
    .argument('<plan...>', 'plan files or folders as for lint')
    .option('--output <folder>', 'folder to write hosts.csv, streams.csv, vlans.csv, ports.csv and clocks.csv into')
    .option(
      '--only <names>',
      'these sheets, with commas between: hosts,streams; a single one may go to standard output',
    )
    .option('--force', 'overwrite sheets that exist')
    .addOption(stdinFormat())
    .action(async (paths: readonly string[], options: SheetsCommandOptions) => {
      const { sheetsCommand } = await import('./sheets-command.js');
      end(sheetsCommand(paths, options, terminal));
    });

  program
    .command('settle')
    .description('Finish a writing of several files that was cut off, or take it back, so that all are new or all old.')
    .argument('<folder...>', 'folder that a command has named')
    .action(async (paths: readonly string[]) => {
      const { settleCommand } = await import('./settle-command.js');
      end(settleCommand(paths, terminal));
    });

  program
    .command('licences')
    .description('Print the licence of rigproof and of every package it runs on.')
    .action(async () => {
      const { licencesCommand } = await import('./licences-command.js');
      end(licencesCommand(terminal));
    });

  addCompletionCommand(program, terminal, end);
  addCommandHelp(program);

  return program;
}
