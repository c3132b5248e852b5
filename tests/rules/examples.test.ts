/**
 * Every rule's examples are its tests: a bad example gives exactly the findings in the `.expected.txt` beside it, as data,
 * and none of any other rule; a good example gives none of any rule. How the findings of all bad examples of a rule read
 * is held by one file, `words.txt`. Set UPDATE=1 to write these files anew, then read them: the words are what a crew
 * will read. Files named `bad.beside.sdp` are read together with `bad.yaml`.
 */
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findingText, type Finding, type LabelledLocation } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { plainFacts } from '../../src/words/plain-facts.js';
import { loadRule, read, ruleFolders, type RuleFolder } from './load.js';

const FOLDERS = ruleFolders();
const RULES = await Promise.all(FOLDERS.map(loadRule));
const TODAY = '2026-06-01';
const EXAMPLE = /^(bad|good)(-[a-z0-9-]+)?\.(yaml|json|csv|sdp)$/;

describe.each(FOLDERS)('$id', (folder) => {
  const examples = folder.files.filter((file) => EXAMPLE.test(file));
  const bad = examples.filter((file) => file.startsWith('bad'));

  it('has a bad and a good example', () => {
    expect(bad.length).toBeGreaterThan(0);
    expect(examples.length).toBeGreaterThan(bad.length);
  });

  it.each(bad)('%s gives exactly its findings', (file) => {
    const { findings } = run(folder, file);
    expect(findings.map((finding) => finding.rule)).toContain(folder.id);
    expect(findings.filter((finding) => finding.rule !== folder.id).map(dataOf)).toEqual([]);
    const subjects = findings.map((finding) => finding.subject);
    expect(new Set(subjects).size).toBe(subjects.length);
    expectFile(folder, file.replace(/\.[a-z]+$/, '.expected.txt'), findings.map(dataOf).join('\n'));
  });

  it('words them so', () => {
    const said = bad.flatMap((file) => run(folder, file).findings.map((finding) => wordsOf(file, finding)));
    expectFile(folder, 'words.txt', said.join('\n'));
  });

  it.each(examples.filter((file) => file.startsWith('good')))('%s gives nothing, by any rule', (file) => {
    expect(run(folder, file).findings.map(dataOf)).toEqual([]);
  });
});

function run(folder: RuleFolder, file: string): LintResult {
  const beside = folder.files.filter((other) => other.startsWith(`${file.replace(/\.[a-z]+$/, '')}.beside.`));
  const inputs = [file, ...beside].map((name) => ({ name, text: read(folder, name) }));
  const result = lintInputs(inputs, RULES, { today: TODAY });
  expect(result.problems).toEqual([]);
  expect(result.crashed).toEqual([]);
  return result;
}

function expectFile(folder: RuleFolder, name: string, text: string): void {
  const path = join(folder.folder, name);
  if (process.env['UPDATE'] !== undefined) writeFileSync(path, text);
  expect(existsSync(path), `${folder.id} has no ${name}; UPDATE=1 writes it`).toBe(true);
  expect(text).toBe(read(folder, name));
}

/** What a program gets; facts that are no plain data throw. */
function dataOf(finding: Finding): string {
  const { severity, confidence, rule, subject, parties, touch, at, others, facts } = finding;
  return [
    `${severity} ${confidence} ${rule} | ${subject}\n`,
    `  parties ${parties.join(', ')}\n`,
    `  touch ${touch.kind} ${touch.name}\n`,
    `  at ${markOf(at)}\n`,
    ...others.map((other) => `  also ${markOf(other)}\n`),
    ...Object.entries(plainFacts(facts) as Readonly<Record<string, unknown>>).map(
      ([name, value]) => `  ${name}: ${JSON.stringify(value)}\n`,
    ),
  ].join('');
}

function markOf(mark: LabelledLocation): string {
  const note = mark.note === undefined ? '' : ` ${JSON.stringify(plainFacts(mark.note))}`;
  return `${placeOf(mark)} ${mark.label}${note}`;
}

/** What a person gets. */
function wordsOf(file: string, finding: Finding): string {
  const { what, onAir, fix, at, others } = findingText(finding);
  return [
    `${file} ${placeOf(finding.at)} ${finding.subject}\n`,
    `  what ${what}\n`,
    `  at ${at}\n`,
    ...others.map((label) => `  also ${label}\n`),
    `  on air ${onAir}\n`,
    `  do ${fix}\n`,
  ].join('');
}

function placeOf({ file, line, column }: LabelledLocation): string {
  return `${file.includes('.beside.') ? `${file}:` : ''}${line}:${column}`;
}
