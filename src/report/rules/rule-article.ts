/** What the code of a rule alone knows, for the end of its page. */
import { formatCitation } from '../../lint/citation.js';
import type { Rule } from '../../lint/rule.js';
import { FACTS } from '../../model/facts.js';
import type { Article } from '../../page/page.js';
import { prose } from '../../page/phrase.js';
import { list, paragraph } from '../../page/rows.js';

/** Severity and sources, needs, thresholds. */
export function ruleArticle({ id, severity, sources, needs, thresholds = {} }: Rule): Article {
  const cites = sources.map(formatCitation).join('; ');
  return {
    blocks: [
      { heading: 'In short', parts: [paragraph(prose(`Severity: ${severity}. Cites: ${cites}.`))] },
      ...listed(
        'Judges only what states:',
        needs.map((need) => `${FACTS[need].title}: ${FACTS[need].write}`),
      ),
      ...listed(
        'Thresholds:',
        Object.entries(thresholds).map(
          ([name, one]) =>
            `\`${id}.${name}\`: ${one.what}; ${one.default} unless the conventions or a profile says otherwise`,
        ),
      ),
    ],
  };
}

function listed(title: string, items: readonly string[]): Article['blocks'] {
  return items.length === 0 ? [] : [{ parts: [paragraph(prose(title)), ...list(items.map(prose))] }];
}
