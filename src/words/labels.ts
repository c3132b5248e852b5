/** What the crew calls a leg, a VLAN, a rig: the same words everywhere. */
import type { Join, Kind, Leg, PtpDomain, Receiver, ReceiverLeg, Rig, Vlan } from '../plan/types.js';
import { joinWords } from './lists.js';

/** `cam-3/video leg 1`, or `cam-3/video` when the stream has one leg. */
export function legLabel(leg: Leg): string {
  return leg.sender.legs.length > 1 ? `${leg.sender.label} leg ${leg.index + 1}` : leg.sender.label;
}

/** `mon-1/in leg 1`, or `mon-1/in` when the receiver has one leg. */
export function receiverLegLabel(leg: ReceiverLeg): string {
  return leg.receiver.legs.length > 1 ? `${leg.receiver.label} leg ${leg.index + 1}` : leg.receiver.label;
}

/** `mv-1/in-1`; of an input that switches, `mv-1/in-1 (one of 16)`: what is said is said of that choice. */
export function choiceLabel({ label, selection }: Receiver): string {
  if (selection === undefined) return label;
  const { atOnce, choices } = selection;
  return `${label} (${atOnce === 1 ? 'one' : atOnce} of ${choices.length})`;
}

/** `control of Heron`: for names that several rigs may use. */
export function withRig({ name, rig }: { readonly name: string; readonly rig: Rig }): string {
  return `${name}${ofRig(rig)}`;
}

/** ` of Heron`, or nothing for a rig without a name. */
export function ofRig(rig: Rig): string {
  return rig.name === '' ? '' : ` of ${rig.name}`;
}

/** `red-video (id 210)`. */
export function withId(vlan: Vlan): string {
  return vlan.id === undefined ? vlan.name : `${vlan.name} (id ${vlan.id})`;
}

/** `join of control of Heron and control of Dunlin`; `join` where the plan has nothing it names. */
export function joinLabel({ vlans, networks }: Join): string {
  const joined = [...vlans, ...networks];
  return joined.length === 0 ? 'join' : `join of ${joinWords(joined.map(withRig), 'and')}`;
}

/** `PTP domain 127`. */
export function ptpDomainLabel({ name, number }: PtpDomain): string {
  return `PTP domain ${name ?? number ?? ''}`.trimEnd();
}

/** A leg of a fault that a device kind may state for all its devices: `kind stage-box/mics leg 1`, else the leg itself. */
export function causeLegLabel(
  { kind, subject }: { readonly kind: Kind | undefined; readonly subject: string },
  leg: Leg,
): string {
  return kind === undefined ? legLabel(leg) : `${subject} leg ${leg.index + 1}`;
}
