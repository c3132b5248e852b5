/** Values of a plan as the crew reads them. */
import type { Format, Interface, Leg, Vlan } from '../plan/types.js';
import { formatAddress, formatRange, type Address, type AddressRange } from '../values/address.js';
import { formatMac, type Mac } from '../values/mac.js';
import { formatRate, formatTime } from '../values/quantity.js';
import { numeral, type Facts, type Value } from './facts.js';

/** `10.20.10.11/24`, or the address alone where no prefix length is known. */
export function addressText(address: Address | undefined, length?: number): string | undefined {
  if (address === undefined) return undefined;
  return length === undefined ? formatAddress(address) : `${formatAddress(address)}/${length}`;
}

export function macText(mac: Mac | undefined): string | undefined {
  return mac === undefined ? undefined : formatMac(mac);
}

export function rateText(rateBps: number | undefined): string | undefined {
  return rateBps === undefined ? undefined : formatRate(rateBps);
}

export function timeText(timeNs: number | undefined): string | undefined {
  return timeNs === undefined ? undefined : formatTime(timeNs);
}

export function rangeText(range: AddressRange | undefined): string | undefined {
  if (range === undefined) return undefined;
  return range.first === range.last ? formatAddress(range.first) : formatRange(range);
}

/** `red-video (210)`. */
export function vlanText({ name, id }: Vlan): string {
  return id === undefined ? name : `${name} (${id})`;
}

/** A VLAN, the same under another name or id. */
export function vlanValue(vlan: Vlan | undefined, identity: (thing: object) => number): Value | undefined {
  return vlan === undefined ? undefined : { text: vlanText(vlan), key: String(identity(vlan)) };
}

/** `239.192.10.31:20000`, IPv6 in brackets (RFC 3986 §3.2.2), or nothing where no destination is known. */
export function destinationText({ group, unicast, port }: Pick<Leg, 'group' | 'unicast' | 'port'>): string | undefined {
  const address = group ?? unicast;
  if (address === undefined) return undefined;
  const text = formatAddress(address);
  return port === undefined ? text : typeof address === 'number' ? `${text}:${port}` : `[${text}]:${port}`;
}

/** Address a device is set to; what DHCP gives it is said so. */
export function interfaceAddress(one: Interface): string | undefined {
  const stated = addressText(one.address, one.prefixLength ?? one.vlan?.subnet?.length);
  if (!one.dhcp) return stated;
  return stated === undefined ? 'by DHCP' : `${stated} by DHCP`;
}

/** What makes one essence format another one; its name does not. */
export function formatFacts(format: Format | undefined): Facts {
  if (format === undefined) return {};
  const { frameRate } = format;
  return {
    essence: format.essence,
    coding: format.coding,
    width: numeral(format.width),
    height: numeral(format.height),
    'frame rate':
      frameRate === undefined ? undefined : frameRate[1] === 1 ? `${frameRate[0]}` : `${frameRate[0]}/${frameRate[1]}`,
    scan: format.scan,
    sampling: format.sampling,
    depth: format.depth,
    packing: format.packing,
    channels: numeral(format.channels),
    'sample rate': numeral(format.sampleRateHz, 'Hz'),
    'sample bits': numeral(format.sampleBits),
    'packet time': timeText(format.packetTimeNs),
    'largest UDP size': numeral(format.maxUdpOctets, 'octets'),
    rate: rateText(format.rateBps),
  };
}
