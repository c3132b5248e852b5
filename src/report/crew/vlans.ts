/** The VLAN list: subnet, gateway, who queries, and how much room is left. */
import { groupBy } from '../../collections/group-by.js';
import type { Model } from '../../model/model.js';
import { type SubnetUse, subnetUse4 } from '../../model/hosts/index.js';
import type { Table } from '../../page/page.js';
import type { GroupManagement, Interface, Plan, Querier, Vlan } from '../../plan/types.js';
import { formatPrefix, formatRange, isIPv4, type Prefix } from '../../values/address.js';
import { addressCell, rigColumn } from './cells.js';
import { sheetTable, type SheetColumn } from './sheet.js';

interface VlanRow {
  readonly vlan: Vlan;
  readonly use: SubnetUse | undefined;
}

/** One row a VLAN; undefined for a plan without any. */
export function vlanSheet({ plan, addressing }: Model): Table | undefined {
  const unaddressed = groupBy(plan.interfaces, waitsForAddress);
  const rows = plan.vlans.map((vlan): VlanRow => {
    const subnet = subnetOf(vlan, true);
    const held = addressing.byVlan.get(vlan) ?? [];
    return { vlan, use: subnet && subnetUse4(vlan, subnet, held, unaddressed.get(vlan) ?? []) };
  });
  return sheetTable(rows, columnsFor(plan), [
    ({ vlan }) => vlan.rig.name,
    ({ vlan }) => vlan.id,
    ({ vlan }) => vlan.name,
  ]);
}

function columnsFor(plan: Plan): readonly SheetColumn<VlanRow>[] {
  return [
    rigColumn(plan, ({ vlan }) => vlan.rig),
    { heading: 'VLAN id', cell: ({ vlan }) => vlan.id },
    { heading: 'VLAN', cell: ({ vlan }) => vlan.name },
    { heading: 'network', cell: ({ vlan }) => vlan.network?.name },
    { heading: 'subnet', cell: ({ vlan }) => prefixCell(subnetOf(vlan, true)) },
    { heading: 'gateway', cell: ({ vlan }) => gatewayOf(vlan, true) },
    { heading: 'IPv6 subnet', cell: ({ vlan }) => prefixCell(subnetOf(vlan, false)), ifFilled: true },
    { heading: 'IPv6 gateway', cell: ({ vlan }) => gatewayOf(vlan, false), ifFilled: true },
    { heading: 'DHCP', cell: ({ vlan: { dhcp } }) => (dhcp === undefined ? undefined : formatRange(dhcp)) },
    { heading: 'IGMP querier', cell: ({ vlan }) => querierWords(vlan.igmp, 'first') },
    { heading: 'IGMP backup querier', cell: ({ vlan }) => querierWords(vlan.igmp, 'others') },
    { heading: 'IGMP version', cell: ({ vlan }) => vlan.igmp?.version },
    { heading: 'MLD querier', cell: ({ vlan }) => querierWords(vlan.mld, 'first'), ifFilled: true },
    { heading: 'MLD backup querier', cell: ({ vlan }) => querierWords(vlan.mld, 'others'), ifFilled: true },
    { heading: 'MLD version', cell: ({ vlan }) => vlan.mld?.version, ifFilled: true },
    { heading: 'hosts used', cell: ({ use }) => use?.used },
    { heading: 'hosts free', cell: ({ use }) => (use === undefined ? undefined : use.usable - use.used) },
  ];
}

function waitsForAddress({ address, address6, vlan }: Interface): Vlan | undefined {
  return address === undefined && address6 === undefined ? vlan : undefined;
}

function subnetOf({ subnet, subnet6 }: Vlan, version4: boolean): Prefix | undefined {
  return [subnet, subnet6].find((one) => one !== undefined && isIPv4(one.network) === version4);
}

function prefixCell(prefix: Prefix | undefined): string | undefined {
  return prefix === undefined ? undefined : formatPrefix(prefix);
}

function gatewayOf({ gateway, gateway6 }: Vlan, version4: boolean): string | undefined {
  return addressCell([gateway, gateway6].find((one) => one !== undefined && isIPv4(one) === version4));
}

/** `red-core 10.20.10.1`: the one that will query, or those that stand by. */
function querierWords(settings: GroupManagement | undefined, which: 'first' | 'others'): string | undefined {
  const [first, ...others] = inOrderOfElection(settings?.queriers ?? []).map(wordsOf);
  return which === 'first' ? first : others.join(', ');
}

/** The lowest address queries (RFC 3376 §6.6.2, RFC 3810 §7.6.2); without all the addresses, as the plan lists them. */
function inOrderOfElection(queriers: readonly Querier[]): readonly Querier[] {
  const known = queriers.flatMap((querier) =>
    querier.address === undefined ? [] : [{ querier, address: querier.address }],
  );
  if (known.length < queriers.length) return queriers;
  return known
    .sort((a, b) => (a.address < b.address ? -1 : a.address > b.address ? 1 : 0))
    .map(({ querier }) => querier);
}

function wordsOf({ on, address }: Querier): string {
  return [on?.name, addressCell(address)].filter((part) => part !== undefined).join(' ');
}
