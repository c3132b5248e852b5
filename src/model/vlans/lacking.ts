import { byLabel } from '../../collections/order.js';
import type { Link, Port, Vlan } from '../../plan/types.js';
import { mayCarry, portLabel, tagOf } from './trunks.js';

/** A link that does not carry a VLAN, and what of it says so. */
export interface LackingLink {
  readonly link: Link;
  /** Its ports that do not, by name, and whether each is a trunk already. */
  readonly ports: readonly { readonly port: Port; readonly trunk: boolean }[];
  /** Whether the link is said to carry others alone. */
  readonly said: boolean;
}

export function lackingAt(link: Link, vlan: Vlan): LackingLink {
  const ports = link.ends.flatMap(({ port }) => (port === undefined || mayCarry(port, vlan) ? [] : [port]));
  return {
    link,
    ports: byLabel(ports, portLabel).map((port) => ({ port, trunk: port.trunk !== undefined })),
    said: link.vlans !== undefined && !link.vlans.some((other) => tagOf(other) === tagOf(vlan)),
  };
}
