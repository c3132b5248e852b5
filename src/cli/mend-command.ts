/** Cures of findings carried out: shown as a difference, and written where told. */
import type { Terminal } from '../edge/terminal.js';
import { leavesOpen } from '../lint/unjudged.js';
import { mendPlan, type MendResult } from '../mend/mend.js';
import type { ConventionOptions } from '../profile/conventions.js';
import { readInputs } from '../edge/files.js';
import { reportMendJson, reportMendText } from '../reporters/mend.js';
import { RULES } from '../../rules/index.js';
import { conventionsOf } from './configuration.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { fails, type FailAt } from './fail-at.js';
import { outputsIn, sayReportIn, writeOutputs, type Output } from './output.js';
import { packageVersion } from '../edge/package.js';
import { readsBack } from './read-back.js';
import { inPlace, refuseInPlace, type KeepOptions } from './repaired-files.js';
import { saySettled } from './settle-command.js';
import { wantsColour, widthOf, type ColourChoice } from './terminal.js';
import { todayHere } from './today.js';

export interface MendCommandOptions extends ConventionOptions, KeepOptions {
  readonly format: 'text' | 'json';
  readonly failAt: FailAt;
  readonly likely?: boolean;
  readonly rule?: string;
  readonly subject?: string;
  readonly output?: string;
  readonly stdinFormat?: string;
  readonly today?: string;
  readonly width?: number;
  readonly colour: ColourChoice;
}

export async function mendCommand(
  paths: readonly string[],
  options: MendCommandOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  if (options.write !== undefined && options.inPlace === true)
    throw new UsageError('--write and --in-place are two ways to keep the mended plan; choose one');
  refuseInPlace(paths, options);
  const { profile, rules } = await conventionsOf(RULES, options, terminal);
  const { rule, subject } = options;
  if (rule !== undefined && !rules.some(({ id }) => id === rule))
    throw new UsageError(`no rule is called \`${rule}\`; \`rigproof rules\` lists the rules`);
  if (terminal.ledger !== undefined) terminal.ledger.settles = options.inPlace === true;
  const inputs = readInputs(paths, { stdinFormat: options.stdinFormat, ...terminal });
  saySettled(terminal);
  const result = mendPlan(inputs, rules, {
    profile,
    today: options.today ?? todayHere(),
    likely: options.likely ?? false,
    wanted: (finding) =>
      (rule === undefined || finding.rule === rule) && (subject === undefined || finding.subject === subject),
  });
  const report = {
    version: packageVersion(),
    width: widthOf(options.width, terminal),
    colour: wantsColour(options.colour, terminal, options.output !== undefined),
  };
  const text = options.format === 'json' ? reportMendJson(result, report) : reportMendText(result, report);
  const outputs: Output[] = [];
  if (options.output === undefined) terminal.stdout.write(text);
  else outputs.push({ name: options.output, text, force: options.force ?? false });
  outputs.push(...mendedOutputs(result, options, terminal));
  if (outputs.length > 0) writeOutputs(terminal, outputs);
  sayReportIn(terminal, options.output);
  if (result.before.crashed.length > 0) return EXIT.failed;
  if (result.after === undefined) return EXIT.unusable;
  return fails(result.after.findings, leavesOpen(result.after), options.failAt) ? EXIT.findings : EXIT.clean;
}

/** All files of the plan for a folder, those that do not change too; or those that change, in place. */
function mendedOutputs(result: MendResult, options: KeepOptions, terminal: Terminal): readonly Output[] {
  const { after, documents, files } = result;
  if (after === undefined || (options.write === undefined && options.inPlace !== true)) return [];
  const force = options.force ?? false;
  for (const { name, after: document } of files)
    if (typeof document.content === 'string') readsBack(name, document.content, document.format, document.value);
  if (options.write === undefined)
    return files.map(({ name, after: document }) => inPlace(name, document.content, force, terminal));
  const below = namesBelow(documents.map(({ name }) => name));
  const written = documents.map(({ name, content }) => ({ name: below(name), text: content }));
  return outputsIn(options.write, written, force);
}

/** Names of files from the folder on that holds them all, so that they lie in another folder as they lie in theirs. */
function namesBelow(names: readonly string[]): (name: string) => string {
  const folders = names.map((name) => name.split(/[/\\]/).slice(0, -1));
  const [first = []] = folders;
  let shared = 0;
  while (shared < first.length && folders.every((folder) => folder[shared] === first[shared])) shared++;
  return (name) => {
    if (/^<.*>$/.test(name)) return `${name.slice(1, -1)}.yaml`;
    return name.split(/[/\\]/).slice(shared).join('/');
  };
}
