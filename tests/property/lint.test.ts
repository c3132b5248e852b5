/**
 * Laws of the whole linter: a clean generated plan gives silence; one injected fault gives exactly its finding; the order
 * of entries and files never changes the result.
 */
import { findingText } from '../../src/lint/finding.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import type { LintResult } from '../../src/lint/result.js';
import { generatePlan } from '../bench/generate.js';

interface Leg {
  group?: string | undefined;
  source?: string;
  unicast?: string;
  port?: number;
  ttl?: number;
  payloadType?: number;
  vlan?: string;
  interface?: string;
}
interface Device {
  name: string;
  kind?: string;
  interfaces: {
    name: string;
    vlan: string;
    address: string;
    mac: string;
    port: string;
    gateway?: string;
    rate?: string;
  }[];
  senders: { name: string; legs: Leg[] }[];
  receivers: {
    name: string;
    takes?: string;
    interfaces?: string[];
    legs?: { interface?: string; group?: string; port?: number }[];
  }[];
}
interface Vlan {
  name: string;
  id: number;
  network: string;
  subnet: string;
  gateway: string;
  dhcp?: string;
  igmp: { version: number };
  routing: { mode: string; routers: string[] };
  mtu?: number;
}
interface Plan {
  rig: string;
  devices: Device[];
  vlans: Vlan[];
  switches: {
    name: string;
    ports: { name: string; access?: string; trunk?: string[]; native?: string; rate?: string; mtu?: number }[];
  }[];
  links: { ends: string[]; rate?: string; vlans?: string[] }[];
  kinds: { name: string; interfaces?: object[] }[];
  waivers?: { rule: string; about: string; reason: string; until?: string }[];
}

const size = fc.integer({ min: 8, max: 120 });
const planOf = (streams: number): Plan => JSON.parse(JSON.stringify(generatePlan(streams))) as Plan;
const lint = (plan: object): LintResult =>
  lintInputs([{ name: 'plan.json', text: JSON.stringify(plan) }], RULES, { today: '2026-06-01' });
const shown = (result: LintResult): readonly string[] =>
  [
    ...result.findings.map(
      (one) =>
        `${one.severity} ${one.rule} | ${one.subject} | ${findingText(one).what} | ${findingText(one).fix} | ${one.parties.join()}`,
    ),
    ...result.problems.map((one) => one.what),
    ...result.crashed.map((one) => `${one.rule}: ${one.message}`),
  ].sort();

