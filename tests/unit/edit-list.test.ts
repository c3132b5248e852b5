/** Edits of a cure: what a plan says already is none of them. */
import { describe, expect, it } from 'vitest';
import { createEditList } from '../../src/edits/edit-list.js';
import { loadPlan } from '../../src/plan/load.js';

const TEXT = `devices:
  - {name: a, ptp: {mode: ordinary, priority2: 1}}
  - {name: b, ptp: {mode: ordinary, priority2: 1}}
`;

describe('edits', () => {
  const { plan } = loadPlan([{ name: 'plan.yaml', text: TEXT }]);
  const [a, b] = plan.devices.flatMap(({ ptp }) => ptp ?? []);

  it('leave out a value that stands there, and keep one that is another or new', () => {
    if (a === undefined || b === undefined) throw new Error('no clocks');
    const edits = createEditList();
    edits.set(a, 'priority2', 1);
    edits.set(b, 'priority2', 2);
    edits.set(a, 'priority1', 10);
    expect(edits.all().map(({ key, value }) => [key, value])).toEqual([
      ['priority2', 2],
      ['priority1', 10],
    ]);
  });

  it('keep one that is taken out, and none where the last value is the one that stands there', () => {
    if (a === undefined) throw new Error('no clock');
    const edits = createEditList();
    edits.set(a, 'priority2', 3);
    edits.set(a, 'priority2', 1);
    edits.remove(a, 'mode');
    expect(edits.all().map(({ key, value }) => [key, value])).toEqual([['mode', undefined]]);
  });
});
