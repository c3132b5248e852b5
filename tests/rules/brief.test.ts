/** Every rule has its few words for the first page of a report: they follow on the name of what has the fault. */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';

describe.each(RULES.map((rule) => [rule.id, rule] as const))('%s', (_, { brief = '', summary }) => {
  it('is said in a few words', () => {
    expect(brief).toMatch(/^\S.*[^.\s]$/);
    expect(brief.length).toBeLessThanOrEqual(42);
    expect(brief.length).toBeLessThan(summary.length);
  });
});
