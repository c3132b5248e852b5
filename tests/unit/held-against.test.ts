/** Which findings of a changed plan are new; the cases are written out by hand. */
import { describe, expect, it } from 'vitest';
import type { Finding, Severity } from '../../src/lint/finding.js';
import { createIsNew } from '../../src/lint/held-against.js';

const found = (subject: string, parties: readonly string[], severity: Severity = 'warning', rule = 'a/b'): Finding =>
  ({ rule, subject, parties, severity }) as unknown as Finding;

describe('a finding of a changed plan', () => {
  const isNew = createIsNew([
    found('239.1.1.1 in red', ['cam-1', 'cam-2', 'cam-3']),
    found('VLAN 20 (cam-1)', ['cam-1']),
    found('ports', ['sw-1'], 'error'),
  ]);

  it('is held where nobody is in it who was not', () => {
    expect(isNew(found('239.1.1.1 in red', ['cam-1', 'cam-2', 'cam-3']))).toBe(false);
    expect(isNew(found('239.1.1.1 in red', ['cam-2', 'cam-3']))).toBe(false);
  });

  it('is new where somebody came into it, it got worse, or it is of another rule or about something else', () => {
    expect(isNew(found('239.1.1.1 in red', ['cam-2', 'cam-9']))).toBe(true);
    expect(isNew(found('239.1.1.1 in red', ['cam-2'], 'error'))).toBe(true);
    expect(isNew(found('239.1.1.1 in red', ['cam-2'], 'warning', 'a/c'))).toBe(true);
    expect(isNew(found('239.1.1.1', ['cam-2']))).toBe(true);
  });

  it('may be less bad than it was', () => {
    expect(isNew(found('ports', ['sw-1'], 'note'))).toBe(false);
  });

  it('is held under a subject that names a party where it did not, and the other way round', () => {
    expect(isNew(found('VLAN 20', ['cam-1']))).toBe(false);
    expect(isNew(found('ports (sw-1)', ['sw-1'], 'error'))).toBe(false);
    expect(isNew(found('VLAN 20 (cam-2)', ['cam-2']))).toBe(true);
  });

  it('is told in time that grows with their number', () => {
    const many = Array.from({ length: 60_000 }, (_, index) => found(`group ${index}`, [`cam-${index}`]));
    const start = performance.now();
    expect(many.filter(createIsNew(many.slice(1)))).toEqual([many[0]]);
    expect(performance.now() - start).toBeLessThan(5_000);
  });
});
