/** Words, places and hands-on things of unicast addresses. */
import { formatAddress } from '../values/address.js';
import type { Vlan } from '../plan/types.js';
import { heldLabel, rigOf, type Held } from '../model/hosts/addressing.js';
import { isInterface, type Owner } from '../model/hosts/owners.js';
import type { Mark, Touch } from './finding.js';
import { mark } from './marks.js';
import { inRig } from './leg-sets.js';

/** The place of an address, labelled by who holds it and, where given, what is to be done there. */
export function heldMark(held: Held, note?: string): Mark {
  return mark(held.owner, note === undefined ? heldLabel(held) : `${heldLabel(held)}: ${note}`, held.key);
}

/** `10.20.1.31 on cam-1 red in rig Heron`. */
export function heldSubject(held: Held): string {
  return `${formatAddress(held.address)} on ${heldLabel(held)}${inRig(rigOf(held.owner))}`;
}

/** `control in rig Heron`. */
export function vlanSubject(vlan: Vlan): string {
  return `${vlan.name}${inRig(vlan.rig)}`;
}

/** The device or switch that holds an address or a MAC. */
export function touchOfOwner(owner: Owner): Touch {
  return isInterface(owner) ? { kind: 'device', name: owner.device.name } : { kind: 'switch', name: owner.switch.name };
}
