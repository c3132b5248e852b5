/** IGMP and MLD settings of VLANs, and queriers with the addresses they query from. */
import type { Switch, Vlan } from '../plan/types.js';
import type { Model } from '../model/model.js';
import { isIPv4, formatAddress, type Address } from '../values/address.js';
import { subnetFor } from '../model/hosts/index.js';
import type { EditList } from './edit-list.js';
import type { EditValue } from './entry.js';

export type GroupProtocol = 'igmp' | 'mld';

/** Settings of a VLAN, in the mapping it has for them or in a new one. */
export function setOnVlan(
  edits: EditList,
  vlan: Vlan,
  protocol: GroupProtocol,
  changes: Readonly<Record<string, EditValue>>,
): void {
  const management = vlan[protocol];
  if (management === undefined) edits.set(vlan, protocol, changes);
  else for (const [key, value] of Object.entries(changes)) edits.set(management, key, value);
}

/** Where somebody is to query, and the address it has there. */
export interface QuerierSite {
  readonly on: Switch;
  readonly from: Address | undefined;
}

/**
 * Queriers of a VLAN, in the order they are to win: each with an address of its own there, higher than that of the one
 * before (RFC 3376 §6.6.2). False where one has none and none is free.
 */
export function addQueriers(
  model: Model,
  edits: EditList,
  vlan: Vlan,
  protocol: GroupProtocol,
  sites: readonly QuerierSite[],
  above?: Address,
): boolean {
  let last = above;
  const entries: EditValue[] = [];
  for (const { on, from } of sites) {
    const held = from !== undefined && (last === undefined || from > last) ? from : undefined;
    const address = held ?? giveAddress(model, edits, vlan, protocol, on, last);
    if (address === undefined) return false;
    entries.push({ on: on.name, address: formatAddress(address) });
    last = address;
  }
  const management = vlan[protocol];
  if (management === undefined) edits.set(vlan, protocol, { querier: entries });
  else for (const entry of entries) edits.append(management, 'querier', entry);
  return true;
}

/** A free address of the VLAN for a switch, written among those it holds; undefined where there is none above the last. */
export function giveAddress(
  { proposals }: Model,
  edits: EditList,
  vlan: Vlan,
  protocol: GroupProtocol,
  on: Switch,
  last: Address | undefined,
): Address | undefined {
  // MLD is spoken from link-local addresses, which a box makes by itself (RFC 3810 §5.1.14).
  const subnet = protocol === 'mld' ? undefined : vlan.subnet;
  if (subnet === undefined || !isIPv4(subnet.network)) return undefined;
  const free = proposals.address(vlan, last ?? subnet.network);
  if (free === undefined || subnetFor(vlan, free) === undefined || (last !== undefined && free < last))
    return undefined;
  edits.append(on, 'addresses', { vlan: vlan.name, address: `${formatAddress(free)}/${subnet.length}` });
  return free;
}