describe('a clean generated plan', () => {
  it('gives silence, whatever its size', () => {
    fc.assert(
      fc.property(size, (streams) => {
        expect(shown(lint(planOf(streams)))).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });
});

/** Each makes one fault in a clean plan; `pick` chooses a device other than the first. */
const FAULTS: readonly {
  readonly fault: string;
  readonly rule: string;
  readonly inject: (plan: Plan, device: Device, other: Device) => void;
}[] = [
  {
    fault: 'a group used twice',
    rule: 'groups/two-senders',
    inject: (_, device, other) => {
      setLegs(device, (leg, index) => {
        leg.group = legOf(other, index).group;
      });
    },
  },
  {
    fault: 'a unicast address as a group',
    rule: 'groups/not-multicast',
    inject: (_, device) => {
      legOf(device, 0).group = '223.255.255.1';
    },
  },
  {
    fault: 'a group in 224.0.0.0/24',
    rule: 'groups/local-control',
    inject: (_, device) => {
      legOf(device, 0).group = '224.0.0.77';
    },
  },
  {
    fault: 'the PTP group',
    rule: 'groups/assigned',
    inject: (_, device) => {
      legOf(device, 0).group = '224.0.1.129';
    },
  },
  {
    fault: 'a reserved group',
    rule: 'groups/reserved-block',
    inject: (_, device) => {
      legOf(device, 0).group = '225.16.1.1';
    },
  },
  {
    fault: 'a scope-relative group',
    rule: 'groups/scope-top',
    inject: (_, device) => {
      legOf(device, 0).group = '239.255.255.9';
    },
  },
  {
    fault: 'a foreign GLOP group',
    rule: 'groups/foreign-glop',
    inject: (_, device) => {
      legOf(device, 0).group = '233.22.30.1';
    },
  },
  {
    fault: 'a documentation group',
    rule: 'groups/documentation',
    inject: (_, device) => {
      legOf(device, 0).group = '233.252.0.9';
    },
  },
  {
    fault: 'a second leg off the map',
    rule: 'groups/leg-map',
    inject: (_, device) => {
      legOf(device, 1).group = '239.64.255.9';
    },
  },
  {
    fault: 'a port off the map',
    rule: 'groups/leg-map',
    inject: (_, device) => {
      legOf(device, 1).port = 5010;
    },
  },
  {
    fault: 'a reserved source-specific group',
    rule: 'sources/ssm-reserved',
    inject: (_, device) => {
      legOf(device, 0).group = '232.0.0.9';
    },
  },
  {
    fault: 'a source that is not the sender',
    rule: 'sources/not-the-sender',
    inject: (_, device) => {
      const leg = legOf(device, 0);
      leg.source = '10.16.3.250';
      legOf(device, 1).source = '10.144.3.250';
    },
  },
  {
    fault: 'an odd port',
    rule: 'streams/odd-port',
    inject: (_, device) => {
      setLegs(device, (leg) => {
        leg.port = 5005;
      });
    },
  },
  {
    fault: 'unlike payload types on the legs',
    rule: 'streams/legs-differ',
    inject: (_, device) => {
      legOf(device, 1).payloadType = 97;
    },
  },
  {
    fault: 'an address used twice',
    rule: 'hosts/duplicate-address',
    inject: (_, device, other) => {
      setInterfaces(device, (one, index) => {
        one.address = other.interfaces[index]?.address ?? '';
      });
    },
  },
  {
    fault: 'a MAC used twice',
    rule: 'hosts/duplicate-mac',
    inject: (_, device, other) => {
      first(device.interfaces).mac = first(other.interfaces).mac;
    },
  },
  {
    fault: 'the broadcast address',
    rule: 'hosts/network-or-broadcast',
    inject: (_, device) => {
      setInterfaces(device, (one, index) => {
        one.address = index === 0 ? '10.16.3.255/22' : '10.144.3.255/22';
      });
    },
  },
  {
    fault: 'a wrong prefix length',
    rule: 'hosts/prefix-differs',
    inject: (_, device) => {
      first(device.interfaces).address = first(device.interfaces).address.replace('/22', '/24');
    },
  },
  {
    fault: 'an address outside its subnet',
    rule: 'hosts/outside-subnet',
    inject: (_, device) => {
      setInterfaces(device, (one, index) => {
        one.address = index === 0 ? '10.16.200.9/22' : '10.144.200.9/22';
      });
    },
  },
  {
    fault: 'a gateway outside the subnet',
    rule: 'subnets/gateway-outside',
    inject: (plan) => {
      first(plan.vlans).gateway = '10.99.0.1';
    },
  },
  {
    fault: 'an address in the DHCP range',
    rule: 'hosts/in-dhcp-range',
    inject: (plan, device) => {
      const address = first(device.interfaces).address.replace('/22', '');
      first(plan.vlans).dhcp = `${address}-${address}`;
    },
  },
  {
    fault: 'a VLAN id out of range',
    rule: 'vlans/id-out-of-range',
    inject: (plan) => {
      first(plan.vlans).id = 4095;
    },
  },
  {
    fault: 'two patched to one port',
    rule: 'ports/used-twice',
    inject: (_, device, other) => {
      first(device.interfaces).port = first(other.interfaces).port;
    },
  },
  {
    fault: 'an interface in another VLAN than its port',
    rule: 'ports/vlan-differs',
    inject: (plan) => {
      const port = plan.switches
        .flatMap((one) => one.ports)
        .find((one) => one.access !== undefined && one.access.startsWith('red'));
      if (port !== undefined) port.access = 'blue-1';
    },
  },
  {
    fault: 'unlike rates at the ends of a link',
    rule: 'links/rate-differs',
    inject: (plan) => {
      const port = plan.switches.flatMap((one) => one.ports).find((one) => one.name === 'uplink');
      if (port !== undefined) port.rate = '25G';
    },
  },
  {
    fault: 'a name that leads nowhere',
    rule: 'plan/unknown-reference',
    inject: (_, device) => {
      first(device.receivers).takes = 'gateway-1/suond-1';
    },
  },
  {
    fault: 'a name used twice',
    rule: 'plan/duplicate-name',
    inject: (plan) => {
      plan.kinds.push({ name: 'gateway' });
    },
  },
  {
    fault: 'a kind nobody is of',
    rule: 'plan/unused-kind',
    inject: (plan) => {
      plan.kinds.push({ name: 'stage box' });
    },
  },
  {
    fault: 'a waiver nothing matches',
    rule: 'plan/waiver-idle',
    inject: (plan) => {
      plan.waivers = [{ rule: 'groups/two-senders', about: '239.1.1.1 in red', reason: 'gone' }];
    },
  },
];

describe('one injected fault gives exactly its finding', () => {
  it.each(FAULTS.map((one) => [one.fault, one] as const))('%s', (_, { rule, inject }) => {
    fc.assert(
      fc.property(size, fc.nat(), (streams, chosen) => {
        const plan = planOf(streams);
        const index = 1 + (chosen % (plan.devices.length - 1));
        const device = plan.devices[index];
        if (device === undefined) throw new Error('no device');
        inject(plan, device, first(plan.devices));
        const result = lint(plan);
        expect(result.problems).toEqual([]);
        expect(
          new Set(result.findings.map((one) => one.rule)),
          JSON.stringify(result.findings.map((one) => [one.rule, findingText(one).what])),
        ).toEqual(new Set([rule]));
      }),
      { numRuns: 8 },
    );
  });
});

describe('order', () => {
  it('of devices, VLANs, switches, links and streams never changes the result', () => {
    fc.assert(
      fc.property(
        size,
        fc.subarray(
          FAULTS.map((_, index) => index),
          { minLength: 1, maxLength: 4 },
        ),
        fc.infiniteStream(fc.nat()),
        (streams, faults, numbers) => {
          const plan = planOf(streams);
          for (const index of faults)
            FAULTS[index]?.inject(plan, plan.devices[1] ?? first(plan.devices), first(plan.devices));
          const before = shown(lint(plan));
          const next = (): number => numbers.next().value as number;
          const shuffled = {
            ...plan,
            devices: shuffle(plan.devices, next).map((device) => ({
              ...device,
              interfaces: shuffle(device.interfaces, next),
            })),
            vlans: shuffle(plan.vlans, next),
            switches: shuffle(plan.switches, next),
            links: shuffle(plan.links, next),
          };
          expect(shown(lint(shuffled))).toEqual(before);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('of files never changes the result', () => {
    const plan = planOf(40);
    for (const fault of FAULTS.slice(0, 6))
      fault.inject(plan, plan.devices[2] ?? first(plan.devices), first(plan.devices));
    const { devices, ...rest } = plan;
    const inputs = [
      { name: 'rest.json', text: JSON.stringify(rest) },
      ...devices.map((device, index) => ({
        name: `${index}.json`,
        text: JSON.stringify({ rig: plan.rig, devices: [device] }),
      })),
    ];
    const results = [inputs, [...inputs].reverse()].map((order) =>
      shown(lintInputs(order, RULES, { today: '2026-06-01' })),
    );
    expect(results[0]?.length).toBeGreaterThan(0);
    expect(results[1]).toEqual(results[0]);
  });
});

function first<T>(items: readonly T[]): T {
  const [item] = items;
  if (item === undefined) throw new Error('an empty list');
  return item;
}

function legOf(device: Device, index: number): Leg {
  const leg = first(device.senders).legs[index];
  if (leg === undefined) throw new Error('no such leg');
  return leg;
}

/** Both legs alike, so that the house's leg-to-leg mapping still holds. */
function setInterfaces(device: Device, change: (one: Device['interfaces'][number], index: number) => void): void {
  device.interfaces.forEach(change);
}

function setLegs(device: Device, change: (leg: Leg, index: number) => void): void {
  first(device.senders).legs.forEach(change);
}

function shuffle<T>(items: readonly T[], next: () => number): readonly T[] {
  const left = [...items];
  return items.map(() => left.splice(next() % left.length, 1)[0] as T);
}
