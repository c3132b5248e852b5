/** A rig of routers as a plan, and what the model says of it in the same words as the lab. */
import { createModel } from '../../src/model/model.js';
import { carriedBy } from '../../src/model/network/forward.js';
import type { Plan } from '../../src/plan/types.js';
import { addressOf, COST, groupOf, TTL, type RoutedPicture, type RoutedRig } from './routers.js';
import { resolveFile } from './twin.js';

/** `cut`: links that are not there, by number. */
export function routedPlan(rig: RoutedRig, cut: readonly number[]): Plan {
  const hostsAt = (router: string): RoutedRig['hosts'] => rig.hosts.filter(({ at }) => at === router);
  const networks = rig.routers.filter((router) => hostsAt(router).length > 0);
  const linkPort = (link: number): string => `u${link}`;
  return resolveFile({
    rig: 'Twin',
    practice: { follows: 'rfc4607', equalPaths: 'lowest-address' },
    // One wire: everything in it comes to everybody.
    vlans: networks.map((router, index) => ({
      name: `net-${router}`,
      id: 10 + index,
      subnet: `10.${rig.routers.indexOf(router) + 1}.0.0/16`,
      igmp: { snooping: false },
      routing: { mode: 'pim-ssm', routers: [router] },
    })),
    switches: rig.routers.map((name, number) => ({
      name,
      ports: [
        ...rig.links.flatMap(({ between }, link) =>
          between.includes(name) ? [{ name: linkPort(link), rate: '10G' }] : [],
        ),
        ...hostsAt(name).map((host) => ({ name: host.name, rate: '10G', access: `net-${name}` })),
      ],
      ...(networks.includes(name) ? { addresses: [{ vlan: `net-${name}`, address: `10.${number + 1}.0.1/16` }] } : {}),
    })),
    links: rig.links.flatMap(({ between: [a, b], costs = [COST, COST] }, link) =>
      cut.includes(link)
        ? []
        : [
            {
              name: `${a}-${b}`,
              ends: [`${a}/${linkPort(link)}`, `${b}/${linkPort(link)}`],
              routed: costs.map((metric, end) => ({ address: `10.9.0.${2 * link + end}/31`, metric })),
            },
          ],
    ),
    devices: rig.hosts.map((host) => ({
      name: host.name,
      interfaces: [
        {
          name: 'net',
          vlan: `net-${host.at}`,
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
          takes: `${stream.from}/${stream.name}`,
          legs: [{ interface: 'net', join: 'stated' }],
        })),
    })),
  });
}

/** Hosts and links of each stream; hops left are what each link took of those it was sent with. */
export function modelledRoutes(rig: RoutedRig, cut: readonly number[]): RoutedPicture {
  const plan = routedPlan(rig, cut);
  const { network } = createModel(plan);
  return Object.fromEntries(
    rig.streams.map((stream) => {
      const label = `${stream.from}/${stream.name}`;
      const links = new Set<string>();
      const hosts = new Set<string>();
      for (const leg of plan.legs.filter(({ sender }) => sender.label === label)) {
        for (const flow of network.flowsOf(leg)) {
          const { nodes } = flow.forwarding.segment;
          const { steps, ports } = carriedBy(flow);
          for (const { from, to } of steps.keys()) links.add(`${nodes[from]?.name ?? '?'}>${nodes[to]?.name ?? '?'}`);
          for (const { device } of ports.keys()) hosts.add(device.name);
        }
      }
      return [
        stream.name,
        { hosts: hopsOf(rig, stream.from, stream.ttl ?? TTL, hosts, links), links: [...links].sort() },
      ];
    }),
  );
}

/** By the links that carry it: each ends at a router, and so does the sender's own network. */
function hopsOf(
  rig: RoutedRig,
  from: string,
  ttl: number,
  hosts: ReadonlySet<string>,
  links: ReadonlySet<string>,
): Readonly<Record<string, number>> {
  const routerOf = (host: string): string => rig.hosts.find(({ name }) => name === host)?.at ?? '';
  const start = routerOf(from);
  const passed = new Map([[start, 1]]);
  for (const router of passed.keys()) {
    for (const link of links) {
      const [near = '', far = ''] = link.split('>');
      if (near === router && !passed.has(far)) passed.set(far, (passed.get(router) ?? 0) + 1);
    }
  }
  return Object.fromEntries(
    [...hosts].map((host) => {
      const at = routerOf(host);
      return [host, at === start ? ttl : ttl - (passed.get(at) ?? NaN)];
    }),
  );
}
