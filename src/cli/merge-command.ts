/** Rigs that meet: what clashes, and new numbers for what does. */
import type { Terminal } from '../edge/terminal.js';
import { mergeRigs, type MergeResult } from '../merge/merge.js';
import type { SideInput } from '../merge/sides.js';
import type { ConventionOptions } from '../profile/conventions.js';
import { readInputs } from '../edge/files.js';
import type { Input } from '../read/index.js';
import { leavesOpen } from '../lint/unjudged.js';
import { reportMergeJson, reportMergeText } from '../reporters/merge.js';
import { RULES } from '../../rules/index.js';
import { conventionsOf } from './configuration.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { fails, type FailAt } from './fail-at.js';
import { joinOptions, type JoinOptions } from './join-options.js';
import { sayReportIn, writeOutputs, type Output } from './output.js';
import { packageVersion } from '../edge/package.js';
import { refuseInPlace, repairedOutputs } from './repaired-files.js';
import { saySettled } from './settle-command.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';
import { todayHere } from './today.js';

export interface MergeCommandOptions extends JoinOptions, ConventionOptions {
  readonly format: 'text' | 'json';
  readonly failAt: FailAt;
  readonly join?: readonly string[];
  readonly ancestor?: readonly string[];
  readonly keep?: string;
  readonly repair?: boolean;
  readonly own?: boolean;
  readonly write?: string;
  readonly inPlace?: boolean;
  readonly output?: string;
  readonly force?: boolean;
  readonly today?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

export async function mergeCommand(
  paths: readonly string[],
  options: MergeCommandOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  if (paths.length < 2) throw new UsageError('name at least two rigs: a file or a folder for each');
  if (options.write !== undefined && options.inPlace === true)
    throw new UsageError('--write and --in-place are two ways to keep the new numbers; choose one');
  refuseInPlace(paths, options);
  const { profile, rules } = await conventionsOf(RULES, options, terminal);
  if (terminal.ledger !== undefined) terminal.ledger.settles = options.inPlace === true;
  // A rig meets others, never itself; each file belongs to one.
  const taken = new Map<string, string>();
  const unread: MergeResult['problems'][number][] = [];
  const read = (paths: readonly string[], others?: Map<string, string>): readonly Input[] => {
    const { inputs, problems } = readInputs(paths, { ...terminal, ...(others === undefined ? {} : { taken: others }) });
    unread.push(...problems);
    return inputs;
  };
  const sides: readonly SideInput[] = paths.map((path) => ({ from: path, inputs: read([path], taken) }));
  const joining = [...read(options.join ?? [], taken), ...joinOptions(options)];
  const ancestor = read(options.ancestor ?? []);
  saySettled(terminal);
  const repair = options.repair === true || options.write !== undefined || options.inPlace === true;
  const merged = mergeRigs(sides, rules, {
    today: options.today ?? todayHere(),
    profile,
    joining,
    ancestor,
    repair,
    keep: options.keep,
    earlier: unread,
  });
  const result = options.own === true ? withOwn(merged) : merged;

  const report = {
    version: packageVersion(),
    width: widthOf(options.width, terminal),
    colour: wantsColour(options.colour, terminal, options.output !== undefined),
  };
  const text = options.format === 'json' ? reportMergeJson(result, report) : reportMergeText(result, report);
  const outputs: Output[] = [];
  if (options.output === undefined) terminal.stdout.write(text);
  else outputs.push({ name: options.output, text, force: options.force ?? false });
  const judged = result.joined !== undefined && result.joined.crashed.length === 0;
  if (judged && (options.write !== undefined || options.inPlace === true))
    outputs.push(...repairedOutputs(result, options, report, terminal));
  if (outputs.length > 0) writeOutputs(terminal, outputs);
  sayReportIn(terminal, options.output);
  if (result.joined === undefined) return EXIT.unusable;
  if (!judged) return EXIT.failed;
  return exitCode(result, options.failAt);
}

/** With a repair, what is left counts: the clashes are what it was asked to mend. */
function exitCode({ joined, repaired }: MergeResult, failAt: FailAt): ExitCode {
  if (repaired !== undefined && repaired.repair.problems.length > 0) return EXIT.unusable;
  const findings = repaired === undefined ? (joined?.findings ?? []) : repaired.left;
  return fails(findings, joined === undefined || leavesOpen(joined), failAt) ? EXIT.findings : EXIT.clean;
}

function withOwn(result: MergeResult): MergeResult {
  const { joined, own } = result;
  if (joined === undefined) return result;
  return { ...result, joined: { ...joined, findings: [...joined.findings, ...own] }, own: [] };
}
