import { allocate, type Allocation } from '../allocate/allocate.js';
import type { AllAnswers } from '../allocate/ask/answers.js';
import { EXAMPLE, requestText } from '../allocate/ask/request-text.js';
import { placeOfPath } from '../allocate/places.js';
import { planText } from '../allocate/plan-text.js';
import { rawRequest, readRequest, type RawRequest } from '../allocate/request.js';
import type { Terminal } from '../edge/terminal.js';
import type { Finding } from '../lint/finding.js';
import { lintInputs } from '../lint/lint.js';
import { loadDocuments, loadPlan, type Inputs } from '../plan/load.js';
import type { Plan } from '../plan/types.js';
import { besides, readInputs } from '../edge/files.js';
import type { Input } from '../read/index.js';
import type { RawPlan } from '../read/raw-plan.js';
import {
  reportFullnessJson,
  reportFullnessText,
  reportRefusalsJson,
  reportRefusalsText,
} from '../reporters/allocation.js';
import { crewSheets, SHEETS } from '../reporters/crew.js';
import { reportProblems } from '../reporters/problems.js';
import type { ReportOptions } from '../reporters/options.js';
import type { Document, Location } from '../source/document.js';
import { locate, locateAll } from '../source/locate.js';
import type { Problem } from '../source/problem.js';
import { RULES } from '../../rules/index.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { writeOutputs, type Output } from './output.js';
import { readsBack } from './read-back.js';
import { packageVersion } from '../edge/package.js';
import { writeSheets } from './sheets-command.js';
import { widthOf } from './terminal.js';
import { todayHere } from './today.js';

export interface AllocateCommandOptions {
  readonly ask?: boolean;
  readonly earlier?: readonly string[];
  readonly output?: string;
  readonly force?: boolean;
  readonly sheets?: string;
  readonly format: 'text' | 'json';
  readonly width?: number;
}

/** Makes a plan of a request: to standard output, or to a file with the report on standard output instead. */
export async function allocateCommand(
  path: string | undefined,
  options: AllocateCommandOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  if (options.ask === true) {
    const { askForRequest } = await import('./ask.js');
    return askForRequest(path, { example: EXAMPLE, textOf: readableRequest }, terminal);
  }
  if (path === undefined)
    throw new UsageError(
      'name a request file; `rigproof allocate --ask` asks for what a first one needs and writes it',
    );
  return allocateFrom(path, options, terminal);
}

/** Answers as a request that reads as one. */
function readableRequest(answers: AllAnswers): string {
  const text = requestText(answers);
  const [problem] = readRequest({ name: 'request.yaml', text, format: 'yaml' }).problems;
  if (problem !== undefined)
    throw new UsageError(`nothing was written: the request could not be read (${problem.what})`);
  return text;
}

function allocateFrom(path: string, options: AllocateCommandOptions, terminal: Terminal): ExitCode {
  const { output, force = false, sheets } = options;
  if (sheets !== undefined && output === undefined)
    throw new UsageError(
      '--sheets says on standard output what it wrote; name a file for the plan: --output plan.yaml',
    );
  const page = { version: packageVersion(), width: widthOf(options.width, terminal), colour: false };
  const document = readOneRequest(path, page, terminal);
  if (document === undefined) return EXIT.unusable;
  const request = rawRequest(document);
  const clear = readClear(path, document, request, terminal);
  const keep = readKeep(options.earlier ?? [], terminal);
  const problems = [...clear.problems, ...keep.problems];
  if (problems.length > 0) return unusable(problems, page, terminal);

  const outcome = allocate(request, { plans: [clear.plan], keep: keep.trees });
  if ('refusals' in outcome) {
    const places = outcome.refusals.map(({ at }) => placeOfPath(document, at));
    const locate = locateAll(places);
    const placed = outcome.refusals.map((one, index) => ({
      ...one,
      location: locate(places[index] ?? placeOfPath(document, [])),
    }));
    terminal.stderr.write(options.format === 'json' ? reportRefusalsJson(placed) : reportRefusalsText(placed, page));
    return EXIT.unusable;
  }
  const text = planText(outcome, request);
  const own: Input = { name: output ?? 'plan.yaml', text, format: 'yaml' };
  readsBack(own.name, text, 'yaml', outcome.plan);
  const written = loadPlan([own]);
  const [wrong] = written.problems;
  if (wrong !== undefined)
    throw new UsageError(
      `nothing was written: line ${wrong.at.line} of the plan would not mean what it is to (${wrong.what})`,
    );
  const found = newFindings(own, clear.inputs);
  const report = reportOf(outcome, found, options.format, page);
  if (output === undefined) {
    terminal.stdout.write(text);
    terminal.stderr.write(report);
  } else {
    const plan: Output = {
      name: output,
      text,
      force,
      // The next allocation may take the place of the one it goes on from.
      mayReplace: ({ asked }) => options.earlier?.includes(asked) === true,
    };
    if (sheets === undefined) writeOutputs(terminal, [plan], false);
    const made = sheets === undefined ? [] : crewSheets(written.plan, SHEETS);
    const empty = SHEETS.filter((name) => !made.some((sheet) => sheet.name === `${name}.csv`));
    const said = sheets === undefined ? '' : writeSheets(terminal, sheets, made, empty, force, [plan]);
    terminal.stdout.write(`${report}${said}`);
  }
  return found.some(({ severity }) => severity === 'error') ? EXIT.findings : EXIT.clean;
}

