import { drawMarkdown } from '../draw/markdown.js';
import { drawText } from '../draw/text.js';
import type { Rule } from '../lint/rule.js';
import { rulesPage } from '../report/rules/list-page.js';
import { ruleArticle } from '../report/rules/rule-article.js';
import { UNWRAPPED } from './options.js';

/** Every rule, by family. */
export function reportRulesText(rules: readonly Rule[]): string {
  return drawText(rulesPage(rules), UNWRAPPED);
}

/** The page of a rule, which is Markdown, with what its code alone knows. */
export function reportRuleMarkdown(rule: Rule, page: string): string {
  return `${page}\n${drawMarkdown(ruleArticle(rule))}`;
}
