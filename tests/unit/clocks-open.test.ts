/**
 * What a plan leaves open of its clocks is said and not invented: who leads where only unstated identities differ (IEEE
 * 1588-2008 §9.3.4: the identity is compared last), and whether a management network carries PTP (common practice, no
 * source: it does not).
 */
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { electClocks } from '../../src/answers/clocks.js';
import { lintInputs } from '../../src/lint/lint.js';
import { loadPlan } from '../../src/plan/load.js';
import { clocksJson } from '../../src/report/clocks/json.js';
import { assumptionWords } from '../../src/report/lint/assumptions.js';
import { reportClocksText } from '../../src/reporters/clocks.js';

const START = `
rig: Heron
networks:
  - {name: red, role: media, leg: 1}
  - {name: management, role: management}
vlans:
  - {name: red-video, id: 10, network: red}
  - {name: management, id: 99, network: management}
switches:
  - {name: red-core, ports: [{name: 1-8, access: red-video}]}
  - {name: red-start, ports: [{name: 1-8, access: red-video}]}
  - {name: box-switch, ports: [{name: 1-8, access: management}]}
`;

function clocksOf(text: string): { readonly page: string; readonly document: string } {
  const result = electClocks(loadPlan([{ name: 'plan.yaml', text }]));
  if (!('timing' in result)) throw new Error('no clocks');
  const page = reportClocksText(result, { version: '0', width: 400, colour: false });
  return { page, document: JSON.stringify(clocksJson(result, '0')) };
}

const lint = (text: string) => lintInputs([{ name: 'plan.yaml', text }], RULES, { today: '2026-06-01' });

describe('grandmasters that tie, with identities that nobody states', () => {
  const plan = (identities: readonly [string, string]): string => `${START}
timing: {domains: [{number: 127, grandmasters: [gm-1, gm-2]}]}
devices:
  - name: gm-1
    ptp: {domain: 127, priority1: 10, clockClass: 6${identities[0]}}
    interfaces: [{name: red, vlan: red-video, port: red-core/1}]
  - name: gm-2
    ptp: {domain: 127, priority1: 10, clockClass: 6${identities[1]}}
    interfaces: [{name: red, vlan: red-video, port: red-core/2}]
  - name: cam-start
    ptp: {domain: 127, slaveOnly: true}
    interfaces: [{name: red, vlan: red-video, port: red-core/3}]
`;

  it.each([
    ['none', ['', '']],
    ['one', [', clockIdentity: 02-00-00-FF-FE-00-00-11', '']],
  ] as const)('are open where %s is stated, and lint says so', (_, identities) => {
    const { page, document } = clocksOf(plan(identities));
    expect(page).toMatch(/Leads +gm-1 or gm-2, OPEN: it ties with gm-2/);
    expect(page).not.toContain('FF-FF-FF-FF');
    expect(document).toContain('"step":"identity","own":"","rivals":""');
    expect(lint(plan(identities)).findings.map(({ rule, confidence }) => [rule, confidence])).toEqual([
      ['timing/equal-priorities', 'assumed'],
    ]);
  });

  it('are decided where both are stated', () => {
    const { page } = clocksOf(
      plan([', clockIdentity: 02-00-00-FF-FE-00-00-11', ', clockIdentity: 02-00-00-FF-FE-00-00-12']),
    );
    expect(page).toMatch(/Leads +gm-1, before gm-2 by identity/);
  });
});

describe('a management network', () => {
  const plan = (domain: string): string => `${START}
timing: {domains: [{number: 127, grandmasters: [gm-1, gm-2]${domain}}]}
devices:
${['gm-1', 'gm-2', 'cam-start']
  .map(
    (name, n) => `  - name: ${name}
    ptp: {domain: 127, ${n < 2 ? `priority1: 10, priority2: ${n + 1}, clockClass: 6` : 'slaveOnly: true'}, clockIdentity: 02-00-00-FF-FE-00-00-1${n}}
    interfaces:
      - {name: red, vlan: red-video, port: red-${n < 2 ? 'core' : 'start'}/${n + 1}}
      - {name: management, vlan: management, port: box-switch/${n + 1}}
`,
  )
  .join('')}`;

  const wordsOf = (text: string): string => assumptionWords(lint(text).assumptions).join('\n');

  it('carries no PTP where the domain states no networks, and both reports name it', () => {
    expect(clocksOf(plan('')).page).toMatch(/WAITS +cam-start/);
    expect(clocksOf(plan('')).page).toMatch(/Assumed +management, for management, carries no PTP of domain 127/);
    expect(wordsOf(plan(''))).toContain('network management: for management, and so without PTP of domain 127');
    expect(lint(plan('')).findings.map(({ rule }) => rule)).toContain('timing/no-grandmaster');
  });

  it('does where the domain says so, and then nothing is assumed', () => {
    const text = plan(', networks: [management]');
    expect(clocksOf(text).page).toMatch(/and 1 clock: cam-start/);
    expect(clocksOf(text).page).not.toContain('Assumed');
    expect(wordsOf(text)).not.toContain('PTP');
  });

  it('does where nothing else could: all clocks of the domain stand there alone', () => {
    const alone = plan('').replace(/ +- \{name: red, vlan: red-video, port: .*\n/g, '');
    expect(clocksOf(alone).page).toMatch(/and 1 clock: cam-start/);
    expect(clocksOf(alone).page).not.toContain('Assumed');
  });
});
