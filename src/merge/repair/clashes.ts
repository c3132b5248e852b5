/** Which numbers of several rigs get in each other's way once the rigs meet, and which boxes hold them. */
import type { Address } from '../../values/address.js';
import type { Device, Leg, Rig, Sender, Switch } from '../../plan/types.js';
import { forwards, gatewayFor } from '../../model/addressing.js';
import { mayAlias, sharedEthernet } from '../../model/ethernet-use.js';
import type { Model } from '../../model/model.js';
import { isInterface, type Owner } from '../../model/owners.js';
import { sendersClash } from '../../model/senders-clash.js';

/** What a person walks to: a device or switch; a stream nobody says the device of counts as one. */
export type Box = Device | Switch | Sender;

/** What one rig would have to move to get out of a clash. */
export interface Part {
  readonly rig: Rig;
  readonly boxes: ReadonlySet<Box>;
  readonly legs: readonly Leg[];
  readonly owners: readonly Owner[];
}

/** Numbers of at least two rigs that clash: all rigs but one have to move. */
export interface Clash {
  readonly parts: readonly Part[];
}

/** Groups used twice, groups that share an Ethernet address, and addresses held twice, where the rigs meet. */
export function findClashes(model: Model): readonly Clash[] {
  const clashes: Clash[] = [];
  const add = (legs: readonly Leg[], owners: readonly Owner[]): void => {
    const parts = partsOf(legs, owners);
    if (parts.length > 1) clashes.push({ parts });
  };
  for (const use of model.groups.shared) if (sendersClash(use)) add(use.legs, []);
  for (const { legs } of sharedEthernet(model.plan, model.domains, model.groupRepeats, mayAlias)) add(legs, []);
  for (const address of model.owners.repeatedAddresses) {
    for (const owners of meeting(address, model)) add([], owners);
  }
  return clashes;
}

/** Holders of one address that unicast packets can get between; a gateway that routers of one VLAN share is none. */
function meeting(address: Address, { owners, unicastReach }: Model): readonly (readonly Owner[])[] {
  const byReach = new Map<object, Owner[]>();
  for (const owner of owners.byAddress.get(address) ?? []) {
    if (owner.vlan === undefined) continue;
    const reach = unicastReach.joined(owner.vlan);
    const list = byReach.get(reach);
    if (list === undefined) byReach.set(reach, [owner]);
    else list.push(owner);
  }
  return [...byReach.values()].filter(
    (list) => new Set(list.map(boxOfOwner)).size > 1 && !sharedGateway(address, list),
  );
}

function sharedGateway(address: Address, list: readonly Owner[]): boolean {
  const [first] = list;
  return (
    first?.mac !== undefined &&
    list.every(
      (owner) =>
        owner.mac === first.mac &&
        forwards(owner) &&
        owner.vlan !== undefined &&
        gatewayFor(owner.vlan, address)?.address === address,
    )
  );
}

function partsOf(legs: readonly Leg[], owners: readonly Owner[]): readonly Part[] {
  const byRig = new Map<Rig, { boxes: Set<Box>; legs: Leg[]; owners: Owner[] }>();
  const of = (rig: Rig): { boxes: Set<Box>; legs: Leg[]; owners: Owner[] } => {
    let part = byRig.get(rig);
    if (part === undefined) byRig.set(rig, (part = { boxes: new Set<Box>(), legs: [], owners: [] }));
    return part;
  };
  for (const leg of legs) {
    const part = of(leg.sender.rig);
    part.legs.push(leg);
    part.boxes.add(boxOfLeg(leg));
  }
  for (const owner of owners) {
    const box = boxOfOwner(owner);
    const part = of(box.rig);
    part.owners.push(owner);
    part.boxes.add(box);
  }
  return [...byRig].map(([rig, part]) => ({ rig, ...part }));
}

export function boxOfLeg({ sender }: Leg): Box {
  return sender.device ?? sender;
}

export function boxOfOwner(owner: Owner): Device | Switch {
  return isInterface(owner) ? owner.device : owner.switch;
}
