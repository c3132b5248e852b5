/** Every rule is named after its folder, cites something, and its page answers the same questions in the same order. */
import { describe, expect, it } from 'vitest';
import { loadRule, read, ruleFolders } from './load.js';

const HEADINGS = ['Fault', 'On air', 'Mend', 'Not reported', 'Severity', 'Sources'];

describe.each(ruleFolders())('$id', (folder) => {
  it('is named after its folder, in words', async () => {
    const rule = await loadRule(folder);
    expect(rule.id).toBe(folder.id);
    expect(rule.id).toMatch(/^[a-z]+\/[a-z][a-z0-9]*(-[a-z0-9]+)*$/);
    expect(rule.sources.length).toBeGreaterThan(0);
    expect(rule.summary).toMatch(/^[A-Z].*[^.]$/);
  });

  it('has a page with every heading, text under each, the summary and the severity', async () => {
    const rule = await loadRule(folder);
    const page = read(folder, 'README.md');
    expect(page.startsWith(`# ${folder.id}\n\n${rule.summary}.\n`)).toBe(true);
    const sections = page.split(/^## /m).slice(1);
    expect(sections.map((section) => section.split('\n')[0])).toEqual(HEADINGS);
    for (const section of sections) expect(section.split('\n').slice(1).join('').trim().length).toBeGreaterThan(20);
    const severity = sections[HEADINGS.indexOf('Severity')] ?? '';
    expect(severity.toLowerCase()).toContain(rule.severity);
    for (const source of rule.sources) {
      if ('document' in source) expect(page).toContain(source.document);
      else expect(page).toContain('- Trade practice, no source:');
    }
    for (const name of Object.keys(rule.thresholds ?? {})) expect(page).toContain(`\`${folder.id}.${name}\``);
  });

  it('marks a clause nobody looked up, as its page does', async () => {
    const { sources } = await loadRule(folder);
    const page = read(folder, 'README.md');
    const text = page.slice(page.indexOf('## Sources')).replace(/\s+/g, ' ');
    const remembered = sources.some((source) => 'document' in source && source.fromMemory === true);
    expect(remembered, text).toBe(text.includes('from memory'));
  });
});

describe('one clause', () => {
  it('is from memory in all rules or in none', async () => {
    const seen = new Map<string, Set<boolean>>();
    for (const folder of ruleFolders())
      for (const source of (await loadRule(folder)).sources) {
        if (!('document' in source)) continue;
        const key = `${source.document} ${source.clause}`;
        seen.set(key, (seen.get(key) ?? new Set()).add(source.fromMemory === true));
      }
    expect([...seen].filter(([, marks]) => marks.size > 1).map(([key]) => key)).toEqual([]);
  });
});
