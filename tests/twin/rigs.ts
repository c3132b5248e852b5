/** Small rigs written short, as plan files. */

export interface ShortRig {
  readonly vlans: Readonly<Record<string, ShortVlan>>;
  readonly switches: readonly string[];
  readonly links: readonly ShortLink[];
  readonly hosts: readonly ShortHost[];
  readonly groupTableSize?: number;
}

export interface ShortVlan {
  readonly snooping?: boolean;
  readonly version?: 2 | 3;
  readonly queriers?: readonly { readonly on: string; readonly address: string }[];
  readonly routers?: readonly string[];
  readonly controlled?: boolean;
  readonly fastLeave?: boolean;
  /** Seconds, where not those of all. */
  readonly queryInterval?: number;
}

export interface ShortLink {
  readonly between: readonly [string, string];
  /** Absent: all. */
  readonly vlans?: readonly string[];
}

export interface ShortHost {
  readonly name: string;
  readonly at: string;
  /** Absent: the first. */
  readonly vlan?: string;
  readonly address: string;
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

/** RFC 3376 §8 timers, shortened alike; one second is the shortest query interval a Linux bridge takes. */
export const SHORT_TIMERS = {
  robustness: 3,
  queryInterval: 1,
  queryResponseInterval: 0.2,
  lastMemberQueryInterval: 0.2,
} as const;

/** The rig as a plan file. Every host and link end has a port of its own. `about` is said of every switch. */
export function planOf(rig: ShortRig, about: object = LINUX_SWITCH): object {
  const vlanNames = Object.keys(rig.vlans);
  const ports = new Map<string, object[]>(rig.switches.map((name) => [name, []]));
  const patch = (at: string, about: object): string => {
    const list = ports.get(at);
    if (list === undefined) throw new Error(`no switch ${at}`);
    const name = String(list.length + 1);
    list.push({ name, rate: '10G', ...about });
    return `${at}/${name}`;
  };
  const links = rig.links.map(({ between: [near, far], vlans }) => {
    const trunk = vlans ?? vlanNames;
    return { name: `${near}-${far}`, ends: [patch(near, { trunk }), patch(far, { trunk })] };
  });
  const devices = rig.hosts.map((host) => {
    const vlan = host.vlan ?? vlanNames[0];
    return {
      name: host.name,
      interfaces: [{ name: 'net', vlan, address: `${host.address}/16`, port: patch(host.at, { access: vlan }) }],
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
      ...(vlan.controlled === true ? { forwarding: 'controlled' } : {}),
      ...(vlan.routers === undefined ? {} : { routing: { mode: 'pim-ssm', routers: vlan.routers } }),
    })),
    switches: rig.switches.map((name) => ({
      name,
      ...about,
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
}: ShortVlan): object {
  return {
    snooping,
    version,
    ...SHORT_TIMERS,
    queryInterval,
    ...(queriers.length === 0 ? {} : { querier: queriers }),
    ...(fastLeave === undefined ? {} : { fastLeave }),
  };
}
