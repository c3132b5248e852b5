/** Faults that are put into a clean generated plan, one at a time, and the rule that has to find each. */

export interface Leg {
  group?: string | undefined;
  source?: string;
  unicast?: string;
  port?: number;
  ttl?: number;
  payloadType?: number;
  vlan?: string;
  interface?: string;
}
export interface Device {
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
export interface Vlan {
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
export interface Plan {
  rig: string;
  devices: Device[];
  vlans: Vlan[];
  switches: {
    name: string;
    ports: { name: string; access?: string; trunk?: string[]; native?: string; rate?: string; mtu?: number }[];
  }[];
  links: { ends: string[]; rate?: string; vlans?: string[] }[];
  kinds: { name: string; interfaces?: object[] }[];
  waivers?: { rule: string; subject: string; reason: string; until?: string }[];
}

/** Each makes one fault in a clean plan; `pick` chooses a device other than the first. */
export const FAULTS: readonly {
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
      plan.waivers = [{ rule: 'groups/two-senders', subject: '239.1.1.1 in red', reason: 'gone' }];
    },
  },
];

export function first<T>(items: readonly T[]): T {
  const [item] = items;
  if (item === undefined) throw new Error('an empty list');
  return item;
}

export function legOf(device: Device, index: number): Leg {
  const leg = first(device.senders).legs[index];
  if (leg === undefined) throw new Error('no such leg');
  return leg;
}

/** Both legs alike, so that the conventions' leg-to-leg mapping still holds. */
export function setInterfaces(
  device: Device,
  change: (one: Device['interfaces'][number], index: number) => void,
): void {
  device.interfaces.forEach(change);
}

export function setLegs(device: Device, change: (leg: Leg, index: number) => void): void {
  first(device.senders).legs.forEach(change);
}
