import {
  byLabel,
  citedFor,
  clause,
  defineRule,
  floodFillsPorts,
  floodOver,
  formatAddress,
  formatSeconds,
  hostsIn,
  listNames,
  protocolName,
  receiverLegLabel,
  segmentSubject,
  settingMark,
  settingWith,
  slowestWords,
  whileUnqueried,
  addressesOn,
  QUERIER_WANTED,
  verbOf,
  type Address,
  type GroupSegment,
  type Interface,
  type Leg,
  type Model,
  type Plan,
  type Protocol,
  type Switch,
} from '../../../src/lint/rule.js';

const SOURCES = [clause('RFC 3376', '8.4'), clause('RFC 3810', '9.4'), clause('RFC 4541', '2.1.1')];

export default defineRule({
  id: 'igmp/no-querier',
  summary: 'Switches snoop, but nobody queries',
  severity: 'error',
  sources: SOURCES,
  needs: ['groups', 'snooping'],
  *check({ plan, model }) {
    for (const segment of model.groupSegments) {
      const { sent, taken, candidates, routed, snooping, protocol } = segment;
      if (snooping !== true || candidates.length > 0 || routed || sent.length + taken.length === 0) continue;
      const setting = settingWith(segment, ({ management }) => management.snooping === true);
      if (setting === undefined) continue;
      const [querier, backup] = bestPlaced(segment, model);
      const name = protocolName(protocol);
      const { fate, assumed } = whileUnqueried(segment);
      if (fate === 'flood' && floodFillsPorts(model.load, hostsIn(segment, plan, model.domains))) continue;
      yield {
        subject: segmentSubject(segment),
        parties: segment.domain.vlans.map((vlan) => vlan.name),
        severity: fate === 'flood' ? 'warning' : 'error',
        what: `${segment.domain.title} ${verbOf(segment.domain, 'carries', 'carry')} groups and ${verbOf(segment.domain, 'its', 'their')} switches snoop, but no querier and no multicast router is planned there`,
        at: settingMark(setting, `snoops ${name} without a querier`, 'snooping'),
        others: [],
        onAir: fate === 'flood' ? flooded(segment, plan, model) : pruned(segment, assumed),
        fix: fixWords(protocol, setting.vlan.name, querier, backup),
        touch:
          querier === undefined ? { kind: 'vlan', name: setting.vlan.name } : { kind: 'switch', name: querier.name },
        sources: citedFor(protocol, SOURCES),
      };
    }
  },
});

function pruned(segment: GroupSegment, assumed: readonly Switch[]): string {
  const silent = byLabel(
    assumed.map((one) => one.name),
    (one) => one,
  );
  const told =
    silent.length === 0
      ? ''
      : ` (${listNames(silent, 3)} ${silent.length === 1 ? 'is' : 'are'} taken to forget groups then; \`noQuerier\` is not stated)`;
  const far = new Set<string>();
  const near = new Set<string>();
  for (const { from, receivers } of segment.flows)
    for (const { node, leg } of receivers) (node === from ? near : far).add(receiverLegLabel(leg));
  const names = byLabel([...far], (one) => one);
  const cross =
    names.length === 0
      ? []
      : [
          `joins do not cross to another switch, so ${listNames(names, 4)} ${names.length === 1 ? 'gets' : 'get'} nothing from the start`,
        ];
  const die =
    names.length > 0 && near.size === 0
      ? []
      : [
          `${names.length === 0 ? 'every stream plays' : "receivers on the sender's own switch play"} at first and ${names.length === 0 ? 'stops' : 'stop'} ${formatSeconds(segment.membershipS)} after the join; joining again helps for as long`,
        ];
  return `${[...cross, ...die].join('; ')}${told}`;
}

function flooded(segment: GroupSegment, plan: Plan, model: Model): string {
  const wanted = new Map<Interface, Leg[]>();
  for (const { leg, receivers } of segment.flows) {
    for (const { interface: via } of receivers) {
      const own = wanted.get(via) ?? [];
      wanted.set(via, own);
      own.push(leg);
    }
  }
  const flood = floodOver(
    segment.sent,
    hostsIn(segment, plan, model.domains),
    wanted,
    (leg) => model.rates.onWire(leg)?.onPort,
  );
  const slowest = slowestWords(flood);
  return `nothing stops, for its switches flood while nobody queries: every stream goes to every port${slowest === undefined ? '' : `; ${slowest}`}`;
}

interface Placed {
  readonly name: string;
  /** An address it holds there and can query from, the lowest. */
  readonly from: Address | undefined;
}

/** The two switches with most links in the segment, where a querier costs the least extra traffic; a known and lower address first, as it wins. */
function bestPlaced(segment: GroupSegment, model: Model): readonly Placed[] {
  const { forwarding } = segment;
  if (forwarding === undefined) return [];
  const links = (one: Switch): number =>
    forwarding.segment.edgesAt[forwarding.segment.nodeOf.get(one) ?? -1]?.length ?? 0;
  const best = byLabel(forwarding.segment.nodes, (one) => one.name)
    .toSorted((a, b) => links(b) - links(a))
    .slice(0, 2);
  const placed = best.map((one): Placed => {
    const held = segment.domain.vlans.flatMap((vlan) => addressesOn(one, vlan, segment.protocol, model.addressing));
    return { name: one.name, from: held.toSorted((a, b) => (a < b ? -1 : 1))[0] };
  });
  return placed.toSorted((a, b) =>
    a.from === undefined || b.from === undefined
      ? Number(a.from === undefined) - Number(b.from === undefined)
      : a.from < b.from
        ? -1
        : 1,
  );
}

/** One querier and, where there is a second switch, a backup. */
function fixWords(protocol: Protocol, vlan: string, querier: Placed | undefined, backup: Placed | undefined): string {
  if (querier === undefined)
    return `${QUERIER_WANTED}, and write both under \`${protocol}: {querier: …}\` of VLAN ${vlan}`;
  const placed = backup === undefined ? [querier] : [querier, backup];
  const entries = placed.map(
    ({ name, from }) => `{on: ${name}${from === undefined ? '' : `, address: ${formatAddress(from)}`}}`,
  );
  const roles =
    backup === undefined ? `let ${querier.name} query` : `let ${querier.name} query and ${backup.name} stand by`;
  return `${roles}: write \`${protocol}: {querier: [${entries.join(', ')}]}\` in VLAN ${vlan}${addressWords(querier, backup)}`;
}

/** What is left to decide where the plan gives a switch no address in the VLAN. */
function addressWords(querier: Placed, backup: Placed | undefined): string {
  if (backup === undefined) return querier.from === undefined ? ', from an address of its own there' : '';
  if (backup.from !== undefined) return '';
  return querier.from === undefined
    ? `, each from an address of its own there, ${querier.name} from the lower one`
    : `, ${backup.name} from a higher address`;
}
