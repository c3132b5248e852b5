/** Interfaces that need an address and state none: nobody can hold it against others, or say whether it fits. */
import type { Device, Interface, Plan } from '../../plan/types.js';

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
  for (const one of plan.interfaces) {
    if (!lacks(one) || sharesBond(one)) continue;
    const need = carriesStream(one)
      ? 'streams'
      : takesPartInPtp(one) && speaksPtp(one.device)
        ? 'ptp'
        : standsInSubnet(one)
          ? 'subnet'
          : undefined;
    if (need !== undefined) found.push({ interface: one, need });
  }
  return found;
}

function lacks({ address, address6, dhcp }: Interface): boolean {
  return address === undefined && address6 === undefined && !dhcp;
}

/** Members of a bond are one interface to the network: one address is enough. */
function sharesBond({ bond, device }: Interface): boolean {
  return bond !== undefined && device.interfaces.some((other) => other.bond === bond && !lacks(other));
}

/** A sender leg that states its source has said the address. */
function carriesStream(one: Interface): boolean {
  const { senders, receivers } = one.device;
  return (
    senders.some(({ legs }) => legs.some((leg) => leg.interface === one && leg.source === undefined)) ||
    receivers.some(({ legs }) => legs.some((leg) => leg.interface === one))
  );
}

/** As an end of PTP: what only passes it on needs no address. */
function takesPartInPtp({ device: { ptp }, name }: Interface): boolean {
  if (ptp === undefined || (ptp.mode !== undefined && ptp.mode !== 'ordinary' && ptp.mode !== 'boundary')) return false;
  return ptp.interfaces === undefined || ptp.interfaces.includes(name);
}

/** One that has its address on another interface there, as a box with a small switch in it, has what it needs. */
function standsInSubnet(one: Interface): boolean {
  const { vlan, device, unnumbered } = one;
  if (unnumbered || vlan === undefined || (vlan.subnet === undefined && vlan.subnet6 === undefined)) return false;
  if (device.senders.some(({ legs }) => legs.some((leg) => leg.interface === one))) return false;
  return !device.interfaces.some((other) => other.vlan === vlan && !lacks(other));
}
