/** A rig of routers as a plan, and what the model says of it in the same words as the lab. */
import { createModel } from '../../src/model/model.js';
import { carriedBy } from '../../src/model/network/forward.js';
import type { Flow } from '../../src/model/network/index.js';
import type { Plan } from '../../src/plan/types.js';
import {
  addressOf,
  COST,
  groupOf,
  IGMP_TIMERS,
  linkName,
  networkOf,
  networksOf,
  rendezvousOf,
  tagOf,
  TTL,
  uplinkName,
  type Cut,
  type RoutedPicture,
  type RoutedRig,
} from './routers.js';
import { LINUX_SWITCH } from './rigs.js';
import { resolveFile } from './twin.js';

/** The plan without what is cut; what was plugged to that keeps its ports. */
export function routedPlan(rig: RoutedRig, { links: cut = [], routers: lost = [], uplinks = [] }: Cut = {}): Plan {
  const { switches: plain = [], snooping = false } = rig;
  const networks = networksOf(rig);
  const isLost = (name: string): boolean => lost.includes(name);
  const patched = (ends: readonly string[]): boolean => !ends.some(isLost);
  const netsOf = (router: string): readonly string[] =>
    networks.filter((one) => one.router === router).map(({ name }) => name);
  const hosts = rig.hosts.filter(({ at }) => !isLost(at));
  const isThere = (host: string): boolean => hosts.some(({ name }) => name === host);
  const portsOf = (at: string, router: string): readonly object[] => [
    ...plain.flatMap(({ name, below }) =>
      [name, below].includes(at) ? [{ name: uplinkName(name), rate: '10G', trunk: netsOf(router) }] : [],
    ),
    ...hosts
      .filter((host) => host.at === at)
      .map(({ name }) => ({ name, rate: '10G', access: networkOf(rig, name).name })),
  ];
  const routerAbove = (at: string): string => {
    const below = plain.find(({ name }) => name === at)?.below;
    return below === undefined ? at : routerAbove(below);
  };
  const rendezvous = rendezvousOf(rig);
  const routing = rendezvous === undefined ? { mode: 'pim-ssm' } : { mode: 'pim-sm', rp: [{ address: rendezvous }] };
  return resolveFile({
    rig: 'Twin',
    practice: { follows: 'rfc4607', equalPaths: 'lowest-address' },
    vlans: networks.map(({ name, router, number }, index) => ({
      name,
      id: 10 + index,
      subnet: `10.${number}.0.0/16`,
      igmp: {
        snooping,
        version: 3,
        ...IGMP_TIMERS,
        ...(snooping && !isLost(router) ? { querier: [{ on: router, address: `10.${number}.0.1` }] } : {}),
      },
      ...(isLost(router) ? {} : { routing: { ...routing, routers: [router] } }),
    })),
    switches: [
      ...rig.routers
        .filter((name) => !isLost(name))
        .map((name) => ({
          name,
          ...LINUX_SWITCH,
          ports: [
            ...rig.links.flatMap(({ between }, link) =>
              between.includes(name) ? [{ name: linkName(link), rate: '10G' }] : [],
            ),
            ...portsOf(name, name),
          ],
          addresses: networks
            .filter(({ router }) => router === name)
            .map((one) => ({ vlan: one.name, address: `10.${one.number}.0.1/16` })),
        })),
      ...plain.map(({ name }) => ({ name, ...LINUX_SWITCH, ports: portsOf(name, routerAbove(name)) })),
    ],
    links: [
      ...rig.links.flatMap(({ between: [a, b], costs = [COST, COST] }, link) =>
        cut.includes(link) || !patched([a, b])
          ? []
          : [
              {
                name: linkName(link),
                ends: [`${a}/${linkName(link)}`, `${b}/${linkName(link)}`],
                routed: costs.map((metric, end) => ({ address: `10.9.0.${2 * link + end}/31`, metric })),
              },
            ],
      ),
      ...plain.flatMap(({ name, below }) =>
        uplinks.includes(name) || !patched([below]) || netsOf(routerAbove(name)).length === 0
          ? []
          : [{ name: uplinkName(name), ends: [`${below}/${uplinkName(name)}`, `${name}/${uplinkName(name)}`] }],
      ),
    ],
    devices: hosts.map((host) => ({
      name: host.name,
      interfaces: [
        {
          name: 'net',
          vlan: networkOf(rig, host.name).name,
          address: `${addressOf(rig, host.name)}/16`,
          port: `${host.at}/${host.name}`,
        },
      ],
      senders: rig.streams
        .filter(({ from }) => from === host.name)
        .map((stream) => ({
          name: stream.name,
          legs: [{ interface: 'net', group: groupOf(rig, stream), ttl: stream.ttl ?? TTL }],
        })),
      receivers: rig.streams
        .filter(({ to }) => to.includes(host.name))
        .map((stream) => ({
          name: `in ${stream.name}`,
          ...(isThere(stream.from) ? { takes: `${stream.from}/${stream.name}` } : {}),
          legs: [
            {
              interface: 'net',
              join: stream.any === true ? 'any' : 'stated',
              // Who takes what is gone joins it as before.
              ...(isThere(stream.from) ? {} : { group: groupOf(rig, stream) }),
              ...(isThere(stream.from) || stream.any === true ? {} : { source: addressOf(rig, stream.from) }),
            },
          ],
        })),
    })),
  });
}

/** Hosts and links of each stream. */
export function modelledRoutes(rig: RoutedRig, plan: Plan): RoutedPicture {
  const { network } = createModel(plan);
  return Object.fromEntries(
    rig.streams.map((stream): [string, RoutedPicture[string]] => {
      const links = new Set<string>();
      const hosts: Record<string, number> = {};
      const leg = plan.legs.find(({ sender }) => sender.label === `${stream.from}/${stream.name}`);
      for (const { flow, passed } of leg === undefined ? [] : byHops(network.flowsOf(leg))) {
        const { segment } = flow.forwarding;
        const [vlan] = segment.domain.vlans;
        const { steps, ports } = carriedBy(flow);
        for (const { edge, from, to } of steps.keys()) {
          const transit = rig.links.findIndex((_, link) => edge.links.some(({ name }) => name === linkName(link)));
          const where = transit === -1 ? `@${vlan?.name ?? '?'}` : tagOf(rig, transit);
          links.add(`${segment.nodes[from]?.name ?? '?'}>${segment.nodes[to]?.name ?? '?'}${where}`);
        }
        for (const { device } of ports.keys()) hosts[device.name] = (stream.ttl ?? TTL) - passed;
      }
      return [stream.name, { hosts, links: [...links].sort() }];
    }),
  );
}

/** Flows of one leg with the routers passed before each. */
function byHops(flows: readonly Flow[]): readonly { readonly flow: Flow; readonly passed: number }[] {
  const found = flows.filter(({ through }) => through === undefined).map((flow) => ({ flow, passed: 0 }));
  for (const { flow, passed } of found)
    for (const next of flows)
      if (next.through !== undefined && flow.onward.some(({ on }) => on === next.through))
        found.push({ flow: next, passed: passed + 1 });
  return found;
}
