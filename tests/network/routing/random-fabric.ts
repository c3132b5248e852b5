/** Random fabrics of routers, as plans: a host VLAN each, routed links between them, one VLAN that several routers serve. */
import fc from 'fast-check';
import type { BruteFoot } from './brute-ways.js';

export interface Fabric {
  readonly routers: number;
  readonly links: readonly {
    readonly a: number;
    readonly b: number;
    readonly metrics: readonly [number, number];
    readonly risk: boolean;
    /** True where the plan leaves it out, its number free. */
    readonly cut?: boolean;
  }[];
  readonly feeds: readonly (string | undefined)[];
  /** Routers with a foot in the VLAN they share, which a switch of its own joins. */
  readonly sharing: readonly number[];
  readonly priorities: readonly number[];
  readonly streams: readonly {
    readonly at: number;
    readonly ttl: number | undefined;
    /** Routers behind which somebody takes it; one above all: the shared VLAN. */
    readonly takers: readonly number[];
  }[];
}

export const someFabric: fc.Arbitrary<Fabric> = fc.integer({ min: 2, max: 5 }).chain((routers) => {
  const router = fc.nat(routers - 1);
  const metric = fc.integer({ min: 1, max: 3 });
  return fc.record({
    routers: fc.constant(routers),
    links: fc
      .array(fc.record({ a: router, b: router, metrics: fc.tuple(metric, metric), risk: fc.boolean() }), {
        maxLength: 8,
      })
      .map((links) => links.filter(({ a, b }) => a !== b)),
    feeds: fc.array(fc.option(fc.constantFrom('feed-a', 'feed-b'), { nil: undefined }), {
      minLength: routers,
      maxLength: routers,
    }),
    sharing: fc.subarray(Array.from({ length: routers }, (_, number) => number)),
    priorities: fc.array(fc.constantFrom(0, 1, 1, 7), { minLength: routers, maxLength: routers }),
    streams: fc.array(
      fc.record({
        at: router,
        ttl: fc.constantFrom(undefined, undefined, 2, 3, 4),
        takers: fc.uniqueArray(fc.nat(routers), { maxLength: 3 }),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  });
});

/** What is out of order: routers, and links by number; links of the shared VLAN come after the routed ones. */
export interface Out {
  readonly routers: ReadonlySet<number>;
  readonly links: ReadonlySet<number>;
  readonly mid: boolean;
}

/** Wire 0 on: host VLANs; then the shared VLAN; then the routed links. */
export function feetOf(fabric: Fabric, out: Out): readonly BruteFoot[] {
  const { routers, links, sharing, priorities } = fabric;
  const feet: BruteFoot[] = [];
  const add = (router: number, wire: number, cost: number, priority: number, address: number): void => {
    if (!out.routers.has(router)) feet.push({ router, wire, cost, priority, address });
  };
  for (let router = 0; router < routers; router++) add(router, router, 1, 1, hostAddress(router));
  sharing.forEach((router, index) => {
    if (!out.mid && !out.links.has(links.length + index))
      add(router, routers, 1, priorities[router] ?? 1, sharedAddress(router));
  });
  links.forEach(({ a, b, metrics }, index) => {
    if (out.links.has(index)) return;
    add(a, routers + 1 + index, metrics[0], 1, linkAddress(index, 0));
    add(b, routers + 1 + index, metrics[1], 1, linkAddress(index, 1));
  });
  return feet;
}

const hostAddress = (router: number): number => 0x0a010000 + router * 256 + 1;
const sharedAddress = (router: number): number => 0x0a020000 + 10 + ((router * 3) % 5);
const linkAddress = (link: number, end: number): number => 0x0a090000 + ((link * 5) % 16) * 2 + end;

function dotted(address: number): string {
  return [24, 16, 8, 0].map((shift) => (address >>> shift) & 255).join('.');
}

export function fabricPlan(fabric: Fabric): object {
  const { routers, links, sharing, priorities, feeds, streams } = fabric;
  const ports = Array.from({ length: routers }, (): object[] => []);
  const midPorts: object[] = [];
  const devices: object[] = [];
  const patch = (at: number): string => {
    const list = at === routers ? midPorts : (ports[at] ?? []);
    const name = `h${list.length}`;
    list.push({ name, access: at === routers ? 'shared' : `hosts-${at}`, rate: '10G' });
    return `${at === routers ? 'mid' : `r${at}`}/${name}`;
  };
  const routed = links.flatMap(({ a, b, metrics, risk, cut }, index) => {
    if (cut === true) return [];
    ports[a]?.push({ name: `t${index}`, rate: '100G' });
    ports[b]?.push({ name: `t${index}`, rate: '100G' });
    return [
      {
        name: `link-${index}`,
        ends: [`r${a}/t${index}`, `r${b}/t${index}`],
        rate: '100G',
        ...(risk ? { risks: ['duct'] } : {}),
        routed: [0, 1].map((end) => ({ address: `${dotted(linkAddress(index, end))}/31`, metric: metrics[end] })),
      },
    ];
  });
  const shared = sharing.map((router, index) => {
    ports[router]?.push({ name: 'shared', trunk: ['shared'], rate: '100G' });
    midPorts.push({ name: `s${index}`, trunk: ['shared'], rate: '100G' });
    return { name: `link-${links.length + index}`, ends: [`r${router}/shared`, `mid/s${index}`], rate: '100G' };
  });
  streams.forEach(({ at, ttl, takers }, number) => {
    devices.push({
      name: `cam-${number}`,
      interfaces: [
        { name: 'video', vlan: `hosts-${at}`, port: patch(at), address: `${dotted(hostAddress(at) + 49 + number)}/24` },
      ],
      senders: [
        {
          name: 'video',
          format: {
            essence: 'audio',
            coding: 'st2110-30',
            channels: 8,
            sampleRate: 48000,
            sampleBits: 24,
            packetTime: '1 ms',
          },
          legs: [{ interface: 'video', group: `232.1.1.${number + 1}`, ...(ttl === undefined ? {} : { ttl }) }],
        },
      ],
    });
    for (const taker of takers)
      devices.push({
        name: `monitor-${number}-${taker}`,
        interfaces: [{ name: 'in', vlan: taker === routers ? 'shared' : `hosts-${taker}`, port: patch(taker) }],
        receivers: [{ name: 'in', takes: `cam-${number}/video`, legs: [{ interface: 'in' }] }],
      });
  });
  const igmp = { snooping: true, version: 3 };
  return {
    rig: 'Random',
    practice: { equalPaths: 'lowest-address' },
    vlans: [
      ...Array.from({ length: routers }, (_, router) => ({
        name: `hosts-${router}`,
        id: 10 + router,
        igmp,
        routing: { mode: 'pim-ssm', routers: [`r${router}`] },
      })),
      {
        name: 'shared',
        id: 99,
        igmp,
        routing: {
          mode: 'pim-ssm',
          routers: sharing.map((router) => `r${router}`),
          interfaces: sharing.map((router) => ({ on: `r${router}`, priority: priorities[router] })),
        },
      },
    ],
    switches: [
      ...Array.from({ length: routers }, (_, router) => ({
        name: `r${router}`,
        ...(feeds[router] === undefined ? {} : { power: [feeds[router]] }),
        snoopingKey: 'source-group',
        ports: ports[router],
        addresses: [
          { vlan: `hosts-${router}`, address: `${dotted(hostAddress(router))}/24` },
          ...(sharing.includes(router) ? [{ vlan: 'shared', address: `${dotted(sharedAddress(router))}/24` }] : []),
        ],
      })),
      { name: 'mid', snoopingKey: 'source-group', ports: midPorts },
    ],
    links: [...routed, ...shared],
    devices,
  };
}
