/** Routers in a row, and what kernel multicast routing with FRR does with streams that cross them. */
import { Lab } from './lab.js';

export interface RoutedRig {
  readonly routers: readonly string[];
  /** Transit networks 10.9.0.0/31, 10.9.0.2/31 and so on, in this order; the first end has the lower address. */
  readonly links: readonly RoutedLink[];
  /** Each in the network of a router, 10.1.0.0/16 for the first router and so on. */
  readonly hosts: readonly { readonly name: string; readonly at: string }[];
  readonly streams: readonly RoutedStream[];
}

export interface RoutedLink {
  readonly between: readonly [string, string];
  /** Cost at each end; 10 where not stated. */
  readonly costs?: readonly [number, number];
}

export interface RoutedStream {
  readonly name: string;
  readonly from: string;
  /** As sent; 16 where not stated. */
  readonly ttl?: number;
  /** Hosts that join it by source and group. */
  readonly to: readonly string[];
}

/** By stream: the hosts it comes to with the hops it has left, and the links it comes over. */
export type RoutedPicture = Readonly<Record<string, RoutedWay>>;

export interface RoutedWay {
  readonly hosts: Readonly<Record<string, number>>;
  readonly links: readonly string[];
}

export const COST = 10;
export const TTL = 16;

export function addressOf(rig: RoutedRig, host: string): string {
  const one = rig.hosts.find(({ name }) => name === host);
  return `10.${rig.routers.indexOf(one?.at ?? '') + 1}.0.${rig.hosts.findIndex(({ name }) => name === host) + 10}`;
}

export function groupOf(rig: RoutedRig, stream: RoutedStream): string {
  return `232.1.1.${rig.streams.indexOf(stream) + 1}`;
}

/** The fabrics, each whole and after every cut; a cut takes links by number. */
export async function observeRouters(
  asked: readonly { readonly rig: RoutedRig; readonly cuts: readonly (readonly number[])[] }[],
): Promise<readonly { readonly pictures: readonly RoutedPicture[]; readonly error: string | undefined }[]> {
  const input = JSON.stringify(asked.map(({ rig, cuts }) => fabricOf(rig, cuts)));
  const answer = await Lab.with((lab) => lab.run('python3', ['-B', DRIVER, lab.folder], { input, mostMs: 180_000 }));
  const { packets, results } = JSON.parse(answer) as Answer;
  return asked.map(({ rig }, index) => {
    const { seen = [], error } = results[index] ?? { error: 'no answer' };
    return { pictures: seen.map((streams) => pictureOf(rig, streams, packets)), error };
  });
}

const DRIVER = new URL('driver/routers.py', import.meta.url).pathname;

interface Answer {
  readonly packets: number;
  readonly results: readonly { readonly seen?: readonly (readonly Counts[])[]; readonly error?: string }[];
}

interface Counts {
  readonly hosts: Readonly<Record<string, number>>;
  readonly links: Readonly<Record<string, number>>;
}

function fabricOf(rig: RoutedRig, cuts: readonly (readonly number[])[]): object {
  const portName = (link: number): string => `u${link}`;
  const lans = rig.routers.flatMap((router, index) => {
    const hosts = rig.hosts.filter(({ at }) => at === router).map(({ name }) => name);
    return hosts.length === 0 ? [] : [{ router, port: 'lan0', hosts, number: index + 1 }];
  });
  const portsOf = (router: string): readonly object[] => [
    ...rig.links.flatMap(({ between, costs = [COST, COST] }, link) => {
      const end = between.indexOf(router);
      if (end === -1) return [];
      return [{ name: portName(link), address: `10.9.0.${2 * link + end}/31`, cost: costs[end], lan: false }];
    }),
    ...lans.flatMap((lan) =>
      lan.router === router ? [{ name: lan.port, address: `10.${lan.number}.0.1/16`, cost: COST, lan: true }] : [],
    ),
  ];
  return {
    routers: rig.routers.map((name, index) => ({ name, number: index + 1, ports: portsOf(name) })),
    lans,
    links: rig.links.map(({ between }, link) => ({ ends: between.map((router) => [router, portName(link)]) })),
    hosts: rig.hosts.map(({ name }) => ({ name, address: addressOf(rig, name) })),
    networks: lans.map(({ number }) => `10.${number}.0.0/16`),
    streams: rig.streams.map((stream) => ({
      host: stream.from,
      group: groupOf(rig, stream),
      ttl: stream.ttl ?? TTL,
      joins: stream.to,
    })),
    cuts: cuts.map((links) =>
      links.flatMap((link) => (rig.links[link]?.between ?? []).map((router) => [router, portName(link)])),
    ),
  };
}

function pictureOf(rig: RoutedRig, streams: readonly Counts[], packets: number): RoutedPicture {
  return Object.fromEntries(
    rig.streams.map(({ name }, index) => {
      const { hosts, links } = streams[index] ?? { hosts: {}, links: {} };
      const arrivals = Object.entries(hosts).map(([key, count]): [string, number] => {
        const [host = '', hops = ''] = key.split(' ');
        return [count === packets ? host : `${host} (${count} of ${packets} packets, hops ${hops})`, Number(hops)];
      });
      const crossed = Object.entries(links).map(([link, count]) =>
        count === packets ? link : `${link} (${count} of ${packets} packets)`,
      );
      return [name, { hosts: Object.fromEntries(arrivals), links: crossed.sort() }];
    }),
  );
}
