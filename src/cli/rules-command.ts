import { packagePage } from '../edge/package.js';
import type { Terminal } from '../edge/terminal.js';
import type { Rule } from '../lint/rule.js';
import { didYouMean } from '../lint/profile.js';
import { reportRuleMarkdown, reportRulesText } from '../reporters/rules.js';
import { RULES } from '../../rules/index.js';
import { EXIT, UsageError, type ExitCode } from './exit.js';

/** Prints every rule, by family. */
export function rulesCommand(terminal: Terminal): ExitCode {
  terminal.stdout.write(reportRulesText(RULES));
  return EXIT.clean;
}

/** Prints the page of one rule, with what its code alone knows; a last part that one rule has is name enough. */
export function explainCommand(id: string, terminal: Terminal): ExitCode {
  const rule = RULES.find((one) => one.id === id) ?? onlyOf(id);
  if (rule === undefined)
    throw new UsageError(
      `no rule is called \`${id}\`${
        didYouMean(
          id,
          RULES.map((one) => one.id),
        ) || ';'
      } \`rigproof rules\` lists them`,
    );
  const page = packagePage('rules', ...rule.id.split('/'), 'README.md');
  terminal.stdout.write(reportRuleMarkdown(rule, page));
  return EXIT.clean;
}

function onlyOf(lastPart: string): Rule | undefined {
  const [first, ...more] = RULES.filter((one) => one.id.endsWith(`/${lastPart}`));
  return more.length === 0 ? first : undefined;
}
