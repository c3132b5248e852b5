/** What hides clocks that no grandmaster reaches, and what does not (common practice, no source). */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';

const BAD = readFileSync(new URL('../../rules/timing/grandmaster-out-of-reach/bad.yaml', import.meta.url), 'utf8');

/** Rules of clocks and VLANs that find anything, with what of the rig is to be changed. */
function found(text: string): readonly string[] {
  const { findings } = lintInputs([{ name: 'plan.yaml', text }], RULES, { today: '2026-06-01' });
  return findings
    .filter(({ rule }) => /^(?:links|timing|vlans)\//.test(rule))
    .map(({ rule, touch }) => `${rule} ${touch.name}`)
    .sort();
}

it('names clocks out of reach beside ends that carry unlike VLANs', () => {
  const text = BAD.replace('vlans:\n', 'vlans:\n  - {name: red-intercom, id: 30, network: red}\n').replace(
    'trunk: [red-audio]',
    'trunk: [red-audio, red-intercom]',
  );
  expect(found(text)).toEqual(['links/vlans-differ red-start', 'timing/grandmaster-out-of-reach R01']);
});

/** A stream in the VLAN of the clocks, from red-core to a further switch whose trunk forgets the VLAN too. */
function withStreamTo(port: string): string {
  return (
    BAD.replace(
      'links:\n',
      `  - name: red-finish
    ports: [{name: 1-8, access: red-video}, {name: 49, trunk: [red-audio]}]
links:
  - {name: R09, ends: [red-core/50, red-finish/49]}
`,
    ).replace('{name: 49, trunk: [red-audio]}]', '{name: 49, trunk: [red-audio]}, {name: 50, trunk: [red-audio]}]') +
    `  - name: sender
    interfaces: [{name: red, vlan: red-video, port: red-core/7, address: 10.0.0.7/24}]
    senders: [{name: video, legs: [{interface: red, group: 239.10.0.1}]}]
  - name: receiver
    interfaces: [{name: red, vlan: red-video, port: ${port}, address: 10.0.0.8/24}]
    receivers: [{name: video, takes: sender/video}]
`
  );
}

it('names clocks out of reach where the same VLAN is cut for streams at another link', () => {
  expect(found(withStreamTo('red-finish/1'))).toEqual(['timing/grandmaster-out-of-reach R01', 'vlans/no-path R09']);
});

it('says once that a link forgets a VLAN of clocks and of streams', () => {
  expect(found(withStreamTo('red-start/7'))).toEqual(['vlans/no-path R01']);
});
