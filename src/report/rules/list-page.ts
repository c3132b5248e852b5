/** All rules, for a person. */
import { groupBy } from '../../collections/group-by.js';
import type { Rule } from '../../lint/rule.js';
import type { Column, Page } from '../../page/page.js';
import { name, prose } from '../../page/phrase.js';
import { block, paragraph } from '../../page/rows.js';

/** By family, in the order given. */
export function rulesPage(rules: readonly Rule[]): Page {
  const columns: readonly Column[] = [
    { type: 'name', least: widest(rules.map(({ id }) => id)) },
    { type: 'name', least: widest(rules.map(({ severity }) => severity)) },
    { type: 'phrase' },
  ];
  const families = groupBy(rules, ({ id }) => id.split('/')[0] ?? id);
  return {
    blocks: [...families].flatMap(([family, own]) => {
      const rows = own.map(({ id, severity, summary }) => ({ cells: [id, severity, prose(summary)] }));
      return block(paragraph(name(family)), { kind: 'table', inset: true, columns, rows });
    }),
  };
}

function widest(texts: readonly string[]): number {
  return Math.max(0, ...texts.map((text) => text.length));
}
