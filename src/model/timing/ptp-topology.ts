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
 * - a clock whose domain states its networks takes no part on others, unless it lists its interfaces itself; where it
 *   states none, networks for management do not carry it (`untimed.ts`);
 * - a clock on an unstated port stands on the first switch of its switched domain.
 */
import { kept } from '../../collections/kept.js';
import type { Device, Interface, Link, Network, Plan, Port, Switch, Vlan } from '../../plan/types.js';
import type { Domain, Domains } from '../vlans/index.js';
import { buildSegments, type Edge, type Segment } from '../network/index.js';
import { isSwitch, type ClockFacts, type ClockOwner } from './clocks.js';
import type { Attachment, Joint, Needs, PathSection, PtpTopology } from './paths.js';
import { createRunsOn, type RunsOn } from './untimed.js';

export function buildPtpTopology(plan: Plan, domains: Domains, clocks: readonly ClockFacts[]): PtpTopology {
  return new Builder(plan, domains, clocks).build();
}

/** Collects attachments and joints, one switched domain after the other. */
class Builder {
  readonly #order: ReadonlyMap<Switch, number>;
  readonly #domains: Domains;
  readonly #clocks: readonly ClockFacts[];
  readonly #facts: ReadonlyMap<ClockOwner, ClockFacts>;
  readonly #segments: ReadonlyMap<Domain, Segment>;
  readonly #attachments: Attachment[] = [];
  readonly #joints: Joint[] = [];
  readonly #planes = new Map<Switch, Map<Domain, PathSection>>();
  readonly #ports = new Map<Port, PathSection>();
  readonly #trunks = new Map<Switch, Map<Switch, Attachment[]>>();
  readonly #loose = new Map<Domain, PathSection>();
  readonly #runsOn: RunsOn;

  constructor(plan: Plan, domains: Domains, clocks: readonly ClockFacts[]) {
    this.#order = new Map(plan.switches.map((one, index) => [one, index]));
    this.#domains = domains;
    this.#clocks = clocks;
    this.#facts = new Map(clocks.map((one) => [one.owner, one]));
    this.#segments = buildSegments(plan, domains);
    this.#runsOn = createRunsOn(clocks);
  }

