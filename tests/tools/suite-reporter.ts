/** The end of a run of the suite: time and results of each part, what was not run and why, and one line with the sum. */
import type { Reporter, TestCase, TestModule } from 'vitest/node';
import { reasonIn } from './outside.js';

const PARTS = ['rules', 'unit', 'property', 'outside', 'network', 'twin', 'cli', 'allocate', 'fuzz'];

interface Part {
  ms: number;
  passed: number;
  failed: number;
  skipped: number;
}

export class SuiteReporter implements Reporter {
  readonly #write: (text: string) => void;

  constructor(write: (text: string) => void = (text) => void process.stdout.write(text)) {
    this.#write = write;
  }

  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    const parts = new Map<string, Part>();
    for (const module of modules) add(parts, module);
    const all = sum([...parts.values()]);
    const lines = [...table(parts), ...notRun(modules), ''];
    // A module that cannot be loaded holds no test that could fail, and an error outside all tests belongs to none.
    lines.push(`${all.passed} passed, ${all.failed + errors.length} failed, ${all.skipped} skipped`, '');
    this.#write(lines.join('\n'));
  }
}

function add(parts: Map<string, Part>, module: TestModule): void {
  const folder = /^tests\/([^/]+)\//.exec(module.relativeModuleId)?.[1] ?? '';
  const name = PARTS.includes(folder) ? folder : 'other';
  const part = parts.get(name) ?? { ms: 0, passed: 0, failed: 0, skipped: 0 };
  parts.set(name, part);
  const { collectDuration, duration } = module.diagnostic();
  part.ms += collectDuration + duration;
  let failed = 0;
  for (const test of module.children.allTests()) {
    const { state } = test.result();
    if (state === 'passed') part.passed++;
    else if (state === 'skipped') part.skipped++;
    else failed++;
  }
  part.failed += failed === 0 && module.state() === 'failed' ? 1 : failed;
}

function sum(parts: readonly Part[]): Part {
  const of = (pick: (part: Part) => number): number => parts.reduce((total, part) => total + pick(part), 0);
  return {
    ms: of(({ ms }) => ms),
    passed: of(({ passed }) => passed),
    failed: of(({ failed }) => failed),
    skipped: of(({ skipped }) => skipped),
  };
}

function table(parts: ReadonlyMap<string, Part>): readonly string[] {
  const rows = [...PARTS, 'other'].flatMap((name) => {
    const part = parts.get(name);
    if (part === undefined) return [];
    return [[name, (part.ms / 1000).toFixed(1), String(part.passed), String(part.failed), String(part.skipped)]];
  });
  const lines = [['part', 'seconds', 'passed', 'failed', 'skipped'], ...rows];
  return [
    '',
    ...lines.map(([name = '', ...cells]) => name.padEnd(10) + cells.map((cell) => cell.padStart(9)).join('')),
  ];
}

/** Tests that were skipped, under the reason their titles or they themselves give. */
function notRun(modules: readonly TestModule[]): readonly string[] {
  const groups = new Map<string, Map<string, number>>();
  for (const module of modules) {
    for (const test of module.children.allTests('skipped')) {
      const { reason, what } = told(test, module.relativeModuleId);
      const group = groups.get(reason) ?? new Map<string, number>();
      groups.set(reason, group.set(what, (group.get(what) ?? 0) + 1));
    }
  }
  return [...groups].flatMap(([reason, group]) => [
    '',
    `not run, because ${reason}:`,
    ...[...group].map(([what, tests]) => `  ${what} (${tests === 1 ? '1 test' : `${tests} tests`})`),
  ]);
}

function told(test: TestCase, file: string): { readonly reason: string; readonly what: string } {
  const result = test.result();
  const note = result.state === 'skipped' ? result.note : undefined;
  if (note !== undefined) return { reason: note, what: `${file}: ${test.fullName}` };
  for (let one: TestCase | TestCase['parent'] = test; one.type !== 'module'; one = one.parent) {
    const reason = reasonIn(one.name);
    if (reason !== undefined)
      return { reason, what: `${file}: ${one.fullName.replace(/ \((skipped:|needs) .+\)$/, '')}` };
  }
  return { reason: 'they were not asked for, or give no reason', what: file };
}
