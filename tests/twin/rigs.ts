/** Small rigs written short, as plan files. */

/** What forwards: Linux bridges, one a VLAN and switch, or Open vSwitch with tagged trunks. */
export const PLANES = ['bridges', 'openvswitch'] as const;
export type Plane = (typeof PLANES)[number];

export function planeOf({ plane = 'bridges' }: ShortRig): Plane {
  return plane;
}

export interface ShortRig {
  /** Absent: bridges. */
  readonly plane?: Plane;
  readonly vlans: Readonly<Record<string, ShortVlan>>;
  readonly switches: readonly string[];
  readonly links: readonly ShortLink[];
  readonly hosts: readonly ShortHost[];
  readonly groupTableSize?: number;
  /** What a plan says of single switches, beside what it says of all. */
  readonly each?: Readonly<Record<string, object>>;
}

export interface ShortVlan {
  readonly snooping?: boolean;
  readonly version?: 2 | 3;
  readonly queriers?: readonly { readonly on: string; readonly address: string }[];
  readonly routers?: readonly string[];
  readonly controlled?: boolean;
  readonly forwarding?: 'igmp' | 'controlled' | 'static';
  readonly fastLeave?: boolean;
  /** Seconds, where not those of all. */
  readonly queryInterval?: number;
  /** Where it has IPv6 too. */
  readonly mld?: ShortMld;
}

export interface ShortMld {
  readonly version?: 1 | 2;
  readonly queriers?: readonly { readonly on: string; readonly address: string }[];
}

export interface ShortLink {
  readonly between: readonly [string, string];
  /** Absent: all. */
  readonly vlans?: readonly string[];
  /** The VLAN that travels without a tag. */
  readonly native?: string;
  /** What the spanning tree counts at each end. */
  readonly costs?: readonly [number, number];
  /** Unplugged: its ports stay as they are. */
  readonly cut?: boolean;
  /** What the second end says where it says something else than the first. */
  readonly farEnd?: { readonly vlans?: readonly string[]; readonly native?: string };
}

export interface ShortHost {
  readonly name: string;
  readonly at: string;
  /** Absent: the first. */
  readonly vlan?: string;
  readonly address: string;
  readonly address6?: string;
  /** What it speaks whatever it hears. */
  readonly igmpVersion?: 2;
  readonly mldVersion?: 1;
  /** Its port is set as one behind which a multicast router stands. */
  readonly routerPort?: boolean;
  /** Groups bound to its port by hand. */
  readonly bound?: readonly string[];
  readonly sends?: readonly string[];
  readonly receives?: readonly ShortReceiver[];
}

/** Takes a stream as `host/group`, or joins a group. */
export interface ShortReceiver {
  readonly takes?: string;
  readonly group?: string;
  readonly source?: string;
  readonly join?: 'any' | 'stated';
}

/** What a Linux bridge does, in the words of a plan. */
export const LINUX_SWITCH = {
  snoopingKey: 'source-group',
  noQuerier: 'flood',
  unregistered: 'drop',
  tableFull: 'flood',
} as const;

/** What Open vSwitch 3.1 does: groups nobody joined are flooded unless a switch is set to drop them. */
export const OPEN_VSWITCH = { snoopingKey: 'group', noQuerier: 'prune', unregistered: 'flood' } as const;

/** RFC 3376 §8 timers, shortened alike; one second is the shortest query interval a Linux bridge takes. */
export const SHORT_TIMERS = {
  robustness: 3,
  queryInterval: 1,
  queryResponseInterval: 0.2,
  lastMemberQueryInterval: 0.2,
} as const;

