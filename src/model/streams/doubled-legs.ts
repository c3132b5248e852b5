/** Streams and receivers with both legs at one place of their device or in one VLAN, where they could be apart. */
import { groupBy } from '../../collections/group-by.js';
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { eachInput } from '../../plan/inputs.js';
import type { Device, Interface, Leg, Plan, ReceiverLeg, Sender, Vlan } from '../../plan/types.js';
import { imageOf, type Strays } from '../groups/index.js';
import { unusualLegs } from './unusual-legs.js';

/** A sender or receiver with both legs on one interface although its device has another for media. */
export interface DoubledLegs {
  readonly label: string;
  readonly device: Device;
  /** The second leg, on the interface of the first. */
  readonly leg: Leg | ReceiverLeg;
  readonly via: Interface;
  /** Interfaces for media that it could be on. */
  readonly free: NonEmpty<Interface>;
  /** What is lost with the interface. */
  readonly carries: Pick<Sender, 'essence' | 'format'>;
}

/**
 * Silent where two legs are one stream to the network (groups/legs-share-group), and where what the conventions promise says
 * more exactly what is wrong (groups/outside-conventions, sources/leg-map).
 */
export function doubledLegs(plan: Plan, strays: () => Strays): readonly DoubledLegs[] {
  return [
    ...unusualLegs(plan).together.flatMap(({ sender }) => {
      const { device, essence, format } = sender;
      const [first, second] = sender.legs;
      if (device === undefined || first === undefined || second === undefined) return [];
      const found = doubled(sender, device, first, second, { essence, format });
      return found.length > 0 && breaksPromise(first, second, strays()) ? [] : found;
    }),
    ...eachInput(plan.receivers).flatMap((receiver) => {
      const { device, takes, format } = receiver;
      const [first, second] = receiver.legs;
      if (first === undefined || second === undefined || first.takes === second.takes) return [];
      const carries: DoubledLegs['carries'] =
        takes === undefined ? { essence: undefined, format } : { essence: takes.essence, format: takes.format };
      return doubled(receiver, device, first, second, carries);
    }),
  ];
}

function doubled(
  { label }: { readonly label: string },
  device: Device,
  first: Leg | ReceiverLeg,
  leg: Leg | ReceiverLeg,
  carries: DoubledLegs['carries'],
): readonly DoubledLegs[] {
  const via = leg.interface;
  if (via === undefined || via !== first.interface || leg.group === first.group) return [];
  const free = device.interfaces.filter((one) => one !== via && isForMedia(one.network?.role));
  return isNonEmpty(free) ? [{ label, device, leg, via, free, carries }] : [];
}

function breaksPromise(first: Leg, second: Leg, strays: Strays): boolean {
  const image = first.source === undefined ? undefined : imageOf(first.source, first.sender.rig.conventions.sourceMap);
  return strays.has(second) || strays.meant(first) !== undefined || (image !== undefined && image !== second.source);
}

function isForMedia(role: string | undefined): boolean {
  return role !== 'control' && role !== 'management' && role !== 'timing' && role !== 'wan';
}

/**
 * Senders with two interfaces in one VLAN, by it: any fault of that VLAN takes both. Interfaces with addresses in one
 * VLAN are the business of hosts/two-in-one-subnet, equal groups of groups/legs-share-group.
 */
export function doubledVlans(plan: Plan): ReadonlyMap<Vlan, NonEmpty<Sender>> {
  const senders = unusualLegs(plan).together.map(({ sender }) => sender);
  return groupBy(senders, ({ legs: [a, b] }) => {
    if (a?.vlan === undefined || a.vlan !== b?.vlan || a.interface === b.interface || a.group === b.group)
      return undefined;
    return lacksAddress(a.interface) || lacksAddress(b.interface) ? a.vlan : undefined;
  });
}

function lacksAddress(via: Interface | undefined): boolean {
  return via === undefined || (via.address === undefined && via.address6 === undefined && !via.dhcp);
}
