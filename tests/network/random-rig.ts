/** Random small rigs for laws of the network model: switches and links of any shape, one or two networks, maybe a router. */
import fc from 'fast-check';

export interface RandomRig {
  readonly switches: readonly {
    readonly name: string;
    readonly power: readonly string[];
    readonly priority: number;
    readonly mac: number;
  }[];
  readonly links: readonly {
    readonly a: number;
    readonly b: number;
    readonly vlans: readonly string[];
    readonly risks: readonly string[];
  }[];
  readonly vlans: readonly string[];
  readonly routed: boolean;
  readonly streams: readonly {
    readonly at: readonly number[];
    readonly receivers: readonly (readonly number[])[];
    readonly legs: number;
    readonly receiverVlan: number;
  }[];
}

const VLANS = ['red-video', 'blue-video', 'red-audio'] as const;

export function randomRig(limits: {
  readonly switches: number;
  readonly links: number;
  readonly streams: number;
  readonly routed: boolean;
}): fc.Arbitrary<RandomRig> {
  return fc.integer({ min: 1, max: limits.switches }).chain((count) => {
    const node = fc.nat(count - 1);
    return fc.record({
      switches: fc
        .tuple(
          fc.array(fc.tuple(fc.subarray(['feed-a', 'feed-b'], { minLength: 0 }), fc.constantFrom(4096, 32768)), {
            minLength: count,
            maxLength: count,
          }),
          fc.shuffledSubarray([...Array.from({ length: count }).keys()], { minLength: count }),
        )
        .map(([own, macs]) =>
          own.map(([power, priority], index) => ({ name: `sw-${index}`, power, priority, mac: macs[index] ?? 0 })),
        ),
      links: fc
        .array(
          fc.record({
            a: node,
            b: node,
            vlans: fc.subarray([...VLANS], { minLength: 1 }),
            risks: fc.subarray(['duct', 'multicore']),
          }),
          { maxLength: limits.links },
        )
        .map((links) => links.filter(({ a, b }) => a !== b)),
      vlans: fc.constant(VLANS),
      routed: limits.routed ? fc.boolean() : fc.constant(false),
      streams: fc.array(
        fc.record({
          at: fc.array(node, { minLength: 2, maxLength: 2 }),
          receivers: fc.array(fc.array(node, { minLength: 2, maxLength: 2 }), { maxLength: 3 }),
          legs: fc.integer({ min: 1, max: 2 }),
          receiverVlan: fc.constantFrom(0, 0, 0, 2),
        }),
        { maxLength: limits.streams },
      ),
    });
  });
}

/** The rig as a plan. Every host has a device and port of its own. */
export function planOf(rig: RandomRig): object {
  const ports = rig.switches.map(() => 0);
  const patched = rig.switches.map((): object[] => []);
  const patch = (at: number, vlan: string): string => {
    const number = (ports[at] = (ports[at] ?? 0) + 1);
    patched[at]?.push({ name: String(number), access: vlan, rate: '10G' });
    return `sw-${at}/${number}`;
  };
  const trunks = rig.switches.map((): object[] => []);
  const links = rig.links.map(({ a, b, vlans, risks }, index) => {
    trunks[a]?.push({ name: `t${index}`, trunk: vlans, rate: '100G' });
    trunks[b]?.push({ name: `t${index}`, trunk: vlans, rate: '100G' });
    return { name: `link-${index}`, ends: [`sw-${a}/t${index}`, `sw-${b}/t${index}`], rate: '100G', risks };
  });
  const devices: object[] = [];
  rig.streams.forEach((stream, number) => {
    const legVlans = rig.vlans.slice(0, stream.legs);
    devices.push({
      name: `cam-${number}`,
      interfaces: legVlans.map((vlan, leg) => ({ name: vlan, vlan, port: patch(stream.at[leg] ?? 0, vlan) })),
      senders: [
        {
          name: 'video',
          legs: legVlans.map((vlan, leg) => ({ interface: vlan, group: `239.${10 + leg}.1.${number + 1}` })),
        },
      ],
    });
    stream.receivers.forEach((at, index) => {
      const wanted = legVlans.map((vlan, leg) => (leg === 0 ? (rig.vlans[stream.receiverVlan] ?? vlan) : vlan));
      devices.push({
        name: `monitor-${number}-${index}`,
        interfaces: wanted.map((vlan, leg) => ({ name: `leg-${leg}`, vlan, port: patch(at[leg] ?? 0, vlan) })),
        receivers: [
          { name: 'in', takes: `cam-${number}/video`, legs: wanted.map((_, leg) => ({ interface: `leg-${leg}` })) },
        ],
      });
    });
  });
  return {
    rig: 'Random',
    networks: [
      { name: 'red', leg: 1 },
      { name: 'blue', leg: 2 },
    ],
    vlans: rig.vlans.map((name, index) => ({
      name,
      id: 10 + index,
      network: name.startsWith('red') ? 'red' : 'blue',
      ...(rig.routed && name.startsWith('red')
        ? { routing: { mode: 'pim-sm', routers: ['sw-0'], rp: [{ address: '10.255.0.1' }] } }
        : {}),
    })),
    switches: rig.switches.map((one, index) => ({
      name: one.name,
      power: one.power,
      spanningTree: { mode: 'rstp', priority: one.priority, mac: `02:00:00:00:00:0${one.mac}` },
      ports: [...(patched[index] ?? []), ...(trunks[index] ?? [])],
      ...(rig.routed && index === 0
        ? {
            addresses: [
              { vlan: 'red-video', address: '10.1.0.1/24' },
              { vlan: 'red-audio', address: '10.1.1.1/24' },
            ],
          }
        : {}),
    })),
    links,
    devices,
  };
}
