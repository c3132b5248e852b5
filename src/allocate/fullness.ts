/** How full each range of an allocation is, and what may still come. */
import { hostsPerSubnet4 } from '../model/hosts/index.js';
import type { Decided } from './build.js';
import { textOf } from './build.js';
import { largest } from './pattern.js';
import { reservedNumbers } from './reserve.js';

export interface Fullness {
  readonly kind: 'subnet' | 'units' | 'groups' | 'ports';
  /** `VLAN red-pictures`, `units of cam in jetty`. */
  readonly what: string;
  /** The range itself. */
  readonly range: string;
  readonly used: number;
  readonly of: number;
  /** How many more of the same there is room for. */
  readonly left: number;
}

/** All ranges: subnets, unit blocks, groups, ports. */
export function fullnessOf(decided: Decided): readonly Fullness[] {
  const { demand, subnets, reserved, assignment, layout, groups, patching } = decided;
  const held = new Map<object, number>();
  const units = new Set<number>();
  for (const [device, { addresses, unit }] of assignment.numbers) {
    units.add(unit);
    for (const { raw, vlan } of device.line.kind.interfaces)
      if (addresses.has(raw.name)) held.set(vlan, (held.get(vlan) ?? 0) + 1);
  }
  const found: Fullness[] = [];
  for (const network of demand.networks) {
    for (const vlan of network.vlans) {
      const subnet = subnets.subnets.get(vlan);
      const own = reserved.get(vlan);
      if (subnet === undefined || own === undefined) continue;
      const dhcp = subnet.dhcp === undefined ? 0 : subnet.dhcp.last - subnet.dhcp.first + 1;
      const used = (held.get(vlan) ?? 0) + reservedNumbers(own).size + dhcp;
      const of = hostsPerSubnet4(subnet.length);
      found.push({ kind: 'subnet', what: `VLAN ${vlan.name}`, range: textOf(subnet), used, of, left: of - used });
    }
  }
  for (const line of demand.lines) {
    for (const { first, last } of layout.blocks.get(line) ?? []) {
      let used = 0;
      for (let unit = first; unit <= last; unit++) if (units.has(unit)) used++;
      const where = line.raw.area === undefined ? '' : ` in ${line.raw.area}`;
      const of = last - first + 1;
      found.push({
        kind: 'units',
        what: `units of ${line.raw.name}${where}`,
        range: `${first}-${last}`,
        used,
        of,
        left: of - used,
      });
    }
  }
  const sent = new Map<object, number>();
  for (const [, { groups: own }] of assignment.numbers)
    for (const [stream, legs] of own)
      legs.forEach((group, index) => {
        const network = stream.legs[index]?.network;
        if (group !== undefined && network !== undefined) sent.set(network, (sent.get(network) ?? 0) + 1);
      });
  for (const [network, block] of groups.blocks) {
    const of = largest(groups.pattern, 'unit') * largest(groups.pattern, 'stream');
    const used = sent.get(network) ?? 0;
    found.push({
      kind: 'groups',
      what: `groups of ${network.raw.name}`,
      range: textOf(block),
      used,
      of,
      left: of - used,
    });
  }
  for (const [one, plugs] of patching.plugs) {
    const of = one.raw.ports;
    found.push({
      kind: 'ports',
      what: `ports of ${one.raw.name}`,
      range: `1-${of}`,
      used: plugs.size,
      of,
      left: of - plugs.size,
    });
  }
  return found;
}
