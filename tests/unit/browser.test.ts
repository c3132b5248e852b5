/**
 * The engine runs where there is little but the language: bundled for a browser, in a context of its own that has no
 * Node, no page, and no way to make code of text, it says of the examples what it says here.
 */
import { build, type BuildResult } from 'esbuild';
import { fileURLToPath } from 'node:url';
import { createContext, Script } from 'node:vm';
import { beforeAll, describe, expect, it } from 'vitest';
import { lint, load, report, type LintResult } from '../../src/engine.js';
import { readInputs } from '../../src/edge/files.js';
import { built } from '../tools/built.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const BAY = `${ROOT}examples/kestrel-bay`;
const PAGE = { version: '0.1.0', width: 100, colour: false };
const TODAY = { today: '2026-06-01' };
let bundle: BuildResult<{ metafile: true; write: false }>;
let code = '';

beforeAll(async () => {
  bundle = await build({
    entryPoints: [built('src/engine.js')],
    bundle: true,
    platform: 'browser',
    format: 'iife',
    globalName: 'engine',
    target: 'es2023',
    metafile: true,
    write: false,
    logLevel: 'silent',
  });
  code = bundle.outputFiles[0]?.text ?? '';
});

/** What the bundle says, from text to text. Of this side only `TextEncoder` gets in, which every browser has too. */
function inContext(call: string, given: object): string {
  const context = createContext(
    { given: JSON.stringify(given), TextEncoder },
    { codeGeneration: { strings: false, wasm: false } },
  );
  new Script(code).runInContext(context);
  return new Script(`JSON.stringify(${call})`).runInContext(context) as string;
}

function reports(result: LintResult): readonly string[] {
  return [report.lint.text(result, PAGE), report.lint.json(result, PAGE), report.lint.sarif(result, PAGE)];
}

describe('the bundle', () => {
  it('holds the packages that read and count, and nothing of Node', () => {
    const packages = Object.keys(bundle.metafile.inputs).flatMap(
      (path) => /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(path)?.[1] ?? [],
    );
    expect([...new Set(packages)].sort()).toEqual(['@noble/hashes', 'get-east-asian-width', 'ip-address', 'js-yaml']);
    const outside = Object.values(bundle.metafile.outputs).flatMap(({ imports }) => imports.map(({ path }) => path));
    expect(outside).toEqual([]);
  });

  it.each(['heron', 'heron-broken', 'dunlin', 'dunlin-broken'])('judges %s as the program does', (rig) => {
    const { inputs, problems } = readInputs([`${BAY}/${rig}`]);
    expect([inputs.length > 0, problems]).toEqual([true, []]);
    const result = lint(load({ inputs, problems }), TODAY);
    const said = inContext(
      `(() => {
        const { inputs, page, today } = JSON.parse(given);
        const result = engine.lint(engine.load({ inputs, problems: [] }), { today });
        return [engine.report.lint.text(result, page), engine.report.lint.json(result, page), engine.report.lint.sarif(result, page)];
      })()`,
      { inputs, page: PAGE, ...TODAY },
    );
    expect(JSON.parse(said)).toEqual(reports(result));
    expect(result.findings.length > 0).toBe(rig.endsWith('broken'));
  });

  it('refuses a broken plan and a broken profile at their places', () => {
    const said = inContext(
      `[
        engine.lint(engine.load({ inputs: [{ name: 'plan.yaml', text: 'devices:\\n  - name: cam-1\\n    knd: x\\n' }], problems: [] }), { today: '2026-06-01' }).problems,
        engine.readProfile({ name: 'conventions.yaml', text: 'severty: {}' }).problems,
      ]`,
      {},
    );
    expect(JSON.parse(said)).toMatchObject([
      [{ at: { file: 'plan.yaml', line: 3, column: 5 }, what: 'unknown key `knd` in `devices`' }],
      [{ at: { file: 'conventions.yaml', line: 1, column: 1 }, what: 'unknown key `severty` in the profile' }],
    ]);
  });
});
