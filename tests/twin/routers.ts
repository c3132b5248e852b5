/** Routers in a row, and what kernel multicast routing with FRR does with streams that cross them. */
import { Lab, whyNoLab } from './lab.js';

export interface RoutedRig {
  readonly routers: readonly string[];
  /** Transit networks 10.9.0.0/31, 10.9.0.2/31 and so on, in this order; the first end has the lower address. */
  readonly links: readonly RoutedLink[];
  /** Switches that only switch, each on a trunk of all networks of the router above it. */
  readonly switches?: readonly PlainSwitch[];
  readonly hosts: readonly RoutedHost[];
  readonly streams: readonly RoutedStream[];
  /** The router that any-source streams meet at, by its address in its first network; source-specific ones do without. */
  readonly rendezvous?: string;
  /** True where all that switches snoops; else a network of hosts is as one wire. */
  readonly snooping?: boolean;
}

export interface RoutedLink {
  readonly between: readonly [string, string];
  /** Cost at each end; 10 where not stated. */
  readonly costs?: readonly [number, number];
}

export interface PlainSwitch {
  readonly name: string;
  /** A router, or a switch that stands before it. */
  readonly below: string;
}

export interface RoutedHost {
  readonly name: string;
  /** A router or a switch below one. */
  readonly at: string;
  /** True in the second network of its router, 10.101.0.0/16 for the first router; else in the first, 10.1.0.0/16. */
  readonly second?: boolean;
}

export interface RoutedStream {
  readonly name: string;
  readonly from: string;
  /** As sent; 16 where not stated. */
  readonly ttl?: number;
  /** Hosts that join it: by source and group, or by its group alone where it is an any-source stream. */
  readonly to: readonly string[];
  readonly any?: boolean;
}

/** Taken away at once: links by number, routers and the links above switches by name. */
export interface Cut {
  readonly links?: readonly number[];
  readonly routers?: readonly string[];
  readonly uplinks?: readonly string[];
}

/** By stream: the hosts it comes to with the hops it has left, and the links it comes over. */
export type RoutedPicture = Readonly<Record<string, RoutedWay>>;

export interface RoutedWay {
  readonly hosts: Readonly<Record<string, number>>;
  /** `from>to`, of a second link between the same routers `from>to 2`, below a router `from>to@network`. */
  readonly links: readonly string[];
}

export interface RoutedNetwork {
  readonly name: string;
  readonly router: string;
  readonly second: boolean;
  readonly number: number;
  readonly hosts: readonly string[];
}

export const COST = 10;
export const TTL = 16;
/** As `driver/routers.py` tells its routers; robustness is that of RFC 3376 §8.1. */
export const IGMP_TIMERS = { robustness: 2, queryInterval: 2, queryResponseInterval: 0.4 } as const;
const QUERIES_S = IGMP_TIMERS.robustness * IGMP_TIMERS.queryInterval;
/** RFC 3376 §8.4. */
const MEMBERSHIP_S = QUERIES_S + IGMP_TIMERS.queryResponseInterval;
/** RFC 3376 §8.5. */
const OTHER_QUERIER_PRESENT_S = QUERIES_S + IGMP_TIMERS.queryResponseInterval / 2;
const SETTLE_S = 2;

export function routerOf(rig: RoutedRig, at: string): string {
  const above = rig.switches?.find(({ name }) => name === at)?.below;
  return above === undefined ? at : routerOf(rig, above);
}

/** Networks of hosts, in the order of routers. */
export function networksOf(rig: RoutedRig): readonly RoutedNetwork[] {
  return rig.routers.flatMap((router, index) =>
    [false, true].flatMap((second) => {
      const hosts = rig.hosts.filter((one) => routerOf(rig, one.at) === router && (one.second ?? false) === second);
      const name = `net-${router}${second ? '-b' : ''}`;
      const number = index + (second ? 101 : 1);
      return hosts.length === 0 ? [] : [{ name, router, second, number, hosts: hosts.map((one) => one.name) }];
    }),
  );
}

