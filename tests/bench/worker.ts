/** One measurement in a process of its own: `worker.js parse-json|parse-yaml|lint FILE`. Prints one line of JSON. */
import { readFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { load as parseYaml } from 'js-yaml';
import { lint, load, report } from '../../src/index.js';

const [task = '', file = ''] = process.argv.slice(2);
const text = readFileSync(file, 'utf8');
const start = performance.now();
const outcome = run();
const timeMs = performance.now() - start;
process.stdout.write(JSON.stringify({ timeMs, peakMb: process.resourceUsage().maxRSS / 1024, outcome }));

function run(): string {
  if (task === 'parse-json') return typeof JSON.parse(text);
  if (task === 'parse-yaml') return typeof parseYaml(text);
  const result = lint(load({ inputs: [{ name: file, text }], problems: [] }), { today: '2026-06-01' });
  const page = report.lint.text(result, { version: '0', width: 100, colour: false });
  return `${result.counts.senders} streams, ${result.findings.length} findings, ${result.problems.length} problems, ${result.rulesRun.length} rules, ${page.length > 0 ? 'reported' : 'no report'}`;
}
