/** VLANs let through: on trunks at the ends of links, and in what links are said to carry. */
import { groupBy } from '../collections/group-by.js';
import type { Link, Port, Vlan } from '../plan/types.js';
import type { EditList } from './edit-list.js';
import { setOnPorts } from './entries.js';

/** Adds VLANs to the trunk of a port; false where it has none, for an access port takes no second VLAN. */
export function addToTrunk(edits: EditList, port: Port, vlans: readonly Vlan[]): boolean {
  const { trunk } = port;
  if (trunk === 'all') return true;
  if (trunk === undefined) return false;
  return setOnPorts(edits, [port], { trunk: namesOf([...trunk, ...vlans]) });
}

/** Lets VLANs pass links: at both ends of each, and in the lists that links have. */
export function carryOnLinks(edits: EditList, links: readonly Link[], vlans: readonly Vlan[]): boolean {
  for (const link of links)
    for (const vlan of vlans)
      if (link.vlans !== undefined && !link.vlans.includes(vlan)) edits.append(link, 'vlans', vlan.name);
  const ends = new Set(links.flatMap((link) => link.ends.flatMap(({ port }) => port ?? [])));
  const lacking = [...ends].filter((port) => !vlans.every((vlan) => has(port, vlan)));
  // Ports of one entry leave it together: one by one, each would leave the range that the other has left already.
  return [...groupBy(lacking, ({ origin }) => origin.container).values()].every((ports) => {
    const [port] = ports;
    const { trunk } = port;
    if (trunk === undefined || trunk === 'all') return false;
    return setOnPorts(edits, ports, { trunk: namesOf([...trunk, ...vlans.filter((one) => !has(port, one))]) });
  });
}

function has({ access, native, trunk }: Port, vlan: Vlan): boolean {
  return access === vlan || native === vlan || trunk === 'all' || trunk?.includes(vlan) === true;
}

function namesOf(vlans: readonly Vlan[]): readonly string[] {
  return [...new Set(vlans.map(({ name }) => name))];
}
