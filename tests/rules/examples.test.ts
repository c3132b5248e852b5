/**
 * Every rule's examples are its tests: a bad example gives exactly the findings in the `.expected.txt` beside it and
 * none of any other rule, a good example gives none of any rule. Set UPDATE=1 to write the expected files anew, then
 * read them: they are what a crew will read. Files named `bad.beside.sdp` are read together with `bad.yaml`.
 */
import { findingText } from '../../src/lint/finding.js';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { plainFacts } from '../../src/words/plain-facts.js';
import { worded } from '../tools/worded.js';
import { loadRule, read, ruleFolders } from './load.js';

const FOLDERS = ruleFolders();
const RULES = await Promise.all(FOLDERS.map(loadRule));
const TODAY = '2026-06-01';
const EXAMPLE = /^(bad|good)(-[a-z0-9-]+)?\.(yaml|json|csv|sdp)$/;

describe.each(FOLDERS)('$id', (folder) => {
  const examples = folder.files.filter((file) => EXAMPLE.test(file));

  it('has a bad and a good example', () => {
    expect(examples.some((file) => file.startsWith('bad'))).toBe(true);
    expect(examples.some((file) => file.startsWith('good'))).toBe(true);
  });

  it.each(examples.filter((file) => file.startsWith('bad')))('%s gives exactly its findings', (file) => {
    const result = run(folder, file);
    const expectedFile = file.replace(/\.[a-z]+$/, '.expected.txt');
    const text = result.findings.map(describeFinding).join('\n');
    if (process.env['UPDATE'] !== undefined) writeFileSync(join(folder.folder, expectedFile), text);
    expect(result.findings.map((finding) => finding.rule)).toContain(folder.id);
    expect(text).toBe(read(folder, expectedFile));
    expect(result.findings.filter((finding) => finding.rule !== folder.id).map(describeFinding)).toEqual([]);
    const subjects = result.findings.map((finding) => finding.subject);
    expect(new Set(subjects).size).toBe(subjects.length);
  });

  it.each(examples.filter((file) => file.startsWith('bad')))('%s yields facts that are plain data', (file) => {
    for (const { facts } of run(folder, file).findings)
      if (!('worded' in facts)) expect(plainFacts(facts)).toBeDefined();
  });

  it.each(examples.filter((file) => file.startsWith('good')))('%s gives nothing, by any rule', (file) => {
    expect(run(folder, file).findings.map(describeFinding)).toEqual([]);
  });
});

function run(folder: (typeof FOLDERS)[number], file: string): LintResult {
  const beside = folder.files.filter((other) => other.startsWith(`${file.replace(/\.[a-z]+$/, '')}.beside.`));
  const inputs = [file, ...beside].map((name) => ({ name, text: read(folder, name) }));
  const result = lintInputs(inputs, RULES, { today: TODAY });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result;
}

function describeFinding(one: Finding): string {
  const finding = worded(one);
  const also = finding.others.map((other) => `  also ${placeOf(other)} ${other.label}\n`).join('');
  return [
    `${finding.severity} ${placeOf(finding.at)} ${finding.rule} | ${finding.subject}\n`,
    `  what ${findingText(finding).what}\n`,
    `  at ${finding.at.label}\n`,
    also,
    `  on air ${findingText(finding).onAir}\n`,
    `  do ${findingText(finding).fix}\n`,
    `  touch ${finding.touch.kind} ${finding.touch.name}; parties ${finding.parties.join(', ')}\n`,
  ].join('');
}

function placeOf({ file, line, column }: Finding['at']): string {
  return `${file.includes('.beside.') ? `${file}:` : ''}${line}:${column}`;
}