export function networkOf(rig: RoutedRig, host: string): RoutedNetwork {
  const found = networksOf(rig).find(({ hosts }) => hosts.includes(host));
  if (found === undefined) throw new Error(`no host ${host}`);
  return found;
}

export function addressOf(rig: RoutedRig, host: string): string {
  return `10.${networkOf(rig, host).number}.0.${rig.hosts.findIndex(({ name }) => name === host) + 10}`;
}

export function groupOf(rig: RoutedRig, stream: RoutedStream): string {
  return `${stream.any === true ? 239 : 232}.1.1.${rig.streams.indexOf(stream) + 1}`;
}

export function rendezvousOf(rig: RoutedRig): string | undefined {
  const found = networksOf(rig).find(({ router, second }) => router === rig.rendezvous && !second);
  if (found === undefined && rig.rendezvous !== undefined) throw new Error(`no network at ${rig.rendezvous}`);
  return found === undefined ? undefined : `10.${found.number}.0.1`;
}

/** What sets a link apart from another between the same routers. */
export function tagOf(rig: RoutedRig, link: number): string {
  const pair = (one: RoutedLink | undefined): string => [...(one?.between ?? [])].sort().join();
  const before = rig.links.slice(0, link).filter((one) => pair(one) === pair(rig.links[link])).length;
  return before === 0 ? '' : ` ${before + 1}`;
}

export const linkName = (link: number): string => `u${link}`;
export const uplinkName = (plain: string): string => `up-${plain}`;

/** Why no router can be built on this machine; undefined where it can. */
export function whyNoRouters(): string | undefined {
  return whyNoLab('python3', 'vtysh', '/usr/lib/frr/zebra', '/usr/lib/frr/ospfd', '/usr/lib/frr/pimd');
}

/** What a Linux bridge is told where it snoops: it never queries itself. */
const SNOOPING = [
  'mcast_snooping 1 mcast_igmp_version 3 mcast_querier 0',
  `mcast_querier_interval ${centiseconds(OTHER_QUERIER_PRESENT_S)}`,
  `mcast_membership_interval ${centiseconds(MEMBERSHIP_S)}`,
].join(' ');

function centiseconds(seconds: number): number {
  return Math.round(seconds * 100);
}

/**
 * The fabrics, each whole and after every cut.
 *
 * Where somebody in the network of the sender joins, a router of FRR 8.4 sends the stream back into it, one hop less, while
 * RFC 7761 §4.2 has nothing leave by the interface it came in by. In the sender's own network nothing else has one hop
 * less, so such copies are left out of the picture.
 */
export async function observeRouters(
  asked: readonly { readonly rig: RoutedRig; readonly cuts: readonly Cut[] }[],
): Promise<readonly RoutedObserved[]> {
  const input = JSON.stringify(asked.map(({ rig, cuts }) => fabricOf(rig, cuts)));
  const answer = await Lab.with((lab) => lab.run('python3', ['-B', DRIVER, lab.folder], { input, mostMs: 180_000 }));
  const { packets, results } = JSON.parse(answer) as Answer;
  return asked.map(({ rig }, index) => {
    const { seen = [], error } = results[index] ?? { error: 'no answer' };
    return { pictures: seen.map((streams) => pictureOf(rig, streams, packets)), error };
  });
}

export interface RoutedObserved {
  readonly pictures: readonly RoutedPicture[];
  readonly error: string | undefined;
}

const DRIVER = new URL('driver/routers.py', import.meta.url).pathname;

interface Answer {
  readonly packets: number;
  readonly results: readonly { readonly seen?: readonly (readonly Counts[])[]; readonly error?: string }[];
}

/** By name and hops left, with a space between. */
interface Counts {
  readonly hosts: Readonly<Record<string, number>>;
  readonly links: Readonly<Record<string, number>>;
}

