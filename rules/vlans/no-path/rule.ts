import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  linkDifference,
  linkLabel,
  listNames,
  mark,
  mayCarry,
  missingLinks,
  portLabel,
  sameMeaning,
  tagOf,
  withId,
  type Domain,
  type Domains,
  type Interface,
  type Leg,
  type Link,
  type Mark,
  type ReceiverLeg,
  type Switch,
  type Vlan,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'vlans/no-path',
  summary: 'A VLAN does not reach from a sender to its receiver',
  severity: 'error',
  sources: [clause('IEEE 802.1Q-2022', '8.6'), commonPractice('every link between two parts of a VLAN carries it')],
  needs: ['links', 'receivers', 'interfaceVlans', 'switchPorts'],
  *check({ plan, model: { domains } }) {
    const missing = missingLinks(plan, domains);
    for (const gap of gaps(plan.receiverLegs, domains)) {
      const { vlan, from, to } = gap;
      const links = missing(vlan, from, to);
      // Ends that disagree are the cause, and the rules on links report them.
      if (links?.some((link) => linkDifference(link) !== undefined) === true) continue;
      const streams = byLabel([...gap.streams], (one) => one);
      const [first, ...rest] = marksOf(links, vlan, gap.hosts);
      if (first === undefined) continue;
      const between = byLabel([from.name, to.name], (name) => name).join(' and ');
      const where = links?.map((link) => linkLabel(link)) ?? [];
      yield {
        subject: `${vlan.name} between ${[...gap.parts]
          .map((part) => part.switches[0]?.name ?? part.key)
          .sort()
          .join(' and ')}`,
        parties: [vlan.name, ...streams],
        what:
          `VLAN ${withId(vlan)} does not get from switch ${from.name} to switch ${to.name}: ` +
          (where.length === 0
            ? 'no links lead from one to the other'
            : `${where.length === 1 ? 'link' : 'links'} ${listNames(where)} ${where.length === 1 ? 'does' : 'do'} not carry it`),
        at: first,
        others: rest,
        onAir: `${listNames(streams)} never ${streams.length === 1 ? 'arrives' : 'arrive'}: black or silent from the start, though sender and receiver each look healthy`,
        fix:
          where.length === 0
            ? `link ${between}, or the networks they are in, with a trunk that carries ${withId(vlan)}`
            : `add ${withId(vlan)} to ${listNames((links ?? []).flatMap((link) => listsWithout(link, vlan)))}`,
        touch: where[0] === undefined ? { kind: 'vlan', name: vlan.name } : { kind: 'link', name: where[0] },
      };
    }
  },
});

interface Gap {
  readonly vlan: Vlan;
  readonly parts: ReadonlySet<Domain>;
  /** One switch of each part: where its first sender and receiver are, by name. */
  readonly from: Switch;
  readonly to: Switch;
  readonly streams: Set<string>;
  readonly hosts: Set<Interface>;
}

/** Per VLAN and pair of parts of it, everything that would have to pass. */
function gaps(receiverLegs: readonly ReceiverLeg[], domains: Domains): Iterable<Gap> {
  const found = new Map<Domain, Map<Domain, Gap>>();
  for (const leg of receiverLegs) {
    const { takes } = leg;
    if (
      takes?.vlan === undefined ||
      leg.vlan === undefined ||
      (takes.vlan !== leg.vlan && !sameMeaning(takes.vlan, leg.vlan))
    )
      continue;
    // One VLAN on one switch is one part: most receivers of a large plan.
    if (takes.vlan === leg.vlan && takes.interface?.port?.switch === leg.interface?.port?.switch) continue;
    const parts = [domains.switched(takes), domains.switched(leg)] as const;
    if (parts[0] === parts[1] || !isPlaced(takes, domains) || !isPlaced(leg, domains)) continue;
    const here = takes.interface;
    const there = leg.interface;
    if (here?.port === undefined || there?.port === undefined) continue;
    const [low, high] = parts[0].title < parts[1].title ? parts : [parts[1], parts[0]];
    const byHigh = found.get(low) ?? new Map<Domain, Gap>();
    found.set(low, byHigh);
    let gap = byHigh.get(high);
    if (gap === undefined) {
      const [from, to] =
        low === parts[0] ? [here.port.switch, there.port.switch] : [there.port.switch, here.port.switch];
      byHigh.set(
        high,
        (gap = { vlan: takes.vlan, parts: new Set(parts), from, to, streams: new Set(), hosts: new Set() }),
      );
    }
    gap.streams.add(takes.sender.label);
    gap.hosts.add(here).add(there);
  }
  return [...found.values()].flatMap((byHigh) => [...byHigh.values()]);
}

/** A host whose own port does not carry its VLAN is `ports/vlan-differs`. */
function isPlaced(leg: Leg | ReceiverLeg, domains: Domains): boolean {
  const { vlan, interface: via } = leg;
  return domains.placed(leg) && vlan !== undefined && via?.port !== undefined && mayCarry(via.port, vlan);
}

/** The lists that lack a VLAN: `the trunk at core/5`, or the link's own. */
function listsWithout(link: Link, vlan: Vlan): readonly string[] {
  const ports = link.ends.flatMap(({ port }) => (port === undefined || mayCarry(port, vlan) ? [] : [port]));
  if (ports.length === 0) return [`the \`vlans\` of link ${linkLabel(link)}`];
  const lists = ports.map((port) => `${port.trunk === undefined ? 'a trunk' : 'the trunk'} at ${portLabel(port)}`);
  const stated = link.vlans !== undefined && !link.vlans.some((other) => tagOf(other) === tagOf(vlan));
  return byLabel(stated ? [...lists, `the \`vlans\` of link ${linkLabel(link)}`] : lists, (list) => list);
}

/** The ends of the links to change first, then the hosts that miss each other. */
function marksOf(links: readonly Link[] | undefined, vlan: Vlan, hosts: ReadonlySet<Interface>): readonly Mark[] {
  const ends = (links ?? []).flatMap((link) => {
    const atPorts = link.ends.flatMap((end) =>
      end.port === undefined || mayCarry(end.port, vlan)
        ? []
        : [
            mark(
              end.port,
              `${portLabel(end.port)} does not carry ${vlan.name}`,
              end.port.trunk === undefined ? 'access' : 'trunk',
            ),
          ],
    );
    return atPorts.length > 0
      ? byLabel(atPorts, (one) => one.label)
      : [mark(link, `link ${linkLabel(link)} is said not to carry ${vlan.name}`, 'vlans')];
  });
  return [
    ...ends,
    ...byLabel(
      [...hosts].map((one) =>
        mark(one, `${one.device.name} ${one.name}, on ${one.port === undefined ? '' : portLabel(one.port)}`, 'port'),
      ),
      (one) => one.label,
    ),
  ];
}
