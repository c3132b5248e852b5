/** Which numbers of several rigs get in each other's way once the rigs meet, and which boxes hold them. */
import { append } from '../../collections/group-by.js';
import { inRange, type Address } from '../../values/address.js';
import type { Device, Leg, Rig, Sender, Switch } from '../../plan/types.js';
import { forwards, gatewayFor, type Owner } from '../../model/hosts/index.js';
import { mayAlias, sendersClash, sharedEthernet } from '../../model/groups/index.js';
import { boxOfOwner } from '../../edits/write-moves.js';
import type { Model } from '../../model/model.js';
import { sharedVlans } from '../../model/vlans/index.js';

/** What a person walks to: a device or switch; a stream nobody says the device of counts as one. */
export type Box = Device | Switch | Sender;

/** What one rig would have to move to get out of a clash. */
export interface Part {
  readonly rig: Rig;
  readonly boxes: ReadonlySet<Box>;
  readonly legs: readonly Leg[];
  /** Addresses that clash, with who holds them. */
  readonly held: readonly (readonly [Owner, Address])[];
}

/** Numbers of at least two rigs that clash: all rigs but one have to move. */
export interface Clash {
  readonly parts: readonly Part[];
}

/** Groups used twice, groups that share a multicast MAC, and addresses held twice, where the rigs meet. */
export function findClashes(model: Model): readonly Clash[] {
  const clashes: Clash[] = [];
  const add = (legs: readonly Leg[], held: Part['held']): void => {
    const parts = partsOf(legs, held);
    if (parts.length > 1) clashes.push({ parts });
  };
  for (const use of model.groups.sharedAsMeant) if (sendersClash(use)) add(use.legs, []);
  for (const { legs } of sharedEthernet(model.plan, model.domains, model.groupRepeats, mayAlias)) add(legs, []);
  for (const address of model.owners.repeatedAddresses) {
    for (const owners of meeting(address, model))
      add(
        [],
        owners.map((owner) => [owner, address]),
      );
  }
  return clashes;
}

/** Holders of one address that unicast packets can get between; a gateway that routers of one VLAN share is none. */
function meeting(address: Address, { owners, unicastReach }: Model): readonly (readonly Owner[])[] {
  const byReach = new Map<object, Owner[]>();
  for (const owner of owners.byAddress.get(address) ?? []) {
    if (owner.vlan === undefined) continue;
    const reach = unicastReach.joined(owner.vlan);
    append(byReach, reach, owner);
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

function partsOf(legs: readonly Leg[], held: Part['held']): readonly Part[] {
  const byRig = new Map<Rig, { boxes: Set<Box>; legs: Leg[]; held: (readonly [Owner, Address])[] }>();
  const of = (rig: Rig): { boxes: Set<Box>; legs: Leg[]; held: (readonly [Owner, Address])[] } => {
    let part = byRig.get(rig);
    if (part === undefined) byRig.set(rig, (part = { boxes: new Set<Box>(), legs: [], held: [] }));
    return part;
  };
  for (const leg of legs) {
    const part = of(leg.sender.rig);
    part.legs.push(leg);
    part.boxes.add(boxOfLeg(leg));
  }
  for (const [owner, address] of held) {
    const box = boxOfOwner(owner);
    const part = of(box.rig);
    part.held.push([owner, address]);
    part.boxes.add(box);
  }
  return [...byRig].map(([rig, part]) => ({ rig, ...part }));
}

/** Fixed addresses of other rigs that a rig's DHCP ranges hand out: whoever holds them has to go. */
export function heldInPools(model: Model, of: Rig | undefined): readonly Part[] {
  const held: (readonly [Owner, Address])[] = [];
  for (const entries of sharedVlans({ vlans: model.plan.vlans, domains: model.domains })) {
    for (const { rig, dhcp } of entries) {
      if (rig !== of || dhcp === undefined) continue;
      for (const other of entries) {
        if (other.rig === of) continue;
        for (const one of model.addressing.byVlan.get(other) ?? [])
          if (typeof one.address === typeof dhcp.first && inRange(one.address, dhcp))
            held.push([one.owner, one.address]);
      }
    }
  }
  return partsOf([], held);
}

export function boxOfLeg({ sender }: Leg): Box {
  return sender.device ?? sender;
}
