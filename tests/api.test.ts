/**
 * What the package shows to the outside. `tests/api.expected.txt` lists every name of every entry with its declaration, so
 * that a change of the surface is seen in review; UPDATE=1 writes it anew. The examples of the documents are compiled as a
 * user of the package would.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { codeBlocks, compileExample } from './tools/compile.js';
import { surfaceOf } from './tools/surface.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const EXPECTED = `${ROOT}tests/api.expected.txt`;
const DOORS = readdirSync(`${ROOT}src/doors`).map((file) => `src/doors/${file}`);
const ENTRIES = ['src/index.ts', ...DOORS, 'src/types.ts'];
/** The package by the names its users import. */
const NAMES = {
  rigproof: 'src/index.ts',
  'rigproof/rule': 'src/doors/rule.ts',
  'rigproof/rule/vlans': 'src/doors/vlans.ts',
  'rigproof/types': 'src/types.ts',
};

describe('the surface', () => {
  const { entries, missing } = surfaceOf(ENTRIES);

  it('is the one that is checked in', () => {
    const text = [...entries]
      .map(([entry, names]) => `${entry}\n${names.map((one) => `  ${one.name}: ${one.text}\n`).join('')}`)
      .join('\n');
    if (process.env['UPDATE'] !== undefined) writeFileSync(EXPECTED, text);
    expect(existsSync(EXPECTED)).toBe(true);
    expect(text).toBe(readFileSync(EXPECTED, 'utf8'));
  });

  it('names every type that it mentions', () => {
    expect(missing).toEqual([]);
  });

  it('is small where it runs: as many functions as there are questions', () => {
    const running = (entries.get('src/index.ts') ?? []).filter(({ text }) => /^(function|const)/.test(text));
    expect(running.length).toBeLessThanOrEqual(30);
  });

  it('calls what functions answer alike', () => {
    const names = (entries.get('src/index.ts') ?? []).map(({ name }) => name);
    const results = ['Lint', 'Trace', 'Failures', 'Clocks', 'Delay', 'Diff', 'Mend', 'Merge', 'Allocate', 'Apply'];
    for (const result of results) expect(names).toContain(`${result}Result`);
  });
});

describe.each(['README.md', 'DEVELOPERS.md'])('the examples of %s', (file) => {
  const blocks = codeBlocks(readFileSync(`${ROOT}${file}`, 'utf8'), 'ts').filter((code) => code.includes("'rigproof"));

  it('are there', () => {
    expect(blocks.length).toBeGreaterThan(0);
  });

  it.each(blocks.map((code) => [code.split('\n')[0] ?? '', code] as const))('%s compiles', (_, code) => {
    const words = blocks.find((one) => one.includes('export function words'));
    expect(compileExample(code, NAMES, words === undefined ? {} : { 'words.ts': words })).toEqual([]);
  });
});
