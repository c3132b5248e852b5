/** How long a stream waits until a packet can leave. */
import type { Format, Sender } from '../../plan/types.js';
import { USUAL_PACKET_TIME_NS } from './limits.js';

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
    const usual = format?.coding === 'aes67' || format?.coding === 'st2110-30';
    return usual ? { ns: USUAL_PACKET_TIME_NS, from: 'usual packet time' } : undefined;
  }
  if (format?.coding !== 'st2110-20') return undefined;
  const ns = transmissionOffsetNs(format);
  return ns === undefined ? undefined : { ns, from: 'transmission offset' };
}

/** Packet time as stated, the longest of the legs. */
export function packetTimeNs({ legs, format }: Sender): number | undefined {
  let longest: number | undefined;
  for (const { packetTimeNs: ns } of legs)
    if (ns !== undefined && (longest === undefined || ns > longest)) longest = ns;
  return longest ?? format?.packetTimeNs;
}

/** The part of a frame that a sender waits by default (ST 2110-21): lines of blanking in all lines. */
function transmissionOffsetNs({ frameRate, height, scan }: Format): number | undefined {
  if (frameRate === undefined || height === undefined || scan === undefined) return undefined;
  const [frames, seconds] = frameRate;
  const [lines, all] = scan === 'progressive' ? (height >= 1080 ? [43, 1125] : [28, 750]) : blankingOf(height);
  return Math.round((lines / all) * (seconds / frames) * 1e9);
}

function blankingOf(height: number): readonly [number, number] {
  if (height >= 1080) return [22, 1125];
  return height > 500 ? [26, 625] : [20, 525];
}
