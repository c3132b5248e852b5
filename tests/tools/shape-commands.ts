/** The commands whose growth is watched, as calls of the library, reports included. */
import {
  addUpDelays,
  baselineOf,
  crewSheets,
  diffPlans,
  electClocks,
  formatBaseline,
  lint,
  listFailures,
  load,
  report,
  traceStream,
  type Input,
} from '../../src/engine.js';

const PAGE = { version: '0', width: 100, colour: false };
const TODAY = { today: '2026-06-01' };

/** By name; each gives the length of what it says, so that nothing is left out. */
export const COMMANDS: ReadonlyMap<string, (inputs: readonly Input[]) => number> = new Map([
  ['lint', (inputs) => report.lint.text(lint(loaded(inputs), TODAY), PAGE).length],
  [
    'machine',
    (inputs) => {
      const result = lint(loaded(inputs), TODAY);
      return (
        report.lint.json(result, PAGE).length +
        report.lint.sarif(result, PAGE).length +
        formatBaseline(baselineOf(result.findings)).length
      );
    },
  ],
  ['failures', (inputs) => answered(listFailures(loaded(inputs)), report.failures.text)],
  ['clocks', (inputs) => answered(electClocks(loaded(inputs)), report.clocks.text)],
  ['delay', (inputs) => answered(addUpDelays(loaded(inputs)), report.delay.text)],
  [
    'trace',
    (inputs) => {
      const one = loaded(inputs);
      return answered(traceStream(one, one.plan.senders[0]?.label ?? 'none'), report.trace.text);
    },
  ],
  ['sheets', (inputs) => crewSheets(loaded(inputs).plan).reduce((sum, { text }) => sum + text.length, 0)],
  ['diff', (inputs) => report.diff.text(diffPlans(loaded(inputs), loaded(inputs)), PAGE).length],
]);

function loaded(inputs: readonly Input[]): ReturnType<typeof load> {
  return load({ inputs, problems: [] });
}

function answered<T extends object>(
  answer: T | { readonly unknown: string },
  text: (result: T, options: typeof PAGE) => string,
): number {
  return 'unknown' in answer ? 0 : text(answer, PAGE).length;
}
