import type { Terminal } from '../edge/terminal.js';
import { formatCitation } from '../lint/citation.js';
import { didYouMean } from '../lint/profile.js';
import type { Rule } from '../lint/rule.js';
import { FACTS } from '../model/facts.js';
import { RULES } from '../../rules/index.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';
import { packagePage } from '../edge/package.js';

/** Prints every rule, by family. */
export function rulesCommand(terminal: Terminal): ExitCode {
  const lines: string[] = [];
  let family = '';
  const width = Math.max(...RULES.map((rule) => rule.id.length));
  for (const rule of RULES) {
    const own = rule.id.split('/')[0] ?? '';
    if (own !== family) lines.push(...(family === '' ? [] : ['']), own);
    family = own;
    lines.push(`  ${rule.id.padEnd(width)}  ${rule.severity.padEnd(7)}  ${rule.summary}`);
  }
  terminal.stdout.write(`${lines.join('\n')}\n`);
  return EXIT.clean;
}

/** Prints the page of one rule, with what its code alone knows. */
export function explainCommand(id: string, terminal: Terminal): ExitCode {
  const rule = RULES.find((one) => one.id === id);
  if (rule === undefined)
    throw new UsageError(
      `no rule is called \`${id}\`${didYouMean(
        id,
        RULES.map((one) => one.id),
      )} \`rigproof rules\` lists them`,
    );
  terminal.stdout.write(`${pageOf(rule)}\n${factsOf(rule)}`);
  return EXIT.clean;
}

function pageOf(rule: Rule): string {
  return packagePage('rules', ...rule.id.split('/'), 'README.md');
}

function factsOf(rule: Rule): string {
  const needs = rule.needs.map((need) => `- ${FACTS[need].title}: ${FACTS[need].write}`);
  const thresholds = Object.entries(rule.thresholds ?? {}).map(
    ([name, one]) =>
      `- \`${rule.id}.${name}\`: ${one.what}; ${one.default} unless the house or a profile says otherwise`,
  );
  return [
    '## In short',
    '',
    `Severity: ${rule.severity}. Cites: ${rule.sources.map(formatCitation).join('; ')}.`,
    ...(needs.length === 0 ? [] : ['', 'Judges only what states:', '', ...needs]),
    ...(thresholds.length === 0 ? [] : ['', 'Thresholds:', '', ...thresholds]),
    '',
  ].join('\n');
}
