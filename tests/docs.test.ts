/** The README's output blocks are what the program prints. UPDATE=1 writes them anew; read them afterwards. */
import { findingText } from '../src/lint/finding.js';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { RULES } from '../rules/index.js';
import { lintInputs } from '../src/lint/lint.js';
import { run } from './tools/run-program.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const README = join(ROOT, 'README.md');
/** `<!-- output 20 -->` shows the first 20 lines only. */
const BLOCK = /(<!-- output ?(\d*) -->\n```console\n)(\$ rigproof ([^\n]*)\n)([\s\S]*?)(```)/g;

describe('README', () => {
  it('shows what the program prints', async () => {
    const text = readFileSync(README, 'utf8');
    const blocks = [...text.matchAll(BLOCK)];
    expect(blocks.length).toBeGreaterThan(0);
    const shown: string[] = [];
    for (const [, , lines = '', , words = ''] of blocks) shown.push(shortened(await printed(words.split(' ')), lines));
    const fresh = text.replace(
      BLOCK,
      (_, open: string, __: string, line: string, ___: string, ____: string, close: string) =>
        `${open}${line}${shown.shift() ?? ''}${close}`,
    );
    if (process.env['UPDATE'] !== undefined) writeFileSync(README, fresh);
    expect(readFileSync(README, 'utf8')).toBe(fresh);
  });

  it('shows a plan that is one, and clean', () => {
    const plan = /## The plan[\s\S]*?```yaml\n([\s\S]*?)```/.exec(readFileSync(README, 'utf8'))?.[1] ?? '';
    expect(load(plan)).toHaveProperty('devices');
    const result = lintInputs([{ name: 'readme.yaml', text: plan.replace(/\nwaivers:[\s\S]*/, '\n') }], RULES, {
      today: '2026-06-01',
    });
    expect(result.problems).toEqual([]);
    expect(result.findings.map((one) => `${one.rule} ${findingText(one).what}`)).toEqual([]);
  });

  it('names only rules there are', () => {
    const ids = new Set(RULES.map((rule) => rule.id));
    const families = new Set(RULES.map((rule) => rule.id.split('/')[0]));
    for (const page of ['README.md', 'DEVELOPERS.md']) {
      const named = [
        ...readFileSync(join(ROOT, page), 'utf8').matchAll(/\b([a-z]+)\/([a-z]+(?:-[a-z]+)+)\b(?!\.)/g),
      ].filter(([, family = '']) => families.has(family));
      for (const [id] of named) expect(ids, `${page} names ${id}`).toContain(id);
    }
  });
});

function shortened(text: string, lines: string): string {
  const all = text.split('\n');
  return lines === '' || all.length <= Number(lines) ? text : `${all.slice(0, Number(lines)).join('\n')}\n…\n`;
}

async function printed(words: readonly string[]): Promise<string> {
  // CSV ends its rows as RFC 4180 says; this file ends its lines alike.
  return (await run(words, { cwd: ROOT })).stdout.replaceAll('\r\n', '\n');
}
