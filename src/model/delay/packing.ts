/** How long a stream waits until a packet can leave. */
import { codingNamed } from '../../media/codings/index.js';
import type { Sender } from '../../plan/types.js';

export interface Packing {
  readonly ns: number;
  readonly from: 'packet time' | 'usual packet time' | 'transmission offset';
}

/**
 * Sound waits for a packet to fill. Uncompressed pictures wait for no frame: they leave line by line, later than the
 * picture by the default offset of ST 2110-21. A coder's own delay is in what its device or stream states.
 */
export function packingOf(sender: Sender): Packing | undefined {
  const { essence, format } = sender;
  if (essence === 'audio') {
    const stated = packetTimeNs(sender);
    if (stated !== undefined) return { ns: stated, from: 'packet time' };
    const usual = codingNamed(format?.coding)?.usualPacketTimeNs;
    return usual === undefined ? undefined : { ns: usual, from: 'usual packet time' };
  }
  const ns = format && codingNamed(format.coding)?.transmissionOffsetNs?.(format);
  return ns === undefined ? undefined : { ns, from: 'transmission offset' };
}

/** Packet time as stated, the longest of the legs. */
export function packetTimeNs({ legs, format }: Sender): number | undefined {
  let longest: number | undefined;
  for (const { packetTimeNs: ns } of legs)
    if (ns !== undefined && (longest === undefined || ns > longest)) longest = ns;
  return longest ?? format?.packetTimeNs;
}