/** The rig as a plan file. Every host and link end has a port of its own. `about` is said of every switch. */
export function planOf(
  rig: ShortRig,
  about: object = planeOf(rig) === 'openvswitch' ? OPEN_VSWITCH : LINUX_SWITCH,
): object {
  const vlanNames = Object.keys(rig.vlans);
  const ports = new Map<string, object[]>(rig.switches.map((name) => [name, []]));
  const patch = (at: string, about: object): string => {
    const list = ports.get(at);
    if (list === undefined) throw new Error(`no switch ${at}`);
    const name = String(list.length + 1);
    list.push({ name, rate: '10G', ...about });
    return `${at}/${name}`;
  };
  const links = rig.links.flatMap(({ between: [near, far], vlans, native, farEnd, costs, cut }) => {
    const treeAt = (end: 0 | 1): object => (costs === undefined ? {} : { spanningTree: { cost: costs[end] } });
    const first = { trunk: vlans ?? vlanNames, ...(native === undefined ? {} : { native }), ...treeAt(0) };
    const { vlans: theirs, native: theirNative = native } = farEnd ?? {};
    const second = {
      trunk: theirs ?? first.trunk,
      ...(theirNative === undefined ? {} : { native: theirNative }),
      ...treeAt(1),
    };
    if (cut !== true) return [{ name: `${near}-${far}`, ends: [patch(near, first), patch(far, second)] }];
    if (ports.has(near)) patch(near, first);
    if (ports.has(far)) patch(far, second);
    return [];
  });
  const routerPorts = new Map<string, object[]>();
  const bindings = new Map<string, object[]>();
  const devices = rig.hosts.map((host) => {
    const vlan = host.vlan ?? vlanNames[0];
    const port = patch(host.at, { access: vlan });
    if (host.routerPort === true) {
      const own = routerPorts.get(host.at) ?? [];
      routerPorts.set(host.at, [...own, { vlan, ports: [port.slice(port.indexOf('/') + 1)] }]);
    }
    if (host.bound !== undefined) {
      const own = bindings.get(host.at) ?? [];
      const ports = [port.slice(port.indexOf('/') + 1)];
      bindings.set(host.at, [...own, { vlan, groups: host.bound, ports }]);
    }
    const { address6, igmpVersion, mldVersion } = host;
    const stated = {
      ...(address6 === undefined ? {} : { address6: `${address6}/64` }),
      ...(igmpVersion === undefined ? {} : { igmpVersion }),
      ...(mldVersion === undefined ? {} : { mldVersion }),
    };
    return {
      name: host.name,
      interfaces: [{ name: 'net', vlan, address: `${host.address}/16`, ...stated, port }],
      senders: (host.sends ?? []).map((group) => ({ name: group, legs: [{ interface: 'net', group }] })),
      receivers: (host.receives ?? []).map(({ takes, ...leg }, index) => ({
        name: `in-${index}`,
        ...(takes === undefined ? {} : { takes }),
        legs: [{ interface: 'net', ...leg }],
      })),
    };
  });
  return {
    rig: 'Twin',
    vlans: Object.entries(rig.vlans).map(([name, vlan], index) => ({
      name,
      id: 10 + index,
      igmp: igmpOf(vlan),
      ...(vlan.mld === undefined ? {} : { mld: igmpOf({ ...vlan, version: 2, queriers: [], ...vlan.mld }) }),
      ...(vlan.controlled === true ? { forwarding: 'controlled' } : {}),
      ...(vlan.forwarding === undefined ? {} : { forwarding: vlan.forwarding }),
      ...(vlan.routers === undefined ? {} : { routing: { mode: 'pim-ssm', routers: vlan.routers } }),
    })),
    switches: rig.switches.map((name) => ({
      name,
      ...about,
      ...rig.each?.[name],
      ...(bindings.has(name) ? { bindings: bindings.get(name) } : {}),
      ...(routerPorts.has(name) ? { routerPorts: routerPorts.get(name) } : {}),
      ...(rig.groupTableSize === undefined ? {} : { groupTableSize: rig.groupTableSize }),
      ports: ports.get(name),
    })),
    links,
    devices,
  };
}

function igmpOf({
  snooping = true,
  version = 3,
  queriers = [],
  fastLeave,
  queryInterval = SHORT_TIMERS.queryInterval,
}: Omit<ShortVlan, 'version'> & { readonly version?: number }): object {
  return {
    snooping,
    version,
    ...SHORT_TIMERS,
    queryInterval,
    ...(queriers.length === 0 ? {} : { querier: queriers }),
    ...(fastLeave === undefined ? {} : { fastLeave }),
  };
}
