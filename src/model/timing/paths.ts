/**
 * Communication paths: what hears what without a boundary clock between (IEEE 1588-2008 §3.1.5).
 *
 * A switched domain is one path. A switch that does not know PTP, or is a transparent clock, adds its ports to it; a
 * switch that is a boundary clock ends it at each of its ports. Decided here, because plans are silent about it:
 * - a boundary clock keeps PTP of every domain number from passing, its own or not;
 * - between two boundary clocks runs one path, whatever VLANs and however many links join them;
 * - towards any other switch a boundary clock has one PTP port in each VLAN the link carries;
 * - no port of a boundary clock counts as blocked by the spanning tree;
 * - ports on which a boundary clock takes no part in PTP are joined as a plain switch joins them;
 * - a clock whose domain states its networks takes no part on others, unless it lists its interfaces itself;
 * - a clock on an unstated port stands on the first switch of its switched domain.
 */
import type { Device, Interface, Link, Network, Plan, Port, Switch, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from '../domains.js';
import { buildSegments, type Edge, type Segment } from '../network/segment.js';
import { UnionFind } from '../union-find.js';
import { isSwitch, type ClockFacts, type ClockOwner } from './clocks.js';

/** A place where PTP messages are heard; joined places are one path. */
export interface Spot {
  readonly title: string;
  readonly networks: ReadonlySet<Network>;
}

/** A PTP port before it is known which path it is on. */
export interface Footing {
  readonly clock: ClockFacts;
  readonly spot: Spot;
  /** As people name it: an interface, or a switch port. */
  readonly name: string;
  readonly interface: Interface | undefined;
  /** The switch at the other end of a link. */
  readonly towards: Switch | undefined;
  readonly networks: ReadonlySet<Network>;
  readonly masterOnly: boolean;
  /** False when the plan does not say on which switch it stands. */
  readonly placed: boolean;
  readonly needs: Needs;
}

/** What must stand for a footing or a joint to hold. */
interface Needs {
  readonly switches: readonly Switch[];
  /** Any one of them; empty: none is needed. */
  readonly links: readonly Link[];
}

interface Joint {
  readonly spots: readonly [Spot, Spot];
  readonly needs: Needs;
}

/** Where every clock stands, and what joins the places. */
export interface PtpGround {
  readonly footings: readonly Footing[];
  readonly joints: readonly Joint[];
}

/** What is gone: nothing, or what a failure takes. */
export interface Gone {
  readonly owners: ReadonlySet<ClockOwner>;
  readonly links: ReadonlySet<Link>;
}

/** The path each standing port is on, as a number; a path that loses nothing keeps its own. */
export function pathsWithout(ground: PtpGround, gone: Gone): ReadonlyMap<Footing, number> {
  const holds = ({ switches, links }: Needs): boolean =>
    !switches.some((one) => gone.owners.has(one)) && (links.length === 0 || links.some((one) => !gone.links.has(one)));
  const union = new UnionFind<Spot>();
  for (const { spots, needs } of ground.joints) if (holds(needs)) union.union(...spots);
  const numbers = new Map<Spot, number>();
  const paths = new Map<Footing, number>();
  for (const [index, footing] of ground.footings.entries()) {
    if (gone.owners.has(footing.clock.owner) || !holds(footing.needs)) continue;
    const root = union.find(footing.spot);
    paths.set(
      footing,
      kept(numbers, root, () => index),
    );
  }
  return paths;
}

export function buildPtpGround(plan: Plan, domains: Domains, clocks: readonly ClockFacts[]): PtpGround {
  return new Builder(plan, domains, clocks).build();
}

/** Collects footings and joints, one switched domain after the other. */
class Builder {
  readonly #order: ReadonlyMap<Switch, number>;
  readonly #domains: Domains;
  readonly #clocks: readonly ClockFacts[];
  readonly #facts: ReadonlyMap<ClockOwner, ClockFacts>;
  readonly #segments: ReadonlyMap<Domain, Segment>;
  readonly #footings: Footing[] = [];
  readonly #joints: Joint[] = [];
  readonly #planes = new Map<Switch, Map<Domain, Spot>>();
  readonly #ports = new Map<Port, Spot>();
  readonly #trunks = new Map<Switch, Map<Switch, Footing[]>>();
  readonly #loose = new Map<Domain, Spot>();

  constructor(plan: Plan, domains: Domains, clocks: readonly ClockFacts[]) {
    this.#order = new Map(plan.switches.map((one, index) => [one, index]));
    this.#domains = domains;
    this.#clocks = clocks;
    this.#facts = new Map(clocks.map((one) => [one.owner, one]));
    this.#segments = buildSegments(plan, domains);
  }

  build(): PtpGround {
    for (const clock of this.#clocks) if (!isSwitch(clock.owner)) this.#standDevice(clock, clock.owner);
    for (const segment of this.#segments.values()) for (const edge of segment.edges) this.#join(segment, edge);
    for (const clock of this.#clocks)
      if (isSwitch(clock.owner) && clock.mode === 'ordinary') this.#standSwitch(clock, clock.owner);
    return { footings: inPortOrder(this.#footings), joints: this.#joints };
  }

  #standDevice(clock: ClockFacts, device: Device): void {
    const { interfaces, masterOnly } = clock.settings;
    const spots: Spot[] = [];
    for (const one of device.interfaces) {
      if (interfaces === undefined ? !runsOn(clock, setOf(one.network)) : !interfaces.includes(one.name)) continue;
      const stood = this.#stand(one);
      spots.push(stood.spot);
      if (isTransparent(clock)) continue;
      const { name, network } = one;
      const networks = setOf(network);
      this.#footings.push({
        clock,
        name,
        interface: one,
        towards: undefined,
        networks,
        masterOnly: masterOnly.includes(name),
        ...stood,
      });
    }
    if (!isTransparent(clock)) return;
    const [first, ...others] = spots;
    if (first !== undefined) for (const other of others) this.#joints.push({ spots: [first, other], needs: NOTHING });
  }

  /** Where an interface stands; a boundary clock it is patched to gets its PTP port there. */
  #stand(one: Interface): Pick<Footing, 'spot' | 'placed' | 'needs'> {
    const domain = this.#domains.switched(one);
    const { port } = one;
    if (port !== undefined && one.vlan !== undefined) {
      return {
        spot: this.#spotAt(port, domain, one.network),
        placed: true,
        needs: { switches: [port.switch], links: [] },
      };
    }
    const [first] = this.#segments.get(domain)?.nodes ?? [];
    if (first === undefined)
      return {
        spot: kept(this.#loose, domain, () => spotOf(domain.title, networksOf(domain.vlans, one.network))),
        placed: true,
        needs: NOTHING,
      };
    const needs = { switches: [first], links: [] };
    const cutter = this.#cutter(first);
    if (cutter === undefined || !runsOn(cutter, setOf(one.network)))
      return { spot: this.#plane(first, domain), placed: false, needs };
    const spot = spotOf(`a port of ${first.name}`, setOf(one.network));
    this.#addCutterPort(cutter, spot, `port of ${one.device.name}`, undefined, setOf(one.network), false, needs);
    return { spot, placed: false, needs };
  }

  #spotAt(port: Port, domain: Domain, network: Network | undefined): Spot {
    const cutter = this.#cutter(port.switch);
    if (cutter === undefined || !takesPart(cutter, port, setOf(network))) return this.#plane(port.switch, domain);
    return kept(this.#ports, port, () => {
      const spot = spotOf(`${port.switch.name}/${port.name}`, setOf(network));
      const masterOnly = cutter.settings.masterOnly.includes(port.name);
      this.#addCutterPort(cutter, spot, port.name, undefined, setOf(network), masterOnly, NOTHING);
      return spot;
    });
  }

  #join(segment: Segment, edge: Edge): void {
    const a = segment.nodes[edge.a];
    const b = segment.nodes[edge.b];
    if (a === undefined || b === undefined) return;
    const { domain } = segment;
    const networks = networksOf(domain.vlans, undefined);
    const atA = this.#cutterOn(a, edge.links, networks);
    const atB = this.#cutterOn(b, edge.links, networks);
    if (atA !== undefined && atB !== undefined) {
      this.#joinCutters(a, b, atA, atB, edge.links, domain);
    } else if (atA !== undefined) {
      this.#addTrunk(atA, this.#plane(b, domain), a, b, edge.links, domain);
    } else if (atB !== undefined) {
      this.#addTrunk(atB, this.#plane(a, domain), b, a, edge.links, domain);
    } else {
      this.#joints.push({
        spots: [this.#plane(a, domain), this.#plane(b, domain)],
        needs: { switches: [a, b], links: edge.links },
      });
    }
  }

  /** One path between two boundary clocks, over whatever joins them in any VLAN. */
  #joinCutters(a: Switch, b: Switch, atA: ClockFacts, atB: ClockFacts, links: readonly Link[], domain: Domain): void {
    const networks = networksOf(domain.vlans, undefined);
    const [first, second] = this.#rank(a) < this.#rank(b) ? [a, b] : [b, a];
    const known = kept(
      kept(this.#trunks, first, () => new Map<Switch, Footing[]>()),
      second,
      (): Footing[] => [],
    );
    if (known.length > 0) {
      for (const footing of known) {
        widen(footing.networks, networks);
        widen(footing.spot.networks, networks);
        for (const link of links) if (!footing.needs.links.includes(link)) (footing.needs.links as Link[]).push(link);
      }
      return;
    }
    const spot = spotOf(`${a.name} to ${b.name}`, networks);
    const needs = { switches: [], links: [...links] };
    known.push(
      this.#addCutterPort(atA, spot, portOn(a, links), b, new Set(networks), isMasterOnly(atA, a, links), needs),
      this.#addCutterPort(atB, spot, portOn(b, links), a, new Set(networks), isMasterOnly(atB, b, links), needs),
    );
  }

  #addTrunk(clock: ClockFacts, spot: Spot, here: Switch, there: Switch, links: readonly Link[], domain: Domain): void {
    const networks = networksOf(domain.vlans, undefined);
    this.#addCutterPort(clock, spot, portOn(here, links), there, networks, isMasterOnly(clock, here, links), {
      switches: [there],
      links,
    });
  }

  #addCutterPort(
    clock: ClockFacts,
    spot: Spot,
    name: string,
    towards: Switch | undefined,
    networks: ReadonlySet<Network>,
    masterOnly: boolean,
    needs: Needs,
  ): Footing {
    const footing: Footing = {
      clock,
      spot,
      name,
      interface: undefined,
      towards,
      networks,
      masterOnly,
      placed: true,
      needs,
    };
    this.#footings.push(footing);
    return footing;
  }

  /** A switch that keeps time without passing it on: one port in each switched domain it has an address in. */
  #standSwitch(clock: ClockFacts, owner: Switch): void {
    const stood = new Set<Domain>();
    for (const { vlan } of owner.addresses) {
      const domain = vlan === undefined ? undefined : this.#domains.onSwitch(owner, vlan);
      if (domain === undefined || vlan === undefined || stood.has(domain)) continue;
      stood.add(domain);
      this.#addCutterPort(
        clock,
        this.#plane(owner, domain),
        vlan.name,
        undefined,
        networksOf([vlan], undefined),
        false,
        NOTHING,
      );
    }
  }

  #rank(one: Switch): number {
    return this.#order.get(one) ?? -1;
  }

  #plane(one: Switch, domain: Domain): Spot {
    const byDomain = kept(this.#planes, one, () => new Map<Domain, Spot>());
    return kept(byDomain, domain, () => spotOf(domain.title, networksOf(domain.vlans, undefined)));
  }

  #cutter(one: Switch): ClockFacts | undefined {
    const facts = this.#facts.get(one);
    return facts?.mode === 'boundary' ? facts : undefined;
  }

  #cutterOn(one: Switch, links: readonly Link[], networks: ReadonlySet<Network>): ClockFacts | undefined {
    const cutter = this.#cutter(one);
    if (cutter === undefined) return undefined;
    return portsOn(one, links).some((port) => takesPart(cutter, port, networks)) ? cutter : undefined;
  }
}

