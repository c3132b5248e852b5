/** The change sheet for programs: one document in the shape of `schemas/sheet.schema.json`. */
import { orderSteps } from '../../compare/order.js';
import type { ChangeSummary, Comparison, NumberedStep } from '../../compare/steps.js';
import { toolJson } from '../common-json.js';

/** A value written anew in a file of the plan; the path leads there by keys, positions and names. */
export interface SheetEdit {
  readonly file: string;
  readonly path: readonly (string | number | { readonly name: string })[];
  readonly old: unknown;
  readonly new: unknown;
}

/** The whole document; `edits` where a program wrote the changes into files. */
export function sheetDocument(comparison: Comparison, version: string, edits?: readonly SheetEdit[]): object {
  const { rigproofSheet, ...sheet } = sheetJson(comparison, edits);
  return { rigproofSheet, tool: toolJson(version), ...sheet };
}

interface SheetData {
  readonly rigproofSheet: 1;
  readonly summary: ChangeSummary | null;
  readonly untouched: readonly unknown[];
  readonly stages: readonly unknown[];
  readonly edits?: readonly unknown[];
}

/** The sheet as part of another document. Keys come in a fixed order; what is not known is null. */
export function sheetJson(comparison: Comparison | undefined, edits?: readonly SheetEdit[]): SheetData {
  const order = comparison === undefined ? { stages: [], untouched: [] } : orderSteps(comparison);
  return {
    rigproofSheet: 1,
    summary: comparison?.summary ?? null,
    untouched: order.untouched.map(({ rig, name }) => ({ rig, name })),
    stages: order.stages.map(({ title, network, steps }) => ({
      title,
      network: network ?? null,
      steps: steps.map(stepJson),
    })),
    ...(edits === undefined
      ? {}
      : { edits: edits.map(({ file, path, old, new: now }) => ({ file, path, old, new: now })) }),
  };
}

function stepJson(step: NumberedStep): unknown {
  return {
    number: step.number,
    rig: step.rig,
    action: step.action,
    box: { kind: step.box.kind, name: step.box.name },
    at: step.at ?? null,
    network: step.network ?? null,
    what: step.what,
    old: step.old ?? null,
    new: step.new ?? null,
    why: step.why ?? null,
    part: step.part,
  };
}