function fabricOf(rig: RoutedRig, cuts: readonly Cut[]): object {
  const { switches = [], snooping = false } = rig;
  const lans = networksOf(rig).map(({ name, router, number, hosts }, index) => {
    const below = switches.filter((one) => routerOf(rig, one.name) === router);
    return {
      name,
      router,
      port: `lan${index}`,
      address: `10.${number}.0.1/16`,
      network: `10.${number}.0.0/16`,
      bridges: [router, ...below.map((one) => one.name)].map((bridge) => ({
        name: bridge,
        options: snooping ? SNOOPING : 'mcast_snooping 0',
        hosts: hosts.filter((host) => rig.hosts.some((one) => one.name === host && one.at === bridge)),
      })),
      links: below.map((one) => [one.below, one.name, uplinkName(one.name)]),
    };
  });
  const portsOf = (router: string): readonly object[] => [
    ...rig.links.flatMap(({ between, costs = [COST, COST] }, link) => {
      const end = between.indexOf(router);
      if (end === -1) return [];
      return [{ name: linkName(link), address: `10.9.0.${2 * link + end}/31`, cost: costs[end], lan: false }];
    }),
    ...lans.flatMap((lan) =>
      lan.router === router ? [{ name: lan.port, address: lan.address, cost: COST, lan: true }] : [],
    ),
  ];
  return {
    routers: rig.routers.map((name, index) => ({ name, number: index + 1, ports: portsOf(name) })),
    lans,
    links: rig.links.map(({ between }, link) => ({
      name: linkName(link),
      tag: tagOf(rig, link),
      ends: between.map((router) => [router, linkName(link)]),
    })),
    hosts: rig.hosts.map(({ name }) => ({ name, address: addressOf(rig, name) })),
    rendezvous: rendezvousOf(rig),
    streams: rig.streams.map((stream) => ({
      any: stream.any ?? false,
      host: stream.from,
      group: groupOf(rig, stream),
      ttl: stream.ttl ?? TTL,
      joins: stream.to,
    })),
    cuts: cuts.map(({ links = [], routers = [], uplinks = [] }) => ({
      names: [...links.map(linkName), ...routers, ...uplinks.map(uplinkName)],
      // Bridges and routers forget members that they do not hear, and bridges the querier.
      settleS: uplinks.length > 0 || (snooping && routers.length > 0) ? MEMBERSHIP_S + 1 : SETTLE_S,
    })),
  };
}

function pictureOf(rig: RoutedRig, streams: readonly Counts[], packets: number): RoutedPicture {
  return Object.fromEntries(
    rig.streams.map((stream, index) => {
      const { hosts, links } = streams[index] ?? { hosts: {}, links: {} };
      const home = networkOf(rig, stream.from);
      const sentBack = (stream.ttl ?? TTL) - 1;
      const told = (name: string, count: number): string =>
        count === packets ? name : `${name} (${count} of ${packets} packets)`;
      const arrivals = byHops(hosts)
        .filter(({ name, hops }) => !(home.hosts.includes(name) && hops === sentBack))
        .map(({ name, hops, count }) => ({ name: told(name, count), hops }));
      const names = arrivals.map(({ name }) => name);
      const crossed = byHops(links)
        .filter(({ name, hops }) => !(name.endsWith(`@${home.name}`) && hops === sentBack))
        .map(({ name, count }) => told(name, count));
      return [
        stream.name,
        {
          hosts: Object.fromEntries(
            arrivals.map(({ name, hops }, at) => [
              names.indexOf(name) === at ? name : `${name} again with ${hops}`,
              hops,
            ]),
          ),
          links: crossed.sort(),
        },
      ];
    }),
  );
}

/** Counts are by a name and the hops left. */
function byHops(
  counts: Readonly<Record<string, number>>,
): readonly { readonly name: string; readonly hops: number; readonly count: number }[] {
  return Object.entries(counts).map(([key, count]) => {
    const cut = key.lastIndexOf(' ');
    return { name: key.slice(0, cut), hops: Number(key.slice(cut + 1)), count };
  });
}