const NOTHING: Needs = { switches: [], links: [] };

function isTransparent({ mode }: ClockFacts): boolean {
  return mode === 'e2e-transparent' || mode === 'p2p-transparent';
}

function takesPart(clock: ClockFacts, port: Port | undefined, networks: ReadonlySet<Network>): boolean {
  const { interfaces } = clock.settings;
  return interfaces === undefined ? runsOn(clock, networks) : port === undefined || interfaces.includes(port.name);
}

/** Whether a clock's domain runs on any of the networks; it does where either is not stated. */
function runsOn({ planned }: ClockFacts, networks: ReadonlySet<Network>): boolean {
  const stated = planned?.networks;
  return stated === undefined || networks.size === 0 || stated.some((one) => networks.has(one));
}

function portsOn(one: Switch, links: readonly Link[]): readonly (Port | undefined)[] {
  return links.map(({ ends }) => ends.find((end) => end.switch === one)?.port);
}

function portOn(one: Switch, links: readonly Link[]): string {
  const [first] = portsOn(one, links);
  return first?.name ?? 'unnamed port';
}

function isMasterOnly({ settings }: ClockFacts, one: Switch, links: readonly Link[]): boolean {
  return portsOn(one, links).some((port) => port !== undefined && settings.masterOnly.includes(port.name));
}

