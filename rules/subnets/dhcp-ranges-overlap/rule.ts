import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatRange,
  isIPv4,
  listNames,
  mark,
  sharedVlans,
  withRig,
  type Address,
  type AddressRange,
  type Vlan,
} from '../../../src/lint/rule.js';

interface Entry {
  readonly vlan: Vlan;
  readonly dhcp: AddressRange;
}

export default defineRule({
  id: 'subnets/dhcp-ranges-overlap',
  summary: 'Two DHCP servers of one VLAN hand out the same addresses',
  severity: 'error',
  sources: [clause('RFC 2131', '2.2'), clause('RFC 2131', '3.1'), clause('RFC 5227', '1')],
  needs: ['dhcp'],
  *check({ plan, model }) {
    if (plan.rigs.length < 2) return;
    for (const vlans of sharedVlans({ vlans: plan.vlans, domains: model.domains })) {
      for (const cluster of clustersOf(vlans)) {
        const sorted = byLabel(cluster, label);
        const at = sorted.at(-1);
        if (at === undefined) continue;
        const others = sorted.filter((one) => one !== at);
        const common = commonPart(sorted);
        const rest = without(at.dhcp, others);
        const same = mayBeOneServer(sorted);
        const ranges = listNames(sorted.map((one) => `${formatRange(one.dhcp)} in ${label(one)}`));
        yield {
          subject: sorted.map(label).join(', '),
          parties: sorted.map(label),
          severity: same ? 'warning' : 'error',
          what: `${listNames(sorted.map(label))} are one VLAN, and DHCP hands out ${same ? `${formatRange(at.dhcp)} in both` : ranges}${same || common === undefined ? '' : `: ${words(common)} twice`}`,
          at: mark(at.vlan, `VLAN ${label(at)} hands out ${formatRange(at.dhcp)}`, 'dhcp'),
          others: others.map((one) => mark(one.vlan, `VLAN ${label(one)} hands out ${formatRange(one.dhcp)}`, 'dhcp')),
          onAir: `${same ? 'unless one server answers for both, ' : ''}each server gives its addresses without knowing of the other: two boxes get one address, and each drops out for moments at a time`,
          fix: `${rest === undefined ? `give ${label(at)} a range of its own` : `let DHCP in ${label(at)} hand out ${formatRange(rest)} only`}, or switch ${others.length > 1 ? 'all servers but one' : 'one of the two servers'} off while the rigs are joined${same ? '; if it is one server, write `dhcp` in one of the entries only' : ''}`,
          touch: { kind: 'vlan', name: at.vlan.name },
        };
      }
    }
  },
});

function label({ vlan }: Entry): string {
  return withRig(vlan);
}

/** Ranges that hang together, in address order; a rig's second entry of a name is `plan/duplicate-name`. */
function clustersOf(vlans: readonly Vlan[]): readonly (readonly Entry[])[] {
  const byName = new Map<string, Entry>();
  for (const vlan of vlans) {
    const key = `${vlan.rig.name}\n${vlan.name}`;
    if (vlan.dhcp !== undefined && !byName.has(key)) byName.set(key, { vlan, dhcp: vlan.dhcp });
  }
  const entries = [...byName.values()].sort(
    ({ dhcp: a }, { dhcp: b }) => Number(isIPv4(b.first)) - Number(isIPv4(a.first)) || (a.first < b.first ? -1 : 1),
  );
  const clusters: Entry[][] = [];
  let last: Address | undefined;
  for (const entry of entries) {
    const { first, last: end } = entry.dhcp;
    const open = last !== undefined && isIPv4(last) === isIPv4(first) && first <= last;
    if (open) clusters.at(-1)?.push(entry);
    else clusters.push([entry]);
    last = open && last !== undefined && last > end ? last : end;
  }
  return clusters.filter((cluster) => cluster.length > 1);
}

/** What all of them hand out. */
function commonPart(entries: readonly Entry[]): AddressRange | undefined {
  const [head, ...rest] = entries;
  if (head === undefined) return undefined;
  let { first, last } = head.dhcp;
  for (const { dhcp } of rest) {
    if (dhcp.first > first) first = dhcp.first;
    if (dhcp.last < last) last = dhcp.last;
  }
  return first > last ? undefined : { first, last };
}

/** The longer of what is left of a range below and above all others. */
function without(range: AddressRange, others: readonly Entry[]): AddressRange | undefined {
  let low = range.last;
  let high = range.first;
  let below = true;
  let above = true;
  for (const { dhcp } of others) {
    if (dhcp.first <= range.first) below = false;
    else if (dhcp.first <= low) low = step(dhcp.first, -1);
    if (dhcp.last >= range.last) above = false;
    else if (dhcp.last >= high) high = step(dhcp.last, 1);
  }
  const size = (from: Address, to: Address): bigint => BigInt(to) - BigInt(from);
  if (below && (!above || size(range.first, low) >= size(high, range.last))) return { first: range.first, last: low };
  return above ? { first: high, last: range.last } : undefined;
}

function step(address: Address, by: 1 | -1): Address {
  return typeof address === 'number' ? address + by : address + BigInt(by);
}

/** Rigs that share a VLAN for good may both write down its one server; rigs that a join brings together each have one. */
function mayBeOneServer(entries: readonly Entry[]): boolean {
  const [head] = entries;
  return (
    head !== undefined &&
    entries.every(
      ({ vlan, dhcp }) =>
        dhcp.first === head.dhcp.first &&
        dhcp.last === head.dhcp.last &&
        (vlan.joinedAs === undefined || vlan.joinedAs !== head.vlan.joinedAs),
    )
  );
}

function words(range: AddressRange): string {
  return range.first === range.last ? formatAddress(range.first) : formatRange(range);
}
