import type { Terminal } from '../edge/terminal.js';
import { baselineOf, formatBaseline } from '../lint/baseline.js';
import { lintInputs } from '../lint/lint.js';
import type { LintResult } from '../lint/result.js';
import { leavesOpen } from '../lint/unjudged.js';
import type { ConventionOptions } from '../profile/conventions.js';
import { readBaseline } from '../profile/read-baseline.js';
import { readInputs } from '../edge/files.js';
import { REPORTERS } from '../reporters/lint.js';
import { areaOf, showsAll, type FindingFilter } from '../lint/filter.js';
import { didYouMean } from '../lint/profile.js';
import type { Severity } from '../lint/finding.js';
import type { ReportFormat } from '../reporters/options.js';
import type { Rule } from '../lint/rule.js';
import { escapeText } from '../page/escape.js';
import { tally } from '../report/tally.js';
import { counted } from '../words/counts.js';
import { listNames } from '../words/lists.js';
import { RULES } from '../../rules/index.js';
import { fails, type FailAt } from './fail-at.js';
import { conventionsOf, loadBaseline } from './configuration.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { writeOutputs, type Output } from './output.js';
import { meantAs } from './read-back.js';
import { packageVersion } from '../edge/package.js';
import { todayHere } from './today.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';

export interface LintCommandOptions extends ConventionOptions {
  readonly format: ReportFormat;
  readonly failAt: FailAt;
  readonly baseline?: string;
  readonly writeBaseline?: string;
  readonly output?: string;
  readonly force?: boolean;
  readonly stdinFormat?: string;
  readonly front?: boolean;
  readonly area?: string;
  readonly severity?: Severity;
  readonly device?: string;
  readonly today?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

export async function lintCommand(
  paths: readonly string[],
  options: LintCommandOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const { profile, rules } = await conventionsOf(RULES, options, terminal);
  const filter = filterOf(options, rules);
  const baseline = options.baseline === undefined ? undefined : loadBaseline(options.baseline, terminal);
  const { inputs, problems } = readInputs(paths, { stdinFormat: options.stdinFormat, ...terminal });
  const result = lintInputs(inputs, rules, { profile, baseline, today: options.today ?? todayHere() }, problems);
  knownBox(filter, result);

  const text = REPORTERS[options.format](result, {
    version: packageVersion(),
    width: widthOf(options.width, terminal),
    colour: wantsColour(options.colour, terminal, options.output !== undefined),
    filter,
    frontOnly: options.front ?? false,
  });
  const outputs: Output[] = [];
  const force = options.force ?? false;
  if (options.output === undefined) terminal.stdout.write(text);
  else outputs.push({ name: options.output, text, force });
  if (options.writeBaseline !== undefined) {
    if (result.problems.length > 0 || result.crashed.length > 0)
      throw new UsageError('no baseline is written from a plan that could not be judged whole');
    const fresh = baselineOf([...result.findings, ...result.known]);
    const name = options.writeBaseline;
    const baselineText = formatBaseline(fresh);
    const read = readBaseline({ name, text: baselineText });
    meantAs(name, read.baseline, fresh, read.problems);
    outputs.push({ name, text: baselineText, force, mayReplace: ({ asked }) => asked === options.baseline });
  }
  if (outputs.length > 0) {
    writeOutputs(terminal, outputs, false);
    // Standard output may hold the report itself.
    const screen = options.output === undefined ? terminal.stderr : terminal.stdout;
    screen.write(written(options, result).join(''));
  }
  // What is found is accepted with a baseline; what was not judged is not.
  if (options.writeBaseline !== undefined) return exitCode({ ...result, findings: [] }, options.failAt);
  return exitCode(result, options.failAt);
}

/** What was written where. */
function written({ output, writeBaseline }: LintCommandOptions, { findings, known }: LintResult): readonly string[] {
  const accepted = counted(findings.length + known.length, 'finding');
  const found = tally(findings);
  return [
    ...(output === undefined ? [] : [`${escapeText(output)}: the report, ${found === '' ? 'no findings' : found}\n`]),
    ...(writeBaseline === undefined
      ? []
      : [`${escapeText(writeBaseline)}: a baseline that accepts ${accepted}; give it with --baseline\n`]),
  ];
}

/** A look at a part changes neither what is found nor the exit code; programs get all, and pick themselves. */
function filterOf(
  { format, front, area, severity, device }: LintCommandOptions,
  rules: readonly Rule[],
): FindingFilter {
  const filter = { area, severity, device };
  if (format !== 'text' && (front === true || !showsAll(filter)))
    throw new UsageError(`--front, --area, --severity and --device choose from the text; ${format} always has all`);
  const areas = [...new Set(rules.map(({ id }) => areaOf(id)))];
  if (area !== undefined && !areas.includes(area))
    throw new UsageError(
      `no area is called \`${area}\`${didYouMean(area, areas)}; the areas are ${listNames(areas, areas.length)}`,
    );
  return filter;
}

/** Where the plan could not be read, nobody can tell. */
function knownBox({ device }: FindingFilter, { boxes, problems }: LintResult): void {
  if (device === undefined || problems.length > 0 || boxes.includes(device)) return;
  throw new UsageError(`no device or switch is called \`${device}\`${didYouMean(device, boxes)}`);
}

/** The worst that happened. */
export function exitCode(result: LintResult, failAt: FailAt): ExitCode {
  if (result.crashed.length > 0) return EXIT.failed;
  if (result.problems.length > 0) return EXIT.unusable;
  return fails(result.findings, leavesOpen(result), failAt) ? EXIT.findings : EXIT.clean;
}
