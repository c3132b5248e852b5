/** A link whose ends disagree about another VLAN hides no clocks behind it (common practice, no source). */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';

it('names clocks out of reach beside ends that carry unlike VLANs', () => {
  const bad = readFileSync(new URL('../../rules/timing/grandmaster-out-of-reach/bad.yaml', import.meta.url), 'utf8');
  const text = bad
    .replace('vlans:\n', 'vlans:\n  - {name: red-intercom, id: 30, network: red}\n')
    .replace('trunk: [red-audio]', 'trunk: [red-audio, red-intercom]');
  const { findings } = lintInputs([{ name: 'plan.yaml', text }], RULES, { today: '2026-06-01' });
  expect(findings.map(({ rule }) => rule).sort()).toEqual(['links/vlans-differ', 'timing/grandmaster-out-of-reach']);
});