  build(): PtpTopology {
    for (const clock of this.#clocks) if (!isSwitch(clock.owner)) this.#standDevice(clock, clock.owner);
    for (const segment of this.#segments.values()) for (const edge of segment.edges) this.#join(segment, edge);
    for (const clock of this.#clocks)
      if (isSwitch(clock.owner) && clock.mode === 'ordinary') this.#standSwitch(clock, clock.owner);
    return { attachments: inPortOrder(this.#attachments), joints: this.#joints };
  }

  #standDevice(clock: ClockFacts, device: Device): void {
    const { interfaces, masterOnly } = clock.settings;
    const through = sectionOf(device.name, new Set());
    for (const one of device.interfaces) {
      if (interfaces === undefined ? !this.#runsOn(clock, setOf(one.network)) : !interfaces.includes(one.name))
        continue;
      const stood = this.#stand(one);
      if (isTransparent(clock)) {
        // It passes PTP from port to port while it stands, and each switch it is plugged into.
        const { section, needs } = stood;
        this.#joints.push({ sections: [section, through], needs: { ...needs, boxes: [device, ...needs.boxes] } });
        continue;
      }
      const { name, network } = one;
      const networks = setOf(network);
      this.#attachments.push({
        clock,
        name,
        interface: one,
        towards: undefined,
        networks,
        masterOnly: masterOnly.includes(name),
        ...stood,
      });
    }
  }

  /** Where an interface stands; a boundary clock it is patched to gets its PTP port there. */
  #stand(one: Interface): Pick<Attachment, 'section' | 'placed' | 'needs'> {
    const domain = this.#domains.switched(one);
    const { port } = one;
    if (port !== undefined && one.vlan !== undefined) {
      return {
        section: this.#sectionAt(port, domain, one.network),
        placed: true,
        needs: { boxes: [port.switch], links: [] },
      };
    }
    const [first] = this.#segments.get(domain)?.nodes ?? [];
    if (first === undefined)
      return {
        section: kept(this.#loose, domain, () => sectionOf(domain.title, networksOf(domain.vlans, one.network))),
        placed: true,
        needs: NOTHING,
      };
    const needs = { boxes: [first], links: [] };
    const cutter = this.#cutter(first);
    if (cutter === undefined || !this.#runsOn(cutter, setOf(one.network)))
      return { section: this.#plane(first, domain), placed: false, needs };
    const section = sectionOf(`a port of ${first.name}`, setOf(one.network));
    this.#addCutterPort(cutter, section, `port of ${one.device.name}`, undefined, setOf(one.network), false, needs);
    return { section, placed: false, needs };
  }

  #sectionAt(port: Port, domain: Domain, network: Network | undefined): PathSection {
    const cutter = this.#cutter(port.switch);
    if (cutter === undefined || !this.#takesPart(cutter, port, setOf(network))) return this.#plane(port.switch, domain);
    return kept(this.#ports, port, () => {
      const section = sectionOf(`${port.switch.name}/${port.name}`, setOf(network));
      const masterOnly = cutter.settings.masterOnly.includes(port.name);
      this.#addCutterPort(cutter, section, port.name, undefined, setOf(network), masterOnly, NOTHING);
      return section;
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
        sections: [this.#plane(a, domain), this.#plane(b, domain)],
        needs: { boxes: [a, b], links: edge.links },
      });
    }
  }

  /** One path between two boundary clocks, over whatever joins them in any VLAN. */
  #joinCutters(a: Switch, b: Switch, atA: ClockFacts, atB: ClockFacts, links: readonly Link[], domain: Domain): void {
    const networks = networksOf(domain.vlans, undefined);
    const [first, second] = this.#rank(a) < this.#rank(b) ? [a, b] : [b, a];
    const known = kept(
      kept(this.#trunks, first, () => new Map<Switch, Attachment[]>()),
      second,
      (): Attachment[] => [],
    );
    if (known.length > 0) {
      for (const attachment of known) {
        widen(attachment.networks, networks);
        widen(attachment.section.networks, networks);
        for (const link of links)
          if (!attachment.needs.links.includes(link)) (attachment.needs.links as Link[]).push(link);
      }
      return;
    }
    const section = sectionOf(`${a.name} to ${b.name}`, networks);
    const needs = { boxes: [], links: [...links] };
    known.push(
      this.#addCutterPort(atA, section, portOn(a, links), b, new Set(networks), isMasterOnly(atA, a, links), needs),
      this.#addCutterPort(atB, section, portOn(b, links), a, new Set(networks), isMasterOnly(atB, b, links), needs),
    );
  }

  #addTrunk(
    clock: ClockFacts,
    section: PathSection,
    here: Switch,
    there: Switch,
    links: readonly Link[],
    domain: Domain,
  ): void {
    const networks = networksOf(domain.vlans, undefined);
    this.#addCutterPort(clock, section, portOn(here, links), there, networks, isMasterOnly(clock, here, links), {
      boxes: [there],
      links,
    });
  }

  #addCutterPort(
    clock: ClockFacts,
    section: PathSection,
    name: string,
    towards: Switch | undefined,
    networks: ReadonlySet<Network>,
    masterOnly: boolean,
    needs: Needs,
  ): Attachment {
    const attachment: Attachment = {
      clock,
      section,
      name,
      interface: undefined,
      towards,
      networks,
      masterOnly,
      placed: true,
      needs,
    };
    this.#attachments.push(attachment);
    return attachment;
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

  #plane(one: Switch, domain: Domain): PathSection {
    const byDomain = kept(this.#planes, one, () => new Map<Domain, PathSection>());
    return kept(byDomain, domain, () => sectionOf(domain.title, networksOf(domain.vlans, undefined)));
  }

  #cutter(one: Switch): ClockFacts | undefined {
    const facts = this.#facts.get(one);
    return facts?.mode === 'boundary' ? facts : undefined;
  }

  #takesPart(clock: ClockFacts, port: Port | undefined, networks: ReadonlySet<Network>): boolean {
    const { interfaces } = clock.settings;
    return interfaces === undefined
      ? this.#runsOn(clock, networks)
      : port === undefined || interfaces.includes(port.name);
  }

  #cutterOn(one: Switch, links: readonly Link[], networks: ReadonlySet<Network>): ClockFacts | undefined {
    const cutter = this.#cutter(one);
    if (cutter === undefined) return undefined;
    return portsOn(one, links).some((port) => this.#takesPart(cutter, port, networks)) ? cutter : undefined;
  }
}

const NOTHING: Needs = { boxes: [], links: [] };

function isTransparent({ mode }: ClockFacts): boolean {
  return mode === 'e2e-transparent' || mode === 'p2p-transparent';
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
function inPortOrder(attachments: readonly Attachment[]): readonly Attachment[] {
  const places = new Map<Switch, ReadonlyMap<string, number>>();
  const rank = ({ clock: { owner }, name }: Attachment): number => {
    if (!isSwitch(owner)) return 0;
    const known = kept(places, owner, () => new Map([...owner.ports.keys()].map((port, index) => [port, index])));
    return known.get(name) ?? known.size;
  };
  return attachments
    .map((attachment) => ({ attachment, at: rank(attachment) }))
    .sort((a, b) => a.at - b.at)
    .map(({ attachment }) => attachment);
}

function sectionOf(title: string, networks: ReadonlySet<Network>): PathSection {
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
