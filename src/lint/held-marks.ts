/** Places, subjects and hands-on things of unicast addresses. */
import { formatAddress } from '../values/address.js';
import type { Vlan } from '../plan/types.js';
import { type Held, heldLabel, isInterface, type Owner, rigOf } from '../model/hosts/index.js';
import type { Mark, Touch } from './finding.js';
import type { HeldFact } from '../words/held.js';
import { mark, noted } from './marks.js';
import { inRig } from './leg-sets.js';

/** The place of an address, labelled by who holds it; with a note, what the rule has to say of it there. */
export function heldMark(held: Held): Mark<never>;
export function heldMark<const Note>(held: Held, note: Note): Mark<Note>;
export function heldMark<Note>(held: Held, note?: Note): Mark<Note> {
  const plain = mark(held.owner, heldLabel(held), held.key);
  return note === undefined ? plain : noted(plain, note);
}

/** An address and who holds it, as facts: `{address: '10.20.1.31', holder: 'cam-1 red'}`. */
export function heldFact(held: Held): HeldFact {
  return { address: formatAddress(held.address), holder: heldLabel(held) };
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
