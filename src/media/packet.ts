/** What every packet costs on its way, and the rates that follow. The only place that knows header sizes. */
import { add, divide, greater, multiply, ratio, toNumber, type Ratio } from './ratio.js';

/** IPv4 header without options (RFC 791 §3.1). */
export const IP_OCTETS = 20;
/** UDP header (RFC 768). */
export const UDP_OCTETS = 8;
/** RTP header without CSRC list or extension (RFC 3550 §5.1). */
export const RTP_OCTETS = 12;
/** All three: what the IP layer adds to an RTP payload. */
export const RTP_UDP_IP_OCTETS = RTP_OCTETS + UDP_OCTETS + IP_OCTETS;

/** Destination, source and type (IEEE 802.3 §3.1.1, from memory). */
export const ETHERNET_HEADER_OCTETS = 14;
/** Frame check sequence (IEEE 802.3 §3.2.9, from memory). */
export const ETHERNET_CHECK_OCTETS = 4;
/** Least payload of a frame, which has 64 octets or more with its check sequence (IEEE 802.3 §4.4.2, from memory). */
export const ETHERNET_LEAST_PAYLOAD_OCTETS = 46;
/** Preamble and start delimiter (IEEE 802.3 §3.1.1, from memory). */
export const PREAMBLE_OCTETS = 8;
/** Inter-packet gap, as octets (IEEE 802.3 §4.4.2, from memory). */
export const GAP_OCTETS = 12;
/** VLAN tag (IEEE 802.1Q, from memory). */
export const TAG_OCTETS = 4;

/** Standard UDP Size Limit, counting the UDP header (ST 2110-10 §6.3). */
export const STANDARD_UDP_OCTETS = 1460;
/** Extended UDP Size Limit, counting the UDP header (ST 2110-10 §6.4). */
export const EXTENDED_UDP_OCTETS = 8960;
/** RTP payload under the Standard UDP Size Limit: 1440 octets, which AES67 §6.3 states too. */
export const STANDARD_RTP_PAYLOAD_OCTETS = STANDARD_UDP_OCTETS - UDP_OCTETS - RTP_OCTETS;
/** Largest IP packet an Ethernet frame of the common size carries (RFC 894). */
export const ETHERNET_MTU_OCTETS = 1500;

/** What a stream sends in a second, seen at each layer. */
export interface Rates<Quantity> {
  readonly packetsPerSecond: Quantity;
  /** Picture, sound or data alone: no header of any kind. */
  readonly essenceBps: Quantity;
  /** Whole IP packets; what ST 2110-22 §7.3 means by `b=AS`. */
  readonly ipBps: Quantity;
  /** Ethernet frames with their check sequence, untagged. */
  readonly ethernetBps: Quantity;
  /** Frames, preamble and gap: what fills a link. Untagged. */
  readonly wireBps: Quantity;
  /** The same with an 802.1Q tag. */
  readonly wireTaggedBps: Quantity;
}

/** All rates of a stream whose short packets, if it has any, are all alike. */
export function ratesOf(packetsPerSecond: Ratio, essenceBps: Ratio, ipBps: Ratio): Rates<Ratio> {
  const padded = greater(ipBps, multiply(packetsPerSecond, ETHERNET_LEAST_PAYLOAD_OCTETS * BITS));
  const perPacket = (octets: number): Ratio => multiply(packetsPerSecond, octets * BITS);
  const ethernetBps = add(padded, perPacket(ETHERNET_HEADER_OCTETS + ETHERNET_CHECK_OCTETS));
  const wireBps = add(ethernetBps, perPacket(PREAMBLE_OCTETS + GAP_OCTETS));
  return {
    packetsPerSecond,
    essenceBps,
    ipBps,
    ethernetBps,
    wireBps,
    wireTaggedBps: add(wireBps, perPacket(TAG_OCTETS)),
  };
}

/** Rates of a stream that sends so many packets and octets in each period: frame, field or packet time. */
export function ratesPerPeriod(
  periodsPerSecond: Ratio,
  period: { readonly packets: number; readonly essenceOctets: Ratio | number; readonly ipOctets: number },
): Rates<Ratio> {
  return ratesOf(
    multiply(periodsPerSecond, period.packets),
    multiply(periodsPerSecond, period.essenceOctets, BITS),
    multiply(periodsPerSecond, period.ipOctets, BITS),
  );
}

/** A full packet of a stream of which only a rate is known. */
export interface FullPacket {
  readonly essenceOctets: number;
  readonly ipOctets: number;
}

/** Rates of a stream that fills its packets, from its rate at the IP layer. */
export function ratesFromIpRate(ipBps: Ratio, packet: FullPacket): Rates<Ratio> {
  const packetsPerSecond = divide(ipBps, packet.ipOctets * BITS);
  return ratesOf(packetsPerSecond, multiply(packetsPerSecond, packet.essenceOctets * BITS), ipBps);
}

/** Rates of a stream that fills its packets, from the rate of its essence. */
export function ratesFromEssenceRate(essenceBps: Ratio, packet: FullPacket): Rates<Ratio> {
  return ratesFromIpRate(multiply(essenceBps, ratio(packet.ipOctets, packet.essenceOctets)), packet);
}

/** The same rates as floating-point numbers. */
export function roundRates(exact: Rates<Ratio>): Rates<number> {
  return {
    packetsPerSecond: toNumber(exact.packetsPerSecond),
    essenceBps: toNumber(exact.essenceBps),
    ipBps: toNumber(exact.ipBps),
    ethernetBps: toNumber(exact.ethernetBps),
    wireBps: toNumber(exact.wireBps),
    wireTaggedBps: toNumber(exact.wireTaggedBps),
  };
}

/** Bits in an octet. */
export const BITS = 8;
