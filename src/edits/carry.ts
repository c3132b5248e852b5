/** VLANs let through: on trunks at the ends of links, and in what links are said to carry. */
import type { Link, Port, Vlan } from '../plan/types.js';
import type { EditList } from './edit-list.js';
import { setOnPorts } from './entries.js';

/** Adds VLANs to the trunk of a port; false where it has none, for an access port takes no second VLAN. */
export function addToTrunk(edits: EditList, port: Port, vlans: readonly Vlan[]): boolean {
  const { trunk } = port;
  if (trunk === 'all') return true;
  if (trunk === undefined) return false;
  const names = [...trunk, ...vlans].map(({ name }) => name);
  return setOnPorts(edits, [port], { trunk: [...new Set(names)] });
}

/** Lets a VLAN pass a link: at both its ends, and in the list the link has. */
export function carryOnLink(edits: EditList, link: Link, vlan: Vlan): boolean {
  if (link.vlans !== undefined && !link.vlans.includes(vlan)) edits.append(link, 'vlans', vlan.name);
  return link.ends.every(({ port }) => {
    if (port === undefined) return true;
    const { access, native, trunk } = port;
    const has = access === vlan || native === vlan || trunk === 'all' || trunk?.includes(vlan) === true;
    return has || addToTrunk(edits, port, [vlan]);
  });
}
