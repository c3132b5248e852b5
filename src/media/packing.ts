/** How the lines of a frame, field or segment are laid into RTP packets (RFC 4175 §4, ST 2110-20 §6). */
import { RTP_OCTETS, UDP_OCTETS } from './packet.js';

/** Lines of pixel groups that are packed together. */
export interface Lines {
  readonly lines: number;
  readonly groupsPerLine: number;
  readonly groupOctets: number;
}

export interface Packed {
  readonly packets: number;
  /** Runs of one line; each has a header of its own in its packet. */
  readonly segments: number;
  /** Datagram with its UDP header. */
  readonly largestUdpOctets: number;
}

/** Extended sequence number that precedes the segment headers (RFC 4175 §4.2). */
export const SEQUENCE_OCTETS = 2;
/** Header of a segment: length, line, offset (RFC 4175 §4.2). */
export const SEGMENT_HEADER_OCTETS = 6;
/** Most segments in a packet (ST 2110-20 §6.1.4, §6.2.1). */
export const MOST_SEGMENTS = 3;
/** Sample octets in a packet of block packing: seven blocks of 180 (ST 2110-20 §6.3.3). */
export const BLOCK_PACKET_OCTETS = 7 * 180;

const FIXED_OCTETS = UDP_OCTETS + RTP_OCTETS + SEQUENCE_OCTETS;

/** As few packets to a line as the limit allows, alike as can be; undefined when no pixel group fits. */
export function packByLine(content: Lines, udpLimitOctets: number): Packed | undefined {
  const mostGroups = Math.floor((udpLimitOctets - FIXED_OCTETS - SEGMENT_HEADER_OCTETS) / content.groupOctets);
  if (mostGroups < 1) return undefined;
  const packetsPerLine = Math.ceil(content.groupsPerLine / mostGroups);
  const packets = content.lines * packetsPerLine;
  const largest = Math.ceil(content.groupsPerLine / packetsPerLine) * content.groupOctets;
  return { packets, segments: packets, largestUdpOctets: FIXED_OCTETS + SEGMENT_HEADER_OCTETS + largest };
}

/** Full packets, each with as many segments as it needs and may have; undefined when no pixel group fits. */
export function packFull(content: Lines, udpLimitOctets: number, mostSegments = MOST_SEGMENTS): Packed | undefined {
  const room = udpLimitOctets - FIXED_OCTETS;
  const leastSegment = SEGMENT_HEADER_OCTETS + content.groupOctets;
  if (room < leastSegment) return undefined;
  let packets = 0;
  let segments = 0;
  let largest = 0;
  let line = 0;
  let groupsLeft = content.groupsPerLine;
  while (line < content.lines) {
    let left = room;
    for (let own = 0; own < mostSegments && left >= leastSegment && line < content.lines; own++) {
      const groups = Math.min(groupsLeft, Math.floor((left - SEGMENT_HEADER_OCTETS) / content.groupOctets));
      left -= SEGMENT_HEADER_OCTETS + groups * content.groupOctets;
      groupsLeft -= groups;
      segments++;
      if (groupsLeft === 0) {
        line++;
        groupsLeft = content.groupsPerLine;
      }
    }
    packets++;
    largest = Math.max(largest, room - left);
  }
  return { packets, segments, largestUdpOctets: FIXED_OCTETS + largest };
}

/**
 * Packets of 1260 sample octets that run on into the next line, the last one shorter; undefined when the pixel groups
 * do not fill one exactly, or when lines are so short that one packet would need more than three segments.
 */
export function packBlocks(content: Lines): Packed | undefined {
  if (BLOCK_PACKET_OCTETS % content.groupOctets !== 0) return undefined;
  const lineOctets = content.groupsPerLine * content.groupOctets;
  const octets = lineOctets * content.lines;
  const packets = Math.ceil(octets / BLOCK_PACKET_OCTETS);
  // A line that ends inside a packet begins a further segment there; one that ends with its packet does not.
  const alignment = greatestCommonDivisor(lineOctets, BLOCK_PACKET_OCTETS);
  const linesBetweenAlignments = BLOCK_PACKET_OCTETS / alignment;
  const lineEnds = content.lines - 1;
  const segments = packets + lineEnds - Math.floor(lineEnds / linesBetweenAlignments);
  const largest = Math.min(octets, BLOCK_PACKET_OCTETS);
  // The packet that begins latest in its line touches most lines.
  const headers = Math.min(content.lines, 1 + Math.ceil((BLOCK_PACKET_OCTETS - alignment) / lineOctets));
  if (headers > MOST_SEGMENTS) return undefined;
  return { packets, segments, largestUdpOctets: FIXED_OCTETS + headers * SEGMENT_HEADER_OCTETS + largest };
}

function greatestCommonDivisor(a: number, b: number): number {
  while (b !== 0) [a, b] = [b, a % b];
  return a;
}