/** The plans a request keeps clear of. Of one that can't be read nothing is said but that: the request may name any file. */
function readClear(
  path: string,
  document: Document,
  request: RawRequest,
  terminal: Terminal,
): Inputs & { readonly plan: Plan } {
  const named = request.keepClear?.plans ?? [];
  const at = (index: number): Location => locate(placeOfPath(document, ['keepClear', 'plans', index]));
  const paths = named.map((one) => besides(path, one));
  const { inputs, problems } = readInputs(paths, { ...terminal, said: { file: path, at } });
  const loaded = loadPlan(inputs);
  const unread = [...new Set(loaded.problems.map((problem) => problem.at.file))].map((file): Problem => ({
    at: at(Math.max(0, paths.indexOf(askedFor(file, terminal) ?? file))),
    what: `\`${file}\` can't be read as a plan`,
    instead: '`rigproof lint` of that file says why',
  }));
  return { inputs, problems: [...problems, ...unread], plan: loaded.plan };
}

/** The path that led to a file. */
function askedFor(file: string, { ledger }: Terminal): string | undefined {
  return [...(ledger?.files.values() ?? [])].find(({ name }) => name === file)?.asked;
}

function reportOf(
  { fullness, notes }: Allocation,
  found: readonly Finding[],
  format: 'text' | 'json',
  page: ReportOptions,
): string {
  const result = { fullness, notes, findings: found };
  return format === 'json' ? reportFullnessJson(result) : reportFullnessText(result, page);
}

/** What all plans together give, and the others alone do not: this is the new plan's. */
function newFindings(own: Input, others: readonly Input[]): readonly Finding[] {
  const options = { today: todayHere() };
  const keyOf = ({ rule, subject }: Finding): string => `${rule} ${subject}`;
  const before = new Set(others.length === 0 ? [] : lintInputs(others, RULES, options).findings.map(keyOf));
  return lintInputs([...others, own], RULES, options).findings.filter((finding) => !before.has(keyOf(finding)));
}

function readOneRequest(path: string, page: ReportOptions, terminal: Terminal): Document | undefined {
  const { inputs, problems } = readInputs([path], terminal);
  const [input, second] = inputs;
  if (second !== undefined) throw new UsageError(`${path} is a folder of several files; name the request itself`);
  if (input === undefined) {
    unusable(problems, page, terminal);
    return undefined;
  }
  const read = readRequest(input);
  if (read.document === undefined) unusable(read.problems, page, terminal);
  return read.document;
}

function readKeep(
  paths: readonly string[],
  terminal: Terminal,
): {
  readonly trees: readonly RawPlan[];
  readonly problems: readonly Problem[];
} {
  const { inputs, problems: unread } = readInputs(paths, terminal);
  const { documents, problems } = loadDocuments(inputs, unread);
  return { trees: documents.map(({ value }) => value as RawPlan), problems };
}

function unusable(problems: readonly Problem[], page: ReportOptions, terminal: Terminal): ExitCode {
  terminal.stderr.write(reportProblems(problems, page));
  return EXIT.unusable;
}
