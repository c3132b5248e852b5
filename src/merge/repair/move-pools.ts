/** DHCP ranges of VLANs that become one: no two hand out one address, and none hands out a fixed one. */
import { formatRange, inRange, type AddressRange } from '../../values/address.js';
import type { Rig, Vlan } from '../../plan/types.js';
import { freeStretch } from '../../model/proposals/index.js';
import type { Model } from '../../model/model.js';
import { sharedVlans } from '../../model/vlans/index.js';
import type { EditList } from '../../edits/edit-list.js';

/** A range shrinks where the room is less, but not to less than this part of it. */
const SMALLEST = 5;

/** The ranges of `counts` stay; another one that is in the way goes to the end of the longest free run. Returns those that found none. */
export function movePools(model: Model, counts: Rig, edits: EditList): readonly Vlan[] {
  const stuck: Vlan[] = [];
  for (const entries of sharedVlans({ vlans: model.plan.vlans, domains: model.domains })) {
    const sorted = [...entries].sort((a, b) => Number(b.rig === counts) - Number(a.rig === counts));
    const stay: AddressRange[] = [];
    for (const vlan of sorted) {
      const { dhcp } = vlan;
      if (dhcp === undefined) continue;
      if (vlan.rig === counts || !inTheWay(vlan, dhcp, entries, stay, model)) {
        stay.push(dhcp);
        continue;
      }
      const size = Number(BigInt(dhcp.last) - BigInt(dhcp.first)) + 1;
      const free = freeStretch(vlan, entries, model.addressing);
      const room = free === undefined ? 0 : Number(free.last) - Number(free.first) + 1;
      if (free === undefined || room * SMALLEST < size) {
        stuck.push(vlan);
        continue;
      }
      const range = { first: Number(free.last) - Math.min(size, room) + 1, last: Number(free.last) };
      edits.set(vlan, 'dhcp', formatRange(range));
      stay.push(range);
    }
  }
  return stuck;
}

function inTheWay(
  vlan: Vlan,
  dhcp: AddressRange,
  entries: readonly Vlan[],
  stay: readonly AddressRange[],
  { addressing }: Model,
): boolean {
  if (stay.some(({ first, last }) => typeof first === typeof dhcp.first && first <= dhcp.last && dhcp.first <= last))
    return true;
  return entries.some(
    (other) =>
      other !== vlan &&
      (addressing.byVlan.get(other) ?? []).some(
        ({ address }) => typeof address === typeof dhcp.first && inRange(address, dhcp),
      ),
  );
}