/** Ports of one switch in the order the plan lists them: port numbers settle ties. */
function inPortOrder(footings: readonly Footing[]): readonly Footing[] {
  const places = new Map<Switch, ReadonlyMap<string, number>>();
  const rank = ({ clock: { owner }, name }: Footing): number => {
    if (!isSwitch(owner)) return 0;
    const known = kept(places, owner, () => new Map([...owner.ports.keys()].map((port, index) => [port, index])));
    return known.get(name) ?? known.size;
  };
  return footings
    .map((footing) => ({ footing, at: rank(footing) }))
    .sort((a, b) => a.at - b.at)
    .map(({ footing }) => footing);
}

function spotOf(title: string, networks: ReadonlySet<Network>): Spot {
  return { title, networks: new Set(networks) };
}

function networksOf(vlans: readonly Vlan[], network: Network | undefined): ReadonlySet<Network> {
  const found = new Set(vlans.flatMap((vlan) => vlan.network ?? []));
  if (network !== undefined) found.add(network);
  return found;
}

function setOf(network: Network | undefined): ReadonlySet<Network> {
  return new Set(network === undefined ? [] : [network]);
}

function widen(set: ReadonlySet<Network>, more: ReadonlySet<Network>): void {
  for (const one of more) (set as Set<Network>).add(one);
}

/** The value of a key, made on first use. */
function kept<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  let value = map.get(key);
  if (value === undefined) map.set(key, (value = make()));
  return value;
}
