/** What a device leaves out that nearly all others of its kind state. */
import { append, groupBy } from '../../collections/group-by.js';
import { entriesNotInKind } from './not-in-kind.js';
import type { Device, Interface, Kind, Leg, Plan } from '../../plan/types.js';

/** One fact a device does not state. */
export type LeftOut =
  | { readonly what: 'address' | 'switch port'; readonly interface: Interface }
  | { readonly what: 'destination' | 'UDP port'; readonly leg: Leg };

export interface LeavesOut {
  readonly device: Device;
  readonly kind: Kind;
  /** Devices of the kind, this one too. */
  readonly all: number;
  readonly facts: readonly [LeftOut, ...LeftOut[]];
  /** A receiver takes a leg that has no destination. */
  readonly taken: boolean;
}

/** So many others must state it, and at most one device for each four that do leaves it out. */
const LEAST_OTHERS = 2;
const OTHERS_EACH = 4;

/** By kind, devices in plan order. */
export function leavesOut(plan: Plan): readonly LeavesOut[] {
  const byKind = new Map<Kind, Device[]>();
  for (const device of plan.devices) if (device.kind !== undefined) append(byKind, device.kind, device);
  const odd = [...byKind].flatMap(([kind, devices]) => (allAlike(devices) ? [] : oddOnes(kind, devices)));
  if (odd.length === 0) return [];
  const taken = new Set(plan.receivers.flatMap(({ takes }) => takes?.legs ?? []));
  const misspelt = groupBy(entriesNotInKind(plan), ({ device }) => device);
  return odd.flatMap((one): readonly LeavesOut[] => {
    // What stands under a slip of its name is not left out: `plan/not-in-kind`.
    const meant = new Set(misspelt.get(one.device)?.flatMap((slip) => slip.meant));
    const [first, ...rest] = one.facts.filter((fact) => !meant.has(nameOf(fact)));
    if (first === undefined) return [];
    const facts: LeavesOut['facts'] = [first, ...rest];
    return [{ ...one, facts, taken: facts.some((fact) => fact.what === 'destination' && taken.has(fact.leg)) }];
  });
}

/** Most kinds: every device states the same, which numbers tell without any text. */
function allAlike(devices: readonly Device[]): boolean {
  const [first, ...rest] = devices.map(patternOf);
  return rest.every((one) => one === first);
}

function patternOf({ interfaces, senders }: Device): number {
  let pattern = interfaces.length;
  for (const one of interfaces)
    pattern = (Math.imul(pattern, 31) + (lacksAddress(one) ? 1 : 0) + (one.port === undefined ? 2 : 0)) | 0;
  for (const { legs } of senders)
    for (const leg of legs)
      pattern = (Math.imul(pattern, 31) + (lacksDestination(leg) ? 5 : 3) + (leg.port === undefined ? 8 : 0)) | 0;
  return pattern;
}

function lacksAddress({ address, address6, dhcp, unnumbered }: Interface): boolean {
  return address === undefined && address6 === undefined && !dhcp && !unnumbered;
}

function lacksDestination({ group, unicast }: Leg): boolean {
  return group === undefined && unicast === undefined;
}

function nameOf(fact: LeftOut): string {
  return 'leg' in fact ? fact.leg.sender.name : fact.interface.name;
}

function oddOnes(kind: Kind, devices: readonly Device[]): readonly Omit<LeavesOut, 'taken'>[] {
  const stating = new Map<string, number>();
  const lacking = new Map<string, number>();
  const seen = devices.map((device) => ({ device, slots: slotsOf(device) }));
  for (const { slots } of seen)
    for (const [slot, fact] of slots) {
      const counts = fact === undefined ? stating : lacking;
      counts.set(slot, (counts.get(slot) ?? 0) + 1);
    }
  const odd = (slot: string): boolean => {
    const others = stating.get(slot) ?? 0;
    const without = lacking.get(slot) ?? 0;
    return others >= LEAST_OTHERS && (without === 1 || others >= without * OTHERS_EACH);
  };
  return seen.flatMap(({ device, slots }) => {
    const [first, ...rest] = [...slots].flatMap(([slot, fact]) => (fact !== undefined && odd(slot) ? [fact] : []));
    if (first === undefined) return [];
    const facts: LeavesOut['facts'] = [first, ...rest];
    return [{ device, kind, all: devices.length, facts }];
  });
}

/** What could be stated, by a name alike in all devices of a kind; undefined where the device states it. */
function slotsOf({ interfaces, senders }: Device): ReadonlyMap<string, LeftOut | undefined> {
  const slots = new Map<string, LeftOut | undefined>();
  for (const one of interfaces) {
    slots.set(`address\n${one.name}`, lacksAddress(one) ? { what: 'address', interface: one } : undefined);
    slots.set(`port\n${one.name}`, one.port === undefined ? { what: 'switch port', interface: one } : undefined);
  }
  for (const sender of senders)
    for (const leg of sender.legs) {
      const name = `${leg.index}\n${sender.name}`;
      slots.set(`to\n${name}`, lacksDestination(leg) ? { what: 'destination', leg } : undefined);
      slots.set(`udp\n${name}`, leg.port === undefined ? { what: 'UDP port', leg } : undefined);
    }
  return slots;
}
