/** A box that needs an address and states none is named, and keeps a plan from being clean. */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { readInputs } from '../../src/edge/files.js';
import { lintInputs, lintLoaded } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { leavesOpen } from '../../src/lint/unjudged.js';
import { loadPlan } from '../../src/plan/load.js';
import { readDocument } from '../../src/read/index.js';
import { lintPage } from '../../src/report/lint/page.js';
import { generatePlan } from '../bench/generate.js';
import { textsOf } from '../tools/page-parts.js';

const EXAMPLES = fileURLToPath(new URL('../../examples/', import.meta.url));
const TODAY = { today: '2026-06-01' };

const lint = (plan: object): LintResult =>
  lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], RULES, TODAY);

/** A camera with one interface as stated, beside a monitor that has its address, in a VLAN with a subnet. */
function rig(camera: { readonly via: object; readonly more?: readonly object[]; readonly rest?: object }): object {
  return {
    rig: 'Heron',
    vlans: [{ name: 'video', subnet: '10.20.10.0/24' }, { name: 'open' }],
    devices: [
      { name: 'cam-1', interfaces: [{ name: 'red', ...camera.via }, ...(camera.more ?? [])], ...camera.rest },
      { name: 'mon-1', interfaces: [{ name: 'red', vlan: 'video', address: '10.20.10.101/24' }] },
    ],
  };
}

const HERE = { vlan: 'video' };
const SENDS = { senders: [{ name: 'video', legs: [{ interface: 'red', group: '239.192.10.1' }] }] };
const SENDS_FROM = {
  senders: [{ name: 'video', legs: [{ interface: 'red', group: '239.192.10.1', source: '10.20.10.1' }] }],
};
const TAKES = { receivers: [{ name: 'in', legs: [{ interface: 'red', group: '239.192.10.1' }] }] };

function needs(plan: object): readonly string[] {
  return lint(plan).unaddressed.map(({ interface: one, need }) => `${one.device.name} ${one.name}: ${need}`);
}

describe('an interface without an address', () => {
  it.each([
    ['that sends', { via: HERE, rest: SENDS }, 'streams'],
    ['that sends, in a VLAN of which no subnet is stated', { via: { vlan: 'open' }, rest: SENDS }, 'streams'],
    ['that sends and is said to need none', { via: { ...HERE, unnumbered: true }, rest: SENDS }, 'streams'],
    // RFC 3376 §4.2.13: 0.0.0.0 is the source of a report only while a host waits for its address.
    ['that receives', { via: HERE, rest: TAKES }, 'streams'],
    ['that follows PTP', { via: { vlan: 'open' }, rest: { ptp: { domain: 127, slaveOnly: true } } }, 'ptp'],
    ['that follows PTP over UDP', { via: {}, rest: { ptp: { domain: 127, transport: 'udp-ipv6' } } }, 'ptp'],
    ['that only stands in a VLAN with a subnet', { via: HERE }, 'subnet'],
  ])('%s is named', (_, camera, need) => {
    expect(needs(rig(camera))).toEqual([`cam-1 red: ${need}`]);
  });

  it.each([
    ['on DHCP', { via: { ...HERE, dhcp: true }, rest: SENDS }],
    ['with an IPv6 address', { via: { ...HERE, address6: 'fd12:3456:789a::1/64' }, rest: TAKES }],
    ['whose leg states its source', { via: HERE, rest: SENDS_FROM }],
    ['that is said to need none', { via: { ...HERE, unnumbered: true } }],
    ['in a VLAN of which no subnet is stated', { via: { vlan: 'open' } }],
    // IEEE 1588-2008 Annex F: PTP straight in Ethernet frames.
    ['that follows PTP in Ethernet frames', { via: {}, rest: { ptp: { domain: 0, transport: 'ethernet' } } }],
    ['that PTP does not use', { via: {}, rest: { ptp: { domain: 127, interfaces: ['blue'] } }, more: [BLUE()] }],
    ['that only passes PTP on', { via: {}, rest: { ptp: { domain: 127, mode: 'e2e-transparent' } } }],
    ['of a box that has one there', { via: HERE, more: [{ ...BLUE(), vlan: 'video' }] }],
    [
      'of a bond that has one',
      { via: { ...HERE, bond: 'both' }, more: [{ ...BLUE(), vlan: 'video', bond: 'both' }], rest: TAKES },
    ],
  ])('%s is not', (_, camera) => {
    expect(needs(rig(camera))).toEqual([]);
  });

  it('is named once by its device, and withholds "Clean"', () => {
    const result = lint(rig({ via: HERE, rest: { ...SENDS, ...TAKES } }));
    const rest: LintResult = {
      ...result,
      findings: [],
      notJudged: [],
      receivers: { legs: 1, delivered: 1, notDelivered: [], notFollowed: [], unrated: 0, openEnded: 0 },
    };
    expect(leavesOpen(rest)).toBe(true);
    expect(leavesOpen({ ...rest, unaddressed: [] })).toBe(false);
    expect(textsOf(lintPage(rest), 'Verdict')[0]).toBe('Nothing found; no address known for 1 interface.');
    expect(textsOf(lintPage(rest), 'No address')).toEqual([
      '1 interface that sends or receives streams (cam-1 red): give each an `address`, or `dhcp: true`',
    ]);
  });

  it('is not named where a plan states no address at all: that says so itself', () => {
    const result = lint({ rig: 'Heron', devices: [{ name: 'cam-1', interfaces: [{ name: 'red' }], ...SENDS }] });
    expect(result.unaddressed).toEqual([]);
    expect(result.notJudged.map(({ fact }) => fact)).toContain('addresses');
  });
});

function BLUE(): { readonly name: string; readonly address: string } {
  return { name: 'blue', address: '10.20.10.2/24' };
}

describe('of whole rigs', () => {
  it.each(['kestrel-bay/heron', 'kestrel-bay/dunlin', 'kestrel-bay/finish-island/plan.yaml', 'leaf-spine.yaml'])(
    'all in %s have theirs',
    (name) => {
      expect(lintLoaded(loadPlan(readInputs([EXAMPLES + name]).inputs), RULES, TODAY).unaddressed).toEqual([]);
    },
  );

  it('all of a generated one have theirs', () => {
    expect(lint(generatePlan(60)).unaddressed).toEqual([]);
  });

  it('none of Heron loses its address unheard', () => {
    const { inputs } = readInputs([`${EXAMPLES}kestrel-bay/heron`]);
    let tried = 0;
    for (const [index, input] of inputs.entries()) {
      const { document } = readDocument(input);
      const tree = document?.value as { readonly devices?: readonly { readonly interfaces?: readonly object[] }[] };
      const own = (tree.devices ?? []).flatMap(({ interfaces }) => interfaces ?? []).filter((one) => 'address' in one);
      for (let place = 0; place < own.length; place += 11) {
        const bare = own[place];
        const text = JSON.stringify(tree, (_, value: unknown) =>
          value === bare ? { ...bare, address: undefined } : value,
        );
        const changed = inputs.map((one, at) => (at === index ? { name: `${input.name}.json`, text } : one));
        const result = lintInputs(changed, RULES, TODAY);
        expect(result.problems).toEqual([]);
        expect(result.unaddressed.length).toBe(1);
        tried++;
      }
    }
    expect(tried).toBeGreaterThan(15);
  }, 120_000);
});
