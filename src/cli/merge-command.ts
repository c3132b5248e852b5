/** Rigs that meet: what clashes, and new numbers for what does. */
import { mergeRigs, type MergeResult } from '../merge/merge.js';
import type { SideInput } from '../merge/sides.js';
import { readInputs } from '../read/files.js';
import type { Input } from '../read/index.js';
import { SEVERITIES, type Severity } from '../lint/finding.js';
import { reportMergeJson, reportMergeText } from '../reporters/merge.js';
import { RULES } from '../../rules/index.js';
import { loadProfile } from './configuration.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { joinOptions, type JoinOptions } from './join-options.js';
import { writeWhole } from './output.js';
import { packageVersion } from './package.js';
import { writeRepaired } from './repaired-files.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';
import { todayHere } from './today.js';

export interface MergeCommandOptions extends JoinOptions {
  readonly format: 'text' | 'json';
  readonly failAt: Severity;
  readonly join?: readonly string[];
  readonly ancestor?: readonly string[];
  readonly keep?: string;
  readonly repair?: boolean;
  readonly own?: boolean;
  readonly write?: string;
  readonly inPlace?: boolean;
  readonly profile?: string;
  readonly output?: string;
  readonly force?: boolean;
  readonly today?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

export function mergeCommand(paths: readonly string[], options: MergeCommandOptions): ExitCode {
  if (paths.length < 2) throw new UsageError('name at least two rigs: a file or a folder for each');
  if (options.write !== undefined && options.inPlace === true)
    throw new UsageError('--write and --in-place are two ways to keep the new numbers; choose one');
  const unread: MergeResult['problems'][number][] = [];
  const read = (path: string): readonly Input[] => {
    const { inputs, problems } = readInputs([path]);
    unread.push(...problems);
    return inputs;
  };
  const sides: readonly SideInput[] = paths.map((path) => ({ from: path, inputs: read(path) }));
  const joining = [...(options.join ?? []).flatMap(read), ...joinOptions(options)];
  const ancestor = (options.ancestor ?? []).flatMap(read);
  const repair = options.repair === true || options.write !== undefined || options.inPlace === true;
  const merged = mergeRigs(sides, RULES, {
    today: options.today ?? todayHere(),
    profile: loadProfile(options.profile),
    joining,
    ancestor,
    repair,
    keep: options.keep,
    earlier: unread,
  });
  const result = options.own === true ? withOwn(merged) : merged;

  const toFile = options.output !== undefined;
  const report = {
    version: packageVersion(),
    width: widthOf(options.width),
    colour: wantsColour(options.colour, !toFile && process.stdout.isTTY),
  };
  const text = options.format === 'json' ? reportMergeJson(result, report) : reportMergeText(result, report);
  if (options.output === undefined) process.stdout.write(text);
  else writeWhole(options.output, text, options.force ?? false);
  if (result.joined === undefined) return EXIT.unusable;
  if (result.joined.crashed.length > 0) return EXIT.failed;
  if (repair && (options.write !== undefined || options.inPlace === true)) writeRepaired(result, options, report);
  return exitCode(result, options.failAt);
}

/** With a repair, what is left counts: the clashes are what it was asked to mend. */
function exitCode({ joined, repaired }: MergeResult, failAt: Severity): ExitCode {
  if (repaired !== undefined && repaired.repair.problems.length > 0) return EXIT.unusable;
  const limit = SEVERITIES.indexOf(failAt);
  const findings = repaired === undefined ? (joined?.findings ?? []) : repaired.left;
  return findings.some(({ severity }) => SEVERITIES.indexOf(severity) <= limit) ? EXIT.findings : EXIT.clean;
}

function withOwn(result: MergeResult): MergeResult {
  const { joined, own } = result;
  if (joined === undefined) return result;
  return { ...result, joined: { ...joined, findings: [...joined.findings, ...own] }, own: [] };
}
