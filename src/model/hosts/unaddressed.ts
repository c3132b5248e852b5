/** Interfaces that need an address and state none: nobody can hold it against others, or say whether it fits. */
import type { Device, Interface, Plan, Vlan } from '../../plan/types.js';
import { lacksAddress, unusualInterfaces } from './unusual-interfaces.js';

/** Why an interface needs an address: streams come before PTP, PTP before a mere place in a subnet. */
export type AddressNeed = 'streams' | 'ptp' | 'subnet';

export interface Unaddressed {
  readonly interface: Interface;
  readonly need: AddressNeed;
}

/**
 * In plan order. `speaksPtp` says whether a device takes part in PTP over UDP; it is asked only where an address is
 * missing. DHCP is an answer, and so is `unnumbered` where nothing else needs the address. IGMP reports may come from
 * 0.0.0.0 (RFC 3376 §4.2.13), but only while a host waits for its address.
 */
export function findUnaddressed(plan: Plan, speaksPtp: (device: Device) => boolean): readonly Unaddressed[] {
  const found: Unaddressed[] = [];
  let last: Parts | undefined;
  for (const one of unusualInterfaces(plan).addressless) {
    // Interfaces of a device follow one another; one box may have thousands.
    if (last?.device !== one.device) last = partsOf(one.device);
    if (one.bond !== undefined && last.bonds.has(one.bond)) continue;
    const need = last.carrying.has(one)
      ? 'streams'
      : takesPartInPtp(one) && speaksPtp(one.device)
        ? 'ptp'
        : standsInSubnet(one, last)
          ? 'subnet'
          : undefined;
    if (need !== undefined) found.push({ interface: one, need });
  }
  return found;
}

/** What an interface without an address asks about the others of its device. */
interface Parts {
  readonly device: Device;
  /** With a leg that is received, or that is sent and states no source: one that does has said the address. */
  readonly carrying: ReadonlySet<Interface | undefined>;
  readonly sending: ReadonlySet<Interface | undefined>;
  /** Where another member has an address: members of a bond are one interface to the network, one is enough. */
  readonly bonds: ReadonlySet<string>;
  readonly addressedIn: ReadonlySet<Vlan | undefined>;
}

function partsOf(device: Device): Parts {
  const sent = device.senders.flatMap(({ legs }) => legs);
  const received = device.receivers.flatMap(({ legs }) => legs);
  const addressed = device.interfaces.filter((one) => !lacksAddress(one));
  return {
    device,
    carrying: new Set([...sent.filter(({ source }) => source === undefined), ...received].map((leg) => leg.interface)),
    sending: new Set(sent.map((leg) => leg.interface)),
    bonds: new Set(addressed.flatMap(({ bond }) => bond ?? [])),
    addressedIn: new Set(addressed.map(({ vlan }) => vlan)),
  };
}

/** As an end of PTP: what only passes it on needs no address. */
function takesPartInPtp({ device: { ptp }, name }: Interface): boolean {
  if (ptp === undefined || (ptp.mode !== undefined && ptp.mode !== 'ordinary' && ptp.mode !== 'boundary')) return false;
  return ptp.interfaces === undefined || ptp.interfaces.includes(name);
}

/** One that has its address on another interface there, as a box with a small switch in it, has what it needs. */
function standsInSubnet(one: Interface, { sending, addressedIn }: Parts): boolean {
  const { vlan, unnumbered } = one;
  if (unnumbered || vlan === undefined || (vlan.subnet === undefined && vlan.subnet6 === undefined)) return false;
  return !sending.has(one) && !addressedIn.has(vlan);
}
